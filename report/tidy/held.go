package tidy

import (
	"math"
	"strconv"
	"strings"

	"repsift/ingest/rep"
)

// Held are rows of a table that are kept where the table they come from goes.
// The zero Held of some columns is empty.
type Held struct {
	Columns []rep.Column
	Most    int // rows that are kept; 0: all. Where there are more, none is

	n     int
	cells []any // a column each
}

// heldIDs are rep ids, of which no two are the same.
type heldIDs struct{ all []uint64 }

// heldKinds are lists of filters.
type heldKinds struct {
	all  []rep.Kinds
	rows []int32 // all of them
}

// heldValues are values of which there are few different ones: nothing is kept
// while all are the same, and numbers of two bytes while that is enough.
type heldValues[T comparable] struct {
	n       int
	values  []T
	known   map[T]uint16
	numbers []uint16
	plain   []T // where there are too many
}

func (h *heldValues[T]) add(v T) {
	h.n++
	if h.plain != nil {
		h.plain = append(h.plain, v)
		return
	}
	last := uint16(0)
	if k := len(h.numbers); k > 0 {
		last = h.numbers[k-1]
	}
	if h.n > 1 && h.values[last] == v {
		if h.numbers != nil {
			h.numbers = append(h.numbers, last)
		}
		return
	}
	number, ok := h.known[v]
	if !ok {
		if tooMany(len(h.values), h.n) || len(h.values) > math.MaxUint16 {
			h.spread()
			h.plain = append(h.plain, v)
			return
		}
		if h.known == nil {
			h.known = map[T]uint16{}
		}
		number = uint16(len(h.values))
		h.known[v] = number
		h.values = append(h.values, v)
	}
	if h.numbers == nil && h.n > 1 {
		h.numbers = make([]uint16, h.n-1, max(64, 2*h.n))
	}
	if h.numbers != nil {
		h.numbers = append(h.numbers, number)
	}
}

// spread writes out the values before the last.
func (h *heldValues[T]) spread() {
	h.plain = make([]T, 0, 2*h.n)
	for i := range h.n - 1 {
		h.plain = append(h.plain, h.at(i))
	}
	h.values, h.known, h.numbers = nil, nil, nil
}

func (h *heldValues[T]) at(i int) T {
	switch {
	case len(h.plain) > i:
		return h.plain[i]
	case h.numbers == nil:
		return h.values[0]
	}
	return h.values[h.numbers[i]]
}

// Add adds all rows of a grid of the same columns.
func (h *Held) Add(g *Grid) { h.add(g, 0, g.Rows) }

func (h *Held) add(g *Grid, from, to int) {
	h.n += to - from
	if h.Most > 0 && h.n > h.Most {
		h.cells = nil
		return
	}
	if h.cells == nil {
		for _, c := range h.Columns {
			h.cells = append(h.cells, holds(c))
		}
	}
	for k := range h.cells {
		for i := from; i < to; i++ {
			cell := g.Cell(k, i)
			there := cell.Kind != Null
			switch held := h.cells[k].(type) {
			case *heldIDs:
				id, _ := strconv.ParseUint(cell.Text, 16, 64) // they are our own
				held.all = append(held.all, id)
			case *heldKinds:
				held.rows = append(held.rows, int32(len(held.all)))
				held.all = append(held.all, kindsOf(cell.Text))
			case *heldValues[string]:
				held.add(cell.Text)
			case *heldValues[rep.Null[uint64]]:
				held.add(rep.Null[uint64]{V: math.Float64bits(cell.Float), OK: there})
			case *heldValues[rep.Null[int32]]:
				held.add(rep.Null[int32]{V: int32(cell.Int), OK: there})
			case *heldValues[rep.Null[rep.Instant]]:
				held.add(rep.Null[rep.Instant]{V: rep.Instant(cell.Int), OK: there})
			}
		}
	}
}

// holds returns an empty column.
func holds(c rep.Column) any {
	switch c.Type {
	case rep.String:
		if c.Name == "rep_id" {
			return new(heldIDs)
		}
		return new(heldValues[string])
	case rep.StringList:
		return new(heldKinds)
	case rep.Float64:
		return new(heldValues[rep.Null[uint64]]) // bits: there are two zeros
	case rep.Timestamp:
		return new(heldValues[rep.Null[rep.Instant]])
	}
	return new(heldValues[rep.Null[int32]])
}

func kindsOf(names string) (set rep.Kinds) {
	for name := range strings.SplitSeq(names, "; ") {
		if k, ok := rep.KindOf(name); ok {
			set = set.With(k)
		}
	}
	return set
}

// Grid returns the rows as a grid, without cells where there are too many.
func (h *Held) Grid() *Grid {
	if h.cells == nil {
		return &Grid{Columns: h.Columns, Rows: h.n}
	}
	sources := make(map[string]any, len(h.Columns))
	for k, c := range h.Columns {
		sources[c.Name] = sourceOf(c, h.cells[k])
	}
	return gridOf(h.Columns, sources, h.n)
}

// sourceOf returns what is held of a column as a source.
func sourceOf(c rep.Column, cells any) any {
	switch held := cells.(type) {
	case *heldIDs:
		return ids{
			all: func(dst []uint64, from, to int) []uint64 { return append(dst, held.all[from:to]...) },
			at:  func(i int) uint64 { return held.all[i] },
		}
	case *heldKinds:
		return kinds{held.all, held.rows}
	case *heldValues[string]:
		return texts(held.at)
	case *heldValues[rep.Null[uint64]]:
		return floats(func(i int) rep.Null[float64] {
			v := held.at(i)
			return rep.Null[float64]{V: math.Float64frombits(v.V), OK: v.OK}
		})
	case *heldValues[rep.Null[rep.Instant]]:
		return instants(held.at)
	case *heldValues[rep.Null[int32]]:
		switch c.Type {
		case rep.Date:
			return days(func(i int) rep.Day { return rep.Day(held.at(i).V) })
		case rep.Bool:
			return bools(func(i int) bool { return held.at(i).V == 1 })
		}
		return ints(held.at)
	}
	return nil
}

func (h *Held) reset() { h.n, h.cells = 0, nil }
