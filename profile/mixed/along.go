package mixed

import "math"

// Along is the fit along a straight line of column values, base + x·per, where
// many heights are asked for.
type Along struct {
	mean  [2]float64 // of the heights: mean[0] + mean[1]·x
	v     [3]float64 // their variance: v[0] + v[1]·x + v[2]·x²
	extra []variances
	parts []heights
}

// variances are the means of day and scatter variance in one model, times its
// probability.
type variances struct{ day, scatter float64 }

// heights are a part's: mean m0 + m1·x, variance v0 + v1·x + v2·x².
type heights struct {
	weight, s2, rho float64
	model           int
	m0, m1          float64
	v0, v1, v2      float64
}

// Along returns the fit along base + x·per, which have a value a column.
func (f *Fit) Along(base, per []float64) *Along {
	a := &Along{mean: [2]float64{f.MeanAt(base), f.MeanAt(per)}, extra: make([]variances, max(len(f.models), 1)), parts: make([]heights, len(f.parts))}
	both := make([]float64, f.p)
	for k := range both {
		both[k] = base[k] + per[k]
	}
	var onBase, onPer, onBoth projection
	for i := range f.slices {
		s := &f.slices[i]
		onBase.project(f, i, base)
		onPer.project(f, i, per)
		onBoth.project(f, i, both)
		for k := s.from; k < s.to; k++ {
			h := heights{weight: f.parts[k].weight, s2: f.parts[k].s2, rho: s.rho, model: s.model}
			h.m0, h.v0 = onBase.at(f, k)
			h.m1, h.v2 = onPer.at(f, k)
			_, v := onBoth.at(f, k)
			h.v1 = v - h.v0 - h.v2
			a.parts[k] = h
			d0, d1 := h.m0-a.mean[0], h.m1-a.mean[1]
			a.v[0] += h.weight * (h.v0 + d0*d0)
			a.v[1] += h.weight * (h.v1 + 2*d0*d1)
			a.v[2] += h.weight * (h.v2 + d1*d1)
			a.extra[h.model].day += h.weight * h.rho * h.s2
			a.extra[h.model].scatter += h.weight * (1 - h.rho) * h.s2
		}
	}
	return a
}

func (h *heights) at(x float64) (mean, v float64) {
	return h.m0 + x*h.m1, math.Max(h.v0+x*(h.v1+x*h.v2), 0)
}

// At returns [Fit.AtWeight] at x, into the room of a mixture that is no longer
// needed.
func (a *Along) At(room Mixture, x float64, scope Scope, weight ...float64) Mixture {
	m := room[:0]
	for i := range a.parts {
		h := &a.parts[i]
		mean, v := h.at(x)
		m = append(m, Normal{h.weight, mean, math.Sqrt(v + scope.extra(h.rho, weightOf(weight, h.model))*h.s2)})
	}
	return m
}

// Crossing returns where the line meets a height that is itself only known as
// mean and SD (0: exactly): the distribution function is the probability that
// the line at x lies below the height, for a line that falls. Values lie between
// from and to; the answers are the middle and the interval of the level. It
// returns false where the interval reaches from or to, or the line does not
// surely fall: then no finite interval exists (Fieller 1954, J R Stat Soc B
// 16:175–185).
func (a *Along) Crossing(height, heightSD, from, to, level float64, scope Scope) (v, lo, hi float64, ok bool) {
	below := func(x float64) (share, density float64) {
		for i := range a.parts {
			h := &a.parts[i]
			mean, v := h.at(x)
			over := 1 / math.Sqrt(v+scope.extra(h.rho, 1)*h.s2+heightSD*heightSD)
			z := (height - mean) * over
			b, d := bell(z)
			share += h.weight * b
			density -= h.weight * d * over * (h.m1 + z*over*(h.v1/2+x*h.v2))
		}
		return share, density
	}
	lower, upper := tails(level)
	first, _ := below(from)
	last, _ := below(to)
	if first > lower.p || last < upper.p {
		return 0, 0, 0, false
	}
	in := bracket{from, to}
	// The middle is about where the average line meets the average height.
	v = (height - a.mean[0]) / a.mean[1]
	_, sd := a.MeanSD(v, scope)
	scale := math.Hypot(sd, heightSD) / math.Abs(a.mean[1])
	v = solve(below, share{0.5, 0}, in, v, scale)
	lo = solve(below, lower, bracket{from, v}, v+lower.z*scale, scale)
	hi = solve(below, upper, bracket{v, to}, v+upper.z*scale, scale)
	return v, lo, hi, true
}
