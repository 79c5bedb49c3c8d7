package mixed

import "math"

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
	m := make(Mixture, len(f.parts))
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
		for k, ck := range c {
			v += cj * ck * p.cov[j*n+k]
		}
	}
	return mean, math.Max(v, 0)
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
	if below(from) > tail || below(to) < 1-tail {
		return 0, 0, 0, false
	}
	find := func(prob float64) float64 {
		a, b := from, to
		for range 60 {
			m := (a + b) / 2
			if below(m) < prob {
				a = m
			} else {
				b = m
			}
			if b-a < 1e-7*(to-from) {
				break
			}
		}
		return (a + b) / 2
	}
	lo, hi = find(tail), find(1-tail)
	// The middle is where the average line meets the average height.
	return find(0.5), lo, hi, true
}
