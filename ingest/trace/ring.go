package trace

import (
	"math"
	"slices"
)

// ringing is the damped oscillation of a bar after lockout.
type ringing struct {
	hz, damping float64 // frequency; share of critical damping
	size        float64 // m, half a swing after its start
}

const (
	ringLow, ringHigh = 2.2, 12.0 // Hz: plates on any barbell swing within these; people sway more slowly
	ringLeast         = 0.001     // m: a smaller swing is left alone
	unrungBy          = 0.3       // s around: lets the filter settle
	unrungCut         = 2.0       // times the frequency of the ringing, which the low pass has to let through
	ringShare         = 0.6       // of the variance of a hold: what a ringing has to explain
)

// ringIn fits level + slope·t + e^(−2πζft)·(A·cos 2πft + B·sin 2πft) to a hold by
// least squares over a grid of frequency and damping. No ringing is the zero
// value: too short a hold, too small a swing, too little explained.
func (w *window) ringIn(h hold, least float64) ringing {
	var best ringing
	if !h.steady {
		return best
	}
	const points = 120
	stride := (h.to - h.from + points - 1) / points
	var ts, ys []float64
	for i := h.from; i < h.to; i += stride {
		ts, ys = append(ts, w.t[i]-w.t[h.from]), append(ys, w.y[i]-h.level)
	}
	lasts := ts[len(ts)-1]
	_, plain := fitRing(ts, ys, 0, 0)
	if !(plain > 0) {
		return best
	}
	least = max(least, ringLeast)
	lowest := (1 - ringShare) * plain
	try := func(hz, damping float64) {
		if size, sse := fitRing(ts, ys, hz, damping); sse < lowest && size >= least {
			lowest, best = sse, ringing{hz, damping, size}
		}
	}
	dampings := []float64{0.01, 0.03, 0.06, 0.1, 0.15}
	for hz := max(ringLow, 1.2/lasts); hz <= ringHigh; hz *= 1.04 {
		for _, d := range dampings {
			try(hz, d)
		}
	}
	if best.hz > 0 {
		for f, hz := 0.97, best.hz; f <= 1.031; f += 0.005 {
			for _, d := range dampings {
				try(hz*f, d)
			}
		}
	}
	return best
}

// fitRing returns the size of the oscillation and the sum of squares it leaves;
// hz 0 fits the straight line alone.
func fitRing(ts, ys []float64, hz, damping float64) (size, sse float64) {
	n := normal{k: 4}
	if hz == 0 {
		n.k = 2
	}
	r := ringing{hz: hz, damping: damping}
	for i, t := range ts {
		c, s := r.at(t)
		n.add(&[terms]float64{1, t, c, s}, ys[i])
	}
	c, sse := n.solve()
	return math.Hypot(c[2], c[3]) * math.Exp(-math.Pi*damping), sse
}

// at returns the two swings at a time, of size 1 at time 0.
func (r ringing) at(t float64) (cosine, sine float64) {
	omega := 2 * math.Pi * r.hz
	decay := math.Exp(-r.damping * omega * t)
	s, c := math.Sincos(omega * t)
	return decay * c, decay * s
}

// unrung returns the window between two samples without the ringing, and the RMS
// error of its positions. Plates that swing freely obey
// y″ + 2ζω·y′ + ω²·(y − level) = 0, so that y + 2ζ/ω·y′ + 1/ω²·y″ is the path of
// what they swing on. The low pass that the rest is measured behind would take
// a part of the swing with it, so it lies higher here.
func (s *Segmenter) unrung(from, to int, ring ringing) (z window, sigma float64) {
	w, dt := &s.win, s.clock.dt
	lo, hi := w.before(from, unrungBy), w.after(to-1, unrungBy)+1
	cutoff := s.sum.Cutoff
	y := w.y[lo:hi]
	if !slices.Contains(w.hole[lo:hi], true) {
		cutoff = min(max(cutoff, unrungCut*ring.hz), highShare/dt)
		y = slices.Clone(w.raw[lo:hi])
		w.buf, _ = butterworth(1/dt, cutoff, twoPass).bothWays(y, y, w.buf)
	}
	v, a := make([]float64, len(y)), make([]float64, len(y))
	slopes(v, y, dt)
	slopes(a, v, dt)
	omega := 2 * math.Pi * ring.hz
	z = window{t: w.t[from:to], y: make([]float64, to-from), v: make([]float64, to-from)}
	for i := range z.y {
		k := from - lo + i
		z.y[i] = y[k] + 2*ring.damping/omega*v[k] + a[k]/omega/omega
	}
	slopes(z.v, z.y, dt)
	z.raw = z.y
	blur := s.blur()
	return z, math.Hypot(blur, blur*math.Pow(cutoff/ring.hz, 2))
}

// median sorts a copy.
func median(x []float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	n := len(x)
	return (x[(n-1)/2] + x[n/2]) / 2
}
