package table

import "iter"

// How much of a sheet is kept: more rows than are looked at of one table, and no
// more cells than a few hundred kilobytes hold.
const (
	keptRows  = 1200
	keptCells = 16_000
)

// firstRows are the first rows of a sheet, kept by who read it for its layout.
type firstRows struct {
	rows  []Row
	cells []Cell // of the last rows
	n     int    // cells of all
	whole bool   // there are no other rows
	full  bool   // there is no room for more
}

// keep returns the rows and fills the head with the first of them as they come.
func (h *firstRows) keep(rows iter.Seq2[Row, error]) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		*h = firstRows{}
		for row, err := range rows {
			if err != nil {
				h.full = true // whoever reads again meets it again
				yield(row, err)
				return
			}
			h.add(&row)
			if !yield(row, nil) {
				h.full = true
				return
			}
		}
		h.whole = !h.full
	}
}

func (h *firstRows) add(row *Row) {
	if h.full = h.full || len(h.rows) == keptRows || h.n+len(row.Cells) > keptCells; h.full {
		return
	}
	h.n += len(row.Cells)
	if len(h.cells)+len(row.Cells) > cap(h.cells) {
		h.cells = make([]Cell, 0, max(2*cap(h.cells), 8*len(row.Cells), 64))
	}
	if h.rows == nil {
		h.rows = make([]Row, 0, 64)
	}
	from := len(h.cells)
	h.cells = append(h.cells, row.Cells...)
	kept := *row
	kept.Cells = h.cells[from:len(h.cells):len(h.cells)]
	h.rows = append(h.rows, kept)
}

// before returns all rows of a sheet: those that were kept, and of the others
// what rows gives after as many.
func (h *firstRows) before(rows iter.Seq2[Row, error]) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for i := range h.rows {
			if !yield(h.rows[i], nil) {
				return
			}
		}
		if h.whole {
			return
		}
		n := 0
		for row, err := range rows {
			if n++; err == nil && n <= len(h.rows) {
				continue
			}
			if !yield(row, err) {
				return
			}
		}
	}
}
