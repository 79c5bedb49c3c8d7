package profile_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/profile/simulate"
)

// TestReadAs: a unit that a correction reads as another is pooled with it, the
// page says so, and what the correction may be off is in the numbers.
func TestReadAs(t *testing.T) {
	train := func(devices ...season.DeviceCorrection) profile.Lift {
		l := simulate.Lifter{Max: 180, At1RM: 0.25, PerMax: 1.2, DaySD: 0.02, Scatter: 0.02}
		log := simulate.NewLog("A", rep.Squat)
		r := rand.New(rand.NewPCG(9, 9))
		for i := range 24 {
			log.Device = []string{"north unit", "red unit"}[i%2]
			day := simulate.FirstDay + rep.Day(3*i)
			u := l.DaySD * r.NormFloat64()
			for _, kg := range []float64{60, 90, 120, 150} {
				log.Set(day, kg, rep.WarmUp, simulate.Uncalled, l.Speed(kg, 180)+u+l.Noise(0, r))
			}
			rpe := 7 + float64(i%5)/2
			log.Set(day, 160, rep.Top, rpe, 0.35-0.04*(rpe-7)+0.02*r.NormFloat64())
		}
		log.Result.Devices = devices
		readBack(t, "pooled", profile.All(&log.Result, nil))
		return one(t, &log.Result, nil)
	}
	apart := train()
	exact := train(season.DeviceCorrection{Device: "Red unit", As: "North unit", Slope: 1})
	rough := train(season.DeviceCorrection{Device: "Red unit", As: "North unit", Slope: 1, Error: 0.04})
	if len(apart.Splits) != 1 || len(exact.Splits) != 0 || len(rough.Splits) != 0 || exact.Main.Device != "north unit" {
		t.Fatalf("splits %d, %d, %d; main %+v", len(apart.Splits), len(exact.Splits), len(rough.Splits), exact.Main)
	}
	if exact.LoadVelocity.Points != 120 || exact.Effort.Sets != 24 || exact.LoadVelocity.At[5].ReadFrom != "red unit" || exact.LoadVelocity.At[0].ReadFrom != "" {
		t.Errorf("%d points, %d sets, from %q", exact.LoadVelocity.Points, exact.Effort.Sets, exact.LoadVelocity.At[5].ReadFrom)
	}
	width := func(e profile.Estimate) float64 { return e.Hi - e.Lo }
	for what, w := range map[string][3]float64{
		"intercept": {width(apart.LoadVelocity.Intercept), width(exact.LoadVelocity.Intercept), width(rough.LoadVelocity.Intercept)},
		"at RPE 8":  {width(apart.Effort.AtRPE8), width(exact.Effort.AtRPE8), width(rough.Effort.AtRPE8)},
	} {
		// Pooled, a number is surer than of one unit alone, but less so where the
		// correction may be off.
		if !(w[1] < w[0] && w[1] < w[2]) {
			t.Errorf("%s: width of one unit %.4f, pooled exactly %.4f, with an error %.4f", what, w[0], w[1], w[2])
		}
	}
	said := func(l profile.Lift, words string) bool { return strings.Contains(strings.Join(l.Cautions, " "), words) }
	if !said(exact, "not declared") || !said(rough, "may be off by 0.040 m/s") || said(apart, "correction") {
		t.Errorf("cautions %q, %q, %q", apart.Cautions, exact.Cautions, rough.Cautions)
	}
	if math.IsNaN(float64(rough.ReadinessNow.Speed)) || !rough.ReadinessNow.Usual.Known {
		t.Errorf("readiness %+v", rough.ReadinessNow)
	}
}
