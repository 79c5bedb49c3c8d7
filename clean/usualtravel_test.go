package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

func TestUsualTravel(t *testing.T) {
	for _, rom := range []float64{0.26, 0.95} {
		var b batch
		b.season(rep.Squat, 6, 0.6)
		set := b.set(rep.Squat, day0, 3, 130, 0.45, 0.6, 1)
		mid := b.set(rep.Squat, day0, 9, 100, 0.6, 0.6, 5)[2]
		b.reps.ROM.Put(mid, rep.Some(rom))
		b.reps.Concentric.Put(mid, rep.Null[float64]{})
		res := b.run(t, nil)
		a := wantAside(t, res, mid, rep.UsualTravel)
		if !strings.Contains(a.Reason, "learnt from 96 reps") && !strings.Contains(a.Reason, "learnt from 95 reps") {
			t.Errorf("travel %v: %q", rom, a.Reason)
		}
		wantKept(t, res, set...)
	}
}

// TestFewRepsNoBand: with few reps only the floor holds.
func TestFewRepsNoBand(t *testing.T) {
	var b batch
	rows := b.set(rep.Squat, day0, 1, 100, 0.6, 0.6, 4)
	b.reps.ROM.Put(rows[1], rep.Some(0.2))
	b.reps.Concentric.Put(rows[1], rep.Null[float64]{})
	wantKept(t, b.run(t, nil), rows...)
}

// TestNewGroove: a lifter whose travel changes for good, or for whole sets of
// another variant, keeps every rep.
func TestNewGroove(t *testing.T) {
	for _, rom := range []float64{0.24, 0.3, 0.42, 0.95} {
		var b batch
		b.season(rep.Deadlift, 8, 0.6)
		for w := range 2 {
			for s, load := range []float64{100, 130, 150} {
				b.set(rep.Deadlift, day0+rep.Day(70+7*w), int32(s+1), load, 1.1-0.005*load, rom, 3)
			}
		}
		if res := b.run(t, nil); len(res.Aside) != 0 {
			t.Errorf("travel %v m: %d set aside: %s", rom, len(res.Aside), res.Aside[0].Reason)
		}
	}
}

// TestBandsApart: variants have bands of their own.
func TestBandsApart(t *testing.T) {
	var b batch
	b.season(rep.Deadlift, 8, 0.6)
	n := b.reps.Len()
	b.season(rep.Deadlift, 8, 0.25)
	sumo := b.reps.Text.Intern("sumo")
	for i := n; i < b.reps.Len(); i++ {
		b.reps.Variant.Put(int32(i), sumo)
		b.reps.Date.Put(int32(i), b.reps.Date.At(int32(i))+100)
	}
	odd := b.set(rep.Deadlift, day0+100, 8, 100, 0.6, 0.25, 4)
	for _, r := range odd {
		b.reps.Variant.Put(r, sumo)
	}
	b.reps.ROM.Put(odd[1], rep.Some(0.6)) // usual for the other variant
	b.reps.Concentric.Put(odd[1], rep.Null[float64]{})
	res := b.run(t, nil)
	a, ok := aside(res, odd[1])
	if ok != true || a.Filter != rep.UsualTravel {
		t.Errorf("%+v", a)
	}
	if len(res.Aside) != 1 {
		t.Errorf("%d set aside", len(res.Aside))
	}
}
