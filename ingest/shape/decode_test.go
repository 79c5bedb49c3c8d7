package shape

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

func unitOf(t *testing.T, name string) unit.Unit {
	t.Helper()
	u, ok := unit.Parse(name)
	if !ok {
		t.Fatalf("no unit %q", name)
	}
	return u
}

// rows returns rows of texts, a line each, cells parted by bars.
func rows(lines ...string) []table.Row {
	var out []table.Row
	for i, line := range lines {
		row := table.Row{Line: int32(i + 2), Lines: 1}
		for text := range strings.SplitSeq(line, "|") {
			kind := table.Text
			if text == "" {
				kind = table.Blank
			}
			row.Cells = append(row.Cells, table.Cell{Text: text, Kind: kind})
		}
		out = append(out, row)
	}
	return out
}

func repRowPlan(t *testing.T) *Plan {
	return &Plan{
		Shape: &repRows, Source: "may.csv", Mark: number.Point, Order: date.DayMonthYear, Zone: time.UTC, Season: &season.Season{}, Device: "north",
		Cells: []Cell{
			{Index: 0, Field: column.Lifter, Heading: "who"},
			{Index: 1, Field: column.Date, Heading: "when"},
			{Index: 2, Field: column.Lift, Heading: "what"},
			{Index: 3, Field: column.Load, Heading: "how heavy", Unit: unitOf(t, "lb")},
			{Index: 4, Field: column.MeanVelocity, Heading: "how fast", Unit: unitOf(t, "cm/s"), Step: 0.1},
		},
	}
}

// TestPlanHoldsNoState: rows decoded by one decoder, and each by its own, are
// the same.
func TestPlanHoldsNoState(t *testing.T) {
	data := rows("Ines|5/3/2026|squat|225|50", "Ines|5/3/2026|squat|225|48.5", "Tomás|6/3/2026|bench|12O|40", "Tomás|6/3/2026|bench|135|", "|6/3/2026|bench|135|30", "Tomás|31/4/2026|bench|135|30")
	p := repRowPlan(t)
	if !p.Alone() {
		t.Fatal("rows of the plan do not stand for themselves")
	}
	together, apart := Sink{Reps: &rep.Table{}}, Sink{Reps: &rep.Table{}}
	d := NewDecoder(p, &together)
	for i := range data {
		together.Count(d.Row(&data[i]))
		apart.Count(NewDecoder(p, &apart).Row(&data[i]))
	}
	dump := func(s *Sink) string {
		out := fmt.Sprint(s.Ledger, s.Unread)
		for i := range s.Reps.Len() {
			out += fmt.Sprintf("\n%+v", s.Reps.Rep(int32(i)))
		}
		return out
	}
	if a, b := dump(&together), dump(&apart); a != b {
		t.Errorf("together\n%s\napart\n%s", a, b)
	}
	if l := together.Ledger; l.Rows != 6 || l.RepRows != 2 || l.Unread != 4 {
		t.Errorf("ledger %+v", l)
	}
	r := together.Reps.Rep(1)
	if r.LoadKg != 225*0.45359237 || r.MeanVelocity != 0.485 || r.MeanStep != 0.001 || r.Date != rep.DayOf(2026, 3, 5) || r.Device != "north" {
		t.Errorf("rep %+v", r)
	}
}

// TestFill: blanks take the value above, but not over a cell that could not be
// read.
func TestFill(t *testing.T) {
	p := repRowPlan(t)
	p.Cells[3].Fill, p.Cells[0].Fill = true, true
	if p.Alone() {
		t.Error("rows that are filled in from above stand for themselves")
	}
	s := Sink{Reps: &rep.Table{}}
	d := NewDecoder(p, &s)
	var got []string
	data := rows("Ines|5/3/2026|squat|100|50", "|5/3/2026|squat||48", "|5/3/2026|squat|1OO|47", "|5/3/2026|squat||46", "|5/3/2026|squat|110|45")
	for i := range data {
		got = append(got, fmt.Sprint(d.Row(&data[i])))
	}
	if want := []string{"3", "3", "1", "1", "3"}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("outcomes %v, want %v", got, want)
	}
	if r := s.Reps.Rep(1); r.Lifter != "Ines" || r.LoadKg != 100*0.45359237 {
		t.Errorf("rep %+v", r)
	}
}

// TestNoAllocation: a row of reps costs no allocation beside the table's own
// growth.
func TestNoAllocation(t *testing.T) {
	p := repRowPlan(t)
	s := Sink{Reps: &rep.Table{}}
	s.Reps.Grow(20_000)
	d := NewDecoder(p, &s)
	data := rows("Ines|5/3/2026|squat|225|50.1", "Tomás|6/3/2026|bench|135|48.5")
	for i := range data {
		d.Row(&data[i])
	}
	n := testing.AllocsPerRun(1000, func() {
		for i := range data {
			d.Row(&data[i])
		}
	})
	if n > 0 {
		t.Errorf("%g allocations in two rows", n)
	}
}

func TestOf(t *testing.T) {
	col := func(f column.Field, nth int) *column.Column {
		return &column.Column{Field: f, Nth: nth, Stats: &column.Stats{}}
	}
	for _, c := range []struct {
		columns  []*column.Column
		declared string
		want     string
	}{
		{[]*column.Column{col(column.MeanVelocity, 0), col(column.RepNumber, 0)}, "", "rep rows"},
		{[]*column.Column{col(column.MeanVelocity, 0), col(column.Reps, 0), col(column.Load, 0)}, "", "set rows"},
		{[]*column.Column{col(column.MeanVelocity, 0), col(column.Reps, 0), col(column.Load, 0)}, "rep rows", "rep rows"},
		{[]*column.Column{col(column.MeanVelocity, 1), col(column.MeanVelocity, 2)}, "", "reps across"},
		{[]*column.Column{col(column.Speeds, 0), col(column.Load, 0)}, "", "reps in a cell"},
		{[]*column.Column{col(column.Work, 0)}, "", "set rows"},
		{[]*column.Column{col(column.Lifter, 0), col(column.Date, 0)}, "", ""},
	} {
		got, _ := Of(&Table{Columns: c.columns, Rows: 10}, c.declared)
		name := ""
		if got != nil {
			name = got.Name
		}
		if name != c.want {
			t.Errorf("%d columns, declared %q: %q, want %q", len(c.columns), c.declared, name, c.want)
		}
	}
}
