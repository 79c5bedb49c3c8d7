package card

import (
	"math"
	"testing"
)

// A p-value is never shown as 0, and one that is not known as none.
func TestChance(t *testing.T) {
	for p, want := range map[float64]string{0: "< 0.001", 0.0009: "< 0.001", 0.001: "0.001", 0.0324: "0.032", 1: "1.000"} {
		if got := chance(p); got != want {
			t.Errorf("%v: %q, want %q", p, got, want)
		}
	}
	if got := chance(math.NaN()); got != dash {
		t.Errorf("unknown: %q, want %q", got, dash)
	}
}
