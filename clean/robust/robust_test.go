package robust_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"repsift/clean/robust"
)

// near fails the test unless got is want within a relative (below 1: absolute)
// tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.15g, want %.15g", what, got, want)
	}
}

// TestMedian covers the case the numerical library answers with 2.
func TestMedian(t *testing.T) {
	for _, c := range []struct {
		x    []float64
		want float64
	}{{[]float64{7}, 7}, {[]float64{4, 1, 3, 2}, 2.5}, {[]float64{3, 1, 2}, 2}, {[]float64{1, 1, 1, 9}, 1}} {
		before := slices.Clone(c.x)
		if got, ok := robust.Median(c.x); !ok || got != c.want {
			t.Errorf("Median(%v) = %v, %v, want %v", c.x, got, ok, c.want)
		}
		if !slices.Equal(c.x, before) {
			t.Errorf("Median reordered its argument to %v", c.x)
		}
	}
	if _, ok := robust.Median(nil); ok {
		t.Error("Median of nothing is ok")
	}
}

// TestMedianAgainstSorting compares selection with sorting, ties included.
func TestMedianAgainstSorting(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 400; n++ {
		x := make([]float64, n)
		for i := range x {
			x[i] = float64(r.IntN(1 + n/2))
		}
		s := slices.Sorted(slices.Values(x))
		want := (s[(n-1)/2] + s[n/2]) / 2
		if got, _ := robust.MedianInPlace(x); got != want {
			t.Fatalf("n = %d: median %v, sorting gives %v", n, got, want)
		}
		slices.Sort(x)
		if !slices.Equal(x, s) {
			t.Fatalf("n = %d: MedianInPlace lost a value", n)
		}
	}
}

// TestMedianAbsDev: Iglewicz & Hoaglin (1993), How to Detect and Handle
// Outliers: median 2.45, MAD 0.15.
func TestMedianAbsDev(t *testing.T) {
	x := []float64{2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3}
	m, _ := robust.Median(x)
	near(t, "median", m, 2.45, 1e-15)
	mad, _ := robust.MedianAbsDev(x, 1)
	near(t, "MAD", mad, 0.15, 1e-14)
	scaled, _ := robust.MedianAbsDev(x, robust.NormalScale)
	near(t, "scaled MAD", scaled, 0.22239, 1e-5)
	near(t, "modified z of the last", 0.6745*(8.3-m)/mad, 26.3055, 1e-12)
	if mad, ok := robust.MedianAbsDev([]float64{1, 1, 1, 5}, 1); !ok || mad != 0 {
		t.Errorf("MAD of mostly equal values = %v, %v", mad, ok)
	}
}

// TestQuantile: definition 7 of Hyndman & Fan (1996); on 1, 2, 3, 4 the
// quartiles are 1.75 and 3.25.
func TestQuantile(t *testing.T) {
	x := []float64{4, 2, 3, 1}
	for p, want := range map[float64]float64{0: 1, 0.25: 1.75, 0.5: 2.5, 0.75: 3.25, 1: 4} {
		if got, ok := robust.Quantile(x, p); !ok || got != want {
			t.Errorf("Quantile(%v) = %v, %v, want %v", p, got, ok, want)
		}
	}
	if _, ok := robust.Quantile(x, 1.5); ok {
		t.Error("quantile 1.5 is ok")
	}
}

// TestMeanSD: NIST StRD, univariate: NumAcc1, NumAcc3, NumAcc4, traps of
// cancellation; tolerances are what doubles can hold.
func TestMeanSD(t *testing.T) {
	comb := func(mid, lo, hi float64) []float64 {
		x := []float64{mid}
		for range 500 {
			x = append(x, lo, hi)
		}
		return x
	}
	for _, c := range []struct {
		name          string
		x             []float64
		mean, sd, tol float64
	}{
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, 1e-15},
		{"NumAcc3", comb(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-9},
		{"NumAcc4", comb(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7},
	} {
		mean, sd, ok := robust.MeanSD(c.x)
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" mean", mean, c.mean, 1e-14)
		near(t, c.name+" sd", sd/c.sd, 1, c.tol)
	}
	if _, _, ok := robust.MeanSD([]float64{1}); ok {
		t.Error("SD of one value is ok")
	}
}

// TestMichelso: NIST StRD, univariate, "Michelso" (Michelson 1879, speed of
// light in Mm/s); certified values.
func TestMichelso(t *testing.T) {
	mean, sd, ok := robust.MeanSD(michelso)
	if !ok || len(michelso) != 100 {
		t.Fatalf("%d values", len(michelso))
	}
	near(t, "mean", mean, 299.852400000000, 1e-12)
	near(t, "sd", sd, 0.0790105478190518, 1e-13)
}

// TestNorris: NIST StRD, linear regression, "Norris"; certified values.
func TestNorris(t *testing.T) {
	l, err := robust.LeastSquares(norrisX, norrisY, nil)
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-11
	near(t, "intercept", l.Intercept, -0.262323073774029, tol)
	near(t, "slope", l.Slope, 1.00211681802045, tol)
	near(t, "sd of intercept", l.InterceptSE, 0.232818234301152, tol)
	near(t, "sd of slope", l.SlopeSE, 0.000429796848199937, 1e-14)
	near(t, "residual sd", l.ResidualSD, 0.884796396144373, tol)
	near(t, "R²", l.R2, 0.999993745883712, tol)
}

// TestToluca: Kutner, Nachtsheim, Neter, Li, Applied Linear Statistical Models
// (5th ed. 2005), ch. 1–2.
func TestToluca(t *testing.T) {
	l, err := robust.LeastSquares(tolucaX, tolucaY, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "intercept", l.Intercept, 62.3658585859, 1e-11)
	near(t, "slope", l.Slope, 3.57020202020, 1e-11)
	near(t, "se intercept", l.InterceptSE, 26.1774338899, 1e-11)
	near(t, "se slope", l.SlopeSE, 0.346972156849, 1e-11)
	near(t, "s", l.ResidualSD, 48.8233101811, 1e-11)
	v, lo, hi := l.Confidence(65, 0.90)
	near(t, "fit at 65", v, 294.428989899, 1e-11)
	near(t, "mean at 65 low", lo, 277.431534197, 1e-9)
	near(t, "mean at 65 high", hi, 311.426445601, 1e-9)
	_, lo, hi = l.Predict(65, 0.90)
	near(t, "prediction at 65 low", lo, 209.043195124, 1e-9)
	near(t, "prediction at 65 high", hi, 379.814784674, 1e-9)
	_, lo, hi = l.Predict(100, 0.90)
	near(t, "prediction at 100 low", lo, 332.207176507, 1e-9)
	near(t, "prediction at 100 high", hi, 506.564944705, 1e-9)
}

// TestWeightsRepeatPairs: a weight of two fits the line of the pair doubled.
func TestWeightsRepeatPairs(t *testing.T) {
	x, y := []float64{1, 2, 3, 5}, []float64{2, 1, 4, 3}
	w := []float64{1, 2, 1, 3}
	var xx, yy []float64
	for i := range x {
		for range int(w[i]) {
			xx, yy = append(xx, x[i]), append(yy, y[i])
		}
	}
	a, err := robust.LeastSquares(x, y, w)
	if err != nil {
		t.Fatal(err)
	}
	b, err := robust.LeastSquares(xx, yy, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", a.Slope, b.Slope, 1e-14)
	near(t, "intercept", a.Intercept, b.Intercept, 1e-14)
	near(t, "Σw(x−mean)²", a.SumXX, b.SumXX, 1e-14)
}

func TestLineTooFew(t *testing.T) {
	for _, x := range [][]float64{nil, {1, 2}, {3, 3, 3}} {
		if _, err := robust.LeastSquares(x, make([]float64, len(x)), nil); !errors.Is(err, robust.ErrTooFew) {
			t.Errorf("LeastSquares(%v): error %v", x, err)
		}
	}
	if _, err := robust.LeastSquares([]float64{1, 2, 3}, []float64{1}, nil); err == nil || errors.Is(err, robust.ErrTooFew) {
		t.Errorf("unequal lengths: error %v", err)
	}
}

func BenchmarkMedianInPlace(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	x, work := make([]float64, 1e5), make([]float64, 1e5)
	for i := range x {
		x[i] = r.NormFloat64()
	}
	for b.Loop() {
		copy(work, x)
		robust.MedianInPlace(work)
	}
}

// TestRipleyThompson: lines as printed in the paper, plain and weighted, of
// each method on the other.
func TestRipleyThompson(t *testing.T) {
	weights := func(se []float64) []float64 {
		w := make([]float64, len(se))
		for i, s := range se {
			w[i] = 1 / (s * s)
		}
		return w
	}
	for _, fit := range []struct {
		name             string
		x, y, w          []float64
		intercept, slope float64
	}{
		{"y on x", arsenateX, arsenateY, nil, 0.544, 0.845},
		{"x on y", arsenateY, arsenateX, nil, -0.299, 1.089},
		{"y on x, weighted", arsenateX, arsenateY, weights(arsenateYSE), 0.005, 0.890},
		{"x on y, weighted", arsenateY, arsenateX, weights(arsenateXSE), -0.167, 0.631},
	} {
		l, err := robust.LeastSquares(fit.x, fit.y, fit.w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fit.name+": intercept", l.Intercept, fit.intercept, 0.0006)
		near(t, fit.name+": slope", l.Slope, fit.slope, 0.0006)
	}
}
