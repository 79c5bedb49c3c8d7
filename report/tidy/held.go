package tidy

import (
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

// The columns, by what their cells hold.
type (
	// heldWords are texts by number; 0 is null.
	heldWords struct {
		numbers []uint32
		texts   []string
		known   map[string]uint32
	}
	heldIDs   struct{ all []uint64 }
	heldKinds struct {
		all  []rep.Kinds
		rows []int32 // all of them
	}
	// heldValues are numbers. Of those that are all null nothing is kept, and
	// which are null only where some are.
	heldValues[T any] struct {
		n    int
		all  []T
		null []bool
	}
)

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
			switch held := h.cells[k].(type) {
			case *heldWords:
				held.add(cell.Text)
			case *heldIDs:
				id, _ := strconv.ParseUint(cell.Text, 16, 64) // they are our own
				held.all = append(held.all, id)
			case *heldKinds:
				held.rows = append(held.rows, int32(len(held.all)))
				held.all = append(held.all, kindsOf(cell.Text))
			case *heldValues[float64]:
				held.add(cell.Float, cell.Kind != Null)
			case *heldValues[int64]:
				held.add(cell.Int, cell.Kind != Null)
			}
		}
	}
}

// holds returns an empty column.
func holds(c rep.Column) any {
	switch {
	case c.Name == "rep_id":
		return new(heldIDs)
	case c.Type == rep.String:
		return &heldWords{texts: []string{""}, known: map[string]uint32{"": 0}}
	case c.Type == rep.StringList:
		return new(heldKinds)
	case c.Type == rep.Float64:
		return new(heldValues[float64])
	}
	return new(heldValues[int64])
}

func (h *heldWords) add(text string) {
	number, ok := h.known[text]
	if !ok {
		number = uint32(len(h.texts))
		h.texts = append(h.texts, text)
		h.known[text] = number
	}
	h.numbers = append(h.numbers, number)
}

func kindsOf(names string) (set rep.Kinds) {
	for name := range strings.SplitSeq(names, "; ") {
		if k, ok := rep.KindOf(name); ok {
			set = set.With(k)
		}
	}
	return set
}

func (h *heldValues[T]) add(v T, there bool) {
	if h.n++; h.all == nil && !there {
		return
	}
	if h.all == nil && h.n > 1 {
		h.null = make([]bool, h.n-1)
		for i := range h.null {
			h.null[i] = true
		}
		h.all = make([]T, h.n-1)
	}
	if h.null == nil && !there {
		h.null = make([]bool, h.n-1)
	}
	h.all = append(h.all, v)
	if h.null != nil {
		h.null = append(h.null, !there)
	}
}

// at returns a value; false for null.
func (h *heldValues[T]) at(i int) (v T, ok bool) {
	if h.all == nil || h.null != nil && h.null[i] {
		return v, false
	}
	return h.all[i], true
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
	case *heldWords:
		return texts(func(i int) string { return held.texts[held.numbers[i]] })
	case *heldIDs:
		return ids{
			all: func(dst []uint64, from, to int) []uint64 { return append(dst, held.all[from:to]...) },
			at:  func(i int) uint64 { return held.all[i] },
		}
	case *heldKinds:
		return kinds{held.all, held.rows}
	case *heldValues[float64]:
		return floats(func(i int) rep.Null[float64] { v, ok := held.at(i); return rep.Null[float64]{V: v, OK: ok} })
	case *heldValues[int64]:
		switch c.Type {
		case rep.Date:
			return days(func(i int) rep.Day { v, _ := held.at(i); return rep.Day(v) })
		case rep.Bool:
			return bools(func(i int) bool { v, _ := held.at(i); return v == 1 })
		case rep.Timestamp:
			return instants(func(i int) rep.Null[rep.Instant] {
				v, ok := held.at(i)
				return rep.Null[rep.Instant]{V: rep.Instant(v), OK: ok}
			})
		}
		return ints(func(i int) rep.Null[int32] { v, ok := held.at(i); return rep.Null[int32]{V: int32(v), OK: ok} })
	}
	return nil
}

func (h *Held) reset() { h.n, h.cells = 0, nil }
