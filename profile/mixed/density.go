package mixed

import "math"

// work is the model at one ρ: the sums with that day variance taken account
// of, and room to solve in.
type work struct {
	*sums
	rho  float64
	a, c []float64
	q    float64
	half float64 // ½ log det of the values' covariance at σ = 1
	ok   bool    // the flat coefficients can be told apart, and there is scatter

	mode, spread float64 // of ln σ
	top          float64 // log density at the mode
	chol, mean   []float64
}

func newWork(s *sums, rho float64) *work {
	p := s.p
	room := s.room
	w := &work{sums: s, rho: rho, a: room[:p*p], c: room[p*p : p*p+p], chol: room[p*p+p : 2*p*p+p], mean: room[2*p*p+p:]}
	copy(w.a, s.a)
	copy(w.c, s.c)
	w.q = s.q
	w.half = 0.5 * (float64(s.n)*math.Log(1-rho) - s.logW)
	if rho > 0 {
		kappa := (1 - rho) / rho
		var m, log float64 // days often weigh alike
		for i := range s.days {
			t := &s.days[i]
			if t.n == 0 {
				continue
			}
			if t.m != m {
				m, log = t.m, 0.5*math.Log1p(t.m/kappa)
			}
			// Woodbury: the inverse of scatter plus a common day effect.
			f := 1 / (kappa + t.m)
			w.q -= f * t.y * t.y
			for j := range p {
				w.c[j] -= f * t.x[j] * t.y
				for k := range p {
					w.a[j*p+k] -= f * t.x[j] * t.x[k]
				}
			}
			w.half += log
		}
	}
	scale := 1 / (1 - rho)
	w.q *= scale
	for i := range w.a {
		w.a[i] *= scale
	}
	for i := range w.c {
		w.c[i] *= scale
	}
	return w
}

// located is newWork with the mode of ln σ found.
func located(s *sums, rho float64) *work {
	w := newWork(s, rho)
	w.ok = w.locate()
	return w
}

// logDensity returns the log of likelihood × prior at ln σ = u, coefficients
// integrated out, and leaves their mean and the Cholesky factor of their
// precision in w. It returns −Inf where they are not settled.
func (w *work) logDensity(u float64) float64 {
	p, is2 := w.p, math.Exp(-2*u)
	var prior float64
	for j := range p {
		for k := range j + 1 {
			w.chol[j*p+k] = w.a[j*p+k] * is2
		}
		w.chol[j*p+j] += w.prior[j]
		w.mean[j] = w.c[j]*is2 + w.prior[j]*w.priorMean[j]
		prior += w.prior[j] * w.priorMean[j] * w.priorMean[j]
	}
	logDet, ok := cholesky(w.chol, p)
	if !ok {
		return math.Inf(-1)
	}
	forward(w.chol, w.mean, p)
	var fit float64
	for _, m := range w.mean {
		fit += m * m
	}
	backward(w.chol, w.mean, p)
	ss := math.Max(w.q*is2+prior-fit, 0) + w.priorSS*is2
	// Jeffreys' prior is flat in u, so no factor for it.
	return -(float64(w.n)+w.priorDF)*u - w.half - logDet/2 - ss/2
}

// locate finds the mode of ln σ and its spread.
func (w *work) locate() bool {
	df := float64(w.n) + w.priorDF - float64(w.free)
	// Start from σ of the values themselves, then walk up the hill.
	u := 0.5 * math.Log(math.Max(w.q+w.priorSS, 1e-12)/math.Max(float64(w.n)+w.priorDF, 1))
	// Seven digits below the values the scatter is rounding of the arithmetic.
	least := u - 7*math.Ln10
	f := w.logDensity(u)
	if math.IsInf(f, -1) {
		return false
	}
	came := 0.0 // the last step of this size: where it came from is lower
	for step := 1.0; step > 1e-2; {
		lower, higher := math.Inf(-1), math.Inf(-1)
		if came <= 0 {
			lower = w.logDensity(u - step)
		}
		if !(lower > f) && came >= 0 {
			higher = w.logDensity(u + step)
		}
		switch {
		case lower > f:
			u, f, came = u-step, lower, -step
		case higher > f:
			u, f, came = u+step, higher, step
		default:
			step, came = step/3, 0
		}
		if u < least {
			return false
		}
	}
	h := 0.3 / math.Sqrt(2*df)
	curve := (w.logDensity(u+h) - 2*f + w.logDensity(u-h)) / (h * h)
	w.mode, w.top, w.spread = u, f, 1/math.Sqrt(2*df)
	if curve < 0 {
		w.spread = 1 / math.Sqrt(-curve)
	}
	return true
}

// nodes is how many σ stand for all. The density is smooth and its ends fall
// off, so the trapezoid rule errs far less than any figure shown; with few
// values the upper end is long and wants more.
func (w *sums) nodes() int {
	if w.n-w.free < 8 {
		return 32
	}
	return 14
}

// grid returns the first ln σ and the step of the trapezoid rule.
func (w *work) grid() (from, step float64) {
	const fall = 12 // e⁻¹²: 6 in a million of the top
	from, to := w.mode-3*w.spread, w.mode+3*w.spread
	for w.logDensity(from) > w.top-fall {
		from -= w.spread / 2
	}
	for w.logDensity(to) > w.top-fall {
		to += w.spread / 2
	}
	return from, (to - from) / float64(w.nodes()-1)
}

// logMarginal returns the log of the density with σ integrated out, as if it
// were normal in ln σ: near enough to find where ρ lies.
func (w *work) logMarginal() float64 { return w.top + math.Log(w.spread) }

// parts appends the parts of this ρ, whose prior weight is given.
func (w *work) parts(to []part, weight float64) []part {
	from, step := w.grid()
	p, n := w.p, w.nodes()
	room := make([]float64, n*(p+p*p)) // one piece for all
	least := w.top - nothing
	for i := range n {
		u := from + float64(i)*step
		ld := w.logDensity(u)
		if ld < least {
			continue
		}
		s2 := math.Exp(2 * u)
		pt := part{weight: ld + math.Log(step*weight), dayVar: w.rho * s2, scatterVar: (1 - w.rho) * s2, mean: room[:p:p], cov: room[p : p+p*p : p+p*p]}
		room = room[p+p*p:]
		copy(pt.mean, w.mean)
		inverse(w.chol, pt.cov, p)
		to = append(to, pt)
	}
	return to
}

// nothing is how far, in logs, below the top a part no longer matters.
const nothing = 13
