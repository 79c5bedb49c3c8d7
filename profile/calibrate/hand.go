package main

import (
	"math"

	"repsift/clean/robust"
	"repsift/profile"
)

// The ways of doing it by hand. nan is no answer.

var nan = math.NaN()

type straight struct{ intercept, slope float64 }

// handLine is the line through one day.
func handLine(x, y []float64) straight {
	l, err := robust.LeastSquares(x, y, nil)
	if err != nil {
		return straight{nan, nan}
	}
	return straight{l.Intercept, l.Slope}
}

func (s straight) at(x float64) float64 { return s.intercept + s.slope*x }

// between reads a profile's curve at a load: the next day's fastest rep.
func between(curve []profile.CurvePoint, kg float64) profile.Estimate {
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if float64(a.LoadKg) <= kg && kg <= float64(b.LoadKg) {
			f := (kg - float64(a.LoadKg)) / float64(b.LoadKg-a.LoadKg)
			mix := func(a, b profile.Number) float64 { return float64(a) + f*float64(b-a) }
			return profile.Estimate{Known: true, Value: mix(a.Speed, b.Speed), Lo: mix(a.NextLo, b.NextLo), Hi: mix(a.NextHi, b.NextHi)}
		}
	}
	return profile.Estimate{}
}

// limit1986 is the upper limit with the interval of Bland and Altman's first
// paper, t·√(3·SD²/n) either way.
func limit1986(g profile.Agreement, n int) profile.Estimate {
	v := g.UpperLimit.Value
	half := robust.StudentT(0.95, n-1) * float64(g.SD) * math.Sqrt(3/float64(n))
	return profile.Estimate{Known: true, Value: v, Lo: v - half, Hi: v + half}
}
