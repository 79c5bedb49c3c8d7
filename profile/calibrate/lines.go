package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
	"repsift/profile/simulate"
)

// lines measures the load-velocity profile with 3 to 24 days of four to six
// loads, twice a week.
func lines(runs int, seed uint64) {
	for _, c := range []struct {
		title  string
		change func(*simulate.Lifter)
	}{
		{"lifters of all kinds", func(*simulate.Lifter) {}},
		{"no day effects, no growth", func(l *simulate.Lifter) { l.DaySD, l.Growth = 0, 0 }},
		{"days twice the scatter", func(l *simulate.Lifter) { l.DaySD, l.Scatter = 0.05, 0.025 }},
		{"scatter in proportion to speed", func(l *simulate.Lifter) { l.Uneven = true }},
	} {
		var t tally
		for _, n := range []int{3, 6, 12, 24} {
			for _, name := range []string{"slope", "speed at 70 %, next day", "speed at 90 %, next day", "growth at a load"} {
				t.name(fmt.Sprintf("%2d days: %s", n, name))
			}
			each(runs, seed, func(_ int, r *rand.Rand) {
				l := simulate.Draw(r)
				c.change(&l)
				lineRun(&t, n, &l, r)
			})
		}
		t.print("Load-velocity profile: " + c.title)
	}
}

func lineRun(t *tally, days int, l *simulate.Lifter, r *rand.Rand) {
	name := func(what string) string { return fmt.Sprintf("%2d days: %s", days, what) }
	log := simulate.NewLog("A", rep.Squat)
	slope := -l.PerMax / l.Max
	last := simulate.FirstDay + rep.Day(days*7/2)
	var lastX, lastY []float64
	for i := range days {
		day := simulate.FirstDay + rep.Day((i+1)*7/2)
		u := l.DaySD * r.NormFloat64()
		lastX, lastY = nil, nil
		for _, share := range []float64{0.4, 0.55, 0.7, 0.8, 0.85 + 0.1*r.Float64()} {
			kg := simulate.Plates(share * l.Max)
			v := l.Speed(kg, l.Max*math.Exp(l.Growth*float64(day-last)/7))
			v += u + l.Noise(v, r)
			log.Set(day, kg, rep.WarmUp, nan, v)
			lastX, lastY = append(lastX, kg), append(lastY, v)
		}
	}
	p := profileOf(log).LoadVelocity
	t.held(name("slope"), p.Slope, slope)
	if p.Slope.Known {
		t.byHand(name("slope"), handLine(lastX, lastY).slope, slope)
	}
	u := l.DaySD * r.NormFloat64()
	for _, share := range []float64{0.7, 0.9} {
		what := name(fmt.Sprintf("speed at %.0f %%, next day", 100*share))
		kg := share * l.Max
		v := l.Speed(kg, l.Max)
		v += u + l.Noise(v, r)
		t.held(what, between(p.Curve, kg), v)
		t.byHand(what, handLine(lastX, lastY).at(kg), v)
	}
	// Speed at a load, by week: the derivative of at.
	t.held(name("growth at a load"), p.Drift, l.PerMax*float64(p.DriftAt)/l.Max*l.Growth)
}
