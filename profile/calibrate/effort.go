package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/simulate"
)

// effortTruth is how one simulated lifter's slowest rep goes with the RPE they
// call: normal around a line, with days of their own.
type effortTruth struct {
	at8, slope, scatter, daySD float64

	// What not every lifter has.
	call     func(r *rand.Rand) float64 // nil: half points around 8, 6 to 10
	outliers float64                    // share of sets that are off by 0.15 m/s
	drift    float64                    // of the speed at an RPE in a week, m/s
}

// calls draws an RPE as the lifter calls them.
func (e *effortTruth) calls(r *rand.Rand) float64 {
	if e.call != nil {
		return e.call(r)
	}
	return math.Max(simulate.Half(8+0.9*r.NormFloat64()), 6)
}

func (e effortTruth) at(rpe float64) float64 { return e.at8 + e.slope*(rpe-8) }

// effort measures the effort chart with 4, 8, 20 and 60 sets, three a day.
func effort(runs int, seed uint64) {
	usual := func(r *rand.Rand) effortTruth {
		s := 0.035 * math.Exp(0.3*r.NormFloat64())
		return effortTruth{at8: 0.28 + 0.06*r.NormFloat64(), slope: math.Min(-0.04+0.015*r.NormFloat64(), -0.01), scatter: s, daySD: s * r.Float64(), drift: 0.001 * r.NormFloat64()}
	}
	fixed := func(e effortTruth) func(*rand.Rand) effortTruth { return func(*rand.Rand) effortTruth { return e } }
	odd := func(change func(*effortTruth)) func(*rand.Rand) effortTruth {
		return func(r *rand.Rand) effortTruth {
			e := usual(r)
			change(&e)
			return e
		}
	}
	for _, c := range []struct {
		title string
		draw  func(*rand.Rand) effortTruth
	}{
		{"lifters of all kinds", usual},
		{"slope -0.04, scatter 0.03, no day effects", fixed(effortTruth{at8: 0.28, slope: -0.04, scatter: 0.03})},
		{"slope -0.02, scatter 0.02, days 0.02", fixed(effortTruth{at8: 0.28, slope: -0.02, scatter: 0.02, daySD: 0.02})},
		{"slope -0.07, scatter 0.05, days 0.01", fixed(effortTruth{at8: 0.33, slope: -0.07, scatter: 0.05, daySD: 0.01})},
		{"RPE in whole points only", odd(func(e *effortTruth) {
			e.call = func(r *rand.Rand) float64 { return math.Min(math.Max(math.Round(8+0.9*r.NormFloat64()), 6), 10) }
		})},
		{"RPE always 8 or 9", odd(func(e *effortTruth) { e.call = func(r *rand.Rand) float64 { return float64(8 + r.IntN(2)) } })},
		{"1 set in 20 off by 0.15 m/s", odd(func(e *effortTruth) { e.outliers = 0.05 })},
		{"0.002 m/s faster a week at the same RPE", odd(func(e *effortTruth) { e.drift = 0.002 })},
	} {
		var t tally
		for _, n := range []int{4, 8, 20, 60} {
			for _, name := range []string{"speed at RPE 8", "change per RPE point", "next set at RPE 7", "next set at RPE 9", "RPE from speed of the next set", "RPE from speed of the next set, ½"} {
				t.name(fmt.Sprintf("%2d sets: %s", n, name))
			}
			each(runs, seed, func(_ int, r *rand.Rand) { effortRun(&t, n, c.draw(r), r) })
		}
		t.print("Effort chart: " + c.title)
	}
}

func effortRun(t *tally, n int, e effortTruth, r *rand.Rand) {
	name := func(what string) string { return fmt.Sprintf("%2d sets: %s", n, what) }
	log := simulate.NewLog("A", rep.Squat)
	last := simulate.FirstDay + rep.Day(3*((n+2)/3))
	day, u := simulate.FirstDay, 0.0
	for i := range n {
		if i%3 == 0 {
			day += 3
			u = e.daySD * r.NormFloat64()
		}
		rpe := e.calls(r)
		v := e.at(rpe) + u + e.scatter*r.NormFloat64() + e.drift*float64(day-last)/7
		if r.Float64() < e.outliers {
			v += 0.15 * float64(1-2*r.IntN(2))
		}
		log.Set(day, 100, rep.Work, rpe, v+0.1, v+0.05, v)
	}
	c := profileOf(log).Effort
	t.held(name("speed at RPE 8"), c.AtRPE8, e.at(8))
	t.held(name("change per RPE point"), c.PerRPE, e.slope)
	for _, rpe := range []float64{7, 9} {
		what := name(fmt.Sprintf("next set at RPE %g", rpe))
		next := e.at(rpe) + e.daySD*r.NormFloat64() + e.scatter*r.NormFloat64()
		for _, x := range c.ByRPE {
			if x.RPE == rpe {
				t.held(what, x.Speed, next)
			}
		}
		t.byHand(what, handSpeed(c.Levels, rpe), next)
	}
	// A set of another day: which RPE will the lifter call?
	rpe := e.calls(r)
	v := e.at(rpe) + e.daySD*r.NormFloat64() + e.scatter*r.NormFloat64()
	what := name("RPE from speed of the next set")
	best := -1
	for i, x := range c.BySpeed {
		if best < 0 || math.Abs(float64(x.Speed)-v) < math.Abs(float64(c.BySpeed[best].Speed)-v) {
			best = i
		}
	}
	if best >= 0 {
		e := c.BySpeed[best].RPE
		t.held(what, e, rpe)
		// By hand the answer is a call; so is ours, to the half point.
		e.Value = simulate.Half(e.Value)
		t.held(what+", ½", e, rpe)
	}
	t.byHand(what, handRPE(c.Levels, v), rpe)
	t.byHand(what+", ½", handRPE(c.Levels, v), rpe)
}

// handSpeed is the average of the level, or of the nearest level there is.
func handSpeed(levels []profile.EffortLevel, rpe float64) float64 {
	v, d := nan, math.Inf(1)
	for _, l := range levels {
		if x := math.Abs(l.RPE - rpe); x < d {
			v, d = float64(l.Slowest), x
		}
	}
	return v
}

// handRPE is the level whose average is nearest.
func handRPE(levels []profile.EffortLevel, speed float64) float64 {
	v, d := nan, math.Inf(1)
	for _, l := range levels {
		if x := math.Abs(float64(l.Slowest) - speed); x < d {
			v, d = l.RPE, x
		}
	}
	return v
}
