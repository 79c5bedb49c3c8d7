package tidy

import (
	"io"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// RepsParquet writes the named rows of t, in that order.
func RepsParquet(w io.Writer, t *rep.Table, rows []int32) error { return whole(w, RepsGrid(t, rows)) }

// AsideParquet writes reps set aside, in the order given.
func AsideParquet(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return whole(w, AsideGrid(t, aside))
}

// SetsParquet writes sets, in the order given.
func SetsParquet(w io.Writer, sets *rep.Sets) error { return whole(w, SetsGrid(sets)) }

func whole(w io.Writer, g *Grid) error {
	return columnar.Write(w, g.Columns, g.sources, 0, g.Rows, columnar.RowGroup)
}

// MostHeld is how many rows a [Parquet] holds at most, and one more.
const MostHeld = columnar.RowGroup
