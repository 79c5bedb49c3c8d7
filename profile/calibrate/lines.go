package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
)

// lineTruth is one simulated lifter's load-velocity line.
type lineTruth struct {
	max, at1RM, perMax      float64 // 1RM, kg; speed there; speed gained from the 1RM down to no load
	daySD, scatter, perWeek float64 // perWeek: growth of the 1RM, a share
	uneven                  bool    // scatter in proportion to speed
}

func (l lineTruth) slope() float64 { return -l.perMax / l.max }

// at is the speed at a load on an average day weeks from now.
func (l lineTruth) at(kg, weeks float64) float64 {
	return l.at1RM + l.perMax*(1-kg/(l.max*math.Exp(l.perWeek*weeks)))
}

func (l lineTruth) noise(v float64, r *rand.Rand) float64 {
	if l.uneven {
		return l.scatter * v / 0.5 * r.NormFloat64()
	}
	return l.scatter * r.NormFloat64()
}

// lines measures the load-velocity profile with 3 to 24 days of four to six
// loads, twice a week.
func lines(runs int, seed uint64) {
	usual := func(r *rand.Rand) lineTruth {
		return lineTruth{max: 90 + 120*r.Float64(), at1RM: 0.2 + 0.05*r.NormFloat64(), perMax: 1.2 + 0.15*r.NormFloat64(),
			daySD: 0.03 * math.Exp(0.4*r.NormFloat64()), scatter: 0.03 * math.Exp(0.3*r.NormFloat64()), perWeek: 0.003 + 0.003*r.NormFloat64()}
	}
	for _, c := range []struct {
		title  string
		change func(*lineTruth)
	}{
		{"lifters of all kinds", func(*lineTruth) {}},
		{"no day effects, no growth", func(l *lineTruth) { l.daySD, l.perWeek = 0, 0 }},
		{"days twice the scatter", func(l *lineTruth) { l.daySD, l.scatter = 0.05, 0.025 }},
		{"scatter in proportion to speed", func(l *lineTruth) { l.uneven = true }},
	} {
		var t tally
		for _, n := range []int{3, 6, 12, 24} {
			for _, name := range []string{"slope", "speed at 70 %, next day", "speed at 90 %, next day", "growth at a load"} {
				t.name(fmt.Sprintf("%2d days: %s", n, name))
			}
			each(runs, seed, func(_ int, r *rand.Rand) {
				l := usual(r)
				c.change(&l)
				lineRun(&t, n, l, r)
			})
		}
		t.print("Load-velocity profile: " + c.title)
	}
}

func lineRun(t *tally, days int, l lineTruth, r *rand.Rand) {
	name := func(what string) string { return fmt.Sprintf("%2d days: %s", days, what) }
	log := newTraining(rep.Squat)
	last := firstDay + rep.Day(days*7/2)
	var lastX, lastY []float64
	for i := range days {
		day := firstDay + rep.Day((i+1)*7/2)
		u := l.daySD * r.NormFloat64()
		lastX, lastY = nil, nil
		for _, share := range []float64{0.4, 0.55, 0.7, 0.8, 0.85 + 0.1*r.Float64()} {
			kg := math.Round(share*l.max/2.5) * 2.5
			v := l.at(kg, float64(day-last)/7)
			v += u + l.noise(v, r)
			log.set(day, kg, rep.WarmUp, nan, v)
			lastX, lastY = append(lastX, kg), append(lastY, v)
		}
	}
	p := log.profile().LoadVelocity
	t.held(name("slope"), p.Slope, l.slope())
	if p.Slope.Known {
		t.byHand(name("slope"), handLine(lastX, lastY).slope, l.slope())
	}
	u := l.daySD * r.NormFloat64()
	for _, share := range []float64{0.7, 0.9} {
		what := name(fmt.Sprintf("speed at %.0f %%, next day", 100*share))
		kg := share * l.max
		v := l.at(kg, 0)
		v += u + l.noise(v, r)
		t.held(what, between(p.Curve, kg), v)
		t.byHand(what, handLine(lastX, lastY).at(kg), v)
	}
	// Speed at a load, by week: the derivative of at.
	t.held(name("growth at a load"), p.Drift, l.perMax*float64(p.DriftAt)/l.max*l.perWeek)
}
