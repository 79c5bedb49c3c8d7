package trace

import (
	"math"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// TestBadSamples: a set of three squats, as sensors and files spoil it. The reps
// stay three, at 0.5 m/s over 0.6 m.
func TestBadSamples(t *testing.T) {
	for _, c := range []struct {
		name  string
		opt   Options
		near  float64 // of the mean velocity
		spoil func(ts, xs []float64) ([]float64, []float64)
		check func(s Summary) bool
	}{
		{"as it is", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) { return ts, xs },
			func(s Summary) bool { return s.Jitter == 0 && s.Resampled == 0 && math.Abs(s.Hz-100) < 0.01 }},
		{"downwards", Options{Up: -1}, 0.02, func(ts, xs []float64) ([]float64, []float64) { return ts, scaled(xs, -1) },
			func(s Summary) bool { return s.Up == -1 }},
		{"downwards, by evidence", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) { return ts, scaled(xs, -1) },
			func(s Summary) bool { return s.Up == -1 }},
		{"counts", Options{MetresPerCount: 0.000125}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			xs = scaled(xs, 1/0.000125)
			for i := range xs {
				xs[i] = math.Round(xs[i])
			}
			return ts, xs
		}, func(s Summary) bool { return math.Abs(s.Step-0.0005) < 1e-6 }},
		{"jitter", Options{}, 0.025, func(ts, xs []float64) ([]float64, []float64) {
			r := rng()
			at, _ := path(squats(3)...)
			for i := range ts {
				ts[i] += 0.004 * (r.Float64() - 0.5)
				xs[i] = at(ts[i]) + 0.0002*r.NormFloat64()
			}
			return ts, xs
		}, func(s Summary) bool { return s.Jitter > 0.3 && s.Resampled > 1000 }},
		{"two samples a tick", Options{}, 0.025, func(ts, xs []float64) ([]float64, []float64) {
			for i := range ts {
				ts[i] = math.Floor(ts[i]*50) / 50
			}
			return ts, xs
		}, func(s Summary) bool { return math.Abs(s.Hz-100) < 2 }},
		{"single samples lost", Options{}, 0.025, func(ts, xs []float64) ([]float64, []float64) {
			r := rng()
			var t2, x2 []float64
			for i := range ts {
				if r.Float64() > 0.1 {
					t2, x2 = append(t2, ts[i]), append(x2, xs[i])
				}
			}
			return t2, x2
		}, func(s Summary) bool { return s.Gaps < 10 && s.Resampled > 100 }},
		{"a fifth of a second lost in a rep", Options{}, 0.03, func(ts, xs []float64) ([]float64, []float64) { return without(ts, xs, 8.5, 8.7) },
			func(s Summary) bool { return s.Gaps == 1 }},
		{"minutes lost before the set", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			for i := range ts {
				if ts[i] > 2 {
					ts[i] += 300
				}
			}
			return ts, xs
		}, func(s Summary) bool { return s.Gaps == 1 }},
		{"wild readings", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			for i := 50; i < len(xs); i += 97 {
				xs[i] += 0.8
			}
			return ts, xs
		}, func(s Summary) bool { return s.Spikes > 10 && s.Slips == 0 }},
		{"the tether slips while standing", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			for i := range xs {
				if ts[i] > 10 {
					xs[i] -= 0.12
				}
			}
			return ts, xs
		}, func(s Summary) bool { return s.Slips == 1 && s.Spikes == 0 }},
		{"the zero drifts", Options{}, 0.025, func(ts, xs []float64) ([]float64, []float64) {
			for i := range xs {
				xs[i] += 0.003 * ts[i]
			}
			return ts, xs
		}, nil},
		{"a clock in an epoch", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			for i := range ts {
				ts[i] += 1767603600
			}
			return ts, xs
		}, nil},
		{"samples out of order", Options{}, 0.02, func(ts, xs []float64) ([]float64, []float64) {
			for i := 20; i+1 < len(ts); i += 50 {
				ts[i], ts[i+1], xs[i], xs[i+1] = ts[i+1], ts[i], xs[i+1], xs[i]
			}
			return ts, xs
		}, func(s Summary) bool { return s.Dropped > 10 && s.Restarts == 0 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			ts, xs := plain.sample(rng(), squats(3)...)
			ts, xs = c.spoil(ts, xs)
			c.opt.Lift = rep.Squat
			found, sum := segment(t, c.opt, ts, xs)
			got := reps(found)
			if len(got) != 3 {
				t.Fatalf("%d reps, want 3: %s", len(got), kinds(found))
			}
			for i, f := range got {
				if math.Abs(f.MeanVelocity-0.5) > c.near || math.Abs(f.ROM-0.6) > 0.01 {
					t.Errorf("rep %d: %.4f m/s over %.4f m", i+1, f.MeanVelocity, f.ROM)
				}
			}
			if c.check != nil && !c.check(sum) {
				t.Errorf("read as %+v", sum)
			}
		})
	}
}

func scaled(xs []float64, by float64) []float64 {
	for i := range xs {
		xs[i] *= by
	}
	return xs
}

// without leaves out the samples between two times.
func without(ts, xs []float64, from, to float64) (t2, x2 []float64) {
	for i := range ts {
		if ts[i] < from || ts[i] > to {
			t2, x2 = append(t2, ts[i]), append(x2, xs[i])
		}
	}
	return t2, x2
}

// TestGapInside: what rests on single moments is null where samples are missing.
func TestGapInside(t *testing.T) {
	ts, xs := plain.sample(rng(), squats(1)...)
	ts, xs = without(ts, xs, 8.5, 8.7)
	found, _ := segment(t, Options{Lift: rep.Squat}, ts, xs)
	got := reps(found)
	if len(got) != 1 || !got[0].Gap || got[0].PeakVelocity.OK || got[0].TimeToPeak.OK || got[0].MeanPropulsive.OK {
		t.Errorf("%+v", got)
	}
}

// TestSpeedsOnly: a trace of speeds, whose zero is off by 1 cm/s.
func TestSpeedsOnly(t *testing.T) {
	at, seconds := path(squats(3)...)
	var found []Found
	s := New(Options{Lift: rep.Squat}, func(f Found) { found = append(found, f) })
	r := rng()
	for i := 0; float64(i)/100 < seconds; i++ {
		tm := float64(i) / 100
		v := (at(tm+0.001)-at(tm-0.001))/0.002 + 0.01 + 0.01*r.NormFloat64()
		if err := s.Add(int32(i+1), rep.Some(tm), rep.Null[float64]{}, rep.Some(v)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	got := reps(found)
	if len(got) != 3 {
		t.Fatalf("%d reps: %s", len(got), kinds(found))
	}
	for _, f := range got {
		if math.Abs(f.MeanVelocity-0.5) > 0.03 || math.Abs(f.ROM-0.6) > 0.015 {
			t.Errorf("%.4f m/s over %.4f m", f.MeanVelocity, f.ROM)
		}
	}
}

// TestNoTrace: what cannot be read says what to declare.
func TestNoTrace(t *testing.T) {
	read := func(opt Options, n int, at func(i int) rep.Null[float64]) error {
		s := New(opt, func(Found) {})
		for i := range n {
			if err := s.Add(int32(i+1), at(i), rep.Some(float64(i%7)), rep.Null[float64]{}); err != nil {
				return err
			}
		}
		return s.Close()
	}
	for _, c := range []struct {
		name string
		at   func(i int) rep.Null[float64]
		want string
	}{
		{"no times", func(int) rep.Null[float64] { return rep.Null[float64]{} }, "hz = 100"},
		{"times that stand still", func(int) rep.Null[float64] { return rep.Some(3.0) }, "do not rise"},
		{"milliseconds taken for seconds", func(i int) rep.Null[float64] { return rep.Some(10 * float64(i)) }, `sample_time = "ms"`},
	} {
		for _, n := range []int{100, 5000} {
			if err := read(Options{}, n, c.at); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s, %d samples: %v", c.name, n, err)
			}
		}
	}
	if err := read(Options{Hz: 100}, 5000, func(int) rep.Null[float64] { return rep.Null[float64]{} }); err != nil {
		t.Errorf("no times, rate declared: %v", err)
	}
	if err := read(Options{}, 0, nil); err != nil {
		t.Errorf("no samples: %v", err)
	}
}

// TestSeries: the smoothed series is there where it is asked for, once a sample.
func TestSeries(t *testing.T) {
	ts, xs := plain.sample(rng(), append(squats(2), still(120))...)
	s := New(Options{Lift: rep.Squat, KeepSeries: true}, func(Found) {})
	for i := range ts {
		if err := s.Add(int32(i+1), rep.Some(ts[i]), rep.Some(xs[i]), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	series := s.Series()
	if len(series) != len(ts) {
		t.Fatalf("%d samples, want %d", len(series), len(ts))
	}
	for i, p := range series {
		if math.Abs(p.T-ts[i]) > 1e-6 || math.Abs(p.Position-xs[i]) > 0.004 {
			t.Fatalf("sample %d: %+v, read %.3f s, %.4f m", i, p, ts[i], xs[i])
		}
	}
}
