package agree

import (
	"math"

	"repsift/ingest/season"
	"repsift/profile/number"
)

// Correction returns how the other unit's speeds are read as the reference's,
// as these pairs have it; it needs three.
//
// Where the difference does not surely go with speed, only the bias is taken
// off: a slope that the pairs do not settle would err more than it mends. Else
// it is the line of least products, which treats both units alike: read either
// way it is the same line. What corrected speeds share is the error of the
// line over the pairs, root mean square: scatter·√(1/n) for a bias, √(2/n) for
// a line.
func (g *Agreement) Correction() season.DeviceCorrection {
	c := season.DeviceCorrection{Device: g.Other, As: g.Reference, Slope: 1, Intercept: -g.Bias.Value, Sets: int32(g.Pairs)}
	fitted := 1.0
	if g.uneven() && g.Slope.Known && g.Slope.Value > 0 {
		c.Slope, c.Intercept, fitted = 1/g.Slope.Value, -g.Intercept.Value/g.Slope.Value, 2
	}
	// Digits as they stand in the file: what follows is of the line as written.
	c.Slope, c.Intercept = digits(c.Slope), digits(c.Intercept)
	var ss float64
	for _, p := range g.Points {
		d := c.Read(float64(p.Other)) - float64(p.Reference)
		ss += d * d
	}
	n := float64(len(g.Points))
	c.Scatter = digits(math.Sqrt(ss / (n - fitted)))
	c.Error = digits(c.Scatter * math.Sqrt(fitted/n))
	return c
}

// digits rounds to a tenth of a millimetre a second.
func digits(x float64) float64 { return math.Round(x*1e4) / 1e4 }

// Enough reports whether the pairs are enough for a correction, and what is
// lacking where they are not.
func (g *Agreement) Enough() (number.Estimate, bool) {
	return number.NotYet(NeedCorrection, g.Pairs, PairedSets), g.Pairs >= NeedCorrection && g.Bias.Known
}
