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
	var density float64
	for i := range m {
		n := &m[i]
		over := 1 / n.SD
		density += n.Weight * over * normalDensity((x-n.Mean)*over)
	}
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
		var c together
		for i := range part {
			c.add(&part[i], part[0].Mean)
		}
		out = c.appendTo(out, part[0].Mean)
	}
	return out
}

// together is parts that count as one, of their mean and variance: the sums of
// their weights and, around a place near them, of means and squares.
type together struct{ weight, mean, square float64 }

func (c *together) add(n *Normal, around float64) {
	off := n.Mean - around
	c.weight += n.Weight
	c.mean += n.Weight * off
	c.square += n.Weight * (n.SD*n.SD + off*off)
}

func (c *together) appendTo(m Mixture, around float64) Mixture {
	if c.weight == 0 {
		return m
	}
	off := c.mean / c.weight
	return append(m, Normal{c.weight, around + off, math.Sqrt(math.Max(c.square/c.weight-off*off, 0))})
}

// mostAlike is how many steps of SD [Mixture.alike] tells apart at most.
const mostAlike = 64

// alike returns the mixture with parts together whose SDs agree to 2 or 3 % and
// whose means lie on the same side of the whole's, in the room given; m itself
// where that would not leave half as many. It takes no sorting: an SD's binary form
// is its exponent, then its digits, so that the first of them go up by steps.
func (m Mixture) alike(room Mixture) Mixture {
	const digits = 5 // behind the leading one: 32 steps an octave
	step := func(sd float64) int { return int(math.Float64bits(sd) >> (52 - digits)) }
	least, largest := m[0].SD, m[0].SD
	for i := range m {
		least, largest = min(least, m[i].SD), max(largest, m[i].SD)
	}
	n := step(largest) - step(least) + 1
	if n > min(mostAlike, len(m)/2) || math.IsNaN(largest) {
		return m
	}
	var steps [mostAlike][2]together
	mean := m.Mean()
	for i := range m {
		side := 0
		if m[i].Mean > mean {
			side = 1
		}
		steps[step(m[i].SD)-step(least)][side].add(&m[i], mean)
	}
	few := room[:0]
	for i := range steps[:n] {
		for side := range steps[i] {
			few = steps[i][side].appendTo(few, mean)
		}
	}
	return few
}
