package mixed

import (
	"math"
	"slices"
)

// Scope says of what a height of the line is asked.
type Scope uint8

// The scopes.
const (
	OfLine    Scope = iota // the line itself: an average day
	OfDay                  // the mean of one new day
	OfValue                // one new value of weight 1 on a new day
	OfSameDay              // one new value of weight 1, day effect left out
)

// At returns the distribution of Σ c·coefficient with what scope adds; c has a
// value a column.
func (f *Fit) At(c []float64, scope Scope) Mixture { return f.AtWeight(c, scope) }

// AtWeight is [Fit.At] for a value of another weight than 1: its weight in each
// of the models averaged.
func (f *Fit) AtWeight(c []float64, scope Scope, weight ...float64) Mixture {
	return f.AtWeightIn(nil, c, scope, weight...)
}

// AtWeightIn is [Fit.AtWeight] into the room of a mixture that is no longer
// needed.
func (f *Fit) AtWeightIn(room Mixture, c []float64, scope Scope, weight ...float64) Mixture {
	m := slices.Grow(room[:0], len(f.parts))[:len(f.parts)]
	for i := range f.parts {
		p := &f.parts[i]
		mean, v := p.at(c)
		w := 1.0
		if p.model < len(weight) {
			w = weight[p.model]
		}
		m[i] = Normal{p.weight, mean, math.Sqrt(v + p.extra(scope, w))}
	}
	return m
}

func (p *part) at(c []float64) (mean, v float64) {
	n := len(c)
	for j, cj := range c {
		if cj == 0 {
			continue
		}
		mean += cj * p.mean[j]
		for k, cov := range p.cov[j*n : j*n+n] {
			v += cj * c[k] * cov
		}
	}
	return mean, math.Max(v, 0)
}

// MeanAt returns the mean of [Fit.At], for next to nothing.
func (f *Fit) MeanAt(c []float64) float64 {
	var sum float64
	for i := range f.parts {
		p := &f.parts[i]
		var mean float64
		for j, cj := range c {
			if cj != 0 {
				mean += cj * p.mean[j]
			}
		}
		sum += p.weight * mean
	}
	return sum
}

func (p *part) extra(scope Scope, weight float64) float64 {
	switch scope {
	case OfDay:
		return p.dayVar
	case OfValue:
		return p.dayVar + p.scatterVar/weight
	case OfSameDay:
		return p.scatterVar / weight
	}
	return 0
}

// Coefficient returns the distribution of coefficient k.
func (f *Fit) Coefficient(k int) Mixture {
	c := make([]float64, f.p)
	c[k] = 1
	return f.At(c, OfLine)
}

// Moments returns mean and covariance (p×p, row by row) of the coefficients.
func (f *Fit) Moments() (mean, cov []float64) {
	p := f.p
	mean, cov = make([]float64, p), make([]float64, p*p)
	for _, t := range f.parts {
		for j := range p {
			mean[j] += t.weight * t.mean[j]
		}
	}
	for _, t := range f.parts {
		for j := range p {
			for k := range p {
				cov[j*p+k] += t.weight * (t.cov[j*p+k] + (t.mean[j]-mean[j])*(t.mean[k]-mean[k]))
			}
		}
	}
	return mean, cov
}

// DaySD returns the middle and the interval of the day effects' SD.
func (f *Fit) DaySD(level float64) (v, lo, hi float64) {
	return f.sd(level, func(p *part) float64 { return p.dayVar })
}

// Scatter returns the middle and the interval of the SD of values of weight 1
// around their day.
func (f *Fit) Scatter(level float64) (v, lo, hi float64) {
	return f.sd(level, func(p *part) float64 { return p.scatterVar })
}

func (f *Fit) sd(level float64, of func(*part) float64) (v, lo, hi float64) {
	xs := make([]weighted, len(f.parts))
	for i := range f.parts {
		xs[i] = weighted{math.Sqrt(of(&f.parts[i])), f.parts[i].weight}
	}
	return quantiles(xs, level)
}

// Crossing returns where the line meets a height that is itself only known as
// mean and SD (0: exactly): the distribution function is the probability that
// the line at x lies below the height, for a line that falls. The column
// values at x are base + x·per. Values lie between from and to; the answers
// are the middle and the interval of the level. It returns false where the
// interval reaches from or to, or the line does not surely fall: then no
// finite interval exists (Fieller 1954, J R Stat Soc B 16:175–185).
func (f *Fit) Crossing(base, per []float64, height, heightSD, from, to, level float64, scope Scope) (v, lo, hi float64, ok bool) {
	c := make([]float64, f.p)
	below := func(x float64) float64 {
		for k := range c {
			c[k] = base[k] + x*per[k]
		}
		var sum float64
		for i := range f.parts {
			p := &f.parts[i]
			mean, va := p.at(c)
			sum += p.weight * phi((height-mean)/math.Sqrt(va+p.extra(scope, 1)+heightSD*heightSD))
		}
		return sum
	}
	tail := (1 - level) / 2
	first, last := below(from), below(to)
	if first > tail || last < 1-tail {
		return 0, 0, 0, false
	}
	// The middle is where the average line meets the average height.
	mean, _ := f.Moments()
	var at, slope float64
	for k := range c {
		at += mean[k] * base[k]
		slope += mean[k] * per[k]
	}
	seen := []point{{from, first}, {to, last}}
	step := 1e-7 * (to - from)
	v = crossing(below, &seen, 0.5, (height-at)/slope, step)
	lo = crossing(below, &seen, tail, from, step)
	hi = crossing(below, &seen, 1-tail, 2*v-lo, step)
	return v, lo, hi, true
}
