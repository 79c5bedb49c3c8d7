package tidy

import (
	"fmt"
	"testing"

	"repsift/ingest/rep"
)

// Every cell of a grid is that of the row type of its table.
func TestGrid(t *testing.T) {
	res := sample(3000)
	for _, c := range []struct {
		name string
		grid *Grid
		row  func(i int) any
	}{
		{"reps", RepsGrid(res.Reps, res.Kept), func(i int) any { return repOf(res.Reps, res.Kept[i]) }},
		{"set_aside", AsideGrid(res.Reps, res.Aside), func(i int) any { return asideOf(res.Reps, &res.Aside[i]) }},
		{"sets", SetsGrid(&res.Sets), func(i int) any { s := res.Sets.At(i); return setOf(&s) }},
		{"unread", UnreadGrid(res.Unread), func(i int) any { return unreadOf(&res.Unread[i]) }},
	} {
		if c.grid.Rows == 0 {
			t.Errorf("%s: no rows", c.name)
		}
		for i := range c.grid.Rows {
			want := cells(nil, c.row(i))
			for k, column := range c.grid.Columns {
				var got any
				switch cell := c.grid.Cell(k, i); cell.Kind {
				case Words:
					got = cell.Text
				case Number:
					got = cell.Float
				case Whole:
					got = int32(cell.Int)
				case Truth:
					got = cell.Int == 1
				case Date:
					got = rep.Day(cell.Int)
				case Moment:
					got = rep.Instant(cell.Int)
				}
				if got != want[k] {
					t.Fatalf("%s row %d, %s: %v, the row has %v", c.name, i, column.Name, fmt.Sprint(got), fmt.Sprint(want[k]))
				}
			}
		}
	}
}
