package extra_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/clean/extra"
)

// The movements of these tests are invented.

var nan = math.NaN()

func squat(interval float64) extra.Set {
	return extra.Set{Usual: 0.55, Limit: 0.23, Racked: true, Shape: nan, Interval: interval}
}

// moves returns movements of given speeds, four seconds apart where timed.
func moves(timed bool, speeds ...float64) []extra.Move {
	out := make([]extra.Move, len(speeds))
	for i, v := range speeds {
		out[i] = extra.Move{Speed: v, SpeedStep: 0.01, Peak: nan, Travel: nan, At: nan}
		if timed {
			out[i].At = 4 * float64(i)
		}
	}
	return out
}

// TestFalse: an unrack, a rebound and a re-rack are told by their speeds, a
// last grinder stays.
func TestFalse(t *testing.T) {
	for _, c := range []struct {
		name   string
		speeds []float64
		reps   int
		none   int // position of what is none of the reps
	}{
		{"unrack", []float64{0.20, 0.55, 0.53, 0.52}, 3, 0},
		{"rebound", []float64{0.55, 0.53, 0.90, 0.52}, 3, 2},
		{"re-rack after easy reps", []float64{0.60, 0.59, 0.58, 0.20}, 3, 3},
		{"unrack before a grinder", []float64{0.15, 0.52, 0.43, 0.34, 0.24}, 4, 0},
	} {
		got := extra.False(squat(nan), moves(false, c.speeds...), c.reps)
		for i, p := range got {
			if (p > 0.8) != (i == c.none) {
				t.Errorf("%s: chances %.3f", c.name, got)
				break
			}
		}
	}
}

// TestFalseLater: of two movements half a second apart the later is none, as a
// bar must be lowered before the next rep; and none of three that creep along is
// a rep where there are others.
func TestFalseLater(t *testing.T) {
	halves := moves(true, 0.56, 0.65, 0.46, 0.52)
	halves[2].At = halves[1].At + 0.5
	if p := extra.False(squat(4), halves, 3); p[2] < 0.8 || p[1] > 0.2 {
		t.Errorf("halves: %.3f", p)
	}
	// Without times: the first half is much faster, as the two together are not.
	if p := extra.False(squat(nan), moves(false, 0.55, 0.82, 0.40, 0.53, 0.52), 4); p[2] < 0.6 || p[1] > 0.3 {
		t.Errorf("halves without times: %.3f", p)
	}
	creeping := moves(false, 0.073, 0.042, 0.046, 0.37, 0.42, 0.40)
	if p := extra.False(squat(nan), creeping, 3); p[0] < 0.8 || p[1] < 0.8 || p[2] < 0.8 {
		t.Errorf("creeping: %.3f", p)
	}
}

// TestFalseAddsUp: the chances add up to as many movements as are too many,
// whatever the movements.
func TestFalseAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	maybe := func(x float64) float64 {
		if r.IntN(2) == 0 {
			return nan
		}
		return x
	}
	for range 500 {
		n := 2 + r.IntN(14)
		ms := make([]extra.Move, n)
		for i := range ms {
			ms[i] = extra.Move{Speed: 0.005 + 2*r.Float64(), SpeedStep: 0.01, Peak: maybe(3 * r.Float64()), Travel: maybe(2 * r.Float64()),
				At: maybe(60 * r.Float64())}
		}
		reps := 1 + r.IntN(n-1)
		sum := 0.0
		for _, p := range extra.False(extra.Set{Usual: maybe(0.5), Limit: 0.2, Racked: r.IntN(2) == 0, Shape: maybe(1.6), Interval: maybe(3)}, ms, reps) {
			if !(p >= -1e-9 && p <= 1+1e-9) {
				t.Fatalf("chance %v", p)
			}
			sum += p
		}
		if math.Abs(sum-float64(n-reps)) > 1e-6 {
			t.Fatalf("%d movements, %d reps: the chances add up to %v", n, reps, sum)
		}
	}
}

// TestDoubt: three of six like reps are none only as far as the count is beyond
// doubt; a short movement is none all the same.
func TestDoubt(t *testing.T) {
	set, ms := squat(4), moves(true, 0.55, 0.53, 0.52, 0.55, 0.54, 0.51)
	for i := range ms {
		ms[i].Travel = 1
	}
	set.Doubt = 0.01
	for i, p := range extra.False(set, ms, 3) {
		if p > 0.1 {
			t.Errorf("rep %d: %.3f", i, p)
		}
	}
	ms[0].Travel, ms[0].Speed = 0.2, 0.2
	if p := extra.False(set, ms, 5); p[0] < 0.95 {
		t.Errorf("the short one: %.3f", p)
	}
}

// TestAlone: where nobody counted, only what no rep does is told.
func TestAlone(t *testing.T) {
	for i, p := range extra.Alone(squat(4), moves(true, 0.55, 0.53, 0.54, 0.50, 0.41)) {
		if p > 0.3 {
			t.Errorf("rep %d of a plain set: %.3f", i, p)
		}
	}
	ms := moves(true, 0.55, 0.53, 0.15, 0.54, 0.50)
	ms[2].At, ms[3].At, ms[4].At = ms[1].At+1, ms[1].At+4, ms[1].At+8
	got := extra.Alone(squat(4), ms)
	for i, p := range got {
		if (p > 0.98) != (i == 2) {
			t.Errorf("a slow movement right behind a rep: %.3f", got)
			break
		}
	}
}
