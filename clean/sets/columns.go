package sets

import (
	"cmp"
	"slices"

	"repsift/ingest/rep"
)

// columns are what ordering asks of rows, read once. A row is known by its
// position in them until all is done.
type columns struct {
	row   []int32 // of the table
	date  []rep.Day
	sheet []int32       // number of source and sheet
	line  []int32       // of the sheet
	mark  []int32       // of the set; rep.NoInt: not said
	rep   []int32       // as recorded; likewise
	time  []rep.Instant // rep.NoInstant: not said
	load  []float64
	rig   []int32 // number of variant, unit and bar, which a set shares

	// mean, peak, travel and time; where copies are told (measure)
	measured [4][]float64

	syms [3][]rep.Sym // for the moment
}

// read fills the columns.
func (c *columns) read(t *rep.Table, rank *Ranks, rows []int32) {
	n := len(rows)
	c.row = append(c.row[:0], rows...)
	c.date, c.time, c.load = room(c.date, n), room(c.time, n), room(c.load, n)
	c.mark, c.rep, c.line = room(c.mark, n), room(c.rep, n), room(c.line, n)
	c.sheet, c.rig = room(c.sheet, n), room(c.rig, n)
	t.Date.Gather(c.date, rows)
	t.PerformedAt.Gather(c.time, rows)
	t.LoadKg.Gather(c.load, rows)
	t.SetMark.Gather(c.mark, rows)
	t.RepRecorded.Gather(c.rep, rows)
	for i, r := range rows {
		c.line[i] = t.Row[r]
	}
	c.number(c.sheet, rank, &t.Source, &t.Sheet)
	c.number(c.rig, rank, &t.Variant, &t.Device, &t.Bar)
}

// measure fills the columns of what was measured.
func (c *columns) measure(t *rep.Table) {
	for k, column := range [...]*rep.Floats{&t.MeanVelocity, &t.PeakVelocity, &t.ROM, &t.Concentric} {
		c.measured[k] = room(c.measured[k], len(c.row))
		column.Gather(c.measured[k], c.row)
	}
}

// room returns a slice of n, in the memory of s where it has that much.
func room[E any](s []E, n int) []E { return slices.Grow(s[:0], n)[:n] }

// number gives rows that say the same in some columns of symbols the same
// number; numbers are in the order of the texts.
func (c *columns) number(to []int32, rank *Ranks, columns ...*rep.Texts) {
	columns = slices.DeleteFunc(columns, (*rep.Texts).Constant)
	if len(columns) == 0 {
		clear(to)
		return
	}
	type key [len(c.syms)]rep.Sym
	for k, column := range columns {
		c.syms[k] = room(c.syms[k], len(to))
		column.Gather(c.syms[k], c.row)
	}
	var last key
	var keys []key
	of := make(map[key]int32)
	for i := range to {
		var k key
		for n := range columns {
			k[n] = c.syms[n][i]
		}
		if i > 0 && k == last {
			to[i] = to[i-1]
			continue
		}
		n, ok := of[k]
		if !ok {
			n = int32(len(keys))
			of[k], keys = n, append(keys, k)
		}
		to[i], last = n, k
	}
	if len(keys) < 2 {
		return
	}
	slices.SortFunc(keys, func(a, b key) int {
		for n := range columns {
			if a[n] != b[n] {
				return cmp.Compare(rank.of[a[n]], rank.of[b[n]])
			}
		}
		return 0
	})
	numbers := make([]int32, len(keys))
	for n, k := range keys {
		numbers[of[k]] = int32(n)
	}
	for i := range to {
		to[i] = numbers[to[i]]
	}
}

// otherLoad reports whether two rows are of different loads.
func (c *columns) otherLoad(a, b int32) bool {
	d := c.load[a] - c.load[b]
	return d > 0.05 || d < -0.05
}

// comparePlaces orders rows by source, sheet, row and rep recorded, and rows of one
// place by their position in the table.
func (c *columns) comparePlaces(a, b int32) int {
	if c.sheet[a] != c.sheet[b] {
		return cmp.Compare(c.sheet[a], c.sheet[b])
	}
	if c.line[a] != c.line[b] {
		return cmp.Compare(c.line[a], c.line[b])
	}
	if c.rep[a] != c.rep[b] {
		return cmp.Compare(c.rep[a], c.rep[b])
	}
	return cmp.Compare(c.row[a], c.row[b])
}

// compareReps orders the rows of one set: by rep number, time, place.
func (c *columns) compareReps(a, b int32) int {
	if c.rep[a] != c.rep[b] {
		return cmp.Compare(c.rep[a], c.rep[b])
	}
	if c.time[a] != c.time[b] {
		return cmp.Compare(c.time[a], c.time[b])
	}
	return c.comparePlaces(a, b)
}
