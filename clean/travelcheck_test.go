package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

func TestTravelCheck(t *testing.T) {
	for _, factor := range []float64{0.3, 4} {
		var b batch
		b.season(rep.Squat, 5, 0.55)
		rows := b.set(rep.Squat, day0, 9, 100, 0.6, 0.55, 5)
		b.reps.Concentric.Set(rows[2], b.reps.Concentric.Get(rows[2])*factor)
		res := b.run(t, nil)
		a := wantAside(t, res, rows[2], rep.TravelCheck)
		if !strings.Contains(a.Reason, "but the travel is 55.0 cm") {
			t.Errorf("%q", a.Reason)
		}
		if len(res.Aside) != 1 {
			t.Errorf("%d set aside", len(res.Aside))
		}
	}
}

// TestTimingOfTheUnit: a unit that counts the pause into the duration, or
// averages the propulsive phase only, is not doubted rep by rep.
func TestTimingOfTheUnit(t *testing.T) {
	var b batch
	b.season(rep.BenchPress, 5, 0.3)
	for i := range int32(b.reps.Len()) {
		b.reps.Concentric.Set(i, b.reps.Concentric.Get(i)*2.5)
	}
	if res := b.run(t, nil); len(res.Aside) != 0 {
		t.Errorf("%d set aside: %s", len(res.Aside), res.Aside[0].Reason)
	}
}
