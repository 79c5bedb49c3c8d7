package main

import (
	"fmt"
	"math/rand/v2"

	"repsift/profile"
	"repsift/profile/agree"
)

// agreement measures bias, limits and concordance of two units on 5 to 60
// paired sets.
func agreement(runs int, seed uint64) {
	const bias, sd = 0.015, 0.02
	var t tally
	for _, n := range []int{5, 10, 20, 60} {
		name := func(what string) string { return fmt.Sprintf("%2d sets: %s", n, what) }
		t.name(name("bias"), name("lower limit"), name("upper limit"), name("proportional error"), name("limits as of 1986"))
		each(runs, seed, func(_ int, r *rand.Rand) {
			ps := make([]profile.PairedReps, n)
			for i := range ps {
				v := 0.2 + 0.7*r.Float64()
				ps[i].Reference = profile.Number(v - sd/2*r.NormFloat64()*1.4142135623730951)
				ps[i].Other = profile.Number(v + bias + sd/2*r.NormFloat64()*1.4142135623730951)
			}
			g := agree.New("a", "b", ps)
			t.held(name("bias"), g.Bias, bias)
			t.held(name("lower limit"), g.LowerLimit, bias-1.96*sd)
			t.held(name("upper limit"), g.UpperLimit, bias+1.96*sd)
			t.held(name("proportional error"), g.Proportional, 0)
			t.held(name("limits as of 1986"), limit1986(g, n), bias+1.96*sd)
		})
	}
	t.print("Device agreement: differences 0.015 ± 0.02 m/s")
}
