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

// extra is the variance that a scope adds, in σ², for a value of a weight.
func (scope Scope) extra(rho, weight float64) float64 {
	switch scope {
	case OfDay:
		return rho
	case OfValue:
		return rho + (1-rho)/weight
	case OfSameDay:
		return (1 - rho) / weight
	}
	return 0
}

// At returns the distribution of Σ c·coefficient with what scope adds; c has a
// value a column.
func (f *Fit) At(c []float64, scope Scope) Mixture { return f.AtWeight(c, scope) }

// AtWeight is [Fit.At] for a value of another weight than 1: its weight in each
// of the models averaged.
func (f *Fit) AtWeight(c []float64, scope Scope, weight ...float64) Mixture {
	return f.AtIn(nil, c, scope, weight...)
}

// AtIn is [Fit.AtWeight] into the room of a mixture that is no longer needed.
func (f *Fit) AtIn(room Mixture, c []float64, scope Scope, weight ...float64) Mixture {
	m := slices.Grow(room[:0], len(f.parts))[:len(f.parts)]
	var few [8]float64
	on := projection{lean: few[:0]}
	for i := range f.slices {
		s := &f.slices[i]
		on.project(f, i, c)
		more := scope.extra(s.rho, weightOf(weight, s.model))
		for k := s.from; k < s.to; k++ {
			mean, v := on.at(f, k)
			m[k] = Normal{f.parts[k].weight, mean, math.Sqrt(math.Max(v, 0) + more*f.parts[k].s2)}
		}
	}
	return m
}

// weightOf returns the weight in a model; 1 where none is told.
func weightOf(weight []float64, model int) float64 {
	if model < len(weight) {
		return weight[model]
	}
	return 1
}

// projection is a sum of coefficients at one ρ: base, the same for all σ, plus
// lean·coefficients with a prior, and v·σ² of variance besides theirs.
type projection struct {
	base, v float64
	lean    []float64
}

// project sets the projection of Σ c·coefficient at slice i. What is solved for
// the coefficients without a prior has a row each: their covariance at σ = 1,
// how they lean on those with a prior, and where they lie if those are 0.
func (on *projection) project(f *Fit, i int, c []float64) {
	q, free := f.p+1, f.free
	solved := f.solved[i*free*q : (i+1)*free*q]
	on.base, on.v, on.lean = 0, 0, on.lean[:0]
	for _, k := range f.order[free:] {
		on.lean = append(on.lean, c[k])
	}
	for j, k := range f.order[:free] {
		if c[k] == 0 {
			continue
		}
		row := solved[j*q : j*q+q]
		on.base += c[k] * row[q-1]
		for l, m := range f.order[:free] {
			on.v += c[k] * c[m] * row[l]
		}
		for l := range on.lean {
			on.lean[l] -= c[k] * row[free+l]
		}
	}
}

// at returns mean and variance at the σ of part k.
func (on *projection) at(f *Fit, k int) (mean, v float64) {
	r := len(on.lean)
	coef := f.coef[k*(r+r*r) : (k+1)*(r+r*r)]
	mean, v = on.base, on.v*f.parts[k].s2
	for i, l := range on.lean {
		mean += l * coef[i]
		for j, m := range on.lean {
			v += l * m * coef[r+i*r+j]
		}
	}
	return mean, v
}

// moments returns mean and variance of Σ c·coefficient.
func (f *Fit) moments(c []float64) (mean, v float64) {
	var few [8]float64
	on := projection{lean: few[:0]}
	for i := range f.slices {
		s := &f.slices[i]
		on.project(f, i, c)
		for k := s.from; k < s.to; k++ {
			m, vk := on.at(f, k)
			mean += f.parts[k].weight * m
			v += f.parts[k].weight * (vk + m*m)
		}
	}
	return mean, v - mean*mean
}

// MeanAt returns the mean of [Fit.At], for next to nothing.
func (f *Fit) MeanAt(c []float64) float64 {
	var sum float64
	for k, m := range f.mean {
		sum += c[k] * m
	}
	return sum
}

// Coefficient returns the distribution of coefficient k.
func (f *Fit) Coefficient(k int) Mixture {
	c := make([]float64, f.p)
	c[k] = 1
	return f.At(c, OfLine)
}

// Coefficient fits the model for the distribution of coefficient k alone. The error
// is that of [New].
func Coefficient(d Data, k int) (Mixture, error) {
	room := take()
	defer rooms.Put(room)
	if err := room.fit.Refit(d); err != nil {
		return nil, err
	}
	return room.fit.Coefficient(k), nil
}

// Moments returns mean and covariance (p×p, row by row) of the coefficients.
func (f *Fit) Moments() (mean, cov []float64) {
	p := f.p
	cov = make([]float64, p*p)
	c := make([]float64, p)
	for j := range p {
		c[j] = 1
		_, cov[j*p+j] = f.moments(c)
		for k := range j {
			c[k] = 1
			_, both := f.moments(c)
			c[k] = 0
			cov[j*p+k] = (both - cov[j*p+j] - cov[k*p+k]) / 2
			cov[k*p+j] = cov[j*p+k]
		}
		c[j] = 0
	}
	return slices.Clone(f.mean), cov
}
