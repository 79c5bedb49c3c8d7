package fit

import "math"

const (
	coefs  = 3   // α, β1, β2
	series = 5   // terms of F
	most   = 0.6 // of the time a movement takes: no edge lasts longer
)

// course holds the coefficients of F by power: its speed s^(q−1)·(1 − s)^(q−1)/B(q, q)
// as a binomial series, integrated term by term.
var course = func() (c [powers][series]float64) {
	for p := range c {
		q := 1 + float64(p)/2
		binomial := math.Gamma(2*q) / math.Gamma(q) / math.Gamma(q)
		for k := range series {
			c[p][k] = binomial / (q + float64(k))
			binomial *= -(q - 1 - float64(k)) / float64(k+1)
		}
	}
	return c
}()

// basis returns what α, β1 and β2 stand before at a share of a movement's time.
// The β are in shares of the first term of F.
func basis(s float64, power int) [coefs]float64 {
	s = min(s, most)
	x := s
	if power&1 == 1 {
		x *= math.Sqrt(s)
	}
	for range power / 2 {
		x *= s
	}
	c, q := &course[power], 1+float64(power)/2
	return [coefs]float64{
		x * (c[0] + s*(c[1]+s*(c[2]+s*(c[3]+s*c[4])))),
		x * s * c[0] * q / (q + 1),
		x * s * s * c[0] * q / (q + 2),
	}
}

// points are what an edge is fitted to.
type points struct {
	e      *Edge
	ts, ys []float64
	ws     []float64 // 1 / variance
	middle float64   // s, where the drift is 0

	// What both sides share: level, drift and the swing.
	shared int
	xs     [][terms]float64
	still  bool // the swing ends where the movement begins

	// Normal equations of the shared terms.
	a  [terms][terms]float64
	b  [terms]float64
	yy float64
}

func newPoints(e *Edge, ts, ys []float64, middle float64) *points {
	p := &points{e: e, ts: ts, ys: ys, ws: make([]float64, len(ts)), middle: middle, shared: 2}
	if e.Swing.Hz != 0 {
		p.shared = 4
	}
	for _, t := range ts {
		x := [terms]float64{1, t - middle}
		if p.shared > 2 {
			x[2], x[3] = e.Swing.At(-float64(e.Way) * t)
		}
		p.xs = append(p.xs, x)
	}
	return p
}

// weigh sets the points' weights by how far they scatter: those further from the
// level count less, since no such course fits all lifts there.
func (p *points) weigh(sigma float64) {
	for i, y := range p.ys {
		far := math.Abs(y)
		d := off * far * min(1, far/math.Abs(p.e.Travel)/offFrom)
		p.ws[i] = 1 / (sigma*sigma + d*d)
	}
	p.add(math.Inf(1))
}

// add sums up the normal equations of the shared terms, the swing up to a time.
func (p *points) add(until float64) {
	p.a, p.b, p.yy = [terms][terms]float64{}, [terms]float64{}, 0
	for i, y := range p.ys {
		n := p.shared
		if p.ts[i] > until {
			n = 2
		}
		for j := range n {
			x := p.ws[i] * p.xs[i][j]
			for k := range n {
				p.a[j][k] += x * p.xs[i][k]
			}
			p.b[j] += x * y
		}
		p.yy += p.ws[i] * y * y
	}
	p.a[1][1] += 1 / (drift * drift)
	for j := 2; j < p.shared; j++ {
		size := 2*p.e.Swing.Size + leastSwing
		p.a[j][j] += 1 / (size * size)
	}
}

// side returns what is known of the movement on a side: its time, its travel and
// how far people differ.
func (p *points) side(power int, way float64) (whole, travel float64, sds spread) {
	whole, travel, sds = p.e.Whole, p.e.Travel, lifts
	switch {
	case way < 0:
		whole, travel, sds = p.e.Other, p.e.Back, others
	case p.e.Pull:
		sds = pulls
	}
	if power == 0 {
		sds[1], sds[2] = steady*sds[1], steady*sds[2]
	}
	return whole, travel, sds
}

// flank is one side of the level with its coefficients integrated out: what that
// takes from the normal equations of the shared terms, and from the log of the likelihood.
type flank struct {
	a  [terms][terms]float64
	b  [terms]float64
	yy float64
	ld float64 // log of the determinant, beside that of the prior
}

// flank returns the side from a moment on (way 1) or up to it (way −1).
func (p *points) flank(from float64, power int, way float64) (f flank) {
	whole, travel, sds := p.side(power, way)
	n := p.shared
	if p.still {
		n = 2
	}
	var a [coefs][coefs]float64
	var c [coefs][terms]float64
	var b [coefs]float64
	for i, t := range p.ts {
		d := way * (t - from)
		if d <= 0 {
			continue
		}
		x := basis(d/whole, power)
		for j := range coefs {
			x[j] *= travel
			w := p.ws[i] * x[j]
			for k := range j + 1 {
				a[j][k] += w * x[k]
			}
			for k := range n {
				c[j][k] += w * p.xs[i][k]
			}
			b[j] += w * p.ys[i]
		}
	}
	det := 1.0
	for j, sd := range sds {
		trust := 1 / (sd * sd)
		a[j][j] += trust
		if j == 0 { // α is about 1
			b[j] += trust
			f.yy -= trust
		}
		det /= trust
	}
	// Cholesky: a = L·Lᵀ; c and b become L⁻¹·c and L⁻¹·b.
	for j := range coefs {
		for k := range j + 1 {
			s := a[j][k]
			for m := range k {
				s -= a[j][m] * a[k][m]
			}
			if j == k {
				det *= s
				a[j][j] = math.Sqrt(s)
			} else {
				a[j][k] = s / a[k][k]
			}
		}
		for m := range j {
			for k := range n {
				c[j][k] -= a[j][m] * c[m][k]
			}
			b[j] -= a[j][m] * b[m]
		}
		for k := range n {
			c[j][k] /= a[j][j]
		}
		b[j] /= a[j][j]
	}
	f.ld = math.Log(det)
	for j := range coefs {
		for k := range n {
			for m := range n {
				f.a[k][m] += c[j][k] * c[j][m]
			}
			f.b[k] += c[j][k] * b[j]
		}
		f.yy += b[j] * b[j]
	}
	return f
}

// join returns the log of the likelihood of two sides, or of one beside a rest
// (a is nil), but for a constant, and the coefficients of the shared terms.
func (p *points) join(a, b *flank) (logp float64, x [terms]float64) {
	n := p.shared
	var s [terms][terms]float64
	yy, ld, det := p.yy-b.yy, b.ld, 1.0
	for j := range n {
		for k := range j + 1 {
			s[j][k] = p.a[j][k] - b.a[j][k]
		}
		x[j] = p.b[j] - b.b[j]
	}
	if a != nil {
		yy, ld = yy-a.yy, ld+a.ld
		for j := range n {
			for k := range j + 1 {
				s[j][k] -= a.a[j][k]
			}
			x[j] -= a.b[j]
		}
	}
	for j := range n {
		for k := range j + 1 {
			v := s[j][k]
			for m := range k {
				v -= s[j][m] * s[k][m]
			}
			switch {
			case k < j:
				s[j][k] = v / s[k][k]
			case !(v > 0):
				return math.Inf(-1), x
			default:
				det *= v
				s[j][j] = math.Sqrt(v)
			}
		}
		for m := range j {
			x[j] -= s[j][m] * x[m]
		}
		x[j] /= s[j][j]
		yy -= x[j] * x[j]
	}
	for j := n - 1; j >= 0; j-- {
		for m := j + 1; m < n; m++ {
			x[j] -= s[m][j] * x[m]
		}
		x[j] /= s[j][j]
	}
	return -0.5 * (yy + ld + math.Log(det)), x
}

// scatter returns how far the points scatter about a hypothesis, m: more than the
// residuals where neighbours err alike, since they then count as fewer points.
func (p *points) scatter(h *hypothesis) float64 {
	left := make([]float64, len(p.ts))
	for i, x := range p.xs {
		n := p.shared
		if h.still && p.ts[i] > h.t2 {
			n = 2
		}
		left[i] = p.ys[i]
		for k := range n {
			left[i] -= h.shared[k] * x[k]
		}
	}
	p.take(left, h.t2, h.p2, 1)
	if h.p1 >= 0 {
		p.take(left, h.t1, h.p1, -1)
	}
	heaviest := 0.0
	for _, w := range p.ws {
		heaviest = max(heaviest, w)
	}
	var sum, weight, beside, last float64
	for i, w := range p.ws {
		r := left[i] * math.Sqrt(w/heaviest)
		sum, weight, beside, last = sum+r*r, weight+w/heaviest, beside+r*last, r
	}
	counts := 1.0
	if sum > 0 {
		rho := beside / sum
		counts = min(1, max(alike, (1-rho)/(1+rho)))
	}
	n := float64(len(p.ts))
	least := p.e.Least
	return max(least, math.Sqrt((guesses*least*least+n*sum/weight/counts)/(guesses+n)))
}

// take takes one side of the level out of what is left of the positions.
func (p *points) take(left []float64, from float64, power int, way float64) {
	whole, travel, sds := p.side(power, way)
	n := normal{k: coefs}
	at := func(i int) (x [coefs]float64, on bool) {
		d := way * (p.ts[i] - from)
		if d <= 0 {
			return x, false
		}
		x = basis(d/whole, power)
		for j := range x {
			x[j] *= travel
		}
		return x, true
	}
	for i, y := range left {
		if x, on := at(i); on {
			w := math.Sqrt(p.ws[i])
			n.add(&[terms]float64{w * x[0], w * x[1], w * x[2]}, w*y)
		}
	}
	for j, sd := range sds {
		var x [terms]float64
		x[j] = 1 / sd
		about := 0.0
		if j == 0 {
			about = 1
		}
		n.add(&x, about/sd)
	}
	c, _ := n.solve()
	for i := range left {
		if x, on := at(i); on {
			left[i] -= c[0]*x[0] + c[1]*x[1] + c[2]*x[2]
		}
	}
}
