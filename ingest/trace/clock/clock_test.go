package clock

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// laid keeps what a Clock lays.
type laid struct {
	samples []Sample
	holes   int
	breaks  int
}

func (l *laid) Push(s Sample, hole bool) {
	if hole {
		l.holes++
	}
	l.samples = append(l.samples, s)
}

func (l *laid) Break(anew bool) { l.breaks++ }

// height is a bar that rests, falls to the floor at up to 3 m/s, bounces by 2 cm,
// is lifted, and rings for a while, 3 cm at 6 Hz: all that moves a bar quickly.
func height(t float64) float64 {
	switch {
	case t < 1:
		return 0.45
	case t < 1.303:
		return 0.45 - 9.81/2*(t-1)*(t-1)
	case t < 1.4307:
		d := t - 1.303
		return 0.626*d - 9.81/2*d*d
	case t < 2:
		return 0
	case t < 3:
		x := t - 2
		return 0.5 * x * x * x * (10 + x*(-15+6*x))
	}
	d := t - 3
	return 0.5 + 0.03*math.Sin(2*math.Pi*6*d)*math.Exp(-2*d)
}

// TestJumps: what no bar does is undone, and what a bar does is left: positions
// stay within a third of the jump, or 5 mm, of the true ones.
func TestJumps(t *testing.T) {
	for _, hz := range []float64{50, 100, 250, 1000} {
		for _, c := range []struct {
			name          string
			spoil         func(r *rand.Rand, i int, t, x float64) float64
			spikes, slips int // −1: any
		}{
			{"nothing", func(_ *rand.Rand, _ int, _, x float64) float64 { return x }, 0, 0},
			{"slips of 3 cm: at rest, in a lift, in the ringing", func(_ *rand.Rand, _ int, t, x float64) float64 {
				for _, at := range []float64{0.505, 2.505, 3.205} {
					if t > at {
						x -= 0.03
					}
				}
				return x
			}, 0, 3},
			{"a slip of 30 cm", func(_ *rand.Rand, _ int, t, x float64) float64 {
				if t > 2.505 {
					x += 0.3
				}
				return x
			}, 0, 1},
			{"wild readings of 4 cm and of 1 m", func(r *rand.Rand, i int, _, x float64) float64 {
				if i%25 == 7 {
					x += 0.04
				}
				if i%25 == 17 {
					x -= 1
				}
				return x
			}, -1, 0},
			{"two wild readings in a row", func(r *rand.Rand, i int, _, x float64) float64 {
				if i%50 == 7 || i%50 == 8 {
					x += 0.1 + 0.2*r.Float64()
				}
				return x
			}, -1, 0},
		} {
			r := rand.New(rand.NewPCG(1, uint64(hz)))
			got := &laid{}
			k := New(got, 1, 0, 30)
			for i := 0; float64(i)/hz < 6; i++ {
				at := float64(i) / hz
				x := c.spoil(r, i, at, height(at)) + 0.0003*r.NormFloat64()
				if err := k.Add(int32(i), rep.Some(at), rep.Some(math.Round(x*1000)/1000), rep.Null[float64]{}); err != nil {
					t.Fatal(err)
				}
			}
			if err := k.Close(); err != nil {
				t.Fatal(err)
			}
			if k.Slips != c.slips || c.spikes == 0 && k.Spikes != 0 || c.spikes < 0 && k.Spikes < 4 {
				t.Errorf("%g Hz, %s: %d slips, %d wild readings", hz, c.name, k.Slips, k.Spikes)
				continue
			}
			for _, s := range got.samples {
				if d := math.Abs(s.X - height(s.T)); d > 0.01 {
					t.Errorf("%g Hz, %s: off by %.3f m at %.3f s", hz, c.name, d, s.T)
					break
				}
			}
		}
	}
}

// TestOrder: times that go back. The grid lies even, and every sample that was
// written stands where it belongs.
func TestOrder(t *testing.T) {
	for _, c := range []struct {
		name                       string
		time                       func(i int) float64
		dropped, restarts, setBack int
	}{
		{"in order", func(i int) float64 { return float64(i) / 100 }, 0, 0, 0},
		{"one late, one repeated", func(i int) float64 {
			switch i {
			case 150:
				return 1.2
			case 250:
				return 2.49
			}
			return float64(i) / 100
		}, 2, 0, 0},
		{"one far ahead", func(i int) float64 {
			if i == 150 {
				return 900
			}
			return float64(i) / 100
		}, 1, 0, 0},
		{"set back by 1.5 s", func(i int) float64 { return float64(i)/100 - 1.5*math.Floor(float64(i)/300) }, 0, 0, 1},
		{"set back by 80 ms", func(i int) float64 { return float64(i)/100 - 0.08*math.Floor(float64(i)/300) }, 0, 0, 1},
		{"begun anew", func(i int) float64 { return float64(i%300) / 100 }, 0, 1, 0},
	} {
		got := &laid{}
		k := New(got, 1, 0, 30)
		for i := range 600 {
			if err := k.Add(int32(i), rep.Some(c.time(i)), rep.Some(float64(i)/1000), rep.Null[float64]{}); err != nil {
				t.Fatal(err)
			}
		}
		if err := k.Close(); err != nil {
			t.Fatal(err)
		}
		if k.Dropped != c.dropped || k.Restarts != c.restarts || k.SetBack != c.setBack || got.breaks != c.restarts || k.Slips+k.Spikes+got.holes > 0 {
			t.Errorf("%s: %+v, %d breaks, %d holes", c.name, k.Counts, got.breaks, got.holes)
		}
		if n := len(got.samples); n < 599 || n > 601 {
			t.Errorf("%s: %d samples", c.name, n)
		}
		for i, s := range got.samples {
			if math.Abs(s.X-float64(i)/1000) > 0.0011 {
				t.Errorf("%s: sample %d lies at %.4f m", c.name, i, s.X)
				break
			}
		}
	}
}
