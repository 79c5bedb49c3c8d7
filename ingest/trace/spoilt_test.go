package trace

import (
	"math"
	"testing"

	"repsift/ingest/rep"
)

// TestSpoiltReps: what happens to single reps, and around them, in a set of three
// squats of 0.6 m: what was found of it, in order, without what is out of the rack.
func TestSpoiltReps(t *testing.T) {
	pull := []part{still(3), up(0.7, 0.4), still(0.2), down(0.7, 0.4), still(5)}
	miss := func(way float64, fall float64, pause float64) []part {
		return append(squats(2)[:9], down(0.6, 1.4), up(way, 1.5), still(0.3), down(way, fall), still(pause), up(0.58, 2.5), still(4))
	}
	for _, c := range []struct {
		name     string
		parts    []part
		from, to float64 // s of samples
		spoil    func(t, x float64) float64
		want     []Kind
		slipped  float64 // in the second rep, m
	}{
		{"nothing", squats(3), 0, 99, nil, []Kind{Rep, Rep, Rep}, 0},
		{"the samples begin in a rep", squats(3), 8.7, 99, nil, []Kind{Part, Rep, Rep}, 0},
		{"the samples end in a rep", squats(3), 0, 16.9, nil, []Kind{Rep, Rep, Part}, 0},
		{"the tether slips in a rep", squats(3), 0, 99, func(t, x float64) float64 {
			if t > 12.8 {
				x -= 0.05
			}
			return x
		}, []Kind{Rep, Rep, Rep}, 0.05},
		{"the tether is pulled before", append(pull, squats(3)...), 0, 99, nil, []Kind{Minor, Rep, Rep, Rep}, 0},
		{"a miss near lockout", miss(0.52, 0.9, 3), 0, 99, nil, []Kind{Rep, Rep, Missed, Rack}, 0},
		{"a miss that is dropped, the bar put back at once", miss(0.3, 0.3, 0.4), 0, 99, nil, []Kind{Rep, Rep, Missed, Rack}, 0},
		{"a miss off the bottom", miss(0.06, 0.3, 2), 0, 99, nil, []Kind{Rep, Rep, Missed, Rack}, 0},
	} {
		ts, xs := plain.sample(rng(), c.parts...)
		var t2, x2 []float64
		for i := range ts {
			if ts[i] < c.from || ts[i] > c.to {
				continue
			}
			x := xs[i]
			if c.spoil != nil {
				x = c.spoil(ts[i], x)
			}
			t2, x2 = append(t2, ts[i]), append(x2, x)
		}
		all, sum := segment(t, Options{Lift: rep.Squat}, t2, x2)
		var found []Found
		for _, f := range all {
			if f.ROM > 0.055 {
				found = append(found, f)
			}
		}
		right := len(found) == len(c.want) && sum.Up == 1
		for i := 0; right && i < len(found); i++ {
			f := found[i]
			right = f.Kind == c.want[i] && (f.Kind != Rep || math.Abs(f.ROM-0.6) < 0.01)
		}
		if !right {
			t.Errorf("%s: %s; read as %+v", c.name, kinds(found), sum)
		} else if got := found[1].Slipped; math.Abs(got-c.slipped) > 0.01 {
			t.Errorf("%s: slipped by %.3f m", c.name, got)
		}
	}
}

// TestSeriesIsBroken: where nothing was read for over a second, nothing is drawn.
func TestSeriesIsBroken(t *testing.T) {
	ts, xs := plain.sample(rng(), squats(2)...)
	ts, xs = without(ts, xs, 9.5, 11.5)
	s := New(Options{Lift: rep.Squat, KeepSeries: true}, func(Found) {})
	for i := range ts {
		if err := s.Add(int32(i), rep.Some(ts[i]), rep.Some(xs[i]), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	broken, last := false, -1.0
	for _, p := range s.Series() {
		if !p.Gap && !broken && p.T-last > 1 && last > 0 {
			t.Fatalf("no break between %.2f and %.2f s", last, p.T)
		}
		broken, last = p.Gap, p.T
	}
}

// TestPeakIsNoSwing: the peak of a rep is that of the lift, 1.875 times the mean of
// a minimum-jerk movement, and not that of the swing behind it, which is faster.
func TestPeakIsNoSwing(t *testing.T) {
	ts, xs := plain.sample(rng(), still(4), up(0.5, 2), still(3), down(0.5, 1), still(4))
	for i := range ts {
		if d := ts[i] - 5.97; d > 0 && d < 3 {
			xs[i] += 0.04 * math.Sin(2*math.Pi*4*d) * math.Exp(-1.5*d)
		}
	}
	found, _ := segment(t, Options{Lift: rep.Deadlift}, ts, xs)
	got := reps(found)
	if len(got) != 1 {
		t.Fatal(kinds(found))
	}
	if want := 1.875 * 0.5 / 2; math.Abs(got[0].PeakVelocity.V-want) > 0.1*want {
		t.Errorf("peak %.3f m/s, want about %.3f", got[0].PeakVelocity.V, want)
	}
}
