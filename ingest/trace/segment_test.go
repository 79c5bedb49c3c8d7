package trace

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// plain is a sensor as units have it.
var plain = sensor{hz: 100, noise: 0.0002, step: 0.0005}

// squats returns a set of squats with standing in between.
func squats(reps int) []part {
	parts := []part{still(4), up(0.05, 0.7), still(2)}
	for range reps {
		parts = append(parts, down(0.6, 1.4), up(0.6, 1.2), still(1.5))
	}
	return append(parts, up(0.02, 0.4), down(0.07, 0.6), still(4))
}

func rng() *rand.Rand { return rand.New(rand.NewPCG(7, 7)) }

// kinds returns the kinds of movements, of 2 cm and more, in order.
func kinds(found []Found) string {
	var out []string
	for _, f := range found {
		if f.ROM >= 0.02 {
			out = append(out, f.Kind.String())
		}
	}
	return strings.Join(out, ", ")
}

// TestKinds holds what is found against paths whose movements are known.
func TestKinds(t *testing.T) {
	stall := func(x float64) float64 { // stops at 40 % of the way, and sinks by 2 % of it
		switch {
		case x < 0.35:
			return 0.4 * minimumJerk(x/0.35)
		case x < 0.6:
			return 0.4 - 0.02*minimumJerk((x-0.35)/0.25)
		}
		return 0.38 + 0.62*minimumJerk((x-0.6)/0.4)
	}
	for _, c := range []struct {
		name, lift, want string
		parts            []part
	}{
		{"a rep that stalls is one", rep.Squat, "rep",
			[]part{still(4), down(0.6, 1.4), {0.6, 3.5, stall}, still(4)}},
		{"pauses on the chest", rep.BenchPress, "rack, rep, rep",
			[]part{still(4), up(0.05, 0.6), still(2), down(0.3, 1), still(2.5), up(0.3, 1), still(1), down(0.3, 1), still(1.5), up(0.3, 1.2), still(4)}},
		{"touch and go", rep.BenchPress, "rep, rep, rep",
			[]part{still(4), down(0.3, 1), up(0.3, 0.8), down(0.3, 1), up(0.3, 0.8), down(0.3, 1), up(0.3, 0.9), still(4)}},
		{"pulls without a pause on the floor", rep.Deadlift, "rep, rep",
			[]part{still(4), up(0.5, 1.2), still(0.4), down(0.5, 0.9), up(0.5, 1.3), still(1), down(0.5, 1), still(4)}},
		{"a high arch", rep.BenchPress, "rep, rep",
			[]part{still(4), down(0.13, 0.8), up(0.13, 0.6), still(1), down(0.13, 0.8), up(0.13, 0.7), still(4)}},
		{"put back right after lockout", rep.BenchPress, "rep, rep, rack",
			[]part{still(4), down(0.16, 0.8), up(0.16, 0.6), still(1), down(0.16, 0.8), up(0.16, 0.7), still(1.2), up(0.035, 0.5), down(0.06, 0.5), still(4)}},
		{"a missed squat", rep.Squat, "rep, missed rep",
			[]part{still(4), down(0.6, 1.4), up(0.6, 1.6), still(2), down(0.6, 1.5), up(0.25, 1.8), down(0.3, 1), still(4)}},
		{"a missed single", rep.Squat, "missed rep",
			[]part{still(4), down(0.6, 1.4), up(0.3, 1.8), down(0.3, 1), still(4)}},
		{"a missed pull", rep.Deadlift, "rep, missed rep",
			[]part{still(4), up(0.5, 2), still(1), down(0.5, 1), still(3), up(0.2, 1.5), down(0.2, 0.8), still(4)}},
		{"a slow last rep is no miss", rep.Squat, "rep, rep",
			[]part{still(4), down(0.6, 1.4), up(0.6, 1.6), still(2), down(0.6, 1.5), up(0.57, 6.5), still(5)}},
		{"slack taken out with a pause", rep.Deadlift, "rep",
			[]part{still(4), up(0.015, 0.5), still(1), up(0.5, 1.5), still(1), down(0.515, 1), still(4)}},
		{"nothing but moving about", rep.Squat, "minor, minor",
			[]part{still(4), up(0.05, 0.7), still(2), down(0.03, 0.5), up(0.03, 0.5), still(4)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			ts, xs := plain.sample(rng(), c.parts...)
			found, _ := segment(t, Options{Lift: c.lift}, ts, xs)
			if got := kinds(found); got != c.want {
				t.Errorf("found %s; want %s", got, c.want)
			}
		})
	}
}

// TestMeasures checks what a rep carries on a minimum-jerk squat.
func TestMeasures(t *testing.T) {
	ts, xs := plain.sample(rng(), squats(1)...)
	found, _ := segment(t, Options{Lift: rep.Squat}, ts, xs)
	got := reps(found)
	if len(got) != 1 {
		t.Fatalf("%d reps", len(got))
	}
	f := got[0]
	for _, c := range []struct {
		name            string
		got, want, near float64
	}{
		{"At", f.At, 8.1, 0.03},
		{"Row", float64(f.Row), 811, 3},
		{"LastRow", float64(f.LastRow), 931, 6},
		{"Concentric", f.Concentric, 1.2, 0.06},
		{"ROM", f.ROM, 0.6, 0.002},
		{"TimeToPeak", f.TimeToPeak.V, 0.6, 0.03},
		{"Eccentric", f.Eccentric.V, 1.4, 0.05},
		{"MeanPropulsive", f.MeanPropulsive.V, f.MeanVelocity, 1e-9}, // never brakes faster than g
		{"PeakVelocity", f.PeakVelocity.V, 0.5 * 1.875, 0.015},
	} {
		if math.Abs(c.got-c.want) > c.near {
			t.Errorf("%s is %.4f, want %.4f", c.name, c.got, c.want)
		}
	}
	if f.StickingMin.OK {
		t.Errorf("a sticking point at %.3f m/s, and there is none", f.StickingMin.V)
	}
}

// TestPropulsive: a bar that is thrown and then brakes at 1.5 g. The mean up to
// the braking is known in closed form.
func TestPropulsive(t *testing.T) {
	const v, brake = 1.6, 1.5 * gravity
	rise, fall := 0.4, v*v/2/brake // constant acceleration up to v, then braked
	ta, tb := 2*rise/v, v/brake
	course := func(x float64) float64 {
		t := x * (ta + tb)
		if t < ta {
			return rise * t * t / ta / ta / (rise + fall)
		}
		t -= ta
		return (rise + v*t - brake*t*t/2) / (rise + fall)
	}
	ts, xs := sensor{hz: 500}.sample(rng(), still(3), part{rise + fall, ta + tb, course}, still(3))
	found, _ := segment(t, Options{CutoffHz: 20}, ts, xs)
	got := reps(found)
	if len(got) != 1 {
		t.Fatalf("%d reps", len(got))
	}
	if mp := got[0].MeanPropulsive.V; math.Abs(mp-rise/ta) > 0.05 || mp <= got[0].MeanVelocity {
		t.Errorf("mean propulsive velocity %.3f m/s, want %.3f; mean %.3f", mp, rise/ta, got[0].MeanVelocity)
	}
}

// TestSticking: the dip between two peaks of speed.
func TestSticking(t *testing.T) {
	course := func(x float64) float64 { return x - 0.8/(4*math.Pi)*math.Sin(4*math.Pi*x) }
	// Speed 1 − 0.8·cos(4πx) times the mean: 0.2 at the ends and in the middle.
	ts, xs := sensor{hz: 200}.sample(rng(), still(3), part{0.5, 2, course}, still(3))
	found, _ := segment(t, Options{}, ts, xs)
	got := reps(found)
	if len(got) != 1 || !got[0].StickingMin.OK || math.Abs(got[0].StickingMin.V-0.05) > 0.01 {
		t.Errorf("found %+v; want a sticking point at 0.05 m/s", got)
	}
}

// TestSets: several sets in one trace, by rests and by a clock that begins anew.
func TestSets(t *testing.T) {
	ts, xs := plain.sample(rng(), append(append(squats(3), still(60)), squats(2)...)...)
	found, sum := segment(t, Options{Lift: rep.Squat}, ts, xs)
	var sets []int
	for _, f := range reps(found) {
		sets = append(sets, f.Set)
	}
	if len(sets) != 5 || sets[2] != 1 || sets[3] != 2 {
		t.Errorf("reps of sets %v, want 3 of the first and 2 of the second", sets)
	}
	if sum.Restarts != 0 {
		t.Errorf("%d restarts", sum.Restarts)
	}
	one, xs1 := plain.sample(rng(), squats(2)...)
	found, sum = segment(t, Options{Lift: rep.Squat}, append(one, one...), append(xs1, xs1...))
	if got := reps(found); len(got) != 4 || got[1].Set != 1 || got[2].Set != 2 || sum.Restarts != 1 {
		t.Errorf("a clock that begins anew: %d reps, %d restarts", len(got), sum.Restarts)
	}
}

// TestLongTrace: an hour's worth of sets in windows gives the reps that each set
// gives alone, and keeps no more than a window of samples.
func TestLongTrace(t *testing.T) {
	r := rng()
	var all []part
	for i := range 12 {
		all = append(append(all, squats(1+i%5)...), still(100))
	}
	ts, xs := plain.sample(r, all...)
	var found []Found
	s := New(Options{Lift: rep.Squat}, func(f Found) { found = append(found, f) })
	most := 0
	for i := range ts {
		if err := s.Add(int32(i+1), rep.Some(ts[i]), rep.Some(xs[i]), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
		most = max(most, len(s.win.t))
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	count := make(map[int]int)
	for _, f := range reps(found) {
		count[f.Set]++
		if math.Abs(f.MeanVelocity-0.5) > 0.03 {
			t.Errorf("set %d: %.3f m/s, want 0.5", f.Set, f.MeanVelocity)
		}
	}
	for i := range 12 {
		if count[i+1] != 1+i%5 {
			t.Errorf("set %d has %d reps, want %d", i+1, count[i+1], 1+i%5)
		}
	}
	if most > int(windowFor*plain.hz)+2 {
		t.Errorf("%d samples in memory", most)
	}
}
