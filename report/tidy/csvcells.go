package tidy

import (
	"encoding/hex"
	"math"
	"slices"
	"strconv"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// csvColumn makes the cells of one column for CSV, some rows at a time: texts,
// and nil for an empty cell.
type csvColumn struct {
	cells []any

	known  []knownCell // by code
	codes  []uint32
	wholes []int64
	ids    []uint64
	text   []byte // of all cells, one behind the other
	ends   []int  // of the text of each cell
	day    rep.Day
	date   []byte // of day
}

// knownCell is what a code stands for.
type knownCell struct {
	cell any
	met  bool
}

// fill makes the cells of rows from…to-1 of a column.
func (k *csvColumn) fill(c rep.Column, source any, from, to int) {
	k.cells = slices.Grow(k.cells[:0], to-from)[:to-from]
	k.text, k.ends = k.text[:0], k.ends[:0]
	switch s := source.(type) {
	case columnar.Missing:
		clear(k.cells)
	case columnar.Uniform:
		cell := csvText(words(s.Text))
		for i := range k.cells {
			k.cells[i] = cell
		}
	case columnar.Coded:
		codes := s.Codes(k.codes[:0], from, to)
		if codes == nil {
			k.fill(c, s.Cells, from, to)
			return
		}
		for k.codes = codes; len(k.known) < s.N && len(k.known) <= int(slices.Max(codes)); {
			k.known = append(k.known, make([]knownCell, max(64, len(k.known)))...)
		}
		for i, code := range codes {
			if !k.known[code].met {
				k.known[code] = knownCell{csvCell(c, s, code), true}
			}
			k.cells[i] = k.known[code].cell
		}
	case columnar.Wholes:
		k.wholes = s.All(k.wholes[:0], from, to)
		for _, v := range k.wholes {
			switch {
			case v == columnar.None:
			case c.Type == rep.Timestamp:
				k.moment(rep.Instant(v))
			default:
				k.text = strconv.AppendInt(k.text, v, 10)
			}
			k.ends = append(k.ends, len(k.text))
		}
		k.cut()
	case columnar.IDs:
		k.ids = s.All(k.ids[:0], from, to)
		for _, id := range k.ids {
			k.text = hex.AppendEncode(k.text, []byte{byte(id >> 56), byte(id >> 48), byte(id >> 40), byte(id >> 32), byte(id >> 24), byte(id >> 16), byte(id >> 8), byte(id)})
			k.ends = append(k.ends, len(k.text))
		}
		k.cut()
	case columnar.Reals:
		for _, v := range s.All(from, to) {
			if v == v {
				k.text = appendFloat(k.text, v)
			}
			k.ends = append(k.ends, len(k.text))
		}
		k.cut()
	default:
		at := cellsOf(source)
		for i := range k.cells {
			k.cells[i] = csvText(at(from + i))
		}
	}
}

// cut makes k.text the cells.
func (k *csvColumn) cut() {
	text, from := string(k.text), 0
	for i, end := range k.ends {
		if k.cells[i] = nil; end > from {
			k.cells[i] = text[from:end]
		}
		from = end
	}
}

// moment adds a moment as [rep.Instant.String] has it. Most are of the same day
// as the one before.
func (k *csvColumn) moment(at rep.Instant) {
	const day = 24 * 60 * 60 * 1000
	of := at % day
	if of < 0 {
		of += day
	}
	if d := rep.Day((at - of) / day); d != k.day || k.date == nil {
		k.day, k.date = d, []byte(d.String())
	}
	two := func(v rep.Instant) []byte { return []byte{byte('0' + v/10), byte('0' + v%10)} }
	k.text = append(append(k.text, k.date...), 'T')
	k.text = append(append(k.text, two(of/3_600_000)...), ':')
	k.text = append(append(k.text, two(of/60_000%60)...), ':')
	k.text = append(append(k.text, two(of/1000%60)...), '.', byte('0'+of/100%10))
	k.text = append(append(k.text, two(of%100)...), 'Z')
}

func appendFloat(dst []byte, v float64) []byte { return strconv.AppendFloat(dst, v, 'f', -1, 64) }

// csvCell returns what a code of a source stands for.
func csvCell(c rep.Column, s columnar.Coded, code uint32) any {
	if s.Text != nil {
		return csvText(words(s.Text(code)))
	}
	bits, ok := s.Value(code)
	switch {
	case !ok:
		return nil
	case c.Type == rep.Float64:
		return csvText(Cell{Kind: Number, Float: math.Float64frombits(uint64(bits))})
	case c.Type == rep.Date:
		return csvText(Cell{Kind: Date, Int: bits})
	}
	return csvText(Cell{Kind: Whole, Int: bits})
}

// csvText returns a cell as it stands in CSV; nil for null.
func csvText(c Cell) any {
	switch c.Kind {
	case Words:
		return Defuse(valid(c.Text))
	case Number:
		return string(appendFloat(nil, c.Float))
	case Whole:
		return strconv.FormatInt(c.Int, 10)
	case Truth:
		return strconv.FormatBool(c.Int == 1)
	case Date:
		return rep.Day(c.Int).String()
	case Moment:
		return rep.Instant(c.Int).String()
	}
	return nil
}
