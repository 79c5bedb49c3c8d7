package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/onerm"
)

// whole is one simulated lifter with everything that makes a 1RM hard to tell.
type whole struct {
	lineTruth
	wander   float64 // of the 1RM from week to week, a share
	dayForm  float64 // of the 1RM from day to day, a share
	callSD   float64 // of one call, RPE points
	callBias float64 // of all calls
	misfit   float64 // how much further below the table (above 1) a set is
	perRPE   float64 // of the slowest rep
}

// share is this lifter's share of the 1RM for a most of reps.
func (w whole) share(most float64) float64 {
	s, _ := onerm.Share(math.Min(most, onerm.MostReps))
	return 1 - w.misfit*(1-s)
}

// e1rm measures the 1RM after 2, 6 and 14 weeks of two sessions: five
// warm-ups, a top single and three back-off sets of four, all called.
func e1rm(runs int, seed uint64) {
	for _, c := range []struct {
		title  string
		change func(*whole)
	}{
		{"lifters of all kinds", func(*whole) {}},
		{"calls exact on average, table fits", func(w *whole) { w.callBias, w.misfit = 0, 1 }},
		{"habitual calls half a point low", func(w *whole) { w.callBias = -0.5 }},
		{"no singles: back-off sets only", func(w *whole) { w.perRPE = 0 }},
	} {
		var t tally
		for _, n := range []int{2, 6, 14} {
			for _, name := range []string{"e1RM now, kg", "from top singles alone", "from sets alone", "from the line alone", "velocity at 1RM"} {
				t.name(fmt.Sprintf("%2d weeks: %s", n, name))
			}
			each(runs, seed, func(_ int, r *rand.Rand) {
				w := drawWhole(r)
				singles := true
				c.change(&w)
				if w.perRPE == 0 {
					singles, w.perRPE = false, -0.04
				}
				e1rmRun(&t, n, w, singles, r)
			})
		}
		t.print("1RM: " + c.title)
	}
}

func drawWhole(r *rand.Rand) whole {
	return whole{
		lineTruth: lineTruth{max: 90 + 120*r.Float64(), at1RM: math.Max(0.23+0.05*r.NormFloat64(), 0.06), perMax: 1.2 + 0.15*r.NormFloat64(),
			daySD: 0.025 * math.Exp(0.4*r.NormFloat64()), scatter: 0.03 * math.Exp(0.3*r.NormFloat64()), perWeek: 0.003 + 0.004*r.NormFloat64()},
		wander: 0.005, dayForm: 0.02, callSD: 0.5, callBias: 0.25 * r.NormFloat64(),
		misfit: math.Exp(0.15 * r.NormFloat64()), perRPE: math.Min(-0.04+0.01*r.NormFloat64(), -0.015),
	}
}

func e1rmRun(t *tally, weeks int, w whole, singles bool, r *rand.Rand) {
	name := func(what string) string { return fmt.Sprintf("%2d weeks: %s", weeks, what) }
	log := newTraining(rep.Squat)
	// The 1RM wanders backwards from now, so that max is that of the last day.
	sessions := 2 * weeks
	max := make([]float64, sessions)
	max[sessions-1] = w.max
	for i := sessions - 2; i >= 0; i-- {
		max[i] = max[i+1] * math.Exp(-w.perWeek/2-w.wander/math.Sqrt2*r.NormFloat64())
	}
	plate := func(kg float64) float64 { return math.Round(kg/2.5) * 2.5 }
	call := func(true_ float64) float64 { return half(true_ + w.callBias + w.callSD*r.NormFloat64()) }
	hand := nan
	for i := range sessions {
		day := firstDay + rep.Day(i*7/2)
		today := max[i] * math.Exp(w.dayForm*r.NormFloat64())
		u := w.daySD * r.NormFloat64()
		speed := func(kg float64) float64 {
			v := w.at1RM + w.perMax*(1-kg/max[i])
			return v + u + w.noise(v, r)
		}
		for _, share := range []float64{0.3, 0.45, 0.6, 0.7, 0.8} {
			kg := plate(share * max[i])
			log.set(day, kg, rep.WarmUp, nan, speed(kg))
		}
		if singles {
			kg := plate(max[i] * w.share(1+1+1.5*r.Float64()))
			// Reps left: where the day's line of shares meets the load.
			rpe := call(10 - left(w, kg/today))
			log.set(day, kg, rep.Top, rpe, speed(kg))
			if x, _, ok := onerm.FromSet(kg, 1, rpe); ok {
				hand = x
			}
		}
		for range 3 {
			kg := plate(max[i] * w.share(6.5+r.Float64()))
			l := math.Min(math.Max(left(w, kg/today)-3, 0), 5)
			first := speed(kg)
			slow := math.Max(w.at1RM-w.perRPE*l+0.03*r.NormFloat64(), 0.04)
			log.set(day, kg, rep.BackOff, call(10-l), first, first*0.7+slow*0.3, first*0.35+slow*0.65, slow)
		}
	}
	p := log.profile()
	t.held(name("e1RM now, kg"), p.E1RMNow, w.max)
	t.byHand(name("e1RM now, kg"), hand, w.max)
	for _, x := range p.E1RMFrom {
		what := map[string]string{profile.FromSingle: "from top singles alone", profile.FromRepSet: "from sets alone", profile.FromLine: "from the line alone"}[x.From]
		t.held(name(what), x.Kg, w.max)
	}
	t.held(name("velocity at 1RM"), p.LoadVelocity.V1RM, w.at1RM)
}

// left returns the reps left after the first at a share of the day's 1RM.
func left(w whole, share float64) float64 {
	most := 1.0
	for most < onerm.MostReps && w.share(most+0.05) > share {
		most += 0.05
	}
	return most - 1
}
