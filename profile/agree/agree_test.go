package agree_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/profile/agree"
	"repsift/profile/number"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

// Peak expiratory flow, l/min, first readings of the large and the mini meter:
// Bland JM, Altman DG (1986) Lancet 327:307–310.
var (
	large = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	mini  = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
)

// TestBlandAltman: the paper's mean difference −2.1, SD 38.8, interval of the
// mean −22.0 to 17.8; exact values without rounding. Differences there are
// large − mini.
func TestBlandAltman(t *testing.T) {
	l, ok := agree.Limits(mini, large, 0.95)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "mean difference", l.Bias.Value, -2.11764705882, 1e-9)
	near(t, "SD", l.SD, 38.7651298736, 1e-9)
	near(t, "mean, low", l.Bias.Lo, -22.0488376966, 1e-8)
	near(t, "mean, high", l.Bias.Hi, 17.8135435790, 1e-8)
	near(t, "lower limit", l.Lower.Value, -78.0973016111, 1e-8)
	near(t, "upper limit", l.Upper.Value, 73.8620074934, 1e-8)
	// The paper's approximate intervals, −114.3 to −45.1 and 40.9 to 110.1
	// around limits of 2 SD, lie nearly symmetric; the true sampling
	// distribution reaches further out than in.
	out, in := l.Lower.Value-l.Lower.Lo, l.Lower.Hi-l.Lower.Value
	if !(out > 1.2*in && out > 34 && in < 35) {
		t.Errorf("lower limit %v: out %v, in %v", l.Lower, out, in)
	}
	near(t, "intervals mirror", l.Upper.Hi-l.Upper.Value, out, 1e-9)
	p, ok := agree.Proportional(mini, large, 0.95)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "slope of difference on mean", p.Value, 0.0286874451525, 1e-9)
	near(t, "its half width", (p.Hi-p.Lo)/2, 2.13144954556*0.0882064083, 1e-7) // t(15), 0.975
}

// TestLeastProducts: Sokal RR, Rohlf FJ, Biometry (3rd ed. 1995), box 14.12,
// as printed in the user's guide of Legendre's model II regression; Pearson
// (1901) Phil Mag 2:559–572 for a falling line, slope computed with R.
func TestLeastProducts(t *testing.T) {
	x := []float64{14, 17, 24, 25, 27, 33, 34, 37, 40, 41, 42}
	y := []float64{61, 37, 65, 69, 54, 93, 87, 89, 100, 90, 97}
	s, i, ok := agree.LeastProducts(x, y, 0.95)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "slope", s.Value, 2.119366, 1e-6)
	near(t, "slope low", s.Lo, 1.496721, 1e-6)
	near(t, "slope high", s.Hi, 3.001037, 1e-6)
	near(t, "intercept", i.Value, 12.193785, 1e-5)
	near(t, "intercept low", i.Lo, -14.576929, 1e-5)
	near(t, "intercept high", i.Hi, 31.099570, 1e-5)

	px := []float64{0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	py := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	s, i, ok = agree.LeastProducts(px, py, 0.95)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "Pearson slope", s.Value, -0.552576514442, 1e-11)
	near(t, "Pearson intercept", i.Value, 5.81084228517, 1e-10)
	if !(s.Lo < s.Value && s.Value < s.Hi && i.Lo < i.Value && i.Value < i.Hi) {
		t.Errorf("intervals %v, %v", s, i)
	}
}

// TestConcordance: Lin (1989) on the flow data, as R package epiR 2.0.57 gives.
func TestConcordance(t *testing.T) {
	c, ok := agree.Concordance(large, mini, 0.95)
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "concordance", c.Value, 0.942742431427, 1e-11)
	near(t, "low", c.Lo, 0.850491873169, 1e-9)
	near(t, "high", c.Hi, 0.978726279170, 1e-9)
}

// Two units that differ by the same at every speed have a line without scatter,
// not one whose limits are no numbers.
func TestNoScatter(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := 3; n < 60; n++ {
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = math.Round(1000*(0.2+r.Float64())) / 1000
			y[i] = x[i] + 0.03
		}
		slope, intercept, ok := agree.LeastProducts(x, y, 0.95)
		if !ok || math.Abs(slope.Value-1) > 1e-9 || !(slope.Hi-slope.Lo < 1e-6) || !(math.Abs(intercept.Value-0.03) < 1e-9) || !(intercept.Hi-intercept.Lo < 1e-6) {
			t.Fatalf("%d pairs: %+v, %+v, %v", n, slope, intercept, ok)
		}
	}
}

func TestTooFew(t *testing.T) {
	if _, ok := agree.Limits([]float64{1, 2}, []float64{1, 2}, 0.95); ok {
		t.Error("limits of two pairs")
	}
	if _, ok := agree.Limits([]float64{1, 2, 3}, []float64{1, 2}, 0.95); ok {
		t.Error("limits of unequal lengths")
	}
	if _, _, ok := agree.LeastProducts([]float64{1, 1, 1}, []float64{1, 2, 3}, 0.95); ok {
		t.Error("a line of equal x")
	}
	if _, ok := agree.Concordance([]float64{1, 1, 1, 1}, []float64{1, 2, 3, 4}, 0.95); ok {
		t.Error("concordance of equal x")
	}
	if _, ok := agree.Proportional([]float64{1, 1}, []float64{1, 1}, 0.95); ok {
		t.Error("proportional error of two pairs")
	}
}

// TestCorrection: what pairs of a known line give reads it back, however it
// tilts; few pairs are not enough for one.
func TestCorrection(t *testing.T) {
	for _, c := range []struct{ slope, shift float64 }{{1, 0.03}, {1.08, -0.02}, {0.94, 0}} {
		var ps []agree.PairedReps
		for i := range 20 {
			v := 0.2 + 0.035*float64(i)
			noise := 0.002 * math.Sin(float64(3*i)) // without a draw, and without a trend
			ps = append(ps, agree.PairedReps{Reference: number.Number(v), Other: number.Number(c.slope*v + c.shift + noise)})
		}
		g := agree.New("north", "red", ps)
		d := g.Correction()
		if _, ok := g.Enough(); !ok || d.Device != "red" || d.As != "north" || d.Sets != 20 {
			t.Errorf("%+v", d)
		}
		for _, v := range []float64{0.2, 0.5, 0.85} {
			near(t, "read back", d.Read(c.slope*v+c.shift), v, 2*d.Error)
		}
		if !(d.Error > 0.0001 && d.Error < 0.002 && d.Scatter > 0.001 && d.Scatter < 0.003) {
			t.Errorf("error %v, scatter %v", d.Error, d.Scatter)
		}
		few := agree.New("north", "red", ps[:9])
		if lack, ok := few.Enough(); ok || lack.Have != 9 || lack.Need != agree.NeedCorrection {
			t.Errorf("nine sets: %+v", lack)
		}
	}
}
