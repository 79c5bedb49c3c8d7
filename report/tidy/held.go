package tidy

import (
	"math"
	"strconv"
	"strings"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// Held are rows of a table that are kept where the table they come from goes.
// The zero Held of some columns is empty.
type Held struct {
	Columns []rep.Column
	Most    int // rows that are kept; 0: all. Where there are more, none is

	n     int
	cells []heldColumn
}

// heldColumn are the cells of a column.
type heldColumn interface {
	take(cells func(i int) Cell, from, to int)
	source(c rep.Column) any
}

// heldIDs are rep ids, of which no two are the same.
type heldIDs struct{ all []uint64 }

func (h *heldIDs) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		id, _ := strconv.ParseUint(cells(i).Text, 16, 64) // they are our own
		h.all = append(h.all, id)
	}
}

func (h *heldIDs) source(rep.Column) any {
	return columnar.IDs{
		All: func(dst []uint64, from, to int) []uint64 { return append(dst, h.all[from:to]...) },
		At:  func(i int) uint64 { return h.all[i] },
	}
}

// heldKinds are lists of filters.
type heldKinds struct {
	all  []rep.Kinds
	rows []int32 // all of them
}

func (h *heldKinds) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		h.rows = append(h.rows, int32(len(h.all)))
		h.all = append(h.all, kindsOf(cells(i).Text))
	}
}

func kindsOf(names string) (set rep.Kinds) {
	if names == "" {
		return 0
	}
	for name := range strings.SplitSeq(names, "; ") {
		if k, ok := rep.KindOf(name); ok {
			set = set.With(k)
		}
	}
	return set
}

func (h *heldKinds) source(rep.Column) any { return columnar.Kinds{Of: h.all, Rows: h.rows} }

// heldTexts, heldNumbers, heldWholes and heldMoments are values that may repeat.
type (
	heldTexts   struct{ heldValues[string] }
	heldNumbers struct{ heldValues[rep.Null[uint64]] } // bits: there are two zeros
	heldWholes  struct{ heldValues[rep.Null[int32]] }
	heldMoments struct {
		heldValues[rep.Null[rep.Instant]]
	}
)

func (h *heldTexts) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		h.add(cells(i).Text)
	}
}

func (h *heldNumbers) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		cell := cells(i)
		h.add(rep.Null[uint64]{V: math.Float64bits(cell.Float), OK: cell.Kind != Null})
	}
}

func (h *heldWholes) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		cell := cells(i)
		h.add(rep.Null[int32]{V: int32(cell.Int), OK: cell.Kind != Null})
	}
}

func (h *heldMoments) take(cells func(i int) Cell, from, to int) {
	for i := from; i < to; i++ {
		cell := cells(i)
		h.add(rep.Null[rep.Instant]{V: rep.Instant(cell.Int), OK: cell.Kind != Null})
	}
}

func (h *heldTexts) source(rep.Column) any { return columnar.Texts(h.at) }

func (h *heldNumbers) source(rep.Column) any {
	return columnar.Floats(func(i int) rep.Null[float64] {
		v := h.at(i)
		return rep.Null[float64]{V: math.Float64frombits(v.V), OK: v.OK}
	})
}

func (h *heldWholes) source(c rep.Column) any {
	switch c.Type {
	case rep.Date:
		return columnar.Days(func(i int) rep.Day { return rep.Day(h.at(i).V) })
	case rep.Bool:
		return columnar.Bools(func(i int) bool { return h.at(i).V == 1 })
	}
	return columnar.Ints(h.at)
}

func (h *heldMoments) source(rep.Column) any { return columnar.Instants(h.at) }

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
		if columnar.TooMany(len(h.values), h.n) || len(h.values) > math.MaxUint16 {
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
	for k, column := range h.cells {
		column.take(g.at[k], from, to)
	}
}

// holds returns an empty column.
func holds(c rep.Column) heldColumn {
	switch c.Type {
	case rep.String:
		if c.Name == "rep_id" {
			return new(heldIDs)
		}
		return new(heldTexts)
	case rep.StringList:
		return new(heldKinds)
	case rep.Float64:
		return new(heldNumbers)
	case rep.Timestamp:
		return new(heldMoments)
	}
	return new(heldWholes)
}

// Grid returns the rows as a grid, without cells where there are too many.
func (h *Held) Grid() *Grid {
	if h.cells == nil {
		return &Grid{Columns: h.Columns, Rows: h.n}
	}
	sources := make(map[string]any, len(h.Columns))
	for k, c := range h.Columns {
		sources[c.Name] = h.cells[k].source(c)
	}
	return gridOf(h.Columns, sources, h.n)
}

func (h *Held) reset() { h.n, h.cells = 0, nil }
