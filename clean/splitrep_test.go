package clean_test

import (
	"math"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// half turns one rep of a set into two halves.
func (b *batch) half(rows []int32, k int, share float64) (first, second int32) {
	first, second = rows[k], rows[k+1]
	rom := b.reps.ROM.Get(first)
	b.reps.ROM.Put(first, rep.Some(round(share*rom, 0.001)))
	b.reps.ROM.Put(second, rep.Some(round((1-share)*rom, 0.001)))
	b.reps.MeanVelocity.Set(first, 0.30)
	b.reps.MeanVelocity.Set(second, 0.20)
	for _, r := range []int32{first, second} {
		b.reps.PeakVelocity.Put(r, rep.Some(0.5))
		b.reps.Concentric.Put(r, rep.Some(round(b.reps.ROM.Get(r)/b.reps.MeanVelocity.Get(r), 0.01)))
	}
	return first, second
}

// TestSplitRep: two halves become one rep; travel and time add up, what was
// read stays beside.
func TestSplitRep(t *testing.T) {
	var b batch
	b.season(rep.Deadlift, 6, 0.55)
	rows := b.set(rep.Deadlift, day0, 9, 150, 0.36, 0.55, 5)
	first, second := b.half(rows, 3, 0.6)
	res := b.run(t, nil)
	wantAside(t, res, second, rep.SplitRep)
	wantKept(t, res, rows[:4]...)
	x := res.Reps.Rep(first)
	if math.Abs(x.ROM.V-0.55) > 1e-9 || math.Abs(x.Concentric.V-2.2) > 1e-9 || math.Abs(x.MeanVelocity-0.25) > 1e-9 {
		t.Errorf("rejoined %v m in %v s at %v m/s", x.ROM.V, x.Concentric.V, x.MeanVelocity)
	}
	if x.Recorded.ROM != rep.Some(0.33) || x.Recorded.MeanVelocity != rep.Some(0.30) || x.Recorded.Concentric != rep.Some(1.1) {
		t.Errorf("as read: %+v", x.Recorded)
	}
	if !x.Flags.Has(rep.SplitRep) || x.Rep != 4 {
		t.Errorf("flags %s, rep %d", x.Flags, x.Rep)
	}
}

// TestSplitRepFlagged: where the filter only flags, both halves stay as read.
func TestSplitRepFlagged(t *testing.T) {
	var b batch
	b.season(rep.Deadlift, 6, 0.55)
	rows := b.set(rep.Deadlift, day0, 9, 150, 0.36, 0.55, 5)
	first, second := b.half(rows, 3, 0.5)
	res, err := runDeclared(&b, season.Filter{Kind: rep.SplitRep, Flag: true},
		season.Filter{Kind: rep.UsualTravel, Off: true}, season.Filter{Kind: rep.Rack, Off: true}, season.Filter{Kind: rep.Rebound, Off: true})
	if err != nil {
		t.Fatal(err)
	}
	wantKept(t, res, rows...)
	for _, r := range []int32{first, second} {
		if x := res.Reps.Rep(r); !x.Flags.Has(rep.SplitRep) || x.Recorded != (rep.Recorded{}) {
			t.Errorf("flags %s, recorded %+v", x.Flags, x.Recorded)
		}
	}
}

// TestFusedRep: two reps as one are marked and kept.
func TestFusedRep(t *testing.T) {
	var b batch
	b.season(rep.Deadlift, 6, 0.55)
	rows := b.set(rep.Deadlift, day0, 9, 130, 0.45, 0.55, 4)
	b.reps.ROM.Put(rows[1], rep.Some(1.1))
	b.reps.MeanVelocity.Set(rows[1], 0.4)
	b.reps.Concentric.Put(rows[1], rep.Some(2.75))
	res := b.run(t, nil)
	wantKept(t, res, rows...)
	for k, r := range rows {
		if res.Reps.Flags[r].Has(rep.FusedRep) != (k == 1) {
			t.Errorf("rep %d: flags %s", k+1, res.Reps.Flags[r])
		}
	}
}
