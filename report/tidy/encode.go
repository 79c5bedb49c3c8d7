package tidy

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"math/bits"
	"slices"

	"github.com/parquet-go/parquet-go/compress/zstd"
	"github.com/parquet-go/parquet-go/encoding/rle"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// encoder turns columns into column chunks, each a dictionary page and a data
// page, or a data page alone where values hardly repeat. Its buffers are used
// again from chunk to chunk.
type encoder struct {
	out    bytes.Buffer
	chunks []format.ColumnChunk
	rows   int
	err    error

	codec zstd.Codec

	defined  []byte   // 1 for each row with a value, 0 for null
	repeated []byte   // of lists: 1 for each value that continues a row's list
	numbers  []uint64 // bits of the values that are there
	words    []string // likewise
	index    []int32  // number of each value in the dictionary
	distinct []uint64 // the dictionary
	names    []string // the dictionary of texts
	codes    []int32  // code → number in the dictionary, 0 for none, else one more
	seen     set64
	plain    []byte // values or dictionary, encoded
	page     []byte // the data page, not yet compressed
	scratch  []byte
	packed   []byte
}

// column encodes rows from…to of one column.
func (e *encoder) column(c rep.Column, source any, from, to int) error {
	e.defined, e.repeated, e.numbers, e.words = slices.Grow(e.defined[:0], to-from), e.repeated[:0], e.numbers[:0], e.words[:0]
	switch s := source.(type) {
	case floats:
		gather(e, s, from, to, math.Float64bits)
	case ints:
		gather(e, s, from, to, func(v int32) uint64 { return uint64(int64(v)) })
	case instants:
		gather(e, s, from, to, func(v rep.Instant) uint64 { return uint64(v) })
	case days:
		for i := from; i < to; i++ {
			e.numbers = append(e.numbers, uint64(int64(s(i))))
		}
		e.allDefined()
	case bools:
		return e.bools(c, s, from, to)
	case ids:
		return e.ids(c, s, from, to)
	case coded:
		return e.coded(c, s, from, to)
	case kinds:
		return e.kinds(c, s, from, to)
	case texts:
		for i := from; i < to; i++ {
			text := s(i)
			if there := text != "" || !c.Null; there {
				e.words = append(e.words, text)
				e.defined = append(e.defined, 1)
			} else {
				e.defined = append(e.defined, 0)
			}
		}
		return e.texts(c)
	default:
		return fmt.Errorf("there is no source for it (%T)", source) // our own bug; a test looks at every column
	}
	if !c.Null && len(e.numbers) < to-from {
		return errors.New("a value is missing that may not be")
	}
	return e.numeric(c)
}

func gather[T any](e *encoder, at func(int) rep.Null[T], from, to int, bits func(T) uint64) {
	for i := from; i < to; i++ {
		v := at(i)
		if v.OK {
			e.numbers = append(e.numbers, bits(v.V))
			e.defined = append(e.defined, 1)
		} else {
			e.defined = append(e.defined, 0)
		}
	}
}

func (e *encoder) allDefined() {
	for range e.numbers {
		e.defined = append(e.defined, 1)
	}
}

// numeric writes e.numbers, as a dictionary where values repeat enough.
func (e *encoder) numeric(c rep.Column) error {
	width := 8
	if physical(c.Type) == format.Int32 {
		width = 4
	}
	e.plain = e.plain[:0]
	if !e.number() {
		e.plain = appendNumbers(e.plain, e.numbers, width)
		return e.write(c, e.statistics(c, e.numbers, width), 0)
	}
	e.plain = appendNumbers(e.plain, e.distinct, width)
	return e.write(c, e.statistics(c, e.distinct, width), len(e.distinct))
}

// number numbers e.numbers in order of their first appearance, into e.index
// and e.distinct. It gives up and returns false where nearly every value is
// new, or there is none.
func (e *encoder) number() bool {
	e.index, e.distinct = e.index[:0], e.distinct[:0]
	e.seen.reset()
	var last uint64
	var at int32
	for i, v := range e.numbers {
		if i == 0 || v != last {
			at = e.seen.add(v, int32(len(e.distinct)))
			if int(at) == len(e.distinct) {
				e.distinct = append(e.distinct, v)
				if len(e.distinct) > 1<<12 && len(e.distinct) > i-i/4 {
					return false
				}
			}
			last = v
		}
		e.index = append(e.index, at)
	}
	return len(e.numbers) > 0
}

func appendNumbers(dst []byte, values []uint64, width int) []byte {
	for _, v := range values {
		if width == 4 {
			dst = binary.LittleEndian.AppendUint32(dst, uint32(v))
		} else {
			dst = binary.LittleEndian.AppendUint64(dst, v)
		}
	}
	return dst
}

// statistics returns the least and the greatest value, for engines that skip
// row groups by them.
func (e *encoder) statistics(c rep.Column, values []uint64, width int) format.Statistics {
	s := format.Statistics{}
	if len(values) == 0 {
		return s
	}
	less := func(a, b uint64) bool { return int64(a) < int64(b) }
	if c.Type == rep.Float64 {
		less = func(a, b uint64) bool { return math.Float64frombits(a) < math.Float64frombits(b) }
	}
	low, high := values[0], values[0]
	for _, v := range values {
		if less(v, low) {
			low = v
		}
		if less(high, v) {
			high = v
		}
	}
	if c.Type == rep.Float64 { // zeros have two signs; the format asks for the outer one
		if math.Float64frombits(low) == 0 {
			low = math.Float64bits(math.Copysign(0, -1))
		}
		if math.Float64frombits(high) == 0 {
			high = 0
		}
	}
	s.MinValue, s.MaxValue = appendNumbers(nil, []uint64{low}, width), appendNumbers(nil, []uint64{high}, width)
	return s
}

// texts writes e.words.
func (e *encoder) texts(c rep.Column) error {
	e.index, e.names = e.index[:0], e.names[:0]
	numbers := map[string]int32{}
	var at int32
	for i, w := range e.words {
		if i == 0 || w != e.words[i-1] {
			known := false
			if at, known = numbers[w]; !known {
				at = int32(len(e.names))
				numbers[w] = at
				e.names = append(e.names, w)
			}
		}
		e.index = append(e.index, at)
	}
	return e.named(c)
}

// coded writes texts that are known by number.
func (e *encoder) coded(c rep.Column, s coded, from, to int) error {
	e.index, e.names = e.index[:0], e.names[:0]
	if len(e.codes) < s.n {
		e.codes = make([]int32, s.n)
	}
	clear(e.codes[:s.n])
	const null = -1
	for i := from; i < to; i++ {
		code := s.code(i)
		if e.codes[code] == 0 {
			name := s.name(code)
			if name == "" && c.Null {
				e.codes[code] = null
			} else {
				e.names = append(e.names, name)
				e.codes[code] = int32(len(e.names))
			}
		}
		if at := e.codes[code]; at == null {
			e.defined = append(e.defined, 0)
		} else {
			e.index = append(e.index, at-1)
			e.defined = append(e.defined, 1)
		}
	}
	return e.named(c)
}

// kinds writes lists of filter names.
func (e *encoder) kinds(c rep.Column, s kinds, from, to int) error {
	e.index, e.names = e.index[:0], e.names[:0]
	var number [32]int32 // one more than the number in the dictionary
	for i := from; i < to; i++ {
		set := uint32(s(i))
		if set == 0 {
			e.repeated, e.defined = append(e.repeated, 0), append(e.defined, 0)
			continue
		}
		for continues := byte(0); set != 0; set &= set - 1 {
			k := bits.TrailingZeros32(set)
			if number[k] == 0 {
				e.names = append(e.names, rep.Kind(k).String())
				number[k] = int32(len(e.names))
			}
			e.index = append(e.index, number[k]-1)
			e.repeated, e.defined = append(e.repeated, continues), append(e.defined, 1)
			continues = 1
		}
	}
	return e.named(c)
}

// longest is the length of a text that is worth a range.
const longest = 64

// named writes e.index into the dictionary e.names.
func (e *encoder) named(c rep.Column) error {
	e.plain = e.plain[:0]
	var s format.Statistics
	for _, name := range e.names {
		if name = valid(name); s.MinValue == nil || name < string(s.MinValue) {
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
	return e.write(c, s, len(e.names))
}

func (e *encoder) ids(c rep.Column, s ids, from, to int) error {
	const digits = "0123456789abcdef"
	e.plain = slices.Grow(e.plain[:0], 20*(to-from))
	for i := from; i < to; i++ {
		e.plain = append(e.plain, 16, 0, 0, 0)
		id := s(i)
		for shift := 60; shift >= 0; shift -= 4 {
			e.plain = append(e.plain, digits[id>>shift&15])
		}
	}
	return e.write(c, format.Statistics{}, 0)
}

func (e *encoder) bools(c rep.Column, s bools, from, to int) error {
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
	return e.write(c, format.Statistics{}, 0)
}

// write writes a column chunk: with a dictionary of so many entries, e.plain
// is the dictionary and e.index the values; with none, e.plain is the values.
func (e *encoder) write(c rep.Column, s format.Statistics, entries int) error {
	values := int64(e.rows)
	e.page = e.page[:0]
	var err error
	if c.Type == rep.StringList {
		values = int64(len(e.defined))
		if err = e.levels(e.repeated); err != nil {
			return err
		}
	}
	if c.Null || c.Type == rep.StringList {
		if err = e.levels(e.defined); err != nil {
			return err
		}
		for _, d := range e.defined {
			s.NullCount += int64(1 - d)
		}
	}
	m := format.ColumnMetaData{Type: physical(c.Type), PathInSchema: path(c), Codec: format.Zstd, NumValues: values, Statistics: s}
	start := int64(e.out.Len())
	encoding := format.Plain
	page := e.plain
	if entries > 0 {
		encoding = format.RLEDictionary
		m.Encoding = []format.Encoding{format.RLEDictionary, format.Plain, format.RLE}
		m.DictionaryPageOffset = start
		header := format.PageHeader{Type: format.DictionaryPage, DictionaryPageHeader: thrift.New(
			format.DictionaryPageHeader{NumValues: int32(entries), Encoding: format.Plain})}
		if err := e.append(&header, e.plain, &m); err != nil {
			return err
		}
		if e.scratch, err = new(rle.DictionaryEncoding).EncodeInt32(e.scratch, e.index); err != nil {
			return err
		}
		e.page = append(e.page, e.scratch...)
		page = e.page
	} else {
		m.Encoding = []format.Encoding{format.Plain, format.RLE}
		if len(e.page) > 0 {
			e.page = append(e.page, e.plain...)
			page = e.page
		}
	}
	m.DataPageOffset = int64(e.out.Len())
	header := format.PageHeader{Type: format.DataPage, DataPageHeader: thrift.New(format.DataPageHeader{NumValues: int32(values),
		Encoding: encoding, DefinitionLevelEncoding: format.RLE, RepetitionLevelEncoding: format.RLE})}
	if err := e.append(&header, page, &m); err != nil {
		return err
	}
	m.TotalCompressedSize = int64(e.out.Len()) - start
	e.chunks = append(e.chunks, format.ColumnChunk{MetaData: m})
	return nil
}

// levels adds levels of 0 and 1 to the page.
func (e *encoder) levels(levels []byte) error {
	var err error
	if e.scratch, err = (&rle.Encoding{BitWidth: 1}).EncodeLevels(e.scratch, levels); err != nil {
		return err
	}
	e.page = append(binary.LittleEndian.AppendUint32(e.page, uint32(len(e.scratch))), e.scratch...)
	return nil
}

// append compresses a page and adds it to the group.
func (e *encoder) append(header *format.PageHeader, page []byte, m *format.ColumnMetaData) error {
	var err error
	e.codec.Level = zstd.SpeedFastest
	if e.packed, err = e.codec.Encode(e.packed, page); err != nil {
		return err
	}
	header.UncompressedPageSize, header.CompressedPageSize = int32(len(page)), int32(len(e.packed))
	header.CRC = int32(crc32.ChecksumIEEE(e.packed))
	head, err := thrift.Marshal(new(thrift.CompactProtocol), header)
	if err != nil {
		return err
	}
	m.TotalUncompressedSize += int64(len(head) + len(page))
	e.out.Write(head)
	e.out.Write(e.packed)
	return nil
}
