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
func (m Mixture) SD() float64 {
	mean := m.Mean()
	var sum float64
	for _, n := range m {
		sum += n.Weight * (n.SD*n.SD + (n.Mean-mean)*(n.Mean-mean))
	}
	return math.Sqrt(sum)
}

// Below returns the probability of a value below x.
func (m Mixture) Below(x float64) float64 {
	var sum float64
	for _, n := range m {
		sum += n.Weight * phi((x-n.Mean)/n.SD)
	}
	return sum
}

// Density returns the probability density at x.
func (m Mixture) Density(x float64) float64 {
	var sum float64
	for _, n := range m {
		z := (x - n.Mean) / n.SD
		sum += n.Weight * math.Exp(-z*z/2) / n.SD
	}
	return sum / math.Sqrt(2*math.Pi)
}

// Quantile returns the value that a share p lies below, 0 < p < 1.
func (m Mixture) Quantile(p float64) float64 { return m.quantile(p, m.shape()) }

func (m Mixture) quantile(p float64, s shape) float64 {
	mean, sd, skew, excess := s.mean, s.sd, s.skew, s.excess
	if !(sd > 0) {
		return mean
	}
	z := math.Sqrt2 * math.Erfinv(2*p-1)
	if excess < 0.2 && math.Abs(skew) < 0.1 {
		// The parts differ little: Cornish and Fisher's expansion about a
		// normal distribution (1938, Revue de l'Institut International de
		// Statistique 5:307–320), here exact to a thousandth of an SD.
		return mean + sd*(z+(z*z-1)/6*skew+(z*z*z-3*z)/24*excess-(2*z*z*z-5*z)/36*skew*skew)
	}
	// Newton's steps, kept within brackets. Long tails make the SD a poor
	// scale, so the mean of the parts' SDs is taken.
	sd = 0
	for _, n := range m {
		sd += n.Weight * n.SD
	}
	x := mean + sd*z
	lo, hi := math.Inf(-1), math.Inf(1)
	for range 80 {
		below, density := m.around(x)
		f := below - p
		if f < 0 {
			lo = x
		} else {
			hi = x
		}
		next := x - f/density
		if !(next > lo && next < hi) {
			switch {
			case math.IsInf(lo, -1):
				next = x - sd
			case math.IsInf(hi, 1):
				next = x + sd
			default:
				next = (lo + hi) / 2
			}
		}
		if math.Abs(next-x) < 1e-6*sd {
			return next
		}
		x = next
	}
	return x
}

// around returns [Mixture.Below] and [Mixture.Density] in one go.
func (m Mixture) around(x float64) (below, density float64) {
	for _, n := range m {
		z := (x - n.Mean) / n.SD
		below += n.Weight * phi(z)
		density += n.Weight * math.Exp(-z*z/2) / n.SD
	}
	return below, density / math.Sqrt(2*math.Pi)
}

// shape is mean, SD, skewness and excess kurtosis.
type shape struct{ mean, sd, skew, excess float64 }

func (m Mixture) shape() shape {
	mean := m.Mean()
	var m2, m3, m4 float64
	for _, n := range m {
		d, v := n.Mean-mean, n.SD*n.SD
		m2 += n.Weight * (v + d*d)
		m3 += n.Weight * (3*d*v + d*d*d)
		m4 += n.Weight * (3*v*v + 6*d*d*v + d*d*d*d)
	}
	sd := math.Sqrt(m2)
	return shape{mean, sd, m3 / (m2 * sd), m4/(m2*m2) - 3}
}

// Interval returns the mean and the interval that holds the value with
// probability level, equal tails.
func (m Mixture) Interval(level float64) (v, lo, hi float64) {
	s := m.shape()
	return s.mean, m.quantile((1-level)/2, s), m.quantile((1+level)/2, s)
}

func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

type weighted struct{ x, w float64 }

// quantiles returns the median and the interval of the level of weighted
// values, interpolated between the middles of their weights. It sorts xs.
func quantiles(xs []weighted, level float64) (v, lo, hi float64) {
	slices.SortFunc(xs, func(a, b weighted) int { return cmp.Compare(a.x, b.x) })
	at := func(p float64) float64 {
		cum, px, pm := 0.0, xs[0].x, 0.0
		for _, x := range xs {
			mid := cum + x.w/2
			if mid >= p {
				if mid == pm || px == x.x {
					return x.x
				}
				return px + (x.x-px)*(p-pm)/(mid-pm)
			}
			cum, px, pm = cum+x.w, x.x, mid
		}
		return px
	}
	return at(0.5), at((1 - level) / 2), at((1 + level) / 2)
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
