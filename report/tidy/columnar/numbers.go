package columnar

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"

	"github.com/parquet-go/parquet-go/encoding/delta"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// TooMany reports whether so many different values among so many are too many
// for a dictionary.
func TooMany(different, of int) bool { return different > 1<<6 && different > of-of/4 }

// tooManySoFar reports whether that will be so, after some of the numbers: the
// first ones are new oftener than those behind them.
func tooManySoFar(different, of int) bool { return different > 1<<12 && different > of-of/16 }

// number numbers e.numbers in order of their first appearance, into e.index
// and e.distinct. It gives up and returns false where nearly every value is
// new, or there is none.
func (e *encoder) number() bool {
	e.index, e.distinct = slices.Grow(e.index[:0], len(e.numbers)), e.distinct[:0]
	e.seen.reset()
	var last int64
	var at int32
	for i, v := range e.numbers {
		if i == 0 || v != last {
			at = e.seen.add(uint64(v), int32(len(e.distinct)))
			if int(at) == len(e.distinct) {
				e.distinct = append(e.distinct, v)
				if tooManySoFar(len(e.distinct), i) {
					return false
				}
			}
			last = v
		}
		e.index = append(e.index, at)
	}
	return len(e.numbers) > 0 && !TooMany(len(e.distinct), len(e.numbers))
}

// numeric writes e.numbers, as a dictionary where values repeat enough.
func (e *encoder) numeric(c rep.Column) error {
	if !c.Null && len(e.numbers) < e.rows {
		return errMissing
	}
	switch {
	case e.number():
		return e.dictionary(c)
	case c.Type == rep.Float64 || len(e.numbers) == 0:
		e.plain = appendNumbers(e.plain[:0], e.numbers, width(c))
		return e.write(c, statistics(c, e.numbers), format.Plain)
	}
	return e.deltas(c)
}

// deltas writes whole numbers that hardly repeat, as differences: moments and
// rows of a source rise most of the time.
func (e *encoder) deltas(c rep.Column) (err error) {
	if width(c) == 4 {
		e.ints = slices.Grow(e.ints[:0], len(e.numbers))
		for _, v := range e.numbers {
			e.ints = append(e.ints, int32(v))
		}
		e.plain, err = new(delta.BinaryPackedEncoding).EncodeInt32(e.plain[:0], e.ints)
	} else {
		e.plain, err = new(delta.BinaryPackedEncoding).EncodeInt64(e.plain[:0], e.numbers)
	}
	if err != nil {
		return err
	}
	return e.write(c, statistics(c, e.numbers), format.DeltaBinaryPacked)
}

var errMissing = errors.New("a value is missing that may not be")

// dictionary writes e.index into the dictionary.
func (e *encoder) dictionary(c rep.Column) error {
	if c.Type == rep.String {
		return e.named(c)
	}
	if !c.Null && len(e.index) < e.rows {
		return errMissing
	}
	e.plain = appendNumbers(e.plain[:0], e.distinct, width(c))
	return e.write(c, statistics(c, e.distinct), format.RLEDictionary)
}

// width returns the number of bytes of a number.
func width(c rep.Column) int {
	if physical(c.Type) == format.Int32 {
		return 4
	}
	return 8
}

func appendNumbers(dst []byte, values []int64, width int) []byte {
	dst = slices.Grow(dst, len(values)*width)
	for _, v := range values {
		if width == 4 {
			dst = binary.LittleEndian.AppendUint32(dst, uint32(v))
		} else {
			dst = binary.LittleEndian.AppendUint64(dst, uint64(v))
		}
	}
	return dst
}

// statistics returns the least and the greatest value, for engines that skip
// row groups by them.
func statistics(c rep.Column, values []int64) format.Statistics {
	s := format.Statistics{}
	if len(values) == 0 {
		return s
	}
	low, high := values[0], values[0]
	if c.Type == rep.Float64 {
		least, most := math.Float64frombits(uint64(low)), math.Float64frombits(uint64(high))
		for _, v := range values {
			f := math.Float64frombits(uint64(v))
			least, most = min(least, f), max(most, f)
		}
		if least == 0 { // zeros have two signs; the format asks for the outer one
			least = math.Copysign(0, -1)
		}
		if most == 0 {
			most = 0
		}
		low, high = Bits(least), Bits(most)
	} else {
		for _, v := range values {
			low, high = min(low, v), max(high, v)
		}
	}
	s.MinValue, s.MaxValue = appendNumbers(nil, []int64{low}, width(c)), appendNumbers(nil, []int64{high}, width(c))
	return s
}
