package mixed

import "math"

// ratio is a share ρ of day variance in all variance, and its weight.
type ratio struct{ rho, weight float64 }

// maxGamma bounds day variance over scatter variance: day effects twenty times
// the scatter are not told apart from larger ones.
const maxGamma = 400

// maxRho is the share of day variance at maxGamma.
const maxRho = maxGamma / (1.0 + maxGamma)

// gauss are the nodes and weights of Gauss–Legendre quadrature on [−1, 1] with
// eight points (Abramowitz & Stegun 1964, table 25.4).
var gauss = [4][2]float64{
	{0.183434642495650, 0.362683783378362},
	{0.525532409916329, 0.313706645877887},
	{0.796666477413627, 0.222381034453374},
	{0.960289856497536, 0.101228536290376},
}

// ratios returns the ρ to average over: Gauss–Legendre nodes on the stretch
// where the data leave anything. The prior is flat in θ = ln(1 + k·γ) with γ
// day variance over scatter variance and k values a day: then slopes within
// days get the degrees of freedom of a paired comparison and means of days
// those of the days (Box & Tiao 1973, sect. 5.2: flat in the logs of both mean
// squares). A prior flat in ρ makes slopes a fifth too unsure on Weir's data.
// Where no day holds two values ρ cannot be told; it is then 0.
func ratios(s *sums) []ratio {
	repeated := false
	for _, t := range s.days {
		repeated = repeated || t.n > 1
	}
	if !repeated || len(s.days) < 2 {
		return []ratio{{0, 1}}
	}
	k := float64(s.n) / float64(len(s.days))
	rho := func(theta float64) float64 {
		gamma := math.Expm1(theta) / k
		return gamma / (1 + gamma)
	}
	// The log of a declared prior, in θ.
	prior := func(theta float64) float64 {
		if s.dayRatio == 0 {
			return 0
		}
		gamma := math.Expm1(theta) / k
		return -math.Log1p(gamma/(s.dayRatio*s.dayRatio)) + math.Log((gamma+1/k)/math.Sqrt(gamma))
	}
	end := math.Log1p(k * maxGamma)
	const coarse = 12
	var lm [coarse]float64
	top, at := math.Inf(-1), 0
	for i := range coarse {
		theta := end * (float64(i) + 0.5) / coarse
		w := located(s, rho(theta))
		if !w.ok {
			return []ratio{{0, 1}}
		}
		lm[i] = w.logMarginal() + prior(theta)
		if lm[i] > top {
			top, at = lm[i], i
		}
	}
	lo, hi := at, at
	for lo > 0 && lm[lo-1] > top-7 {
		lo--
	}
	for hi < coarse-1 && lm[hi+1] > top-7 {
		hi++
	}
	a := end * math.Max(0, float64(lo)-0.5) / coarse
	b := end * math.Min(coarse, float64(hi)+1.5) / coarse
	mid, half := (a+b)/2, (b-a)/2
	rs := make([]ratio, 0, 2*len(gauss))
	for _, g := range gauss {
		for _, theta := range []float64{mid - half*g[0], mid + half*g[0]} {
			rs = append(rs, ratio{rho(theta), half * g[1] * math.Exp(prior(theta))})
		}
	}
	return rs
}

// REML returns the standard deviations of day effects and of scatter that make
// the restricted likelihood largest, priors left out: what other programs
// print. On balanced data they are those of the analysis of variance
// (day variance 0 where that would be negative).
func REML(d Data) (daySD, scatter float64, err error) {
	d.PriorDF, d.PriorSD = 0, 0
	flat := append([]Column(nil), d.Columns...)
	for i := range flat {
		flat[i].SD = 0
	}
	d.Columns = flat
	s, err := collect(d)
	if err != nil {
		return 0, 0, err
	}
	if s.n <= s.p {
		return 0, 0, ErrTooFew
	}
	df := float64(s.n - s.p)
	at := func(rho float64) (logLik, sigma2 float64) {
		w := newWork(s, rho)
		if math.IsInf(w.logDensity(0), -1) { // σ = 1: the mean and the factor of XᵀV⁻¹X
			return math.Inf(-1), 0
		}
		var logDet, fit float64
		for j := range w.p {
			logDet += 2 * math.Log(w.chol[j*w.p+j])
			fit += w.mean[j] * w.c[j]
		}
		sigma2 = math.Max(w.q-fit, 0) / df
		return -w.half - logDet/2 - df/2*math.Log(sigma2), sigma2
	}
	// One hump: golden section between the neighbours of the best of a grid.
	best, top := 0.0, math.Inf(-1)
	const grid = 24
	if len(s.days) > 1 && len(s.days) < s.n {
		for i := range grid {
			rho := maxRho * float64(i) / grid
			if l, _ := at(rho); l > top {
				best, top = rho, l
			}
		}
		lo, hi := math.Max(0, best-maxRho/grid), math.Min(0.9999, best+maxRho/grid)
		g := (math.Sqrt(5) - 1) / 2
		for hi-lo > 1e-9 {
			a, b := hi-g*(hi-lo), lo+g*(hi-lo)
			la, _ := at(a)
			lb, _ := at(b)
			if la >= lb {
				hi = b
			} else {
				lo = a
			}
		}
		if l, _ := at((lo + hi) / 2); l >= top {
			best = (lo + hi) / 2
		}
	}
	l, sigma2 := at(best)
	if math.IsInf(l, -1) {
		return 0, 0, ErrTooFew
	}
	return math.Sqrt(best * sigma2), math.Sqrt((1 - best) * sigma2), nil
}
