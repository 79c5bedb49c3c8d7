package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// hold–move–hold motions of known course.
func motionTrace(rng *rand.Rand, hz, travel, seconds float64, noise, step float64, shape func(float64) float64) []float64 {
	var out []float64
	const rest = 3.0
	phase := rng.Float64() / hz
	for i := 0; ; i++ {
		t := float64(i)/hz + phase
		if t > 2*rest+seconds {
			return out
		}
		x := travel * shape(math.Min(1, math.Max(0, (t-rest)/seconds)))
		x += noise * rng.NormFloat64()
		if step > 0 {
			x = math.Round(x/step) * step
		}
		out = append(out, x)
	}
}

func minimumJerk(x float64) float64 { return x * x * x * (10 + x*(-15+6*x)) }

func TestClosedScan(t *testing.T) {
	for _, shape := range []struct {
		name string
		f    func(float64) float64
		peak float64
	}{{"minimum jerk", minimumJerk, 1.875}, {"half sine", func(x float64) float64 { return (1 - math.Cos(math.Pi*x)) / 2 }, math.Pi / 2}, {"constant", func(x float64) float64 { return x }, 1}} {
		for _, noise := range []float64{0, 0.0003} {
			for _, hz := range []float64{20, 50, 100, 200, 500} {
				var worst, sum, peak float64
				n := 0.0
				for seed := range uint64(40) {
					rng := rand.New(rand.NewPCG(seed, 2))
					mean := 0.15 + 0.85*rng.Float64()
					travel := 0.2 + 0.4*rng.Float64()
					step := 0.0
					if noise > 0 {
						step = 0.0005
					}
					x := motionTrace(rng, hz, travel, travel/mean, noise, step, shape.f)
					var got []Found
					s := New(Options{}, func(f Found) {
						if f.Kind == Rep {
							got = append(got, f)
						}
					})
					for i, v := range x {
						s.Add(int32(i), rep.Some(float64(i)/hz), rep.Some(v), rep.Null[float64]{})
					}
					s.Close()
					if len(got) != 1 {
						t.Errorf("%s: %d reps", shape.name, len(got))
						continue
					}
					e := got[0].MeanVelocity/mean - 1
					sum += e
					worst = max(worst, math.Abs(e))
					peak = max(peak, math.Abs(got[0].PeakVelocity.V/mean/shape.peak-1))
					n++
				}
				t.Logf("%-13s noise %.4f %3.0f Hz: mean bias %+.3f worst %.3f peak worst %.3f", shape.name, noise, hz, sum/n, worst, peak)
			}
		}
	}
}
