package main

import (
	"fmt"
	"math/rand/v2"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/onerm"
	"repsift/profile/simulate"
)

// e1rm measures the 1RM after 2, 6 and 14 weeks of two sessions.
func e1rm(runs int, seed uint64) {
	for _, c := range []struct {
		title   string
		change  func(*simulate.Lifter)
		singles bool
	}{
		{"lifters of all kinds", func(*simulate.Lifter) {}, true},
		{"calls exact on average, table fits", func(w *simulate.Lifter) { w.CallBias, w.Misfit = 0, 1 }, true},
		{"habitual calls half a point low", func(w *simulate.Lifter) { w.CallBias = -0.5 }, true},
		{"no singles: back-off sets only", func(*simulate.Lifter) {}, false},
	} {
		var t tally
		for _, n := range []int{2, 6, 14} {
			name := func(what string) string { return fmt.Sprintf("%2d weeks: %s", n, what) }
			of := map[string]string{profile.FromSingle: name("from top singles alone"), profile.FromRepSet: name("from sets alone"), profile.FromLine: name("from the line alone")}
			t.name(name("e1RM now, kg"), of[profile.FromSingle], of[profile.FromRepSet], of[profile.FromLine], name("velocity at 1RM"))
			each(runs, seed, func(_ int, r *rand.Rand) {
				l := simulate.Draw(r)
				c.change(&l)
				log := simulate.NewLog("A", rep.Squat)
				l.Train(log, n, c.singles, r)
				p := profileOf(log)
				t.held(name("e1RM now, kg"), p.E1RMNow, l.Max)
				t.byHand(name("e1RM now, kg"), handMax(log), l.Max)
				for _, x := range p.E1RMFrom {
					t.held(of[x.From], x.Kg, l.Max)
				}
				t.held(name("velocity at 1RM"), p.LoadVelocity.V1RM, l.At1RM)
			})
		}
		t.print("1RM: " + c.title)
	}
}

// handMax is what the last top single gives by the table.
func handMax(log *simulate.Log) float64 {
	for i := log.Result.Sets.Len() - 1; i >= 0; i-- {
		s := log.Result.Sets.At(i)
		if s.Role == rep.Top {
			if kg, _, ok := onerm.FromSet(s.LoadKg.V, 1, s.RPE.V); ok {
				return kg
			}
		}
	}
	return nan
}

func profileOf(log *simulate.Log) profile.Lift {
	return profile.All(&log.Result, nil).Lifters[0].Lifts[0]
}
