package shape

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// TestLongColumns: far down a table, where texts are known from rows above,
// each row is still read as it is read alone: numbers, numbers with units of
// their own, marks of a miss, texts that are no numbers, and loads whose unit
// stands beside them.
func TestLongColumns(t *testing.T) {
	loads := []string{"225", "225", "100 kg", "102.5", "1,000.5", "12O", "", "-", "45%"}
	speeds := []string{"50", "48.5", "0.41 m/s", "41,3", "12 x", "x", "missed", "", "n/a", "1.2345678", "48.50"}
	units := []string{"", "kg", "lb", "stones"}
	r := rand.New(rand.NewPCG(3, 4))
	var lines []string
	for range 4000 {
		lines = append(lines, strings.Join([]string{"Ines", "5/3/2026", "squat", loads[r.IntN(len(loads))], speeds[r.IntN(len(speeds))], units[r.IntN(len(units))]}, "|"))
	}
	data := rows(lines...)
	for _, beside := range []bool{false, true} {
		p := repRowPlan(t)
		if beside {
			p.Cells = append([]Cell{{Index: 5, Field: column.LoadUnit, Heading: "unit"}}, p.Cells...)
		}
		long, alone := Sink{Reps: &rep.Table{}}, Sink{Reps: &rep.Table{}}
		d := NewDecoder(p, &long)
		for i := range data {
			before, lost := long.Reps.Len(), len(long.Unread)
			beforeAlone, lostAlone := alone.Reps.Len(), len(alone.Unread)
			a, b := d.Row(&data[i]), NewDecoder(p, &alone).Row(&data[i])
			if a != b || long.Reps.Len()-before != alone.Reps.Len()-beforeAlone || fmt.Sprint(long.Unread[lost:]) != fmt.Sprint(alone.Unread[lostAlone:]) {
				t.Fatalf("row %q: %v, %v; alone %v, %v", lines[i], a, long.Unread[lost:], b, alone.Unread[lostAlone:])
			}
			if n := int32(before); a == RepRow && long.Reps.Rep(n) != alone.Reps.Rep(n) {
				t.Fatalf("row %q: %+v; alone %+v", lines[i], long.Reps.Rep(n), alone.Reps.Rep(n))
			}
		}
		if long.Reps.Len() < 500 || len(long.Unread) < 500 {
			t.Fatalf("%d reps, %d lost: the rows are not what they should be", long.Reps.Len(), len(long.Unread))
		}
	}
}

// TestAlikeRows: rows of sets, which repeat names and days, are read as each is
// alone, whatever stands between them: rows that are lost, cells that are blank
// or no texts, corrections, days on which the bar was rigged otherwise. Also in
// blocks, each into a table of its own.
func TestAlikeRows(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	columns := [][]string{
		{"Ines", "Ines", "Tomás", "", "-", " Ines "},
		{"2026-03-05T18:00:01", "2026-03-05 18:00:07", "2026-03-05", "2026-03-06T07:10:00", "6/3/2026", "31/4/2026", "2026-03-06T25:00:00"},
		{"squat", "squat", "sumo deadlift", "bench", ""},
		{"225", "135", "12O"},
		{"50", "48.5", "-", "x"},
		{"1", "2", "12", "top", "#3", "3.0", ""},
		{"1", "2", "03", "12345", "two", ""},
		{"", "", "sumo", "paused"},
		{"", "stiff", "deadlift bar"},
		{"", "", "sleeve end"},
		{"", "unit 2"},
	}
	fields := []column.Field{column.Lifter, column.Date, column.Lift, column.Load, column.MeanVelocity, column.SetNumber,
		column.RepNumber, column.Variant, column.Bar, column.Tether, column.Device}
	p := repRowPlan(t)
	p.Cells = p.Cells[:5]
	for i, f := range fields[5:] {
		p.Cells = append(p.Cells, Cell{Index: 5 + i, Field: f, Heading: f.String()})
	}
	p.Device = ""
	day := rep.DayOf(2026, 3, 6)
	p.Season = &season.Season{Setups: []season.Setup{{Bar: "stiff"}, {From: rep.Some(day), To: rep.Some(day), Bar: "deadlift", Tether: "centre"}}}
	p.Corrections = make(map[int32][]season.Correction)
	at := make([]string, len(columns))
	var lines []string
	for i := range 12_000 {
		for k := range at {
			if i == 0 || r.IntN(8) == 0 || k >= 3 && k <= 6 {
				at[k] = columns[k][r.IntN(len(columns[k]))]
			}
		}
		lines = append(lines, strings.Join(at[:len(at)-r.IntN(2)], "|"))
		if r.IntN(50) == 0 {
			c := season.Correction{Field: "lifter", Value: "Joss", Line: i}
			if r.IntN(2) == 0 {
				c.Field, c.Value = "load", "100"
			}
			p.Corrections[int32(i+2)] = []season.Correction{c}
		}
	}
	data := rows(lines...)
	for i := range data {
		if c := &data[i].Cells[r.IntN(len(data[i].Cells))]; r.IntN(40) == 0 && c.Kind == table.Text {
			*c = table.Cell{Kind: table.Number, Num: 7, Text: "7"}
		}
	}
	for _, corrected := range []bool{false, true} {
		if !corrected {
			p := *p
			p.Corrections = nil
			alikeRows(t, &p, data)
		} else {
			alikeRows(t, p, data)
		}
	}
}

func alikeRows(t *testing.T, p *Plan, data []table.Row) {
	one, blocks, alone := Sink{Reps: &rep.Table{}}, Sink{Reps: &rep.Table{}}, Sink{Reps: &rep.Table{}}
	d, inBlocks := NewDecoder(p, &one), NewDecoder(p, &blocks)
	block := &Sink{Reps: &rep.Table{}}
	for i := range data {
		if i%700 == 0 {
			block.Reps.Seal()
			blocks.Reps.Extend(block.Reps)
			block.Reps.Reset()
			inBlocks.Into(block)
		}
		a, b, c := d.Row(&data[i]), inBlocks.Row(&data[i]), NewDecoder(p, &alone).Row(&data[i])
		if a != c || b != c {
			t.Fatalf("row %+v: %v, in blocks %v; alone %v", data[i], a, b, c)
		}
	}
	block.Reps.Seal()
	blocks.Reps.Extend(block.Reps)
	if n := alone.Reps.Len(); one.Reps.Len() != n || blocks.Reps.Len() != n || n < 500 {
		t.Fatalf("%d reps, in blocks %d; alone %d", one.Reps.Len(), blocks.Reps.Len(), n)
	}
	for i := range int32(alone.Reps.Len()) {
		if w := alone.Reps.Rep(i); one.Reps.Rep(i) != w || blocks.Reps.Rep(i) != w {
			t.Fatalf("\n%+v, in blocks\n%+v; alone\n%+v", one.Reps.Rep(i), blocks.Reps.Rep(i), w)
		}
	}
	if a, b, w := fmt.Sprint(one.Unread), fmt.Sprint(block.Unread), fmt.Sprint(alone.Unread); a != w || b != w {
		t.Fatal("what is lost differs")
	}
}

// TestMeasure: measure leaves out nothing of a rep but what names it.
func TestMeasure(t *testing.T) {
	names := []string{"Lifter", "Lift", "Variant", "Bar", "Tether", "Device", "Source", "Sheet"}
	var full rep.Rep
	fill(reflect.ValueOf(&full).Elem())
	var v values
	v.measure(&full)
	got, want := reflect.ValueOf(v.Rep), reflect.ValueOf(full)
	for i := range got.NumField() {
		name := got.Type().Field(i).Name
		if is := got.Field(i).Equal(want.Field(i)); is == slices.Contains(names, name) {
			t.Errorf("%s: %v", name, got.Field(i))
		}
	}
}

// fill makes every value in v another than zero.
func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(1)
	case reflect.Int32, reflect.Int64:
		v.SetInt(1)
	default:
		v.SetUint(1)
	}
}
