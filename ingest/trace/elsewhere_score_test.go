package trace

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"repsift/ingest/rep"
)

var gymsFlag = flag.Int("gyms", 70, "traces of TestElsewhere")

// sensing is what a unit makes of a tether.
type sensing struct {
	hz, noise, step float64
	jitter, lost    float64 // of an interval; share
	drift           float64 // m/s
	sign, scale     float64 // counts: m a count
	speeds          bool
	clock           float64 // s, times are rounded to; 0: not
}

func (g *gym) sensing(nth int) sensing {
	rates := []float64{10, 20, 50, 100, 200, 500, 1000}
	s := sensing{hz: rates[nth%len(rates)], sign: 1, scale: 1, noise: g.in(0, 0.0004)}
	s.step = []float64{0.0001, 0.0005, 0.001, 0.002, 0.005}[min(g.IntN(5), g.IntN(5))]
	if g.IntN(3) == 0 {
		s.jitter = g.in(0.02, 0.3)
	}
	if g.IntN(3) == 0 {
		s.lost = g.in(0.002, 0.03)
	}
	if g.IntN(3) == 0 {
		s.drift = g.in(-0.001, 0.001)
	}
	if g.IntN(5) == 0 {
		s.sign = -1
	}
	if g.IntN(4) == 0 {
		s.scale = g.in(0.00005, 0.0008)
		s.step = s.scale
	}
	s.speeds = g.IntN(6) == 0
	if g.IntN(4) == 0 && s.hz <= 200 {
		s.clock = 0.001
	}
	return s
}

// sample feeds the heights of a tether, every beamStep, to a Segmenter.
func (s sensing) sample(rng *rand.Rand, heights []float64, to *Segmenter) error {
	at := func(t float64) float64 {
		x := min(max(t/beamStep, 0), float64(len(heights)-2))
		i := int(x)
		return heights[i] + (x-float64(i))*(heights[i+1]-heights[i])
	}
	for n := 0; float64(n)/s.hz < float64(len(heights))*beamStep; n++ {
		if rng.Float64() < s.lost {
			continue
		}
		t := (float64(n) + s.jitter*(2*rng.Float64()-1)) / s.hz
		told := t
		if s.clock > 0 {
			told = math.Round(t/s.clock) * s.clock
		}
		position, speed := rep.Null[float64]{}, rep.Null[float64]{}
		if s.speeds {
			v := s.sign*(at(t+1/s.hz/2)-at(t-1/s.hz/2))*s.hz + 0.002 + 0.004*rng.NormFloat64()
			speed = rep.Some(math.Round(v*1000) / 1000)
		} else {
			x := s.sign * (at(t) + s.drift*t + s.noise*rng.NormFloat64())
			position = rep.Some(math.Round(x/s.step) * s.step / s.scale)
		}
		if err := to.Add(int32(n+1), rep.Some(told), position, speed); err != nil {
			return err
		}
	}
	return to.Close()
}

// tally gathers errors: sums, but for the worst.
type tally struct {
	traces, exact, reps            int
	bias, abs, worst, travel, peak float64
}

func (a *tally) add(got *Found, want *happened) {
	e := got.MeanVelocity - want.mean
	a.reps++
	a.bias, a.abs, a.worst = a.bias+e, a.abs+math.Abs(e), max(a.worst, math.Abs(e))
	a.travel += math.Abs(got.ROM - want.rom)
	if got.PeakVelocity.OK {
		a.peak += math.Abs(got.PeakVelocity.V - want.peak)
	}
}

// each returns an average over the reps.
func (a *tally) each(sum float64) float64 { return sum / float64(max(a.reps, 1)) }

func (a *tally) String() string {
	traces := "          "
	if a.traces > 0 {
		traces = fmt.Sprintf("%3d of %3d", a.exact, a.traces)
	}
	return fmt.Sprintf("%s %5d reps %+.4f %.4f %.3f  travel %.4f  peak %.4f", traces, a.reps, a.each(a.bias), a.each(a.abs), a.worst, a.each(a.travel), a.each(a.peak))
}

// rigged draws a lift, what is on the bar and how it is held and measured.
func (g *gym) rigged(nth int) (opt Options, b *beam) {
	g.lift = []string{rep.Squat, rep.BenchPress, rep.Deadlift}[nth%3]
	load := 2.5 * math.Round(g.in(70, 260)/2.5)
	opt = Options{Lift: g.lift, LoadKg: load, Bar: rep.StiffBar, Tether: rep.TetherCentre}
	if g.IntN(2) == 0 {
		opt.Tether = rep.TetherInsideSleeve
	}
	diameter, a := 0.029, 0.2
	switch g.lift {
	case rep.BenchPress:
		opt.LoadKg = load / 1.6
		a = g.in(0.3, 0.4)
	case rep.Deadlift:
		a = g.in(0.2, 0.3)
		if opt.Tether == rep.TetherInsideSleeve {
			opt.Tether = rep.TetherSleeveEnd
		}
		if g.IntN(2) == 0 {
			diameter, opt.Bar = 0.027, rep.DeadliftBar
		}
	}
	return opt, newBeam(diameter, opt.LoadKg, a, g.in(0.01, 0.04))
}

const fine = "from 50 Hz, steps of up to 1 mm"

// groups returns under which headings a trace is scored.
func (s *sensing) groups(opt *Options) []string {
	out := []string{"all", fmt.Sprintf("%4g Hz", s.hz)}
	switch {
	case s.speeds:
		out = append(out, "a sensor of speed")
	case s.scale != 1:
		out = append(out, "counts of 0.05 to 0.8 mm")
	default:
		out = append(out, fmt.Sprintf("steps of %3.1f mm", s.step*1000))
	}
	if s.hz >= 50 && s.step <= 0.001 {
		out = append(out, fine, fine+": "+opt.Lift+", "+opt.Bar+", "+opt.Tether)
	}
	return out
}

// TestElsewhere counts and measures the reps of the third simulation, by rate,
// sensor, lift, tether and course, and holds what any unit from 50 Hz and steps
// of 1 mm on should allow.
func TestElsewhere(t *testing.T) {
	table := make(map[string]*tally)
	under := func(key string) *tally {
		if table[key] == nil {
			table[key] = new(tally)
		}
		return table[key]
	}
	for seed := range *gymsFlag {
		g := &gym{Rand: rand.New(rand.NewPCG(uint64(seed), 77))}
		opt, b := g.rigged(seed)
		g.stay(g.in(2, 6))
		for i := range 1 + g.IntN(2) {
			if i > 0 {
				g.stay(g.in(45, 120))
			}
			g.set()
		}
		g.stay(g.in(3, 6))
		heights, want := g.play(b, opt.Tether)
		s := g.sensing(seed / 3)
		if s.scale != 1 {
			opt.MetresPerCount = s.scale
		}
		var got []Found
		to := New(opt, func(f Found) {
			if f.Kind <= Missed {
				got = append(got, f)
			}
		})
		if err := s.sample(g.Rand, heights, to); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		right := len(got) == len(want)
		for i := 0; right && i < len(got); i++ {
			middle := (want[i].start + want[i].end) / 2
			right = (got[i].Kind == Missed) == (want[i].name == "missed") && math.Abs(got[i].At+got[i].Concentric/2-middle) < 0.6
		}
		groups := s.groups(&opt)
		for _, k := range groups {
			under(k).traces++
		}
		if !right {
			t.Logf("seed %d: %d reps, want %d (%s, %s, %+v)", seed, len(got), len(want), g.lift, opt.Tether, s)
			continue
		}
		for _, k := range groups {
			under(k).exact++
		}
		for i := range got {
			if want[i].name == "rep" {
				for _, k := range append(groups, "course of "+want[i].kind) {
					under(k).add(&got[i], &want[i])
				}
			}
		}
	}
	for _, k := range slices.Sorted(maps.Keys(table)) {
		t.Logf("%-70s %s", k, table[k])
	}
	a, all := under(fine), under("all")
	slack := 1 + 4/math.Sqrt(float64(a.traces)) // limits are of many traces
	if float64(a.exact) < 0.995*float64(a.traces) || float64(all.exact) < 0.99*float64(all.traces) {
		t.Errorf("counted exactly: %d of %d, %d of %d in all", a.exact, a.traces, all.exact, all.traces)
	}
	if d := a.each(a.bias); math.Abs(d) > 0.003*slack {
		t.Errorf("mean velocity is biased by %+.4f m/s", d)
	}
	if d := a.each(a.abs); d > 0.009*slack {
		t.Errorf("mean velocity is off by %.4f m/s", d)
	}
	if travel, peak := a.each(a.travel), a.each(a.peak); travel > 0.002*slack || peak > 0.008*slack {
		t.Errorf("travel is off by %.4f m, peak velocity by %.4f m/s", travel, peak)
	}
}
