package robust_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"repsift/clean/robust"
)

// TestSen1968: Sen PK (1968) J Am Stat Assoc 63:1379–1389: slope 4, interval
// 26/7 to 35/8, which are the slopes at ranks 4 and 18 of 21: the level at
// which z·√VarS is 13, the largest S below the test's critical value.
func TestSen1968(t *testing.T) {
	x := []float64{1, 2, 3, 4, 10, 12, 18}
	y := []float64{9, 15, 19, 20, 45, 55, 78}
	level := 2*distuv.UnitNormal.CDF(13/math.Sqrt(133.0/3)) - 1
	tr, err := robust.TheilSen(x, y, level)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", tr.Slope, 4, 0)
	near(t, "low", tr.Lo, 26.0/7, 1e-9)
	near(t, "high", tr.Hi, 35.0/8, 1e-9)
	near(t, "intercept", tr.Intercept, 4, 0)
	near(t, "S", tr.S, 21, 0)
	near(t, "Var S", tr.VarS, 44.3333, 1e-5)
}

// TestSulfate: USEPA (2009) Unified Guidance, EPA 530/R-09-007, Example 17-6;
// interval after Gilbert (1987), pp. 217–219, as the R package documentation
// that reproduces it prints.
func TestSulfate(t *testing.T) {
	tr, err := robust.TheilSen(sulfateX, sulfateY, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "S", tr.S, 194, 0)
	near(t, "Var S", tr.VarS, 1428, 1e-12)
	near(t, "Z", tr.Z, 5.107322, 1e-7)
	near(t, "p", tr.P/3.267574e-07, 1, 1e-6)
	near(t, "slope", tr.Slope, 26.6666667, 1e-8)
	near(t, "intercept", tr.Intercept, -1909.3333333, 1e-8)
	near(t, "low", tr.Lo, 20.00000, 1e-6)
	near(t, "high", tr.Hi, 35.71182, 1e-6)
}

// TestSodium: the same guidance, Example 17-7.
func TestSodium(t *testing.T) {
	tr, err := robust.TheilSen(sodiumX, sodiumY, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", tr.Slope, 1.3333, 1e-4)
	near(t, "intercept", tr.Intercept, -65.9667, 1e-4)
	near(t, "S", tr.S, 25, 0)
	near(t, "Z", tr.Z, 2.146625, 1e-6)
	near(t, "p", tr.P, 0.031823, 1e-5)
	near(t, "low", tr.Lo, 0.399208, 1e-5)
	near(t, "high", tr.Hi, 2.333333, 1e-6)
}

// TestFourteen: J. Little, "A Mann-Kendall example (by hand)", course text,
// College of the Holy Cross; slope and interval computed with R.
func TestFourteen(t *testing.T) {
	x := make([]float64, len(fourteen))
	for i := range x {
		x[i] = float64(i + 1)
	}
	tr, err := robust.TheilSen(x, fourteen, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "S", tr.S, 54, 0)
	near(t, "Var S", tr.VarS, 332.6667, 1e-6)
	near(t, "Z", tr.Z, 2.9058, 1e-4)
	near(t, "one-sided p", tr.P/2, 0.0018, 5e-5)
	near(t, "slope", tr.Slope, 0.566667, 1e-6)
	near(t, "low", tr.Lo, 0.323130, 1e-6)
	near(t, "high", tr.Hi, 0.869784, 1e-6)
}

// TestTrendOrder: a trend does not depend on the order of its pairs.
func TestTrendOrder(t *testing.T) {
	want, err := robust.TheilSen(sulfateX, sulfateY, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	n := len(sulfateX)
	x, y := make([]float64, n), make([]float64, n)
	for i := range n {
		x[i], y[i] = sulfateX[(i*7+3)%n], sulfateY[(i*7+3)%n]
	}
	if got, err := robust.TheilSen(x, y, 0.9); err != nil || got != want {
		t.Errorf("in another order %+v, %v; want %+v", got, err, want)
	}
}

// TestTrendAgainstSorting holds the slope and its interval against those read off
// the sorted slopes, ties included.
func TestTrendAgainstSorting(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := 6; n < 60; n++ {
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			x[i], y[i] = float64(r.IntN(2*n)), float64(r.IntN(1+n/2))
		}
		tr, err := robust.TheilSen(x, y, 0.95)
		if err != nil {
			continue // a few of six values are all alike
		}
		var slopes []float64
		for i := range n {
			for j := range i {
				if x[i] != x[j] {
					slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
				}
			}
		}
		slices.Sort(slopes)
		at := func(rank float64) float64 {
			i := min(int(rank), len(slopes)-1)
			return slopes[i-1] + (rank-float64(i))*(slopes[i]-slopes[i-1])
		}
		half := distuv.UnitNormal.Quantile(0.975) * math.Sqrt(tr.VarS) / 2
		m, _ := robust.Median(slopes)
		near(t, "slope", tr.Slope, m, 0)
		near(t, "low", tr.Lo, at(float64(len(slopes))/2-half), 1e-12)
		near(t, "high", tr.Hi, at(float64(len(slopes))/2+half+1), 1e-12)
	}
}

func TestTrendTooFew(t *testing.T) {
	for _, x := range [][]float64{nil, {1}, {1, 2, 3, 4, 5}, {2, 2, 2, 2, 2, 2, 2, 2}} {
		if tr, err := robust.TheilSen(x, make([]float64, len(x)), 0.95); !errors.Is(err, robust.ErrTooFew) {
			t.Errorf("TheilSen(%v) = %+v, %v", x, tr, err)
		}
	}
	if _, err := robust.TheilSen([]float64{1, 2, 3, 4, 5, 6}, []float64{3, 1, 2, 5, 4, 6}, 0.95); err != nil {
		t.Error(err)
	}
}
