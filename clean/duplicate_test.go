package clean_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// copyRows appends rows again as another export wrote them.
func (b *batch) copyRows(rows []int32, source string, change func(k int, r *rep.Rep)) []int32 {
	var out []int32
	for k, row := range rows {
		r := b.reps.Rep(row)
		r.Source, r.Row = source, int32(k+2)
		change(k, &r)
		out = append(out, b.add(r))
	}
	return out
}

func round(x, step float64) float64 { return math.Round(x/step) * step }

// all returns the rows of the batch so far.
func (b *batch) all() []int32 {
	rows := make([]int32, b.reps.Len())
	for i := range rows {
		rows[i] = int32(i)
	}
	return rows
}

// TestDuplicate: a re-export in another rounding, unit, numbering, clock zone
// and with fewer columns is found whole; the copy with more digits stays.
func TestDuplicate(t *testing.T) {
	coarse := func(k int, r *rep.Rep) {
		r.MeanVelocity, r.MeanStep = round(r.MeanVelocity, 0.01), 0.01
		r.PeakVelocity, r.PeakStep = rep.Some(round(r.PeakVelocity.V, 0.01)), 0.01
		r.ROM, r.ROMStep = rep.Some(round(r.ROM.V, 0.01)), 0.01
	}
	for _, c := range []struct {
		name   string
		stays  string // which file
		change func(k int, r *rep.Rep)
	}{
		{"the same", "again.csv", func(int, *rep.Rep) {}}, // by name
		{"rounding", "unit.csv", coarse},
		{"other set numbers", "again.csv", func(_ int, r *rep.Rep) { r.SetMark.V += 17 }},
		{"no set numbers", "unit.csv", func(_ int, r *rep.Rep) { r.SetMark.OK = false }},
		{"lb", "again.csv", func(_ int, r *rep.Rep) {
			const pound = 0.45359237
			r.LoadKg, r.LoadStep = round(r.LoadKg/pound, 0.1)*pound, 0.1*pound
		}},
		{"fewer columns", "unit.csv", func(_ int, r *rep.Rep) { r.PeakVelocity.OK, r.Concentric.OK = false, false }},
		{"another name of the unit", "again.csv", func(_ int, r *rep.Rep) { r.Device = "export" }},
	} {
		var b batch
		b.season(rep.Squat, 4, 0.55)
		first := b.all()
		b.copyRows(first, "again.csv", c.change)
		res := b.run(t, nil)
		if len(res.Aside) != len(first) || len(res.Kept) != len(first) {
			t.Errorf("%s: %d kept, %d set aside of twice %d", c.name, len(res.Kept), len(res.Aside), len(first))
			continue
		}
		for _, row := range res.Kept {
			if got := b.reps.Rep(row).Source; got != c.stays {
				t.Fatalf("%s: a row of %s stands, want those of %s", c.name, got, c.stays)
			}
		}
		if a := res.Aside[0]; a.Filter != rep.Duplicate || !strings.HasPrefix(a.Reason, "same rep as "+c.stays) {
			t.Errorf("%s: %+v", c.name, a)
		}
	}
}

// TestShuffledCopy: other row order, other time zone.
func TestShuffledCopy(t *testing.T) {
	var b batch
	b.season(rep.Squat, 4, 0.55)
	first := b.all()
	for k, r := range first {
		at := int64(b.reps.Date.At(r))*86_400_000 + int64(b.reps.SetMark.Get(r))*240_000 + int64(k%3)*4_000 + 17*3_600_000
		b.reps.PerformedAt.Put(r, rep.Some(rep.Instant(at)))
	}
	mixed := make([]int32, len(first))
	for k := range first {
		mixed[k] = first[(k*7+3)%len(first)]
	}
	again := b.copyRows(mixed, "zone.csv", func(_ int, r *rep.Rep) { r.PerformedAt.V += 2 * 3_600_000 })
	res := b.run(t, nil)
	wantKept(t, res, first...)
	for _, r := range again {
		wantAside(t, res, r, rep.Duplicate)
	}
}

// TestNoDuplicate: sets of one load in two files are not copies where the
// files hold different sets of the day, though speeds alone, in two digits, often
// agree.
func TestNoDuplicate(t *testing.T) {
	lost, all := 0, 0
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 1))
		var b batch
		for w := range 10 {
			for s := range 6 { // straight sets: three to a file
				for k := range 3 {
					v := 0.45 - 0.02*float64(k) + 0.02*r.NormFloat64()
					b.add(rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day0 + rep.Day(7*w), LoadKg: 130, LoadStep: 0.5,
						SetMark: rep.Some(int32(s%3 + 1)), RepRecorded: rep.Some(int32(k + 1)), MeanVelocity: round(v, 0.01), MeanStep: 0.01,
						Device: "north", Source: []string{"early.csv", "late.csv"}[s/3], Row: int32(b.reps.Len() + 2)})
				}
			}
		}
		res := b.run(t, nil)
		lost, all = lost+len(res.Aside), all+b.reps.Len()
	}
	if lost > all/500 {
		t.Errorf("%d of %d true reps set aside", lost, all)
	}
}

// TestTwiceInOneSheet: the same line twice is one rep; equal speeds in two sets
// are two.
func TestTwiceInOneSheet(t *testing.T) {
	var b batch
	b.season(rep.Squat, 4, 0.55)
	rows := b.set(rep.Squat, day0, 9, 100, 0.6, 0.55, 3)
	other := b.set(rep.Squat, day0, 10, 100, 0.6, 0.55, 3)
	again := b.copyRows(rows, "unit.csv", func(k int, r *rep.Rep) { r.Row = int32(5000 + k) })
	res := b.run(t, nil)
	wantKept(t, res, append(rows, other...)...)
	for _, r := range again {
		wantAside(t, res, r, rep.Duplicate)
	}
}

// TestCopyAcrossMidnight: an evening exported in another time zone, without
// saying so, is the next day.
func TestCopyAcrossMidnight(t *testing.T) {
	var b batch
	b.season(rep.Squat, 4, 0.55)
	first := b.all()
	b.timed(2)
	again := b.copyRows(first, "zone.csv", func(_ int, r *rep.Rep) {
		r.PerformedAt.V += 8 * 3_600_000
		r.Date++
		r.MeanVelocity, r.MeanStep = round(r.MeanVelocity, 0.01), 0.01
	})
	res := b.run(t, nil)
	wantKept(t, res, first...)
	for _, r := range again {
		wantAside(t, res, r, rep.Duplicate)
	}
	if last := res.Sets.At(res.Sets.Len() - 1); last.Session != 4 {
		t.Errorf("%d sessions", last.Session)
	}
}

// TestFileAppendedTwice: rep times tell lines that stand twice, without set or
// rep numbers.
func TestFileAppendedTwice(t *testing.T) {
	var b batch
	b.season(rep.Squat, 2, 0.55)
	b.timed(2)
	b.unmark(false)
	first := b.all()
	again := b.copyRows(first, "unit.csv", func(k int, r *rep.Rep) { r.Row = int32(1000 + k) })
	res := b.run(t, nil)
	wantKept(t, res, first...)
	for _, r := range again {
		wantAside(t, res, r, rep.Duplicate)
	}
}

// TestDuplicateOff: where the season file turns the filter off, a line that
// stands twice counts twice, and nothing is set aside in its name.
func TestDuplicateOff(t *testing.T) {
	var b batch
	for i := range 4 {
		b.add(rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day0, LoadKg: 100, SetMark: rep.Some(int32(1)), RepRecorded: rep.Some(int32(i/2 + 1)),
			MeanVelocity: 0.5, Source: "unit.csv", Row: int32(i + 2)})
	}
	res := b.run(t, &season.Season{Filters: []season.Filter{{Kind: rep.Duplicate, Off: true}}})
	if len(res.Kept) != 4 || len(res.Aside) != 0 {
		t.Errorf("%d kept, %d set aside", len(res.Kept), len(res.Aside))
	}
}
