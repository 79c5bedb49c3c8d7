package ready

import (
	"errors"
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

// TestWeir: Weir JP (2005) J Strength Cond Res 19:231–240, set A: SEM 7.6
// (exact 7.556926813, which profile/mixed gets from the data), minimal
// difference 20.9 (20.94673244); SWC 0.2 × SD of trial 1 = 6.554387843.
func TestWeir(t *testing.T) {
	near(t, "minimal difference", MinimalDetectableChange(7.556926813), 20.94673244, 1e-7)
	near(t, "smallest worthwhile change", SmallestWorthwhile(5*6.554387843), 6.554387843, 1e-9)
}

func TestUsual(t *testing.T) {
	days := []Day{{WeeksAgo: -4, Kg: 100, Speed: 0.50}, {WeeksAgo: -3, Kg: 100, Speed: 0.53}, {WeeksAgo: -2, Kg: 100, Speed: 0.49}, {WeeksAgo: -1, Kg: 100, Speed: 0.52}}
	u, err := New(days, 100, -0.008, Unit{})
	if err != nil {
		t.Fatal(err)
	}
	v, lo, hi := u.Range(0.95)
	if !(lo < 0.45 && v > 0.49 && v < 0.53 && hi > 0.57) {
		t.Errorf("usual %v (%v to %v)", v, lo, hi)
	}
	if p := u.AsSlow(0.30); p > 0.01 {
		t.Errorf("0.30 m/s: %v of usual days are as slow", p)
	}
	near(t, "as slow as the middle", u.AsSlow(v), 0.5, 0.02)
	near(t, "as slow as the lower end", u.AsSlow(lo), 0.025, 1e-6)
	// Ten kg more: ten times the fall per kg less speed.
	w, err := New(days, 110, -0.008, Unit{})
	if err != nil {
		t.Fatal(err)
	}
	x, _, _ := w.Range(0.95)
	near(t, "usual at 110 kg", x, v-0.08, 0.002)
	// Another unit today, whose correction may be off by 0.05: wider by that.
	other, err := New(days, 100, -0.008, Unit{"red", 0.05})
	if err != nil {
		t.Fatal(err)
	}
	if y, a, b := other.Range(0.95); math.Abs(y-v) > 1e-3 || b-a < math.Hypot(hi-lo, 1.9*0.1) {
		t.Errorf("by another unit %v (%v to %v), by the same %v (%v to %v)", y, a, b, v, lo, hi)
	}
	// Without knowing the fall per kg other loads say nothing.
	if _, err := New(days, 110, math.NaN(), Unit{}); !errors.Is(err, ErrTooFew) {
		t.Errorf("other loads, unknown fall: error %v", err)
	}
	if _, err := New(days[:3], 100, -0.008, Unit{}); !errors.Is(err, ErrTooFew) {
		t.Errorf("three days: error %v", err)
	}
}
