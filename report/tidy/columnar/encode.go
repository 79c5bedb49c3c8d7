package columnar

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"

	"github.com/parquet-go/parquet-go/encoding/delta"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// encoder turns a column of a row group into a column chunk: a dictionary page
// and a data page, or a data page alone where values hardly repeat: whole numbers
// as differences, texts of one length with their lengths apart, others as they
// are. Its buffers are used again from chunk to chunk.
type encoder struct {
	rows int

	defined  []byte   // 1 for each row with a value, 0 for null
	repeated []byte   // of lists: 1 for each value that continues a row's list
	numbers  []int64  // the values that are there, of a fraction the bits
	index    []int32  // number of each value that is there in the dictionary
	distinct []int64  // the dictionary of numbers
	names    []string // the dictionary of texts

	codes  []uint32
	known  []int32  // code → number in the dictionary and one more, null, or 0 where not met yet
	met    []uint32 // codes that known knows
	ints   []int32
	ids    []uint64
	digits []byte
	ends   []uint32 // of the digits of each id
	seen   set64
	levels []byte // room for defined
	zeros  []byte
	ones   []byte

	pages
}

// null stands for null in encoder.known.
const null = -1

// column encodes rows from…to-1 of one column into e.pages.
func (e *encoder) column(c rep.Column, source any, from, to int) error {
	e.rows = to - from
	e.repeated, e.numbers, e.index, e.distinct, e.names = e.repeated[:0], e.numbers[:0], e.index[:0], e.distinct[:0], e.names[:0]
	switch s := source.(type) {
	case Missing:
		e.defined = e.all(0)
		if c.Type == rep.String {
			return e.named(c)
		}
		return e.numeric(c)
	case Uniform:
		if s.Text == "" && c.Null {
			return e.column(c, Missing{}, from, to)
		}
		e.defined, e.names = e.all(1), append(e.names, s.Text)
		e.index = slices.Grow(e.index, e.rows)[:e.rows]
		clear(e.index)
		return e.named(c)
	case Coded:
		if codes := s.Codes(e.codes[:0], from, to); codes != nil {
			e.codes = codes
			if e.coded(c, s) {
				return e.dictionary(c)
			}
		}
		return e.column(c, s.Cells, from, to)
	case Floats:
		gather(e, s, from, to, Bits)
	case Ints:
		gather(e, s, from, to, func(v int32) int64 { return int64(v) })
	case Instants:
		gather(e, s, from, to, func(v rep.Instant) int64 { return int64(v) })
	case Wholes:
		e.numbers = s.All(e.numbers, from, to)
		e.sift(None)
	case Reals:
		nan := math.NaN() // one of many
		for _, v := range s.All(from, to) {
			if v != v {
				v = nan
			}
			e.numbers = append(e.numbers, Bits(v))
		}
		e.sift(Bits(nan))
	case Days:
		for i := from; i < to; i++ {
			e.numbers = append(e.numbers, int64(s(i)))
		}
		e.defined = e.all(1)
	case Bools:
		return e.bools(c, s, from, to)
	case IDs:
		return e.hex(c, s, from, to)
	case Kinds:
		return e.kinds(c, s, from, to)
	case Texts:
		return e.texts(c, s, from, to)
	default:
		return fmt.Errorf("there is no source for it (%T)", source) // our own bug; a test looks at every column
	}
	return e.numeric(c)
}

// all returns the levels of a column in which every row has the same.
func (e *encoder) all(level byte) []byte {
	if len(e.ones) < e.rows {
		e.zeros, e.ones = make([]byte, e.rows), slices.Repeat([]byte{1}, e.rows)
	}
	if level == 0 {
		return e.zeros[:e.rows]
	}
	return e.ones[:e.rows]
}

func gather[T any](e *encoder, at func(int) rep.Null[T], from, to int, bits func(T) int64) {
	e.levels, e.numbers = slices.Grow(e.levels[:0], e.rows), slices.Grow(e.numbers, e.rows)
	for i := from; i < to; i++ {
		v := at(i)
		if v.OK {
			e.numbers = append(e.numbers, bits(v.V))
			e.levels = append(e.levels, 1)
		} else {
			e.levels = append(e.levels, 0)
		}
	}
	e.defined = e.levels
}

// sift takes the nulls out of e.numbers.
func (e *encoder) sift(null int64) {
	first := slices.Index(e.numbers, null)
	if first < 0 {
		e.defined = e.all(1)
		return
	}
	e.levels = append(e.levels[:0], e.all(1)...)
	there := e.numbers[:first]
	for i, v := range e.numbers[first:] {
		if v == null {
			e.levels[first+i] = 0
		} else {
			there = append(there, v)
		}
	}
	e.numbers, e.defined = there, e.levels
}

// coded numbers e.codes in order of their first appearance, into e.index and
// the dictionary. It gives up and returns false where nearly every number is
// new.
func (e *encoder) coded(c rep.Column, s Coded) bool {
	if len(e.known) < s.N {
		e.known = make([]int32, s.N)
	}
	defer func() {
		for _, code := range e.met {
			e.known[code] = 0
		}
		e.met = e.met[:0]
	}()
	e.index = slices.Grow(e.index, e.rows)[:e.rows]
	nulls := 0
	for i, code := range e.codes {
		at := e.known[code]
		if at == 0 {
			at = e.meet(c, s, code)
			if tooManySoFar(len(e.distinct), i-nulls) {
				return false
			}
		}
		if at == null {
			nulls++
		}
		e.index[i] = at - 1
	}
	if TooMany(len(e.distinct), e.rows-nulls) {
		return false
	}
	switch nulls {
	case 0:
		e.defined = e.all(1)
	case e.rows:
		if s.Text == nil {
			return false // numbers of which there are none are written in one way, wherever they come from
		}
		e.defined, e.index = e.all(0), e.index[:0]
	default:
		e.levels = slices.Grow(e.levels[:0], e.rows)[:e.rows]
		there := 0
		for i, at := range e.index {
			if e.levels[i] = 0; at >= 0 {
				e.levels[i] = 1
				e.index[there] = at
				there++
			}
		}
		e.defined, e.index = e.levels, e.index[:there]
	}
	return true
}

// meet adds what a code stands for to the dictionary, and returns what known is
// to know of it.
func (e *encoder) meet(c rep.Column, s Coded, code uint32) int32 {
	e.met = append(e.met, code)
	at := int32(null)
	if s.Text != nil {
		if name := s.Text(code); name != "" || !c.Null {
			e.names = append(e.names, name)
			at = int32(len(e.names))
		}
	} else if bits, ok := s.Value(code); ok {
		e.distinct = append(e.distinct, bits)
		at = int32(len(e.distinct))
	}
	e.known[code] = at
	return at
}

// texts writes texts that are told one by one.
func (e *encoder) texts(c rep.Column, s Texts, from, to int) error {
	e.levels = e.levels[:0]
	numbers := map[string]int32{}
	var last string
	var at int32
	for i := from; i < to; i++ {
		text := s(i)
		if text == "" && c.Null {
			e.levels = append(e.levels, 0)
			continue
		}
		if text != last || len(e.names) == 0 {
			known := false
			if at, known = numbers[text]; !known {
				at = int32(len(e.names))
				numbers[text] = at
				e.names = append(e.names, text)
			}
			last = text
		}
		e.index = append(e.index, at)
		e.levels = append(e.levels, 1)
	}
	e.defined = e.levels
	return e.named(c)
}

// kinds writes lists of filter names.
func (e *encoder) kinds(c rep.Column, s Kinds, from, to int) error {
	rows := s.Rows[from:to]
	if !slices.ContainsFunc(rows, func(row int32) bool { return s.Of[row] != 0 }) { // as usual
		e.repeated, e.defined = append(e.repeated, e.all(0)...), e.all(0)
		return e.named(c)
	}
	var number [32]int32 // one more than the number in the dictionary
	e.levels = e.levels[:0]
	for _, row := range rows {
		set := uint32(s.Of[row])
		if set == 0 {
			e.repeated, e.levels = append(e.repeated, 0), append(e.levels, 0)
			continue
		}
		for continues := byte(0); set != 0; set &= set - 1 {
			k := bits.TrailingZeros32(set)
			if number[k] == 0 {
				e.names = append(e.names, rep.Kind(k).String())
				number[k] = int32(len(e.names))
			}
			e.index = append(e.index, number[k]-1)
			e.repeated, e.levels = append(e.repeated, continues), append(e.levels, 1)
			continues = 1
		}
	}
	e.defined = e.levels
	return e.named(c)
}

// longest is the length of a text that is worth a range.
const longest = 64

// named writes e.index into the dictionary e.names.
func (e *encoder) named(c rep.Column) error {
	e.plain = e.plain[:0]
	var s format.Statistics
	for _, name := range e.names {
		if name = strings.ToValidUTF8(name, "\uFFFD"); s.MinValue == nil || name < string(s.MinValue) {
			s.MinValue = []byte(name)
		}
		if s.MaxValue == nil || name > string(s.MaxValue) {
			s.MaxValue = []byte(name)
		}
		e.plain = append(binary.LittleEndian.AppendUint32(e.plain, uint32(len(name))), name...)
	}
	if len(s.MinValue) > longest || len(s.MaxValue) > longest {
		s.MinValue, s.MaxValue = nil, nil // long texts are not searched by range
	}
	if len(e.names) == 0 {
		return e.write(c, s, format.Plain)
	}
	return e.write(c, s, format.RLEDictionary)
}

// hex writes rep ids. They are all different and all as long: their lengths
// stand apart from the digits, where they would be found to repeat, again and
// again, to no avail.
func (e *encoder) hex(c rep.Column, s IDs, from, to int) (err error) {
	e.ids, e.digits = s.All(e.ids[:0], from, to), slices.Grow(e.digits[:0], 16*e.rows)
	for _, id := range e.ids {
		var bytes [8]byte
		binary.BigEndian.PutUint64(bytes[:], id)
		e.digits = hex.AppendEncode(e.digits, bytes[:])
	}
	for i := len(e.ends); i <= e.rows; i++ {
		e.ends = append(e.ends, uint32(16*i))
	}
	if e.plain, err = new(delta.LengthByteArrayEncoding).EncodeByteArray(e.plain[:0], e.digits, e.ends[:e.rows+1]); err != nil {
		return err
	}
	return e.write(c, format.Statistics{}, format.DeltaLengthByteArray)
}

func (e *encoder) bools(c rep.Column, s Bools, from, to int) error {
	e.plain = e.plain[:0]
	for i := from; i < to; i++ {
		n := i - from
		if n%8 == 0 {
			e.plain = append(e.plain, 0)
		}
		if s(i) {
			e.plain[n/8] |= 1 << (n % 8)
		}
	}
	return e.write(c, format.Statistics{}, format.Plain)
}
