package clean_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// The tables of these tests are invented.

// day0 is the first day of invented seasons.
var day0 = rep.DayOf(2026, 1, 5)

// batch builds what reading would hand over.
type batch struct {
	reps  rep.Table
	notes []rep.SetNote
}

// add appends a rep.
func (b *batch) add(r rep.Rep) int32 { return b.reps.Append(&r) }

// done completes the ledger so that it balances before cleaning.
func (b *batch) done() *rep.Batch {
	by := make(map[string]*rep.Ledger)
	of := func(source string) *rep.Ledger {
		if by[source] == nil {
			by[source] = &rep.Ledger{Source: source}
		}
		return by[source]
	}
	type line struct {
		source, sheet string
		row           int32
	}
	rows := make(map[line]bool)
	for i := range b.reps.Len() {
		r := b.reps.Rep(int32(i))
		l := of(r.Source)
		l.Reps++
		if at := (line{r.Source, r.Sheet, r.Row}); !rows[at] {
			rows[at] = true
			l.Rows++
			l.RepRows++
		}
	}
	for _, n := range b.notes {
		if at := (line{n.Source, n.Sheet, n.Row}); !rows[at] {
			rows[at] = true
			of(n.Source).Rows++
			of(n.Source).SetNotes++
		}
	}
	out := &rep.Batch{Reps: &b.reps, Notes: b.notes}
	for _, l := range by {
		out.Ledger = append(out.Ledger, *l)
	}
	slices.SortFunc(out.Ledger, func(a, b rep.Ledger) int { return cmp.Compare(a.Source, b.Source) })
	return out
}

// run cleans the batch.
func (b *batch) run(t *testing.T, s *season.Season) *clean.Result {
	t.Helper()
	res, err := clean.Run(b.done(), s)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// squatReps adds a set of good squats to source unit.csv and returns their
// rows. The load is done on day at a speed that falls from v.
func (b *batch) set(lift string, day rep.Day, mark int32, load, v, rom float64, n int) []int32 {
	var rows []int32
	for k := range n {
		speed := v - 0.02*float64(k)
		rows = append(rows, b.add(rep.Rep{Lifter: "Vera Holm", Lift: lift, Date: day, LoadKg: load,
			SetMark: rep.Some(mark), RepRecorded: rep.Some(int32(k + 1)), MeanVelocity: speed,
			PeakVelocity: rep.Some(1.6 * speed), ROM: rep.Some(rom), Concentric: rep.Some(math.Round(1000*rom/speed) / 1000),
			MeanStep: 0.001, PeakStep: 0.001, ROMStep: 0.001, LoadStep: 0.5,
			Device: "north", Source: "unit.csv", Row: int32(b.reps.Len() + 2)}))
	}
	return rows
}

// season adds weeks of squats from a light warm-up to a heavy triple.
func (b *batch) season(lift string, weeks int, rom float64) {
	for w := range weeks {
		for s, load := range []float64{60, 100, 130, 150, 160} {
			b.set(lift, day0+rep.Day(7*w), int32(s+1), load, 1.1-0.005*load, rom+0.004*float64(w%3), 3)
		}
	}
}

// aside returns what was said of a row that was set aside.
func aside(res *clean.Result, row int32) (clean.Aside, bool) {
	for _, a := range res.Aside {
		if a.Row == row {
			return a, true
		}
	}
	return clean.Aside{}, false
}

// wantAside fails the test unless the row was set aside by the filter.
func wantAside(t *testing.T, res *clean.Result, row int32, by rep.Kind) clean.Aside {
	t.Helper()
	a, ok := aside(res, row)
	if !ok {
		t.Fatalf("row %d was kept; want it set aside by %s", row, by)
	}
	if a.Filter != by {
		t.Errorf("row %d: set aside by %s (%s); want %s", row, a.Filter, a.Reason, by)
	}
	if a.Reason == "" {
		t.Errorf("row %d: no reason", row)
	}
	return a
}

// wantKept fails the test unless the row was kept.
func wantKept(t *testing.T, res *clean.Result, rows ...int32) {
	t.Helper()
	for _, row := range rows {
		if a, ok := aside(res, row); ok {
			t.Errorf("row %d was set aside by %s: %s", row, a.Filter, a.Reason)
		}
	}
}

func TestGoodSeasonIsKeptWhole(t *testing.T) {
	var b batch
	b.season(rep.Squat, 8, 0.55)
	res := b.run(t, nil)
	if len(res.Aside) != 0 || len(res.Kept) != 8*15 {
		t.Fatalf("%d kept, %d set aside: %+v", len(res.Kept), len(res.Aside), res.Aside)
	}
	if res.Sets.Len() != 8*5 {
		t.Errorf("%d sets", res.Sets.Len())
	}
	last := res.Sets.At(res.Sets.Len() - 1)
	if last.Session != 8 || last.Number != rep.Some(int32(5)) || last.Role != rep.Top || last.Reps != 3 {
		t.Errorf("last set %+v", last)
	}
}

// runDeclared cleans the batch with declared filters.
func runDeclared(b *batch, filters ...season.Filter) (*clean.Result, error) {
	return clean.Run(b.done(), &season.Season{File: "season.toml", Filters: filters})
}
