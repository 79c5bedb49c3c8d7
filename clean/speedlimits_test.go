package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

func TestSpeedLimits(t *testing.T) {
	for _, c := range []struct {
		name       string
		mean, peak float64
		reason     string
	}{
		{"mean", 3.5, 3.9, "mean speed 3.50 m/s is above 2.00 m/s"},
		{"peak", 0.5, 4.2, "peak speed 4.20 m/s is above 4.00 m/s"},
		{"no movement", 0.004, 0.01, "mean speed 0.00 m/s is below 0.01 m/s"},
	} {
		var b batch
		b.season(rep.Squat, 5, 0.55)
		bad := b.set(rep.Squat, day0, 4, 150, 0.3, 0.55, 1)[0]
		b.reps.MeanVelocity.Set(bad, c.mean)
		b.reps.PeakVelocity.Put(bad, rep.Some(c.peak))
		b.reps.Concentric.Put(bad, rep.Null[float64]{})
		a := wantAside(t, b.run(t, nil), bad, rep.SpeedLimits)
		if !strings.HasPrefix(a.Reason, c.reason) {
			t.Errorf("%s: %q", c.name, a.Reason)
		}
	}
}

// TestGrinderSurvives: the slowest true maxima have means under 0.05 m/s
// (bench press, 0.10 ± 0.04 m/s at 1RM: Helms 2017).
func TestGrinderSurvives(t *testing.T) {
	for _, v := range []float64{0.03, 0.05, 0.08, 0.12} {
		var b batch
		b.season(rep.BenchPress, 6, 0.3)
		rows := b.set(rep.BenchPress, day0+50, 1, 170, v+0.06, 0.3, 4)
		for k, r := range rows {
			speed := v + 0.02*float64(3-k)
			b.reps.MeanVelocity.Set(r, speed)
			b.reps.PeakVelocity.Put(r, rep.Some(0.4)) // a grinder peaks early and crawls
			b.reps.Concentric.Put(r, rep.Some(0.3/speed))
		}
		wantKept(t, b.run(t, nil), rows...)
	}
}
