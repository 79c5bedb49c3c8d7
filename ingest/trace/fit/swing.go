package fit

import "math"

// Swing is a damped oscillation.
type Swing struct {
	Hz, Damping float64 // frequency; share of critical damping
	Size        float64 // m, half a swing after its start
}

const (
	slowest, fastest = 2.2, 12.0 // Hz: plates on any barbell swing within these; people sway more slowly
	leastSwing       = 0.001     // m: a smaller one is left alone
	explained        = 0.6       // of the variance: what it has to explain
)

// SwingIn fits level + slope·t + e^(−2πζft)·(A·cos 2πft + B·sin 2πft) by least
// squares over a grid of frequency and damping. No swing is the zero value: one
// smaller than least, or too little explained. There have to be times.
func SwingIn(ts, ys []float64, least float64) Swing {
	var best Swing
	lasts := ts[len(ts)-1]
	_, plain := fitSwing(ts, ys, 0, 0)
	if !(plain > 0) {
		return best
	}
	least = max(least, leastSwing)
	lowest := (1 - explained) * plain
	try := func(hz, damping float64) {
		if size, sse := fitSwing(ts, ys, hz, damping); sse < lowest && size >= least {
			lowest, best = sse, Swing{hz, damping, size}
		}
	}
	dampings := []float64{0.01, 0.03, 0.06, 0.1, 0.15}
	for hz := max(slowest, 1.2/lasts); hz <= fastest; hz *= 1.04 {
		for _, d := range dampings {
			try(hz, d)
		}
	}
	if best.Hz > 0 {
		for f, hz := 0.97, best.Hz; f <= 1.031; f += 0.005 {
			for _, d := range dampings {
				try(hz*f, d)
			}
		}
	}
	return best
}

// fitSwing returns the size of the oscillation and the sum of squares it leaves;
// hz 0 fits the straight line alone.
func fitSwing(ts, ys []float64, hz, damping float64) (size, sse float64) {
	n := normal{k: 4}
	if hz == 0 {
		n.k = 2
	}
	s := Swing{Hz: hz, Damping: damping}
	for i, t := range ts {
		c, s := s.At(t)
		n.add(&[terms]float64{1, t, c, s}, ys[i])
	}
	c, sse := n.solve()
	return math.Hypot(c[2], c[3]) * math.Exp(-math.Pi*damping), sse
}

// At returns the two swings at a time, of size 1 at time 0.
func (s Swing) At(t float64) (cosine, sine float64) {
	omega := 2 * math.Pi * s.Hz
	decay := math.Exp(-s.Damping * omega * t)
	sin, cos := math.Sincos(omega * t)
	return decay * cos, decay * sin
}
