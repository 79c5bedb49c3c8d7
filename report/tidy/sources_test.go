package tidy

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// What a source says of many rows at once is what it says of them one by one:
// in a table long enough for codes, with values that came when codes had run
// out, with nulls, in any order of rows.
func TestManyAtOnce(t *testing.T) {
	const n = 70_000
	table := season(n)
	table.Open(true)
	rows := make([]int32, n)
	for i := range rows {
		rows[i] = int32(i * 7919 % n)
		switch row := rows[i]; {
		case i%17 == 0:
			table.ROM.Put(row, rep.Null[float64]{})
		case i%19 == 0:
			table.PeakVelocity.Put(row, rep.Some(float64(i))) // too many for the column's codes
		case i%23 == 0:
			table.Variant.Put(row, table.Text.Intern(fmt.Sprintf("variant %d", i%5)))
			table.PerformedAt.Put(row, rep.Null[rep.Instant]{})
			table.RepRecorded.Put(row, rep.Null[int32]{})
		}
		table.Session.Put(int32(i), int32(i/9))
	}
	table.Set.Put(40_000, 1<<20)
	sets := rep.SetsOf(table, rows)
	for at := int32(0); at+7 < n; at += 7 {
		sets.AddKept(at, 1+at%7, 0, nil)
	}
	for _, c := range []struct {
		columns []rep.Column
		sources map[string]any
		rows    int
	}{
		{rep.Columns, drawn{table, rows}.reps(), n},
		{rep.SetColumns, setSources(&sets, func(i int) int { return sets.Len() - 1 - i }), sets.Len()},
	} {
		for _, column := range c.columns {
			var cells any
			switch s := c.sources[column.Name].(type) {
			case columnar.Coded:
				cells = s.Cells
			case columnar.Wholes:
				cells = s.Cells
			case columnar.Reals:
				cells = s.Cells
			case columnar.Uniform:
				cells = columnar.Texts(func(int) string { return s.Text })
			default:
				continue
			}
			if many, single := written(t, column, c.sources[column.Name], c.rows), written(t, column, cells, c.rows); !bytes.Equal(many, single) {
				t.Errorf("%s: %d bytes at once, %d one by one", column.Name, len(many), len(single))
			}
			var csv, csvSingle csvColumn
			for from := 0; from < c.rows; from += groupOf {
				to := min(from+groupOf, c.rows)
				csv.fill(column, c.sources[column.Name], from, to)
				if csvSingle.fill(column, cells, from, to); !slices.Equal(csv.cells, csvSingle.cells) {
					t.Errorf("%s from row %d: other cells of CSV at once than one by one", column.Name, from)
				}
			}
		}
	}
}

// groupOf is a number of rows that makes a file have some row groups.
const groupOf = 32_768

// written returns the file of one column.
func written(t *testing.T, c rep.Column, source any, rows int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := columnar.Write(&b, []rep.Column{c}, map[string]any{c.Name: source}, 0, rows, groupOf); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A table of more texts than two bytes can number is written as any other.
func TestManyTexts(t *testing.T) {
	table := new(rep.Table)
	rows := make([]int32, 70_000)
	for i := range rows {
		rows[i] = table.Append(&rep.Rep{Lifter: fmt.Sprint(i), Lift: "squat", Source: "a.csv", Row: int32(i)})
	}
	s := drawn{table, rows}.text(&table.Lifter).(columnar.Coded)
	if !bytes.Equal(written(t, rep.Columns[1], s, len(rows)), written(t, rep.Columns[1], s.Cells, len(rows))) {
		t.Error("other bytes at once than one by one")
	}
}
