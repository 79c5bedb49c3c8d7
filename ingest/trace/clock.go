package trace

import (
	"math"
	"slices"

	"repsift/ingest/rep"
)

const (
	learnFrom  = 512  // samples that tell the rate
	nearPlace  = 0.02 // of an interval: a sample this near its place is taken as it is
	offPlace   = 0.1  // of an interval: more counts as jitter
	bridged    = 3.5  // intervals: two samples lost are bridged by a straight line …
	bridgedFor = 0.15 // s: … if that is no longer than this;
	bridgedAt  = 0.02 // s: so short a gap always is, it hides nothing a lifter does
	carriedGap = 1.0  // s: a longer gap ends everything before it
	fastest    = 6.0  // m/s: no barbell moves faster; a jump beyond is the sensor's or the tether's
	leastJump  = 0.03 // m: smaller jumps are noise
	spikeRun   = 3    // samples: a jump that comes back within is a spike

	// Hz: units take 10 to 1000 samples a second; what lies far outside is a
	// time in another unit.
	slowestRate, fastestRate = 5.0, 5000.0
)

// reading is a sample with its time and position; of a trace of speeds, with
// its speed until it is summed up.
type reading struct {
	line  int32
	t, x  float64
	speed bool
}

// clock turns samples as they were written into evenly spaced ones: times that
// repeat are spread, out-of-order and empty samples dropped, spikes left out,
// slips of the tether levelled, gaps told.
type clock struct {
	out   *Segmenter
	scale float64
	hz    float64

	dt, jitter float64 // s; share
	step       float64 // smallest change of position
	coarse     bool    // times repeat: several samples share one

	learning []reading
	same     []reading // share a time that the next one ends
	last     reading
	started  bool
	place    float64 // where the next even sample lies
	doubt    []reading
	shift    float64 // slips so far
	offset   float64 // of clocks that began anew

	count       int
	byVelocity  bool
	v, vt, path float64 // the last speed, its time, the sum so far
}

func (c *clock) add(line int32, t, position, velocity rep.Null[float64]) error {
	r := reading{line: line}
	switch {
	case !t.OK && c.hz > 0:
		r.t = float64(c.count) / c.hz
	case !t.OK || math.IsNaN(t.V) || math.IsInf(t.V, 0):
		c.count++
		c.out.sum.Dropped++
		if c.count > learnFrom && c.count == c.out.sum.Dropped {
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
		c.out.sum.Dropped++
		return nil
	}
	if c.dt > 0 {
		c.take(r)
		return nil
	}
	c.learning = append(c.learning, r)
	if len(c.learning) == learnFrom {
		return c.learn()
	}
	return nil
}

// travelled sums up speeds by the trapezoidal rule.
func (c *clock) travelled(t, v float64) float64 {
	if dt := t - c.vt; c.byVelocity && dt > 0 && dt < carriedGap {
		c.path += (c.v + v) / 2 * dt
	}
	c.byVelocity, c.v, c.vt = true, v, t
	return c.path
}

func (c *clock) close() error {
	if c.dt == 0 {
		if c.count > 0 && c.count == c.out.sum.Dropped {
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
		c.level(r)
	}
	c.settle()
	return nil
}

// learn tells the sampling interval from the first samples: the mean of the
// intervals that are no gaps. The error is of times that no trace has.
func (c *clock) learn() error {
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
	c.dt = sum / float64(n)
	if c.coarse {
		c.dt *= float64(len(gaps)) / float64(len(gaps)+repeated)
	}
	if rate := 1 / c.dt; !(rate >= slowestRate && rate <= fastestRate) {
		return errRate(c.dt)
	}
	off := 0
	for _, d := range gaps {
		if math.Abs(d-c.dt) > offPlace*c.dt {
			off++
		}
	}
	c.jitter = float64(off) / float64(len(gaps))
	held := c.learning
	c.learning = nil
	for _, r := range held {
		c.take(r)
	}
	return nil
}

// take spreads samples that share a time over the interval to the next one.
func (c *clock) take(r reading) {
	if len(c.same) > 0 && r.t != c.same[0].t {
		for _, s := range c.spread(r.t) {
			c.level(s)
		}
		c.same = c.same[:0]
	}
	if len(c.same) > 0 && !c.coarse {
		c.out.sum.Dropped++
		return
	}
	c.same = append(c.same, r)
	if len(c.same) > learnFrom { // a clock that stands still is none
		c.same = c.same[:1]
		c.out.sum.Dropped += learnFrom
	}
}

// spread returns the samples that share a time, spread evenly until next.
func (c *clock) spread(next float64) []reading {
	n := float64(len(c.same))
	every := c.dt
	if d := next - c.at0(); n > 0 && d > 0 && d/n < every {
		every = d / n
	}
	for i := range c.same {
		c.same[i].t += float64(i) * every
	}
	return c.same
}

func (c *clock) at0() float64 {
	if len(c.same) == 0 {
		return 0
	}
	return c.same[0].t
}

// level leaves out spikes and levels slips: jumps that no barbell makes.
func (c *clock) level(r reading) {
	if !c.started {
		c.offset = -r.t
	}
	r.t += c.offset
	if r.speed {
		r.x = c.travelled(r.t, r.x)
	}
	if !c.started {
		c.started = true
		c.begin(r)
		return
	}
	r.x -= c.shift
	newest := c.last
	if n := len(c.doubt); n > 0 {
		newest = c.doubt[n-1]
	}
	switch d := r.t - newest.t; {
	case d > -5*c.dt && d <= 0:
		c.out.sum.Dropped++
		return
	case d <= 0: // another set, behind a clock that began anew
		c.settle()
		c.out.sum.Restarts++
		c.out.flush()
		c.out.set.close(c.out)
		c.offset += newest.t + setRest - r.t
		r.t = newest.t + setRest
		c.begin(r)
		return
	case d > carriedGap:
		before := c.shift
		c.settle()
		r.x -= c.shift - before
		c.out.sum.Gaps++
		c.out.flush()
		c.begin(r)
		return
	}
	if !jumps(c.last, r) && math.Abs(r.x-c.last.x) <= math.Abs(r.x-newest.x) {
		c.out.sum.Spikes += len(c.doubt) // it came back
		c.doubt = c.doubt[:0]
		c.lay(r)
		return
	}
	c.doubt = append(c.doubt, r)
	if len(c.doubt) > spikeRun {
		c.settle()
	}
}

// settle decides on readings in doubt that did not come back: the zero moved.
func (c *clock) settle() {
	doubt := slices.Clone(c.doubt)
	c.doubt = c.doubt[:0]
	if len(doubt) == 0 {
		return
	}
	if len(doubt) <= spikeRun || jumps(doubt[0], doubt[len(doubt)-1]) {
		// The end of the trace, or a sensor gone wild.
		c.out.sum.Spikes += len(doubt)
		return
	}
	slip := doubt[0].x - c.last.x
	c.out.sum.Slips++
	c.shift += slip
	for _, r := range doubt {
		r.x -= slip
		c.lay(r)
	}
}

func jumps(a, b reading) bool {
	d := math.Abs(b.x - a.x)
	return d > leastJump && d > fastest*(b.t-a.t)
}

// begin starts evenly spaced samples anew.
func (c *clock) begin(r reading) {
	c.last = r
	c.place = r.t + c.dt
	c.out.push(r, false)
}

// lay puts even samples up to a reading.
func (c *clock) lay(r reading) {
	a := c.last
	c.last = r
	if d := math.Abs(r.x - a.x); d > 0 && (c.step == 0 || d < c.step) && d > 1e-9 {
		c.step = d
	}
	span := r.t - a.t
	hole := span > max(bridgedAt, min(bridged*c.dt, bridgedFor), 1.5*c.dt)
	if hole {
		c.out.sum.Gaps++
	}
	for c.place < r.t-nearPlace*c.dt {
		share := (c.place - a.t) / span
		line := r.line
		if share < nearPlace {
			line = a.line
		}
		c.out.push(reading{line: line, t: c.place, x: a.x + share*(r.x-a.x)}, hole)
		if !hole {
			c.out.sum.Resampled++
		}
		c.place += c.dt
	}
	if math.Abs(c.place-r.t) <= nearPlace*c.dt {
		c.out.push(r, false)
		c.place = r.t + c.dt
	}
}
