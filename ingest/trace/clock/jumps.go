package clock

import (
	"math"
	"slices"
)

// A bar has a speed: its step from one sample to the next lies between those
// around it, but for what forces can change in so short a time. A step that
// sticks out of all others around it further than that is the sensor's or the
// tether's.
const (
	around     = 4     // steps on either side that a step is held against
	returnsIn  = 3     // samples: a jump that comes back within is a wild reading
	leastJump  = 0.008 // m: smaller jumps are noise, or move no rep by a centimetre
	hardest    = 40.0  // m/s²: no lift, drop or swing sticks out of its steps by more
	fastest    = 6.0   // m/s: no barbell moves faster
	jumpSteps  = 2.5   // of the quantisation: what rounding makes of a step
	returnPart = 0.35  // of a jump: nearer than that to where it began it came back
	slipsKept  = 64
)

// jumps holds the last readings until those around them are known.
type jumps struct {
	begun bool
	buf   []reading
	at    int     // in buf: the last that was laid
	shift float64 // m: slips so far

	slipped []jump // the last that stayed
}

type jump struct {
	t, by float64 // s; m
}

// SlippedBy returns by how much, m, the tether slipped between two moments of the
// grid, of the last slips.
func (c *Clock) SlippedBy(from, to float64) (by float64) {
	for _, s := range c.jumps.slipped {
		if s.t >= from && s.t <= to {
			by += math.Abs(s.by)
		}
	}
	return by
}

// feed takes a reading in order of time.
func (c *Clock) feed(r reading) {
	j := &c.jumps
	r.x -= j.shift
	if !j.begun {
		j.begun, j.buf, j.at = true, append(j.buf[:0], r), 0
		c.begin(r)
		return
	}
	j.buf = append(j.buf, r)
	for len(j.buf)-1-j.at > around+1 {
		c.decide()
	}
	if j.at > 8*around {
		j.buf = append(j.buf[:0], j.buf[j.at-around:]...)
		j.at = around
	}
}

// settleJumps decides on all readings that are held.
func (c *Clock) settleJumps() {
	for j := &c.jumps; j.begun && j.at < len(j.buf)-1; {
		c.decide()
	}
}

// decide lays the next reading, or leaves it out as wild, or levels the readings
// from it on.
func (c *Clock) decide() {
	j := &c.jumps
	a, b := j.buf[j.at], j.buf[j.at+1]
	if j.at > 0 && math.Abs(b.x-2*a.x+j.buf[j.at-1].x) <= c.limit(b.t-a.t) { // as the step before: nearly all
		j.at++
		c.lay(b)
		return
	}
	out, limit := c.sticksOut(j.at, true)
	wild := false
	if math.Abs(out) <= limit {
		// Of two wild readings in a row the second may excuse the first.
		out, limit = c.sticksOut(j.at, false)
		if wild = math.Abs(out) > 2*limit; !wild {
			j.at++
			c.lay(b)
			return
		}
	}
	before, ok := c.pace(j.at)
	if n := c.returns(a, before, max(limit, returnPart*math.Abs(out)), wild); n > 0 {
		j.buf = slices.Delete(j.buf, j.at+1, j.at+1+n)
		c.Spikes += n
		return
	}
	if wild {
		j.at++
		c.lay(b)
		return
	}
	after, also := c.paceOn(j.at + 1)
	expected := (before + after) / 2
	switch {
	case !ok:
		expected = after
	case !also:
		expected = before
	}
	slip := b.x - a.x - expected*(b.t-a.t)
	c.Slips++
	if len(j.slipped) == slipsKept {
		j.slipped = append(j.slipped[:0], j.slipped[1:]...)
	}
	j.slipped = append(j.slipped, jump{b.t, slip})
	j.shift += slip
	for i := j.at + 1; i < len(j.buf); i++ {
		j.buf[i].x -= slip
	}
	j.at++
	c.lay(j.buf[j.at])
}

// returns returns how many readings behind the last one laid are wild: those until
// one that lies where the bar may be, going on as before, or as behind (not where
// a drop may have ended: straight); 0 where none does. At the end of the trace, all.
func (c *Clock) returns(a reading, before, near float64, straight bool) int {
	j := &c.jumps
	for n := 1; n <= returnsIn+1; n++ {
		k := j.at + 1 + n
		if k == len(j.buf) {
			return n
		}
		if n > returnsIn {
			break
		}
		r := j.buf[k]
		behind, ok := c.paceOn(k)
		if !ok || straight {
			behind = before
		}
		s := r.t - a.t
		if d := r.x - a.x; d > min(before, behind)*s-near && d < max(before, behind)*s+near {
			return n
		}
	}
	return 0
}

// sticksOut returns by how much, m, the step behind a reading lies outside of
// those around it, or of those before alone, and how much is none. Times may be
// shaken, or samples missing: the step has to stick out as a distance and as a speed.
func (c *Clock) sticksOut(k int, behind bool) (by, limit float64) {
	j := &c.jumps
	dx, dt := j.buf[k+1].x-j.buf[k].x, j.buf[k+1].t-j.buf[k].t
	lo, hi := math.Inf(1), math.Inf(-1)
	slow, fast := math.Inf(1), math.Inf(-1)
	limit = c.limit(dt)
	step := func(i int) float64 { return j.buf[i+1].x - j.buf[i].x }
	last := len(j.buf) - 2
	for i := max(k-around, 0); i <= min(k+around, last); i++ {
		if i == k {
			if !behind {
				break
			}
			continue
		}
		d, t := step(i), j.buf[i+1].t-j.buf[i].t
		if i > k && i < last && math.Abs(d) > 2*limit && math.Abs(d+step(i+1)) < returnPart*math.Abs(d) {
			i++ // another wild reading
			continue
		}
		lo, hi = min(lo, d), max(hi, d)
		slow, fast = min(slow, d/t), max(fast, d/t)
	}
	if lo > hi {
		return 0, limit
	}
	beyond := func(lo, hi float64) float64 { return dx - min(max(dx, lo), hi) }
	far, quick := beyond(lo, hi), beyond(slow*dt, fast*dt)
	if far*quick <= 0 {
		return 0, limit
	}
	return math.Copysign(min(math.Abs(far), math.Abs(quick)), far), limit
}

// limit returns by how much, m, a step of dt may stick out.
func (c *Clock) limit(dt float64) float64 {
	return max(leastJump, jumpSteps*c.Step, min(hardest*dt*dt, fastest*dt))
}

// pace returns the speed up to a reading, of two steps; false at the start.
func (c *Clock) pace(k int) (float64, bool) { return c.between(max(k-2, 0), k) }

// paceOn returns the speed from a reading on, alike.
func (c *Clock) paceOn(k int) (float64, bool) {
	return c.between(k, min(k+2, len(c.jumps.buf)-1))
}

func (c *Clock) between(i, k int) (float64, bool) {
	a, b := c.jumps.buf[i], c.jumps.buf[k]
	if k <= i || b.t <= a.t {
		return 0, false
	}
	return (b.x - a.x) / (b.t - a.t), true
}
