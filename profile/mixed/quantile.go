package mixed

import "math"

// bell returns the share of the standard normal distribution below z, wrong by
// less than 7.5e-8, and its density (Abramowitz & Stegun 1964, 26.2.17, after
// Hastings).
func bell(z float64) (below, density float64) {
	density = normalDensity(z)
	t := 1 / (1 + 0.2316419*math.Abs(z))
	beyond := density * t * (0.319381530 + t*(-0.356563782+t*(1.781477937+t*(-1.821255978+t*1.330274429))))
	if z > 0 {
		return 1 - beyond, density
	}
	return beyond, density
}

func normalDensity(z float64) float64 { return math.Exp(-z*z/2) * (1 / math.Sqrt2 / math.SqrtPi) }

// probit returns how many SDs from its middle a normal distribution has this
// share below; ends too far out to tell apart count alike.
func probit(share float64) float64 {
	const far = 5
	return math.Max(-far, math.Min(far, math.Sqrt2*math.Erfinv(2*share-1)))
}

// shape is mean, SD, skewness and excess kurtosis.
type shape struct{ mean, sd, skew, excess float64 }

func (m Mixture) shape() shape {
	mean := m.Mean()
	var m2, m3, m4 float64
	for i := range m {
		n := &m[i]
		d, v := n.Mean-mean, n.SD*n.SD
		m2 += n.Weight * (v + d*d)
		m3 += n.Weight * d * (3*v + d*d)
		m4 += n.Weight * (3*v*v + d*d*(6*v+d*d))
	}
	sd := math.Sqrt(m2)
	return shape{mean, sd, m3 / (m2 * sd), m4/(m2*m2) - 3}
}

// guess returns about where the share of a normal distribution below z lies:
// that of Student's t of the same kurtosis (Abramowitz & Stegun 1964, 26.7.5),
// moved as far as the distribution is skewed (Cornish & Fisher 1938, Revue de
// l'Institut International de Statistique 5:307–320).
func (s shape) guess(z float64) float64 {
	z2, k := z*z, z
	const most = 3 // excess; that of longer tails says little of the middle
	if excess := math.Min(s.excess-1.5*s.skew*s.skew, most); excess > 0 {
		df := 4 + 6/excess
		k += z * ((z2+1)/4 + (((5*z2+16)*z2+3)/96+(((3*z2+19)*z2+17)*z2-15)/(384*df))/df) / df
		k *= math.Sqrt((df - 2) / df)
	}
	k += s.skew * ((z2-1)/6 - s.skew*(2*z2-5)*z/36)
	return s.mean + s.sd*k
}

// bracket is where an answer lies.
type bracket struct{ lo, hi float64 }

var everywhere = bracket{math.Inf(-1), math.Inf(1)}

// share is a share below, and the same in SDs of a normal distribution.
type share struct{ p, z float64 }

func shareOf(p float64) share { return share{p, probit(p)} }

// tails returns the ends of an interval of equal tails that holds the level.
func tails(level float64) (lower, upper share) {
	upper = shareOf((1 + level) / 2)
	return share{1 - upper.p, -upper.z}, upper
}

// solve returns where a rising share comes to want. at returns it with its
// derivative; guess is where to look first, scale about an SD.
//
// Measured in probits the share of a distribution that is nearly normal is
// nearly a straight line, so that one or two of Newton's steps do; they are kept
// within what is known.
func solve(at func(x float64) (below, density float64), want share, in bracket, guess, scale float64) float64 {
	const exact, longest, most = 0.01, 3, 60 // after exact the next step would be its square
	_, normal := bell(want.z)
	x := guess
	for range most {
		if !(x > in.lo && x < in.hi) {
			x = in.middle(scale)
		}
		below, density := at(x)
		if below < want.p {
			in.lo = x
		} else {
			in.hi = x
		}
		step := (want.p - below) / density
		if off := (want.p - below) / normal; math.Abs(off) < 0.3 {
			step *= 1 + want.z*off/2 // the same, as a series
		} else {
			z := probit(below)
			_, step = bell(z)
			step *= (want.z - z) / density
		}
		// Where hardly anything lies the slope tells little.
		step = math.Max(-longest*scale, math.Min(longest*scale, step))
		if math.Abs(step) < exact*scale && x+step > in.lo && x+step < in.hi {
			return x + step
		}
		if in.hi-in.lo < 1e-9*scale {
			break
		}
		x += step
	}
	return x
}

// middle returns a place within the bracket where Newton's step leaves it.
func (in bracket) middle(scale float64) float64 {
	switch {
	case math.IsInf(in.lo, -1):
		return in.hi - scale
	case math.IsInf(in.hi, 1):
		return in.lo + scale
	}
	return in.lo + (in.hi-in.lo)/2
}
