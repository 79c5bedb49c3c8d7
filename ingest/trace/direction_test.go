package trace

import (
	"testing"

	"repsift/ingest/rep"
)

// TestShortPress: presses of 15 cm below a rack that the bar is lifted out of by
// half as much. They are pressed upwards, whichever way positions count.
func TestShortPress(t *testing.T) {
	parts := []part{still(4), up(0.08, 0.7), still(0.7), down(0.01, 0.5), still(1.8)}
	for range 3 {
		parts = append(parts, down(0.15, 2), still(1.4), up(0.15, 0.4), still(1.2))
	}
	parts = append(parts, up(0.045, 0.5), down(0.115, 0.6), still(4))
	ts, xs := plain.sample(rng(), parts...)
	for _, declared := range []int{0, 1} {
		found, sum := segment(t, Options{Lift: rep.BenchPress, Up: declared}, ts, xs)
		if n := len(reps(found)); sum.Up != 1 || n != 3 {
			t.Errorf("direction declared as %d: read as %d, with %d reps", declared, sum.Up, n)
		}
	}
	found, sum := segment(t, Options{Lift: rep.BenchPress, Up: -1}, ts, scaled(xs, -1))
	if n := len(reps(found)); sum.Up != -1 || n != 3 {
		t.Errorf("downwards as declared: read as %d, with %d reps", sum.Up, n)
	}
}
