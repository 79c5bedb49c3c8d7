package mixed

import "math"

// REML returns the standard deviations of day effects and of scatter that make
// the restricted likelihood largest, priors left out: what other programs
// print. On balanced data they are those of the analysis of variance
// (day variance 0 where that would be negative).
func REML(d Data) (daySD, scatter float64, err error) {
	d.PriorDF, d.PriorSD, d.DayRatio = 0, 0, 0
	flat := append([]Column(nil), d.Columns...)
	for i := range flat {
		flat[i].SD = 0
	}
	d.Columns = flat
	room := take()
	defer rooms.Put(room)
	s, err := collect(d, room)
	if err != nil {
		return 0, 0, err
	}
	if s.n <= s.p {
		return 0, 0, ErrTooFew
	}
	w, df := newWork(s), float64(s.n-s.p)
	at := func(rho float64) (logLik, sigma2 float64) {
		if !w.settle(rho) {
			return math.Inf(-1), 0
		}
		sigma2 = math.Max(w.rest[0], 0) / df
		return -w.half - df/2*math.Log(sigma2), sigma2
	}
	var rho float64
	if s.repeated() {
		x := s.scale()
		rho = x.rho(highest(x.end(), func(place float64) float64 {
			l, _ := at(x.rho(place))
			return l
		}))
	}
	l, sigma2 := at(rho)
	if math.IsInf(l, -1) {
		return 0, 0, ErrTooFew
	}
	return math.Sqrt(rho * sigma2), math.Sqrt((1 - rho) * sigma2), nil
}

// highest returns where between 0 and end a smooth hump is highest: by Newton's
// steps from the highest of a few places, kept between its neighbours.
func highest(end float64, height func(x float64) float64) float64 {
	const places = 10
	x, top := 0.0, math.Inf(-1)
	for i := range places {
		at := end * float64(i) / places
		if l := height(at); l > top {
			x, top = at, l
		}
	}
	const h = 1e-4
	lo, hi := math.Max(x-end/places, h), x+end/places
	if x == 0 && height(h) <= top {
		return 0
	}
	for hi-lo > 1e-9*end {
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		before, at, after := height(x-h), height(x), height(x+h)
		slope, curve := (after-before)/(2*h), (after-2*at+before)/(h*h)
		if slope > 0 {
			lo = x
		} else {
			hi = x
		}
		step := -slope / curve
		if curve >= 0 {
			step = math.Inf(1)
		}
		x += step
		if math.Abs(step) < 1e-9*end {
			break
		}
	}
	return x
}
