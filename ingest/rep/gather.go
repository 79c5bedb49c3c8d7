package rep

import (
	"math"
	"slices"
)

// Gather reads a column at many rows: to[i] becomes what [Texts.At] says of row
// rows[i]. How the column is kept is looked at once, not for every row. The
// others do the same.
func (c *Texts) Gather(to []Sym, rows []int32) {
	to = to[:len(rows)]
	switch {
	case c.narrow != nil:
		for i, r := range rows {
			to[i] = Sym(c.narrow[r])
		}
	case c.wide != nil:
		for i, r := range rows {
			to[i] = c.wide[r]
		}
	default:
		for i := range to {
			to[i] = c.one
		}
	}
}

// Constant reports whether the column is known to say the same in all rows.
func (c *Texts) Constant() bool { return c.narrow == nil && c.wide == nil }

// Gather gives what [Days.At] does.
func (c *Days) Gather(to []Day, rows []int32) {
	to = to[:len(rows)]
	if c.far != nil {
		for i, r := range rows {
			to[i] = c.far[r]
		}
		return
	}
	for i, r := range rows {
		to[i] = year2000 + Day(c.near[r])
	}
}

// Gather gives what [Instants.Get] does.
func (c *Instants) Gather(to []Instant, rows []int32) {
	to = to[:len(rows)]
	if c.exact != nil {
		for i, r := range rows {
			to[i] = c.exact[r]
		}
		return
	}
	for i, r := range rows {
		if to[i] = NoInstant; c.seconds[r] > 0 {
			to[i] = Instant(c.seconds[r]-1) * 1000
		}
	}
}

// Gather gives what [Ints.Get] does.
func (c *Ints) Gather(to []int32, rows []int32) {
	to = to[:len(rows)]
	if c.large != nil {
		for i, r := range rows {
			to[i] = c.large[r]
		}
		return
	}
	for i, r := range rows {
		if to[i] = NoInt; c.small[r] > 0 {
			to[i] = int32(c.small[r]) - 1
		}
	}
}

// Gather gives what [Floats.Get] does.
func (f *Floats) Gather(to []float64, rows []int32) {
	to = to[:len(rows)]
	switch {
	case f.codes != nil:
		values := f.dict.values
		for i, r := range rows {
			if code := f.codes[r]; code < noCode {
				to[i] = values[code]
			} else {
				to[i] = f.over.at(r)
			}
		}
	case f.raw != nil:
		for i, r := range rows {
			to[i] = f.raw[r]
		}
	default:
		for i := range to {
			to[i] = math.NaN()
		}
	}
}

// Warm reads one row of every stretch of rows in the columns that cleaning uses.
// What is asked of one column after the other waits for memory at every stretch;
// here all columns wait at once, and what is asked next is at hand. The sum means
// nothing.
func (t *Table) Warm(rows []int32) (sum uint64) {
	const stretch = 32 // rows that lie within 64 bytes in most columns
	var codes [][]uint16
	for _, c := range t.texts() {
		codes = append(codes, c.narrow)
	}
	for _, c := range t.floats() {
		codes = append(codes, c.codes)
	}
	for _, c := range []*Counts{&t.Session, &t.Set, &t.Number} {
		codes = append(codes, c.small)
	}
	codes = slices.DeleteFunc(codes, func(c []uint16) bool { return c == nil })
	at := int32(-1)
	for _, r := range rows {
		if r/stretch == at {
			continue
		}
		at = r / stretch
		for _, c := range codes {
			sum += uint64(c[r])
		}
		sum += uint64(t.Date.At(r)) + uint64(t.SetMark.Get(r)) + uint64(t.RepRecorded.Get(r)) + uint64(t.Flags[r]) + uint64(t.marks[r])
		for _, r := range [2]int32{r, min(r|stretch/2, int32(t.Len()-1))} { // twice as wide
			sum += uint64(t.PerformedAt.Get(r)) + uint64(t.Row[r])
		}
	}
	return sum
}
