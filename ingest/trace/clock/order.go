package clock

import "math"

const (
	carriedGap = 1.0 // s: a longer gap ends everything before it
	lateFor    = 0.5 // s of samples whose times stay behind: the clock was set back, or began anew
	lateLeast  = 16  // … and at least so many
	setBackBy  = 5.0 // s: a clock set back further began anew, …
	anewWithin = 1.0 // s: … as did one that is this near to its first time again
)

// order brings readings into the order of time.
type order struct {
	started bool
	began   float64   // s, raw: the first time since the clock began
	newest  reading   // raw
	offset  float64   // from raw times to those of the grid
	late    []reading // behind the newest
	ahead   []reading // one at most: a second or more ahead of the newest
}

// inOrder passes a reading on once its place is known. A single time that is far
// ahead, or behind, is the clock's error if the next ones go on from before.
func (c *Clock) inOrder(r reading) {
	o := &c.order
	if !o.started {
		o.started, o.began, o.offset = true, r.t, -r.t
		c.pass(r)
		return
	}
	if len(o.ahead) > 0 && r.t > o.newest.t {
		held := o.ahead[0]
		o.ahead = o.ahead[:0]
		if r.t > held.t {
			c.pass(held)
		} else {
			c.Dropped++
		}
	}
	switch d := r.t - o.newest.t; {
	case d <= 0:
		o.late = append(o.late, r)
		if len(o.late) >= max(lateLeast, int(lateFor/c.DT)) {
			c.resume()
		}
		return
	case len(o.late) > 1 && !r.speed && math.Abs(r.x-o.late[len(o.late)-1].x) < math.Abs(r.x-o.newest.x):
		o.late = append(o.late, r) // the bar went on while the clock caught up
		c.resume()
		return
	case d > carriedGap:
		c.Dropped += len(o.late)
		o.late = o.late[:0]
		o.ahead = append(o.ahead, r)
		return
	}
	c.Dropped += len(o.late)
	o.late = o.late[:0]
	c.pass(r)
}

// resume goes on with readings whose times lie behind the newest: those of a clock
// that was set back, or that began anew with another set.
func (c *Clock) resume() {
	o := &c.order
	for _, r := range o.ahead {
		c.pass(r)
	}
	late := o.late
	o.late, o.ahead = nil, o.ahead[:0]
	// Repeated and shaken times are no clock.
	rising := 0
	for i := 1; i < len(late); i++ {
		if late[i].t > late[i-1].t {
			rising++
		}
	}
	if 2*rising < len(late) {
		c.Dropped += len(late)
		return
	}
	first := late[0].t
	if first <= o.began+anewWithin || o.newest.t-first > setBackBy {
		c.settleJumps()
		c.Restarts++
		c.out.Break(true)
		c.jumps.begun = false
		o.began = first
		o.offset += o.newest.t + c.rest - first
	} else {
		c.SetBack++
		o.offset += o.newest.t + c.DT - first
	}
	o.newest = reading{t: first - c.DT, x: late[0].x}
	for _, r := range late {
		c.inOrder(r)
	}
}

// settleOrder passes on what is left at the end of the trace.
func (c *Clock) settleOrder() {
	if o := &c.order; len(o.late) >= lateLeast {
		c.resume()
	}
	c.Dropped += len(c.order.late)
	for _, r := range c.order.ahead {
		c.pass(r)
	}
}

// pass hands a reading on to where jumps are looked for.
func (c *Clock) pass(r reading) {
	gap := r.t - c.order.newest.t
	c.order.newest = r
	r.t += c.order.offset
	if r.speed {
		r.x = c.travelled(r.t, r.x)
	}
	if c.jumps.begun && gap > carriedGap {
		c.settleJumps()
		c.Gaps++
		c.out.Break(false)
		c.jumps.begun = false
	}
	c.feed(r)
}
