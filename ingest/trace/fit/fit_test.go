package fit

import (
	"math"
	"testing"
)

// smooth is the share of the way of a minimum-jerk movement at a share of its
// time (Flash & Hogan 1985).
func smooth(x float64) float64 {
	x = min(max(x, 0), 1)
	return x * x * x * (10 + x*(-15+6*x))
}

func halfSine(x float64) float64 { return (1 - math.Cos(math.Pi*min(max(x, 0), 1))) / 2 }

// TestBetween: movements that begin at a known moment, from a rest, right after
// another movement, and after a short pause. A second of 0.5 m, its first tenth.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		name         string
		course       func(float64) float64
		before, wait float64 // s: how long the movement before takes; the pause behind it
		near         float64 // s
	}{
		{"minimum jerk from rest", smooth, 0, 0, 0.012},
		{"half sine from rest", halfSine, 0, 0, 0.006},
		{"minimum jerk, turned", smooth, 1, 0, 0.006},
		{"half sine, turned", halfSine, 1.3, 0, 0.006},
		{"half sine, after 0.15 s", halfSine, 1, 0.15, 0.015},
	} {
		const begins = 0.4
		var ts, ys []float64
		for at := 0.0; ; at += 0.01 {
			y := 0.5 * c.course(at-begins)
			if c.before > 0 {
				y += 0.5 * c.course((begins-c.wait-at)/c.before)
			}
			if at > begins && y > 0.05 {
				break
			}
			if y <= 0.05 {
				ts, ys = append(ts, at), append(ys, y)
			}
		}
		e := Edge{Whole: 0.95, Other: 1.1, Travel: 0.5, Back: 0.5, Sigma: 0.0003, Least: 0.00003, Way: -1}
		got, level := e.Between(ts, ys, 0.1, 0.55, c.before == 0)
		if math.Abs(got-begins) > c.near || math.Abs(level) > 0.0005 {
			t.Errorf("%s: begins at %.4f s, want %.4f; level %.5f m", c.name, got, begins, level)
		}
	}
}

// TestSwing: a swing of known frequency, damping and size on a slow drift.
func TestSwing(t *testing.T) {
	for _, hz := range []float64{2.5, 4, 7.5, 11} {
		for _, damping := range []float64{0.01, 0.05} {
			var ts, ys []float64
			for at := 0.0; at < 1.2; at += 0.01 {
				w := 2 * math.Pi * hz * at
				ts, ys = append(ts, at), append(ys, 0.002*at+0.006*math.Exp(-damping*w)*math.Sin(w+0.4))
			}
			s := SwingIn(ts, ys, 0.001)
			if want := 0.006 * math.Exp(-math.Pi*damping); math.Abs(s.Hz/hz-1) > 0.02 || math.Abs(s.Size/want-1) > 0.15 {
				t.Errorf("%g Hz, damping %g: found %.2f Hz, %.4f m, want %.4f", hz, damping, s.Hz, s.Size, want)
			}
		}
	}
	var ts, ys []float64
	for at := 0.0; at < 1.2; at += 0.01 {
		ts, ys = append(ts, at), append(ys, 0.004*at*at)
	}
	if s := SwingIn(ts, ys, 0.001); s.Hz != 0 {
		t.Errorf("a slow rise swings at %.2f Hz", s.Hz)
	}
}

// TestSolve: three points on a parabola give it back; a term that another one
// already makes counts as 0.
func TestSolve(t *testing.T) {
	n := normal{k: 3}
	for _, x := range []float64{-1, 0, 2, 3} {
		n.add(&[terms]float64{1, x, x * x}, 2-x+3*x*x)
	}
	if c, sse := n.solve(); math.Abs(c[0]-2) > 1e-9 || math.Abs(c[1]+1) > 1e-9 || math.Abs(c[2]-3) > 1e-9 || sse > 1e-9 {
		t.Errorf("coefficients %v, left %g", c, sse)
	}
	n = normal{k: 2}
	for _, x := range []float64{1, 2, 3} {
		n.add(&[terms]float64{x, 2 * x}, x)
	}
	if c, _ := n.solve(); math.Abs(c[0]-1) > 1e-9 || c[1] != 0 {
		t.Errorf("coefficients %v, want 1, 0", c)
	}
}
