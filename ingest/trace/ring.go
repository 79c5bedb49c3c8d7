package trace

import (
	"math"
	"slices"

	"repsift/ingest/trace/fit"
	"repsift/ingest/trace/lowpass"
)

const (
	unrungBy  = 0.3 // s around: lets the filter settle
	unrungCut = 2.0 // times the frequency of the ringing, which the low pass has to let through
)

// ringIn looks for ringing in a hold; none is the zero value, also where the hold is
// too short to tell.
func (w *window) ringIn(h hold, least float64) fit.Swing {
	if !h.steady {
		return fit.Swing{}
	}
	const points = 120
	stride := (h.to - h.from + points - 1) / points
	var ts, ys []float64
	for i := h.from; i < h.to; i += stride {
		ts, ys = append(ts, w.t[i]-w.t[h.from]), append(ys, w.y[i]-h.level)
	}
	return fit.SwingIn(ts, ys, least)
}

// unrung returns the window between two samples without the ringing, and the RMS
// error of its positions. Plates that swing freely obey
// y″ + 2ζω·y′ + ω²·(y − level) = 0, so that y + 2ζ/ω·y′ + 1/ω²·y″ is the path of
// what they swing on. The low pass that the rest is measured behind would take
// a part of the swing with it, so it lies higher here.
func (s *Segmenter) unrung(from, to int, ring fit.Swing) (z window, sigma float64) {
	w, dt := &s.win, s.clock.dt
	lo, hi := w.before(from, unrungBy), w.after(to-1, unrungBy)+1
	cutoff := s.sum.Cutoff
	y := w.y[lo:hi]
	if !slices.Contains(w.hole[lo:hi], true) {
		cutoff = min(max(cutoff, unrungCut*ring.Hz), lowpass.HighShare/dt)
		y = slices.Clone(w.raw[lo:hi])
		w.buf, _ = lowpass.Butterworth(1/dt, cutoff, lowpass.TwoPass).BothWays(y, y, w.buf)
	}
	v, a := make([]float64, len(y)), make([]float64, len(y))
	lowpass.Slopes(v, y, dt)
	lowpass.Slopes(a, v, dt)
	omega := 2 * math.Pi * ring.Hz
	z = window{t: w.t[from:to], y: make([]float64, to-from), v: make([]float64, to-from)}
	for i := range z.y {
		k := from - lo + i
		z.y[i] = y[k] + 2*ring.Damping/omega*v[k] + a[k]/omega/omega
	}
	lowpass.Slopes(z.v, z.y, dt)
	z.raw = z.y
	blur := s.blur()
	return z, math.Hypot(blur, blur*math.Pow(cutoff/ring.Hz, 2))
}

// median sorts a copy.
func median(x []float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	n := len(x)
	return (x[(n-1)/2] + x[n/2]) / 2
}
