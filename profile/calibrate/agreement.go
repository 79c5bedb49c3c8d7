package main

import (
	"fmt"
	"math/rand/v2"

	"repsift/profile"
	"repsift/profile/agree"
)

// agreement measures bias, limits and concordance of two units on 5 to 60
// paired sets, and how far speeds still lie off that a correction has read as
// the other unit's.
func agreement(runs int, seed uint64) {
	for _, slope := range []float64{1, 1.06} {
		agreementOf(slope, runs, seed)
	}
}

func agreementOf(slope float64, runs int, seed uint64) {
	const bias, sd = 0.015, 0.02
	var t tally
	for _, n := range []int{5, 10, 20, 60} {
		name := func(what string) string { return fmt.Sprintf("%2d sets: %s", n, what) }
		t.name(name("bias"), name("lower limit"), name("upper limit"), name("proportional error"), name("limits as of 1986"), name("speeds corrected, together"))
		each(runs, seed, func(_ int, r *rand.Rand) {
			shown := func(v float64) (a, b float64) {
				const each = sd / 2 * 1.4142135623730951
				return v - each*r.NormFloat64(), slope*v + bias + each*r.NormFloat64()
			}
			ps := make([]profile.PairedReps, n)
			for i := range ps {
				a, b := shown(0.2 + 0.7*r.Float64())
				ps[i].Reference, ps[i].Other = profile.Number(a), profile.Number(b)
			}
			g := agree.New("a", "b", ps)
			if slope == 1 {
				t.held(name("bias"), g.Bias, bias)
				t.held(name("lower limit"), g.LowerLimit, bias-1.96*sd)
				t.held(name("upper limit"), g.UpperLimit, bias+1.96*sd)
				t.held(name("proportional error"), g.Proportional, 0)
				t.held(name("limits as of 1986"), limit1986(g, n), bias+1.96*sd)
			}
			if _, enough := g.Enough(); enough {
				c := g.Correction()
				v := 0.2 + 0.7*r.Float64()
				off := c.Read(slope*v+bias) - v
				t.held(name("speeds corrected, together"), profile.Estimate{Known: true, Value: off, Lo: off - 1.96*c.Error, Hi: off + 1.96*c.Error}, 0)
			}
		})
	}
	t.print(fmt.Sprintf("Device agreement: the other shows %g + %g × speed, differences scatter by %g m/s", bias, slope, sd))
}
