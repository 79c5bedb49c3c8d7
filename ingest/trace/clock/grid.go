package clock

import "math"

const (
	nearPlace  = 0.02 // of an interval: a sample this near its place is taken as it is
	bridged    = 3.5  // intervals: two samples lost are bridged by a straight line …
	bridgedFor = 0.15 // s: … if that is no longer than this;
	bridgedAt  = 0.02 // s: so short a gap always is, it hides nothing a lifter does
)

// grid is where even samples lie.
type grid struct {
	last  reading
	place float64 // of the next
}

// begin starts evenly spaced samples anew.
func (c *Clock) begin(r reading) {
	c.grid.last = r
	c.grid.place = r.t + c.DT
	c.out.Push(Sample{r.line, r.t, r.x}, false)
}

// lay puts even samples up to a reading.
func (c *Clock) lay(r reading) {
	g := &c.grid
	a := g.last
	g.last = r
	if d := math.Abs(r.x - a.x); d > 0 && (c.Step == 0 || d < c.Step) && d > 1e-9 {
		c.Step = d
	}
	span := r.t - a.t
	hole := span > max(bridgedAt, min(bridged*c.DT, bridgedFor), 1.5*c.DT)
	if hole {
		c.Gaps++
	}
	for g.place < r.t-nearPlace*c.DT {
		share := (g.place - a.t) / span
		line := r.line
		if share < nearPlace {
			line = a.line
		}
		c.out.Push(Sample{line, g.place, a.x + share*(r.x-a.x)}, hole)
		if !hole {
			c.Resampled++
		}
		g.place += c.DT
	}
	if math.Abs(g.place-r.t) <= nearPlace*c.DT {
		c.out.Push(Sample{r.line, r.t, r.x}, false)
		g.place = r.t + c.DT
	}
}
