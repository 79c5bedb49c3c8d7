// Package clock lays the samples of a trace on an even grid, as they come in and
// in constant memory.
//
// The steps:
//
//  1. The rate is learnt from the first samples: the mean of the intervals that are
//     no gaps. Samples that share a time of a coarse clock are spread over it.
//  2. Order (order.go): late and repeated samples are dropped; a clock that was set
//     back goes on, one that began anew begins another set.
//  3. Jumps (jumps.go): a step that no bar makes is a wild reading, left out, or a
//     tether that slipped, levelled.
//  4. Grid (grid.go): readings near their place are taken as they are, others are
//     interpolated linearly; what is missing longer is a hole.
//
// Positions are in m, times in s, speeds in m/s; a trace of speeds is summed up to
// positions by the trapezoidal rule.
package clock

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
)

const (
	learnFrom = 512 // samples that tell the rate
	offPlace  = 0.1 // of an interval: more counts as jitter

	// Hz: units take 10 to 1000 samples a second; what lies far outside is a
	// time in another unit.
	slowestRate, fastestRate = 5.0, 5000.0
)

// Sample is a moment of the even grid.
type Sample struct {
	Line int32   // of the reading nearest before
	T    float64 // s since the first reading
	X    float64 // m
}

// Grid takes even samples in order of time.
type Grid interface {
	// Push takes the next sample; hole says that nothing was read there.
	Push(s Sample, hole bool)

	// Break says that the next sample lies behind a gap of over a second; anew,
	// that the clock began anew: what follows is another set, at least rest later.
	Break(anew bool)
}

// Counts is what became of samples on their way to the grid.
type Counts struct {
	Dropped   int // without a time or a position, or out of order
	Spikes    int // wild readings left out
	Slips     int // jumps that stayed: the tether's; the zero was moved along
	Gaps      int // longer than can be bridged
	Restarts  int // the clock began anew
	SetBack   int // the clock was set back while the trace went on
	Resampled int // samples laid between two readings by linear interpolation
}

// Clock lays samples on a grid.
type Clock struct {
	Counts
	DT         float64 // s between even samples; 0: not learnt yet
	Jitter     float64 // share of the intervals that are off by more than a tenth
	Step       float64 // m, the smallest change of position: quantisation
	ByVelocity bool    // the trace is one of speeds

	out         Grid
	scale, hz   float64
	rest        float64
	coarse      bool // times repeat: several samples share one
	learning    []reading
	same        []reading // share a time that the next one ends
	count       int
	v, vt, path float64 // the last speed, its time, the sum so far

	order order
	jumps jumps
	grid  grid
}

// reading is a sample with its time and position; of a trace of speeds, with
// its speed until it is summed up.
type reading struct {
	line  int32
	t, x  float64
	speed bool
}

// New returns a Clock that hands even samples to a grid. Positions are taken
// times scale; hz is the rate of samples without times, 0 where they have them;
// between two sets whose clock began anew it lays a rest, s.
func New(out Grid, scale, hz, rest float64) *Clock {
	return &Clock{out: out, scale: scale, hz: hz, rest: rest}
}

// Reasons why a trace cannot be read.
var (
	errNoClock    = errors.New(`the samples carry no time: name the column of times, samples = { time = "its heading" }, or the sampling rate, samples = { hz = 100 }`)
	errStandstill = errors.New(`the times of the samples do not rise: name another column, samples = { time = "its heading" }`)
)

func errRate(dt float64) error {
	return fmt.Errorf(`the samples lie %.4g s apart, and traces have %g to %g a second: name the unit of the times, units = { sample_time = "ms" }`, dt, slowestRate, fastestRate)
}

// Add takes a sample; position counts where both are there. The error is of
// times that no trace has.
func (c *Clock) Add(line int32, t, position, velocity rep.Null[float64]) error {
	r := reading{line: line}
	switch {
	case !t.OK && c.hz > 0:
		r.t = float64(c.count) / c.hz
	case !t.OK || math.IsNaN(t.V) || math.IsInf(t.V, 0):
		c.count++
		c.Dropped++
		if c.count > learnFrom && c.count == c.Dropped {
			return errNoClock
		}
		return nil
	default:
		r.t = t.V
	}
	c.count++
	usable := func(n rep.Null[float64]) bool { return n.OK && math.Abs(n.V) < 1e12 }
	switch {
	case usable(position):
		r.x = position.V * c.scale
	case usable(velocity):
		r.x, r.speed = velocity.V, true
	default:
		c.Dropped++
		return nil
	}
	if c.DT > 0 {
		c.take(r)
		return nil
	}
	c.learning = append(c.learning, r)
	if len(c.learning) == learnFrom {
		return c.learn()
	}
	return nil
}

// Close lays what is left.
func (c *Clock) Close() error {
	if c.DT == 0 {
		if c.count > 0 && c.count == c.Dropped {
			return errNoClock
		}
		if len(c.learning) < 2 {
			return nil
		}
		if err := c.learn(); err != nil {
			return err
		}
	}
	for _, r := range c.spread(math.Inf(1)) {
		c.inOrder(r)
	}
	c.settleOrder()
	c.settleJumps()
	return nil
}

// learn tells the sampling interval from the first samples: the mean of the
// intervals that are no gaps.
func (c *Clock) learn() error {
	var gaps []float64
	repeated := 0
	for i := 1; i < len(c.learning); i++ {
		switch d := c.learning[i].t - c.learning[i-1].t; {
		case d > 0:
			gaps = append(gaps, d)
		case d == 0:
			repeated++
		}
	}
	if len(gaps) == 0 {
		return errStandstill
	}
	slices.Sort(gaps)
	median := gaps[len(gaps)/2]
	c.coarse = repeated*10 > len(c.learning)
	sum, n := 0.0, 0
	for _, d := range gaps {
		if d > median/2 && d < 1.5*median {
			sum, n = sum+d, n+1
		}
	}
	c.DT = sum / float64(n)
	if c.coarse {
		c.DT *= float64(len(gaps)) / float64(len(gaps)+repeated)
	}
	if rate := 1 / c.DT; !(rate >= slowestRate && rate <= fastestRate) {
		return errRate(c.DT)
	}
	off := 0
	for _, d := range gaps {
		if math.Abs(d-c.DT) > offPlace*c.DT {
			off++
		}
	}
	c.Jitter = float64(off) / float64(len(gaps))
	held := c.learning
	c.learning = nil
	for _, r := range held {
		c.take(r)
	}
	return nil
}

// take spreads samples that share a time over the interval to the next one.
func (c *Clock) take(r reading) {
	if len(c.same) > 0 && r.t != c.same[0].t {
		for _, s := range c.spread(r.t) {
			c.inOrder(s)
		}
		c.same = c.same[:0]
	}
	if len(c.same) > 0 && !c.coarse {
		c.Dropped++
		return
	}
	c.same = append(c.same, r)
	if len(c.same) > learnFrom { // a clock that stands still is none
		c.same = c.same[:1]
		c.Dropped += learnFrom
	}
}

// spread returns the samples that share a time, spread evenly until next.
func (c *Clock) spread(next float64) []reading {
	n := float64(len(c.same))
	if n == 0 {
		return nil
	}
	every := c.DT
	if d := next - c.same[0].t; d > 0 && d/n < every {
		every = d / n
	}
	for i := range c.same {
		c.same[i].t += float64(i) * every
	}
	return c.same
}

// travelled sums up speeds by the trapezoidal rule.
func (c *Clock) travelled(t, v float64) float64 {
	if dt := t - c.vt; c.ByVelocity && dt > 0 && dt < carriedGap {
		c.path += (c.v + v) / 2 * dt
	}
	c.ByVelocity, c.v, c.vt = true, v, t
	return c.path
}
