package trace

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// The second simulation: no physics, but everything that lifters do around
// their reps and everything that sensors and clocks do to a trace, each drawn
// from a seed. Where the first asks how well a rep is measured, this one asks
// whether reps are told from the rest.

var scenesFlag = flag.Int("scenes", 100, "scenes of TestVariety")

// scene is a trace that is being made.
type scene struct {
	rng   *rand.Rand
	lift  string
	parts []part
	reps  []sceneRep
	marks map[string]bool // what is in it, to tell what goes wrong
	clock float64         // s
	rings []float64       // when a bar stopped and rings
	from  float64         // s: earlier samples are missing
	until float64         // s: so are later ones; 0: none
}

type sceneRep struct {
	start, seconds, way float64
	missed              bool
}

func (c *scene) between(lo, hi float64) float64 { return lo + (hi-lo)*c.rng.Float64() }
func (c *scene) chance(p float64) bool          { return c.rng.Float64() < p }

func (c *scene) mark(what string) { c.marks[what] = true }

func (c *scene) add(way, seconds float64, course func(float64) float64) {
	c.parts = append(c.parts, part{way, seconds, course})
	c.clock += seconds
}

func (c *scene) move(way, seconds float64) { c.add(way, seconds, minimumJerk) }
func (c *scene) wait(lo, hi float64)       { c.add(0, c.between(lo, hi), minimumJerk) }

// grind is a course whose speed dips to a share of its mean.
func grind(at, width, low float64) func(float64) float64 {
	const n = 400
	sum := make([]float64, n+1)
	for i := 1; i <= n; i++ {
		x := (float64(i) - 0.5) / n
		d := (x - at) / width
		v := math.Sqrt(x*(1-x)) * (1 - math.Exp(-d*d))
		sum[i] = sum[i-1] + max(v, 0) + low*math.Sqrt(x*(1-x))
	}
	return func(x float64) float64 {
		i := min(int(x*n), n-1)
		return (sum[i] + (x*n-float64(i))*(sum[i+1]-sum[i])) / sum[n]
	}
}

// course draws the course of a rep of a mean speed.
func (c *scene) course(speed float64) func(float64) float64 {
	switch {
	case speed < 0.3 && c.chance(0.5):
		c.mark("sticking")
		return grind(c.between(0.35, 0.6), c.between(0.08, 0.2), c.between(0.02, 0.4))
	case c.chance(0.5):
		return minimumJerk
	}
	return halfSine
}

// set adds a set of reps, out of the rack and back or from the floor.
func (c *scene) set() {
	way := map[string]float64{rep.Squat: c.between(0.4, 0.75), rep.BenchPress: c.between(0.14, 0.45), rep.Deadlift: c.between(0.35, 0.65)}[c.lift]
	fast := c.between(0.18, 0.9)
	if way < 0.25 {
		fast = min(fast, 0.6)
	}
	n := 1 + c.rng.IntN(8)
	fade := c.between(0, 0.08)
	tempo := c.chance(0.2)
	pause := 0.0
	switch c.rng.IntN(3) {
	case 0:
		pause = c.between(0.3, 1.2)
	case 1:
		pause = c.between(1.2, 4)
		c.mark("long pause")
	}
	down := func(way float64) {
		s := c.between(0.7, 1.8)
		if tempo {
			c.mark("tempo")
			s = c.between(3, 6)
		}
		c.move(-way, s)
	}
	up := func(way, speed float64, missed bool) {
		s := way / speed
		c.reps = append(c.reps, sceneRep{c.clock, s, way, missed})
		c.add(way, s, c.course(speed))
	}
	miss := c.chance(0.15)
	if miss {
		c.mark("missed")
	}
	if c.lift == rep.Deadlift {
		touch := c.chance(0.3)
		for i := range n {
			speed := max(0.1, fast*(1-fade*float64(i)))
			w := way * c.between(0.985, 1.015)
			if miss && i == n-1 && n > 1 {
				w *= c.between(0.2, 0.7)
				up(w, max(0.08, speed/2), true)
				c.wait(0, 0.6)
				c.move(-w, c.between(0.5, 1))
				break
			}
			if c.chance(0.2) { // takes the slack out first
				c.mark("slack")
				s := c.between(0.004, 0.02)
				c.move(s, c.between(0.3, 0.8))
				c.wait(0.1, 1.2)
				up(w, speed, false)
				c.wait(0.3, 1.5)
				c.move(-w-s, c.between(0.6, 1.5))
			} else {
				up(w, speed, false)
				c.rings = append(c.rings, c.clock)
				c.wait(0.4, 1.5)
				c.move(-w, c.between(0.6, 1.5))
			}
			switch {
			case touch:
				c.mark("touch and go")
				c.wait(0.02, 0.15)
			case c.chance(0.4): // dropped: the plates bounce
				c.mark("bounce")
				b := c.between(0.005, 0.03)
				c.move(b, 0.12)
				c.move(-b, 0.12)
				c.wait(0.5, 3)
			default:
				c.wait(0.5, 4)
			}
		}
		c.wait(1, 4)
		return
	}
	rack := c.between(0.02, 0.08)
	c.move(rack, c.between(0.4, 1))
	c.wait(0.2, 1.5)
	settle := c.between(0, 0.03)
	c.move(-settle, 0.5)
	if c.lift == rep.Squat {
		for range 2 + c.rng.IntN(4) {
			s := c.between(0.005, 0.03)
			c.move(-s, c.between(0.2, 0.4))
			c.move(s, c.between(0.2, 0.4))
			c.wait(0.05, 0.5)
		}
	}
	c.wait(0.6, 4)
	for i := range n {
		speed := max(0.08, fast*(1-fade*float64(i)))
		w := way * c.between(0.97, 1.03)
		down(w)
		if pause > 0 {
			c.add(0, pause*c.between(0.8, 1.2), minimumJerk)
		}
		if miss && i == n-1 {
			part := w * c.between(0.12, 0.85)
			up(part, max(0.07, speed/2), true)
			c.wait(0, 1.5)
			c.move(-part*c.between(0.85, 1), c.between(0.25, 1.2))
			c.wait(0.3, 5)
			c.move(w-rack, c.between(1.5, 6)) // helpers carry it back
			c.wait(1, 3)
			return
		}
		up(w, speed, false)
		c.rings = append(c.rings, c.clock)
		c.wait(0.2, 3)
	}
	if c.lift == rep.Squat {
		for range 1 + c.rng.IntN(3) {
			s := c.between(0.005, 0.03)
			c.move(-s, c.between(0.2, 0.4))
			c.move(s, c.between(0.2, 0.4))
		}
	}
	lift := c.between(0, 0.04)
	c.move(lift, c.between(0.3, 0.7))
	c.move(-lift-rack+settle, c.between(0.3, 0.8))
	c.wait(1, 4)
}

// trace makes the samples: what Add takes, and the options that go with them.
func (c *scene) trace() (opt Options, add func(s *Segmenter) error) {
	at, seconds := path(c.parts...)
	hz := []float64{10, 20, 25, 50, 60, 100, 128, 200, 250, 333, 500, 1000}[c.rng.IntN(12)]
	c.mark(fmt.Sprintf("%g Hz", hz))
	noise, step := c.between(0, 0.0005), []float64{0, 0.0001, 0.0005, 0.001}[c.rng.IntN(4)]
	sway, phase, period := c.between(0, 0.0015), c.between(0, 6), c.between(1.5, 4)
	opt.Lift = c.lift
	sign, scale := 1.0, 1.0
	if c.chance(0.2) {
		c.mark("downwards")
		sign = -1
		if c.chance(0.5) {
			opt.Up = -1
		}
	}
	if c.chance(0.15) {
		c.mark("counts")
		scale, step = c.between(0.00005, 0.0005), 1
		opt.MetresPerCount = scale
	}
	drift := 0.0
	if c.chance(0.2) {
		c.mark("drift")
		drift = c.between(-0.0005, 0.0005)
	}
	jitter, lost, wild := 0.0, 0.0, 0.0
	if c.chance(0.3) {
		c.mark("jitter")
		jitter = c.between(0.02, 0.35)
	}
	if c.chance(0.3) {
		c.mark("lost")
		lost = c.between(0.005, 0.05)
	}
	if c.chance(0.2) {
		c.mark("spikes")
		wild = c.between(0.0002, 0.002)
	}
	slipAt, slip := math.Inf(1), 0.0
	if c.chance(0.1) && len(c.reps) > 1 {
		c.mark("slip")
		r := c.reps[len(c.reps)/2]
		slipAt, slip = r.start+r.seconds+0.1, c.between(-0.15, 0.15)
	}
	ringHz, ringSize, ringDamp := c.between(2.5, 6), 0.0, c.between(0.01, 0.06)
	if c.chance(0.4) {
		c.mark("ringing")
		ringSize = c.between(0.001, 0.008)
	}
	speeds := c.chance(0.1)
	zero := c.between(-0.004, 0.004)
	if speeds {
		c.mark("speeds")
	}
	begin := 0.0
	if c.chance(0.3) {
		begin = 1.7676e9 + 1e6*c.rng.Float64()
	}
	height := func(t float64) float64 {
		x := at(t) + sway*math.Sin(2*math.Pi*t/period+phase) + drift*t
		if ringSize > 0 {
			for _, r := range c.rings {
				if d := t - r; d > 0 && d < 3 {
					x += ringSize * math.Sin(2*math.Pi*ringHz*d) * math.Exp(-2*math.Pi*ringHz*ringDamp*d)
				}
			}
		}
		if t > slipAt {
			x += slip
		}
		return x
	}
	return opt, func(s *Segmenter) error {
		for i := 0; float64(i)/hz < seconds; i++ {
			t := (float64(i) + jitter*c.between(-1, 1)) / hz
			if c.chance(lost) || t < c.from || c.until > 0 && t > c.until {
				continue
			}
			position, velocity := rep.Null[float64]{}, rep.Null[float64]{}
			if speeds {
				velocity = rep.Some(sign * ((height(t+0.002)-height(t-0.002))/0.004 + zero + 0.008*c.rng.NormFloat64()))
			} else {
				x := sign * (height(t) + noise*c.rng.NormFloat64()) / scale
				if c.chance(wild) {
					x += c.between(-1, 1) / scale
				}
				if step > 0 {
					x = math.Round(x/step) * step
				}
				position = rep.Some(x)
			}
			if err := s.Add(int32(i+1), rep.Some(begin+t), position, velocity); err != nil {
				return err
			}
		}
		return s.Close()
	}
}

// newScene draws a trace of one to three sets.
func newScene(seed uint64) *scene {
	c := &scene{rng: rand.New(rand.NewPCG(seed, 3)), marks: make(map[string]bool)}
	c.lift = []string{rep.Squat, rep.BenchPress, rep.Deadlift}[c.rng.IntN(3)]
	c.mark(c.lift)
	pull := func(lo, hi float64) {
		c.mark("tether pulled")
		w := c.between(0.05, 0.5)
		c.move(w, c.between(0.25, 0.6))
		c.wait(0, 0.5)
		c.move(-w, c.between(0.25, 0.6))
		c.wait(lo, hi)
	}
	c.wait(1, 6)
	if c.chance(0.1) {
		pull(4, 40)
	}
	for i := range 1 + c.rng.IntN(3) {
		if i > 0 {
			c.wait(25, 150)
			if c.chance(0.3) { // somebody pulls the tether
				pull(25, 60)
			}
		}
		c.set()
	}
	if len(c.reps) > 2 && !c.marks["tether pulled"] && c.chance(0.1) {
		if r := c.reps[0]; !r.missed && c.chance(0.5) {
			c.mark("begins in a rep")
			c.from = r.start + r.seconds*c.between(0.3, 0.6)
			c.reps = c.reps[1:]
		} else if r := c.reps[len(c.reps)-1]; !r.missed {
			c.mark("ends in a rep")
			c.until = r.start + r.seconds*c.between(0.4, 0.7)
			c.reps = c.reps[:len(c.reps)-1]
		}
	}
	return c
}

// TestVariety counts reps in scenes. Of those in which nobody pulls the tether
// 99 in 100 have to be told exactly, reps as well as misses; a pull of the tether
// that nothing tells from a rep may pass for one.
func TestVariety(t *testing.T) {
	n := uint64(*scenesFlag)
	var scenes, exact, pulled, told, reps int
	var bias, abs float64
	for seed := range n {
		c := newScene(seed)
		opt, add := c.trace()
		var got []Found
		s := New(opt, func(f Found) {
			if f.Kind <= Missed {
				got = append(got, f)
			}
		})
		if err := add(s); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		right := len(got) == len(c.reps)
		for i := 0; right && i < len(got); i++ {
			r := c.reps[i]
			right = (got[i].Kind == Missed) == r.missed && math.Abs(got[i].At+c.from+got[i].Concentric/2-r.start-r.seconds/2) < 0.6
		}
		if c.marks["tether pulled"] {
			pulled++
		} else {
			scenes++
		}
		switch {
		case !right:
			t.Logf("seed %d: %d reps, want %d (%s)", seed, len(got), len(c.reps), strings.Join(slices.Sorted(maps.Keys(c.marks)), ", "))
			continue
		case c.marks["tether pulled"]:
			told++
		default:
			exact++
		}
		for i, f := range got {
			if r := c.reps[i]; !r.missed {
				e := f.MeanVelocity - r.way/r.seconds
				reps, bias, abs = reps+1, bias+e, abs+math.Abs(e)
			}
		}
	}
	t.Logf("%d of %d exact; where the tether was pulled %d of %d", exact, scenes, told, pulled)
	t.Logf("mean velocity of %d reps: bias %+.4f, |error| %.4f m/s", reps, bias/float64(reps), abs/float64(reps))
	if float64(exact) < 0.99*float64(scenes) || float64(told) < 0.8*float64(pulled) {
		t.Error("reps are miscounted")
	}
}
