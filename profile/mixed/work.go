package mixed

import "math"

// grain is how closely σ is gone through: the step of ln σ over its SD, and how
// far in logs below the top a part no longer matters.
type grain struct{ step, fall float64 }

// Student's t, which comes out where there is no prior and no ρ, is right to a
// millionth of the width of its intervals; else it is a ten thousandth.
var fine, coarse = grain{1.2, 12.5}, grain{1.5, 9.5}

// rounding is the share of the values' squares below which the scatter's are
// rounding: the square of seven digits.
const rounding = 1e-14

// work is the model at one ratio ρ after another, in the same room.
//
// At one ρ the coefficients without a prior are solved for all σ at once; what
// is left at one σ is the few with a prior. Over σ the trapezoid rule in ln σ is
// used: for a smooth hump whose ends fall off it is nearly exact (Trefethen and
// Weideman 2014, SIAM Review 56:385–458).
type work struct {
	*sums
	r int // columns with a prior
	grain

	rho     float64
	left    []float64 // packed sums at ρ, not yet scaled
	moments []float64 // (p+1)×(p+1) sums at ρ, the columns without a prior swept
	half    float64   // ½ log determinant of the values' covariance and of what was swept
	rest    []float64 // (r+1)×(r+1): what is left of the columns with a prior, and y
	prior   []float64 // the same of the prior itself
	both    []float64 // their sum at one σ, swept
	mean    []float64
	least   float64 // σ² below which scatter is rounding

	// Of the last ρ: its parts, the largest of weight 1, whose log is top; the sum
	// of their weights; see Fit.coef; σ^(−2/3) of each, its mean and SD.
	parts        []part
	top, sum     float64
	coef, roots  []float64
	root, rootSD float64
}

func newWork(s *sums) *work {
	q, r := s.p+1, s.p-s.free
	some := s.room.some
	w := &s.room.work
	*w = work{sums: s, r: r, left: some(packed(q)), moments: some(q * q), rest: some((r + 1) * (r + 1)), prior: some((r + 1) * (r + 1)), both: some((r + 1) * (r + 1)), mean: some(r)}
	for k, precision := range s.precision {
		m := s.priorMean[k]
		w.prior[k*(r+1)+k] = precision
		w.prior[k*(r+1)+r], w.prior[r*(r+1)+k] = precision*m, precision*m
		w.prior[r*(r+1)+r] += precision * m * m
	}
	// The SD of ln σ is about 1/√(2·df); where df are few it has a long upper
	// end, and less between.
	df := max(float64(s.n-s.p)+s.priorDF, 0.5)
	w.grain = fine
	if r > 0 || s.repeated() {
		w.grain = coarse
	}
	w.step /= math.Sqrt(2 * (df + 4))
	return w
}

// perPart is how many numbers a part has in coef.
func (w *work) perPart() int { return w.r + w.r*w.r }

// settle takes the day effects at ρ off the sums and solves for the
// coefficients without a prior. It returns false where these cannot be told
// apart.
func (w *work) settle(rho float64) bool {
	w.rho = rho
	q := w.p + 1
	left := w.left
	copy(left, w.all)
	det := product{0, 1}
	if rho > 0 {
		kappa := (1 - rho) / rho
		for i := range w.days {
			t := &w.days[i]
			// Woodbury: the inverse of scatter plus a common day effect.
			f := 1 / (kappa + t.m)
			for k, x := range t.tt[:len(left)] {
				left[k] -= f * x
			}
			det.times(1+t.m/kappa, t.n)
		}
	}
	scale := 1 / (1 - rho)
	unpack(w.moments, left, q, scale)
	values := max(w.moments[len(w.moments)-1]+w.priorSS, 1e-12)
	w.least = rounding * values / (float64(w.n) + w.priorDF)
	for k := range w.free {
		d := w.moments[k*q+k]
		if !(d > 1e-11*w.all[packed(k+1)-1]*scale) {
			return false
		}
		det.times(d, 1)
		sweep(w.moments, q, k)
	}
	w.half = 0.5 * (float64(w.n)*math.Log(1-rho) - w.logW + det.ln())
	for i := range w.r + 1 {
		copy(w.rest[i*(w.r+1):(i+1)*(w.r+1)], w.moments[(w.free+i)*q+w.free:])
	}
	return true
}

// solve leaves mean and covariance of the coefficients with a prior in both, at
// is2 = 1/σ², and returns the determinant of their precision.
func (w *work) solve(is2 float64) (det float64) {
	for i, x := range w.rest {
		w.both[i] = x*is2 + w.prior[i]
	}
	det = 1
	for k := range w.r {
		det *= w.both[k*(w.r+1)+k]
		sweep(w.both, w.r+1, k)
	}
	return det
}

// density is solve, but returns the log of likelihood × prior at ln σ = u,
// is2 = 1/σ², all coefficients integrated out.
func (w *work) density(u, is2 float64) float64 {
	det := w.solve(is2)
	ss := max(w.both[len(w.both)-1], 0) + w.priorSS*is2
	// Jeffreys' prior is flat in u, so no factor for it.
	ld := -(float64(w.n-w.free)+w.priorDF)*u - w.half - ss/2
	if w.r > 0 {
		ld -= math.Log(det) / 2
	}
	return ld
}

// start returns a σ² near the top of the density: that of the residuals about
// the coefficients which the prior has, mended so often by those it leads to.
func (w *work) start(often int) (s2 float64) {
	n, df := w.r+1, float64(w.n-w.free)+w.priorDF
	copy(w.mean, w.priorMean)
	for mended := 0; ; mended++ {
		rss := w.rest[len(w.rest)-1] + w.priorSS
		for k, m := range w.mean {
			row := w.rest[k*n : k*n+n]
			rss -= 2 * m * row[w.r]
			for j, mj := range w.mean {
				rss += m * mj * row[j]
			}
		}
		s2 = max(rss/df, w.least)
		if w.r == 0 || mended == often {
			return s2
		}
		w.solve(1 / s2)
		for k := range w.mean {
			w.mean[k] = w.both[k*n+w.r]
		}
	}
}

// height returns the log of the density at ρ as far as it differs from that at
// another ρ, nearly: near enough to find where ρ lies. It returns false where
// coefficients cannot be told apart, or there is no scatter.
func (w *work) height(rho float64) (float64, bool) {
	if !w.settle(rho) {
		return 0, false
	}
	s2 := w.start(2)
	return w.density(math.Log(s2)/2, 1/s2), s2 > w.least
}

// integrate fills parts and what is told of them at ρ; false as height.
func (w *work) integrate(rho float64) bool {
	if !w.settle(rho) {
		return false
	}
	w.parts, w.coef, w.roots = w.room.parts[:0], w.room.coef[:0], w.room.roots[:0]
	s2 := w.start(1)
	u, is2, up := math.Log(s2)/2, 1/s2, math.Exp(-2*w.step)
	root, rootUp := math.Cbrt(is2), math.Cbrt(up)
	w.top = math.Inf(-1)
	if !w.walk(u, w.step, is2, up, root, rootUp) || !w.walk(u-w.step, -w.step, is2/up, 1/up, root/rootUp, 1/rootUp) {
		return false
	}
	if len(w.parts) == 0 { // values that are no numbers
		return false
	}
	w.room.parts, w.room.coef, w.room.roots = w.parts, w.coef, w.roots // they may have grown
	w.sum, w.root, w.rootSD = 0, 0, 0
	for i := range w.parts {
		p := &w.parts[i]
		p.weight = math.Exp(p.weight - w.top)
		w.sum += p.weight
		w.root += p.weight * w.roots[i]
		w.rootSD += p.weight * w.roots[i] * w.roots[i]
	}
	w.root /= w.sum
	w.rootSD = math.Sqrt(max(w.rootSD/w.sum-w.root*w.root, 0))
	return true
}

// walk adds parts from ln σ = u on until the end falls off; false where it does
// not. is2 is 1/σ², root its cube root; each grows by a factor a step.
func (w *work) walk(u, step, is2, factor, root, rootFactor float64) bool {
	for {
		ld := w.density(u, is2)
		w.top = max(w.top, ld)
		if !(ld >= w.top-w.fall) {
			return true
		}
		if is2*w.least > 1.001 { // but for the start itself
			return false
		}
		w.parts, w.roots = append(w.parts, part{ld, 1 / is2}), append(w.roots, root)
		for k := range w.r {
			w.coef = append(w.coef, w.both[k*(w.r+1)+w.r])
		}
		for k := range w.r {
			w.coef = append(w.coef, w.both[k*(w.r+1):k*(w.r+1)+w.r]...)
		}
		u, is2, root = u+step, is2*factor, root*rootFactor
	}
}
