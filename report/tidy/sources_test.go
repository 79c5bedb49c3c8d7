package tidy

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
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
			case coded:
				cells = s.cells
			case wholes:
				cells = s.cells
			case reals:
				cells = s.cells
			case uniform:
				cells = texts(func(int) string { return s.text })
			default:
				continue
			}
			var many, single encoder
			var csv, csvSingle csvColumn
			for from := 0; from < c.rows; from += 32_768 {
				to := min(from+32_768, c.rows)
				csv.fill(column, c.sources[column.Name], from, to)
				if csvSingle.fill(column, cells, from, to); !slices.Equal(csv.cells, csvSingle.cells) {
					t.Errorf("%s from row %d: other cells of CSV at once than one by one", column.Name, from)
				}
				if err := many.column(column, c.sources[column.Name], from, to); err != nil {
					t.Fatal(err)
				}
				if err := single.column(column, cells, from, to); err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(many.out, single.out) {
					t.Errorf("%s from row %d: %d bytes at once, %d one by one", column.Name, from, len(many.out), len(single.out))
				}
			}
		}
	}
}

// A table of more texts than two bytes can number is written as any other.
func TestManyTexts(t *testing.T) {
	table := new(rep.Table)
	rows := make([]int32, 70_000)
	for i := range rows {
		rows[i] = table.Append(&rep.Rep{Lifter: fmt.Sprint(i), Lift: "squat", Source: "a.csv", Row: int32(i)})
	}
	s := drawn{table, rows}.text(&table.Lifter).(coded)
	var many, single encoder
	if err := many.column(rep.Columns[1], s, 0, len(rows)); err != nil {
		t.Fatal(err)
	}
	if err := single.column(rep.Columns[1], s.cells, 0, len(rows)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(many.out, single.out) {
		t.Error("other bytes at once than one by one")
	}
}

// Whole numbers that hardly repeat come back as they were, however far apart.
func TestFarApart(t *testing.T) {
	const n = 1000
	type line struct {
		Row int32  `parquet:"row"`
		At  *int64 `parquet:"performed_at,optional"`
	}
	want := make([]line, n)
	for i := range want {
		want[i].Row = []int32{math.MaxInt32 - int32(i), math.MinInt32 + int32(i), int32(i)}[i%3]
		if at := []int64{math.MaxInt64 - int64(i), math.MinInt64 + 1 + int64(i), int64(i)}[i%3]; i%7 > 0 {
			want[i].At = &at
		}
	}
	var b bytes.Buffer
	err := writeParquet(&b, []rep.Column{{Name: "row", Type: rep.Int32}, {Name: "performed_at", Type: rep.Timestamp, Null: true}}, map[string]any{
		"row":          ints(func(i int) rep.Null[int32] { return rep.Some(want[i].Row) }),
		"performed_at": instants(func(i int) rep.Null[rep.Instant] { return rep.FromPtr((*rep.Instant)(want[i].At)) }),
	}, 0, n, 300)
	if err != nil {
		t.Fatal(err)
	}
	got, err := parquet.Read[line](bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%d lines come back otherwise, %v", len(got), err)
	}
	f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range f.Metadata().RowGroups[0].Columns {
		if !slices.Contains(c.MetaData.Encoding, format.DeltaBinaryPacked) {
			t.Errorf("%s is held as %v", c.MetaData.PathInSchema, c.MetaData.Encoding)
		}
	}
}
