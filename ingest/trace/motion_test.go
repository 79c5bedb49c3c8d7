package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// minimumJerk is the share of the way of a minimum-jerk movement at a share of
// its time (Flash & Hogan 1985): its peak speed is 1.875 times its mean.
func minimumJerk(x float64) float64 { return x * x * x * (10 + x*(-15+6*x)) }

func halfSine(x float64) float64 { return (1 - math.Cos(math.Pi*x)) / 2 }

func constantSpeed(x float64) float64 { return x }

// part is a part of a path without physics: a way in a time, by a course.
type part struct {
	way, seconds float64
	course       func(float64) float64
}

func up(way, seconds float64) part   { return part{way, seconds, minimumJerk} }
func down(way, seconds float64) part { return part{-way, seconds, minimumJerk} }
func still(seconds float64) part     { return part{0, seconds, minimumJerk} }

// path returns the height of the bar over time.
func path(parts ...part) (at func(t float64) float64, seconds float64) {
	for _, p := range parts {
		seconds += p.seconds
	}
	return func(t float64) float64 {
		height := 0.0
		for _, p := range parts {
			if t < p.seconds {
				return height + p.way*p.course(max(0, t)/p.seconds)
			}
			t -= p.seconds
			height += p.way
		}
		return height
	}, seconds
}

// sensor samples a path.
type sensor struct{ hz, noise, step float64 }

func (s sensor) sample(rng *rand.Rand, parts ...part) (ts, xs []float64) {
	at, seconds := path(parts...)
	phase := rng.Float64() / s.hz
	for i := 0; float64(i)/s.hz < seconds; i++ {
		t := float64(i) / s.hz
		x := at(t+phase) + s.noise*rng.NormFloat64()
		if s.step > 0 {
			x = math.Round(x/s.step) * s.step
		}
		ts, xs = append(ts, t), append(xs, x)
	}
	return ts, xs
}

// segment runs times and positions through a Segmenter.
func segment(t testing.TB, opt Options, ts, xs []float64) (found []Found, sum Summary) {
	t.Helper()
	s := New(opt, func(f Found) { found = append(found, f) })
	for i := range ts {
		if err := s.Add(int32(i+1), rep.Some(ts[i]), rep.Some(xs[i]), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return found, s.Summary()
}

// reps returns the movements that are reps.
func reps(found []Found) (out []Found) {
	for _, f := range found {
		if f.Kind == Rep {
			out = append(out, f)
		}
	}
	return out
}

// TestClosedForm holds reps against motions whose mean and peak are known
// exactly, by themselves and with the noise of a sensor (0.3 mm, steps of
// 0.5 mm). The limits are the errors that the package states, relative; the
// peak of a constant speed is its mean and says nothing.
func TestClosedForm(t *testing.T) {
	const never = math.MaxFloat64
	type limit struct{ bias, mean, peak float64 }
	for _, c := range []struct {
		name   string
		course func(float64) float64
		peak   float64 // times the mean
		limits map[float64]limit
	}{
		{"minimum jerk", minimumJerk, 1.875, map[float64]limit{20: {0.015, 0.07, 0.04}, 50: {0.01, 0.04, 0.04}, 100: {0.01, 0.04, 0.04}, 200: {0.01, 0.04, 0.03}, 500: {0.01, 0.03, 0.02}}},
		{"half sine", halfSine, math.Pi / 2, map[float64]limit{20: {0.015, 0.06, 0.04}, 50: {0.01, 0.05, 0.04}, 100: {0.01, 0.05, 0.04}, 200: {0.01, 0.03, 0.03}, 500: {0.01, 0.03, 0.02}}},
		{"constant speed", constantSpeed, 1, map[float64]limit{20: {0.005, 0.05, never}, 50: {0.002, 0.005, never}, 100: {0.002, 0.005, never}, 200: {0.002, 0.005, never}, 500: {0.002, 0.005, never}}},
	} {
		for _, hz := range []float64{20, 50, 100, 200, 500} {
			for _, s := range []sensor{{hz: hz}, {hz: hz, noise: 0.0003, step: 0.0005}} {
				const n = 40
				var bias, worst, peak, rom float64
				for seed := range uint64(n) {
					rng := rand.New(rand.NewPCG(seed, 2))
					travel, seconds := 0.25+0.4*rng.Float64(), 0.7+2*rng.Float64()
					ts, xs := s.sample(rng, still(3), part{travel, seconds, c.course}, still(3))
					found, _ := segment(t, Options{}, ts, xs)
					got := reps(found)
					if len(got) != 1 {
						t.Fatalf("%s at %g Hz: %d reps, want 1", c.name, hz, len(got))
					}
					e := got[0].MeanVelocity*seconds/travel - 1
					bias += e / n
					worst = max(worst, math.Abs(e))
					peak = max(peak, math.Abs(got[0].PeakVelocity.V*seconds/travel/c.peak-1))
					rom = max(rom, math.Abs(got[0].ROM-travel))
				}
				t.Logf("%-14s %3.0f Hz, noise %.1f mm: mean velocity bias %+.3f, worst %.3f; peak worst %.3f; travel worst %.4f m",
					c.name, hz, 1000*s.noise, bias, worst, peak, rom)
				l := c.limits[hz]
				if s.noise == 0 && hz >= 50 { // nothing blurs them
					l.bias, l.mean = 0.002, 0.005
				}
				if math.Abs(bias) > l.bias || worst > l.mean || peak > l.peak || rom > 0.004 {
					t.Errorf("%s at %g Hz: beyond the stated error", c.name, hz)
				}
			}
		}
	}
}

// TestClosedFormLowered: the same where the bar is lowered first and turned at
// once, as in a squat: the lift begins where the lowering ends.
func TestClosedFormLowered(t *testing.T) {
	for _, hz := range []float64{50, 100, 200, 500} {
		for _, s := range []sensor{{hz: hz}, {hz: hz, noise: 0.0003, step: 0.0005}} {
			const n = 40
			var bias, mean, worst float64
			for seed := range uint64(n) {
				rng := rand.New(rand.NewPCG(seed, 3))
				travel, seconds, down := 0.25+0.4*rng.Float64(), 0.7+1.3*rng.Float64(), 0.8+0.8*rng.Float64()
				ts, xs := s.sample(rng, still(3), part{-travel, down, minimumJerk}, part{travel, seconds, minimumJerk}, still(3))
				found, _ := segment(t, Options{}, ts, xs)
				got := reps(found)
				if len(got) != 1 {
					t.Fatalf("%g Hz: %d reps, want 1", hz, len(got))
				}
				e := got[0].MeanVelocity - travel/seconds
				bias += e / n
				mean += math.Abs(e) / n
				worst = max(worst, math.Abs(e))
			}
			t.Logf("%3.0f Hz, noise %.1f mm: mean velocity bias %+.4f, mean error %.4f, worst %.4f m/s", hz, 1000*s.noise, bias, mean, worst)
			most := 0.03
			if s.noise == 0 {
				most = 0.002
			}
			if math.Abs(bias) > 0.003 || mean > 0.007 || worst > most {
				t.Errorf("%g Hz: beyond the stated error", hz)
			}
		}
	}
}
