package cell

import "slices"

// Walk finds the tables that a row may lie in, on the way down the rows of a
// sheet: of thousands of tables it looks at those around the row alone.
type Walk struct {
	tables []Region
	next   int   // first table that has not begun
	here   []int // tables that have begun and not ended
}

// NewWalk returns a walk of tables in order of their rows, as [Layout] has them.
func NewWalk(tables []Region) *Walk { return &Walk{tables: tables} }

// More reports whether there are tables that have not begun.
func (w *Walk) More() bool { return w.next < len(w.tables) }

// At returns the tables whose data may have the row of a line, by number. Lines
// have to grow from call to call. Valid until the next call.
func (w *Walk) At(line int32) []int {
	if len(w.here) > 0 {
		w.here = slices.DeleteFunc(w.here, func(i int) bool {
			last := w.tables[i].LastData
			return last != 0 && last < line
		})
	}
	for w.next < len(w.tables) && w.tables[w.next].Top() <= line {
		if t := &w.tables[w.next]; t.FirstData != 0 && (t.LastData == 0 || t.LastData >= line) {
			w.here = append(w.here, w.next)
		}
		w.next++
	}
	return w.here
}
