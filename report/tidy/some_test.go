package tidy

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// A table that is written some rows at a time has the bytes of one that is
// written at once, wherever it is cut, and what is held of it is the same.
func TestSome(t *testing.T) {
	res := sample(3000)
	r := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		name    string
		columns []rep.Column
		n       int
		rows    func(from, to int) *Grid
		csv     func(c *CSV, from, to int) error
	}{
		{"reps", rep.Columns, len(res.Kept), func(from, to int) *Grid { return RepsGrid(res.Reps, res.Kept[from:to]) },
			func(c *CSV, from, to int) error { return c.Reps(res.Reps, res.Kept[from:to]) }},
		{"set_aside", rep.AsideColumns, len(res.Aside), func(from, to int) *Grid { return AsideGrid(res.Reps, res.Aside[from:to]) },
			func(c *CSV, from, to int) error { return c.Aside(res.Reps, res.Aside[from:to]) }},
		{"sets", rep.SetColumns, res.Sets.Len(), func(from, to int) *Grid { s := res.Sets.Slice(from, to); return SetsGrid(&s) },
			func(c *CSV, from, to int) error { s := res.Sets.Slice(from, to); return c.Sets(&s) }},
	} {
		whole := c.rows(0, c.n)
		for _, rowGroup := range []int{1, 100, 1 << 17} {
			var want, wantCSV, got, gotCSV bytes.Buffer
			if err := columnar.Write(&want, c.columns, whole.sources, 0, c.n, rowGroup); err != nil {
				t.Fatal(err)
			}
			if err := c.csv(NewCSV(&wantCSV), 0, c.n); err != nil {
				t.Fatal(err)
			}
			p, text, held := newParquet(&got, c.columns, rowGroup), NewCSV(&gotCSV), Held{Columns: c.columns}
			for from, to := 0, 0; from < c.n; from = to {
				to = min(c.n, from+r.IntN(350))
				if err := p.Add(c.rows(from, to), to == c.n && r.IntN(2) == 0); err != nil {
					t.Fatal(err)
				}
				if err := c.csv(text, from, to); err != nil {
					t.Fatal(err)
				}
				held.Add(c.rows(from, to))
			}
			if err := p.Close(); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got.Bytes(), want.Bytes()) {
				t.Errorf("%s in row groups of %d: %d bytes, not the %d that are written at once", c.name, rowGroup, got.Len(), want.Len())
			}
			if !bytes.Equal(gotCSV.Bytes(), wantCSV.Bytes()) {
				t.Errorf("%s.csv differs", c.name)
			}
			g := held.Grid()
			for i := range c.n {
				for k, column := range c.columns {
					if a, b := g.Cell(k, i), whole.Cell(k, i); a != b {
						t.Fatalf("%s row %d: %s is held as %+v, not %+v", c.name, i, column.Name, a, b)
					}
				}
			}
		}
		few := Held{Columns: c.columns, Most: c.n - 1}
		few.Add(whole)
		if g := few.Grid(); g.Rows != c.n || few.cells != nil {
			t.Errorf("%s: %d rows of at most %d", c.name, g.Rows, few.Most)
		}
	}
}
