package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// timed gives every rep of the batch a time of its own, to the millisecond:
// each begins pause s after the end of the one before.
func (b *batch) timed(pause float64) {
	at := map[[2]int32]float64{}
	for i := range b.reps.Len() {
		k := [2]int32{int32(b.reps.Date.At(int32(i))), b.reps.SetMark.Get(int32(i))}
		start := at[k]
		if start == 0 {
			start = 17*3600 + 300*float64(k[1]) + 0.123
		}
		b.reps.PerformedAt.Put(int32(i), rep.Some(rep.Instant(int64(b.reps.Date.At(int32(i)))*86_400_000+int64(1000*start))))
		at[k] = start + b.reps.ROM.Get(int32(i))/b.reps.MeanVelocity.Get(int32(i)) + pause
	}
}

func TestRebound(t *testing.T) {
	var b batch
	b.season(rep.BenchPress, 6, 0.16)
	rows := b.set(rep.BenchPress, day0, 9, 60, 0.8, 0.16, 4)
	bounce := rows[2]
	b.reps.ROM.Put(bounce, rep.Some(0.11)) // inside the band
	b.reps.MeanVelocity.Set(bounce, 0.5)
	b.reps.Concentric.Put(bounce, rep.Some(0.22))
	b.timed(1.5)
	for _, r := range rows[2:] { // right after the lockout
		b.reps.PerformedAt.Put(r, rep.Some(b.reps.PerformedAt.Get(r)-1400))
	}
	res := b.run(t, nil)
	a := wantAside(t, res, bounce, rep.Rebound)
	if !strings.Contains(a.Reason, "0.08 s after the lockout") {
		t.Errorf("%q", a.Reason)
	}
	if len(res.Aside) != 1 {
		t.Errorf("%d set aside", len(res.Aside))
	}
}

// TestReboundWithoutClock: short, over at once, and faster than the load.
func TestReboundWithoutClock(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.5)
	rows := b.set(rep.Squat, day0, 9, 150, 0.36, 0.5, 4)
	bounce := rows[2]
	b.reps.ROM.Put(bounce, rep.Some(0.16))
	b.reps.MeanVelocity.Set(bounce, 0.8)
	b.reps.PeakVelocity.Put(bounce, rep.Some(1.2))
	b.reps.Concentric.Put(bounce, rep.Some(0.2))
	res := b.run(t, nil)
	a := wantAside(t, res, bounce, rep.UsualTravel)
	also := false
	for _, k := range a.Also {
		also = also || k == rep.Rebound
	}
	if !also || len(res.Aside) != 1 {
		t.Errorf("%d set aside, also by %v", len(res.Aside), a.Also)
	}
}

// TestTouchAndGo: the fastest true reps, with no pause at all, survive.
func TestTouchAndGo(t *testing.T) {
	var b batch
	b.season(rep.BenchPress, 6, 0.2)
	b.timed(0.55)
	if res := b.run(t, nil); len(res.Aside) != 0 {
		t.Errorf("%d set aside: %s", len(res.Aside), res.Aside[0].Reason)
	}
}
