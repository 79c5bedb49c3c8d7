package trace

import (
	"math"

	"repsift/ingest/bar"
	"repsift/ingest/rep"
	"repsift/ingest/trace/fit"
	"repsift/ingest/trace/lowpass"
)

// flexOf returns by how much load and bar say that the middle of the bar rises
// before the plates do: of a pull with the tether at the centre; else 0.
func (s *Segmenter) flexOf() float64 {
	o := &s.opt
	if o.Tether != rep.TetherCentre || o.Lift != rep.Deadlift {
		return 0
	}
	switch o.Bar {
	case rep.DeadliftBar:
		return bar.Deadlift.Middle(bar.Deadlift.Force(o.LoadKg))
	case rep.StiffBar:
		return bar.Stiff.Middle(bar.Stiff.Force(o.LoadKg))
	}
	return 0
}

// flex takes bar flex out of a stroke: the ringing at its ends, the slack at
// its start.
func (s *Segmenter) flex(k *stroke, m move) {
	w := &s.win
	on := w.held(k.end)
	ring := w.ringIn(on, 3*s.blur())
	if ring.Hz*s.clock.dt > ringShare {
		ring = fit.Swing{}
	}
	seemed := k.end
	if ring.Hz > 0 {
		k.RingHz, k.level = ring.Hz, on.level
	}
	switch {
	case s.atPlates():
		s.swing(k, m, ring)
	case ring.Hz > 0:
		s.shake(k, m, on, ring)
	}
	if ring.Hz > 0 {
		k.RingTime = seemed - k.end
	}
	for i := w.index(k.end); ring.Hz > 0 && i < on.to && w.t[i] < k.end+1/ring.Hz; i++ {
		k.RingTravel = max(k.RingTravel, w.y[i]-k.level)
	}
	if s.sum.Flex == 0 {
		return
	}
	rise := s.sum.Flex
	if ring.Hz > 0 {
		// Plates on a spring that g bends by this much swing at this frequency; the
		// give of the lifter makes it lower, never higher.
		omega := 2 * math.Pi * ring.Hz
		rise = min(rise, gravity/omega/omega)
	}
	if k.level-k.bottom < 2*rise {
		return
	}
	from := w.index(k.start)
	slack := w.slack(from, k.bottom)
	t, at := w.liftoff(from, m.to, slack, rise)
	k.SlackTime, k.SlackTravel = max(0, t-k.start), at-slack
	k.start, k.bottom = max(t, k.start), at
}

// shake finds the end of a stroke anew where the tether is at the middle of the
// bar, which the hands move and the plates only shake: the ringing is fitted
// along. Its start is left as it is.
func (s *Segmenter) shake(k *stroke, m move, on hold, ring fit.Swing) {
	w := &s.win
	from, to := max(m.from-2, 0), min(on.to, w.index(k.end+1))
	if to-from <= 2*lowpass.Padding {
		return
	}
	end, _ := s.edge(1, k).with(ring).find(w, from, to)
	if math.Abs(end-k.end) < ringMoves*k.span() && end > k.start+0.1 {
		k.end = end
	}
}

// swing finds the ends of a stroke anew where the tether is at the plates, on
// the path of what they swing on; a pull's start on the floor is left as it is.
// Where a hold was too short to see them swing, they do as after the rep before:
// it is the same bar and load.
func (s *Segmenter) swing(k *stroke, m move, ring fit.Swing) {
	if ring.Hz > 0 {
		s.ring, s.rungAt = ring, k.end
	} else if ring = s.ring; ring.Hz == 0 || k.start-s.rungAt > setRest {
		if ring = s.springs(); ring.Hz == 0 || ring.Hz*s.clock.dt > lowpass.HighShare {
			return
		}
	}
	w := &s.win
	find := func(way, from, to int, now, level, other float64) float64 {
		if to-from <= 2*lowpass.Padding {
			return now
		}
		e := s.edge(way, k)
		var z window
		z, e.sigma = s.unrung(from, to, ring)
		t, _ := e.around(&z, 0, len(z.y), z.well(z.index(now), -way, level, other))
		if math.Abs(t-now) < min(1/ring.Hz, ringMoves*k.span()) {
			return t
		}
		return now
	}
	k.end = find(1, max(m.from-2, 0), w.after(w.index(k.end), 2*restFor)+1, k.end, k.level, k.bottom)
	if s.opt.Lift != rep.Deadlift {
		k.start = find(-1, w.before(w.index(k.start), 2*restFor), m.to+1, k.start, k.bottom, k.level)
	}
}

// springs returns how plates of this load swing on this bar where it is not seen:
// what a spring gives under a weight says at what frequency the weight swings on it.
func (s *Segmenter) springs() (ring fit.Swing) {
	o := &s.opt
	var b bar.Bar
	switch o.Bar {
	case rep.DeadliftBar:
		b = bar.Deadlift
	case rep.StiffBar:
		b = bar.Stiff
	default:
		return ring
	}
	if o.Lift == rep.BenchPress {
		b.Hands = benchHands
	}
	if gives := b.Middle(b.Force(o.LoadKg)); gives > 0 {
		ring.Hz = math.Sqrt(gravity/gives) / 2 / math.Pi
	}
	return ring
}

// slack returns the position of the bar's middle when nothing bends it: the
// lowest at which it rested on the floor before a lift, within the last seconds.
func (w *window) slack(from int, bottom float64) float64 {
	const (
		within = 8.0 // s
		above  = 0.1 // m: the lift before
	)
	for i := from; i >= 0 && w.t[from]-w.t[i] < within && w.y[i] < bottom+above; i-- {
		if math.Abs(w.v[i]) < leastSpeed {
			bottom = min(bottom, w.y[i])
		}
	}
	return bottom
}

// liftoff returns when the plates leave the floor, and where the bar's middle is
// then: when it passes the rise that load and bar say; or,
// where the lifter holds the slack for a moment a little above that, when it
// leaves this hold, since plates do not hover.
func (w *window) liftoff(from, to int, slack, rise float64) (t, at float64) {
	const most = 1.7 // times the rise that bar and grip of a kind may make of it
	pass := from
	for pass < to && w.y[pass] < slack+rise {
		pass++
	}
	held := -1
	for i := pass; i < to && w.y[i] < slack+most*rise; i++ {
		if w.v[i] < leastSpeed {
			held = i
		}
	}
	if held >= 0 {
		return w.t[held], w.y[held]
	}
	if pass == from {
		return w.t[from], w.y[from]
	}
	share := (slack + rise - w.y[pass-1]) / max(w.y[pass]-w.y[pass-1], 1e-12)
	return w.t[pass-1] + share*(w.t[pass]-w.t[pass-1]), slack + rise
}

// hold is the time a bar is held after a movement: samples from, to excluded.
type hold struct {
	from, to int
	level    float64 // m, where it settles: the median
	steady   bool    // long enough to tell
}

const (
	benchHands = 0.7  // m between the hands of a bench press; common practice, no source
	holdLeast  = 0.35 // s
	ringShare  = 0.35 // of the sampling rate: faster, it is the low pass that rings
	ringPause  = 0.5  // s before a start from a pause that are looked at …
	ringMoves  = 0.35 // of the rep: by no more does a ringing move its ends
	ringNear   = 0.1  // of the travel: … while the bar is no further away
	holdMost   = 1.5  // s
	holdDrop   = 0.06 // m: the bar is on its way down …
	holdSwing  = 0.2  // s: … where it does not swing back within
)

// held returns the hold behind a movement that ends at a time.
func (w *window) held(end float64) hold {
	h := hold{from: w.index(end)}
	h.level = w.y[h.from]
	h.to = h.from
	out := h.from // last sample near the level
	for ; h.to < len(w.t) && w.t[h.to] < end+holdMost; h.to++ {
		if math.Abs(w.y[h.to]-h.level) < holdDrop {
			out = h.to
		} else if w.t[h.to]-w.t[out] > holdSwing {
			break
		}
	}
	if h.to = out + 1; h.to < len(w.t) {
		for h.to > h.from && w.v[h.to-1] < -leastSpeed {
			h.to--
		}
	}
	if h.to-h.from > 3 && w.t[h.to-1]-w.t[h.from] >= holdLeast {
		h.level = median(w.y[h.from:h.to])
		h.steady = true
	}
	return h
}
