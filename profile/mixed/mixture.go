package mixed

import (
	"cmp"
	"math"
	"slices"
)

// Normal is one part of a mixture.
type Normal struct{ Weight, Mean, SD float64 }

// Mixture is a distribution made of normal ones; weights add up to 1.
type Mixture []Normal

// Mean returns the mean.
func (m Mixture) Mean() float64 {
	var sum float64
	for _, n := range m {
		sum += n.Weight * n.Mean
	}
	return sum
}

// SD returns the standard deviation.
func (m Mixture) SD() float64 { return m.shape().sd }

// Below returns the probability of a value below x.
func (m Mixture) Below(x float64) float64 {
	below, _ := m.around(x)
	return below
}

// Density returns the probability density at x.
func (m Mixture) Density(x float64) float64 {
	_, density := m.around(x)
	return density
}

// around returns [Mixture.Below] and [Mixture.Density].
func (m Mixture) around(x float64) (below, density float64) {
	for i := range m {
		n := &m[i]
		over := 1 / n.SD
		b, d := bell((x - n.Mean) * over)
		below += n.Weight * b
		density += n.Weight * over * d
	}
	return below, density
}

// Quantile returns the value that a share p lies below, 0 < p < 1.
func (m Mixture) Quantile(p float64) float64 { return m.quantile(shareOf(p), m.shape()) }

func (m Mixture) quantile(want share, s shape) float64 {
	if !(s.sd > 0) {
		return s.mean
	}
	// Long tails make the SD a poor scale, so the mean of the parts' SDs is
	// taken.
	var scale float64
	for i := range m {
		scale += m[i].Weight * m[i].SD
	}
	return solve(m.around, want, everywhere, s.guess(want.z), scale)
}

// Interval returns the mean and the interval that holds the value with
// probability level, equal tails.
func (m Mixture) Interval(level float64) (v, lo, hi float64) {
	s := m.shape()
	lower, upper := tails(level)
	return s.mean, m.quantile(lower, s), m.quantile(upper, s)
}

// Coarse returns the mixture in at most n parts of nearly equal mean and SD,
// for callers that ask for its density very often.
func (m Mixture) Coarse(n int) Mixture {
	if len(m) <= n {
		return m
	}
	s := slices.Clone(m)
	slices.SortFunc(s, func(a, b Normal) int { return cmp.Compare(a.SD, b.SD) })
	out := make(Mixture, 0, n)
	per := (len(s) + n - 1) / n
	for part := range slices.Chunk(s, per) {
		var c Normal
		for _, x := range part {
			c.Weight += x.Weight
			c.Mean += x.Weight * x.Mean
		}
		if c.Weight == 0 {
			continue
		}
		c.Mean /= c.Weight
		var v float64
		for _, x := range part {
			v += x.Weight * (x.SD*x.SD + (x.Mean-c.Mean)*(x.Mean-c.Mean))
		}
		c.SD = math.Sqrt(v / c.Weight)
		out = append(out, c)
	}
	return out
}
