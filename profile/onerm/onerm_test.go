package onerm

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestHandbook: rows 1 to 10 of the handbook table (Haff & Triplett 2016), and
// what it gives with reps in reserve (Zourdos 2016): a single at RPE 9 is 95 %
// of the 1RM.
func TestHandbook(t *testing.T) {
	for _, c := range []struct {
		reps int
		rpe  float64
		pct  float64
	}{
		{1, 10, 100}, {2, 10, 95}, {3, 10, 93}, {4, 10, 90}, {5, 10, 87}, {6, 10, 85}, {7, 10, 83}, {8, 10, 80}, {9, 10, 77}, {10, 10, 75},
		{1, 9, 95}, {1, 8, 93}, {1, 7, 90}, {3, 9, 90}, {3, 8, 87}, {5, 9, 85}, {5, 8, 83}, {5, 7, 80}, {8, 8, 75},
		{1, 9.5, 97.5}, {1, 8.5, 94},
	} {
		kg, _, ok := FromSet(c.pct, c.reps, c.rpe)
		if !ok || math.Abs(kg-100) > 1e-12 {
			t.Errorf("%g kg × %d at RPE %g: 1RM %v, %v, want 100", c.pct, c.reps, c.rpe, kg, ok)
		}
	}
	for _, c := range []struct {
		reps int
		rpe  float64
	}{{0, 9}, {9, 8}, {1, 6.5}, {11, 10}, {1, 10.5}, {1, math.NaN()}} {
		if kg, _, ok := FromSet(100, c.reps, c.rpe); ok {
			t.Errorf("%d reps at RPE %g give %v", c.reps, c.rpe, kg)
		}
	}
	// 100 kg × 5 to failure: 100/0.87.
	if kg, _, _ := FromSet(100, 5, 10); math.Abs(kg-114.942528735632) > 1e-9 {
		t.Errorf("100 kg × 5: %v", kg)
	}
}

func TestCombine(t *testing.T) {
	c, err := Combine([]Claim{{Single, 0, 200, 0.03}})
	if err != nil || math.Abs(c.Kg-200) > 1e-9 || math.Abs(c.Weight[Single]-1) > 1e-12 {
		t.Fatalf("one claim: %+v, %v", c, err)
	}
	_, lo1, hi1 := c.Interval(0.95, 0, 0)
	// A fresh maximum outweighs a single; one of a year ago does not.
	fresh, _ := Combine([]Claim{{Single, 0, 200, 0.03}, {Maximum, 0.5, 210, Declared}})
	old, _ := Combine([]Claim{{Single, 0, 200, 0.03}, {Maximum, 52, 210, Declared}})
	if !(fresh.Weight[Maximum] > 0.8 && old.Weight[Maximum] < 0.3) {
		t.Errorf("weight of a maximum: fresh %v, old %v", fresh.Weight[Maximum], old.Weight[Maximum])
	}
	// Many singles narrow the interval, but not below what they share.
	var many []Claim
	for range 40 {
		many = append(many, Claim{Single, 0, 200, 0.03})
	}
	m, _ := Combine(many)
	_, lo, hi := m.Interval(0.95, 0, 0)
	if !(hi-lo < hi1-lo1) || m.sd*math.Sqrt(m.df/priorDF) < Shared[Single] {
		t.Errorf("40 singles: %v to %v, sd %v", lo, hi, m.sd)
	}
	// Order does not matter.
	r := rand.New(rand.NewPCG(3, 4))
	claims := []Claim{{Single, 3, 198, 0.03}, {RepSet, 2, 205, 0.03}, {Line, 0, 210, 0.05}, {Single, 1, 202, 0.028}}
	a, _ := Combine(claims)
	r.Shuffle(len(claims), func(i, j int) { claims[i], claims[j] = claims[j], claims[i] })
	b, _ := Combine(claims)
	if math.Abs(a.Kg-b.Kg) > 1e-9 {
		t.Errorf("order matters: %v, %v", a.Kg, b.Kg)
	}
	if _, err := Combine(nil); err == nil {
		t.Error("nothing combines")
	}
}

// TestLifted: a maximum of a meet is a lower bound; a load lifted in training
// pulls up what claims have too low, but for a day's form; a light one changes
// nothing.
func TestLifted(t *testing.T) {
	c, _ := Combine([]Claim{{Single, 0, 200, 0.03}})
	v0, lo0, hi0 := c.Interval(0.95, 0, 0)
	v, lo, hi := c.Interval(0.95, 205, 0)
	if !(lo >= 205 && v > lo && hi > v) {
		t.Errorf("205 at a meet: %v (%v to %v)", v, lo, hi)
	}
	v, lo, hi = c.Interval(0.95, 0, 205)
	if !(v > v0 && lo > lo0 && lo < 205 && hi >= hi0) {
		t.Errorf("205 in training: %v (%v to %v), without %v (%v to %v)", v, lo, hi, v0, lo0, hi0)
	}
	v, lo, hi = c.Interval(0.95, 0, 100)
	if math.Abs(v/v0-1) > 1e-4 || math.Abs(lo/lo0-1) > 1e-3 || math.Abs(hi/hi0-1) > 1e-3 {
		t.Errorf("a light load changes %v (%v to %v) to %v (%v to %v)", v0, lo0, hi0, v, lo, hi)
	}
	for _, far := range []float64{1e-6, 400, 1e6} {
		for _, declared := range []float64{0, far} {
			if v, lo, hi := c.Interval(0.95, declared, far); !(lo <= v && v <= hi) || math.IsInf(hi, 0) {
				t.Errorf("%v lifted, %v declared: %v (%v to %v)", far, declared, v, lo, hi)
			}
		}
	}
}
