package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

func TestPeakCheck(t *testing.T) {
	for peak, reason := range map[float64]string{0.30: "is below the mean speed 0.60 m/s", 3.5: "the most that a mean of 0.60 m/s allows"} {
		var b batch
		b.season(rep.Squat, 5, 0.55)
		rows := b.set(rep.Squat, day0, 9, 100, 0.6, 0.55, 3)
		b.reps.PeakVelocity.Put(rows[0], rep.Some(peak))
		res := b.run(t, nil)
		if a := wantAside(t, res, rows[0], rep.PeakCheck); !strings.Contains(a.Reason, reason) {
			t.Errorf("%q", a.Reason)
		}
		wantKept(t, res, rows[1:]...)
	}
}

// TestPeakEqualsMean: rounding may make the two equal or cross by half a digit.
func TestPeakEqualsMean(t *testing.T) {
	var b batch
	b.season(rep.Squat, 5, 0.55)
	rows := b.set(rep.Squat, day0, 9, 100, 0.6, 0.55, 3)
	b.reps.PeakVelocity.Put(rows[0], rep.Some(0.6))
	b.reps.PeakVelocity.Put(rows[1], rep.Some(b.reps.MeanVelocity.Get(rows[1])-0.001))
	wantKept(t, b.run(t, nil), rows...)
}
