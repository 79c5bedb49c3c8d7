package trace

import (
	"math"

	"repsift/ingest/bar"
	"repsift/ingest/rep"
)

// flexOf returns by how much load and bar say that the middle of the bar rises
// before the plates do: of a pull on a whippy bar, with the tether at its
// centre; else 0.
func (s *Segmenter) flexOf() float64 {
	o := &s.opt
	if o.Bar != rep.DeadliftBar || o.Tether != rep.TetherCentre || o.Lift != rep.Deadlift {
		return 0
	}
	return bar.Deadlift.Middle(bar.Deadlift.Force(o.LoadKg))
}

// flex takes bar flex out of a stroke: the ringing at its ends, the slack at
// its start. turned says that it began without a pause.
func (s *Segmenter) flex(k *stroke, m move, turned bool) {
	w := &s.win
	sigma := s.blur()
	on := w.held(k.end)
	ring := w.ringIn(on, 3*sigma)
	if ring.hz > 0 {
		s.unring(k, m, on, ring, s.opt.Tether == rep.TetherInsideSleeve || s.opt.Tether == rep.TetherSleeveEnd, turned)
	}
	if s.sum.Flex == 0 {
		return
	}
	rise := s.sum.Flex
	if ring.hz > 0 {
		// Plates on a spring that g bends by this much swing at this frequency; the
		// give of the lifter makes it lower, never higher.
		omega := 2 * math.Pi * ring.hz
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

// unring finds the ends of a stroke anew, without the ringing: its end, and its
// start where it began from a pause in which the bar hung. plates says that the
// tether is at the plates; the middle of a bar that lies on the back or in the
// hands over the chest hardly rings, and is left as it is.
func (s *Segmenter) unring(k *stroke, m move, on hold, ring ringing, plates, turned bool) {
	w := &s.win
	sigma, pull := s.blur(), s.opt.Lift == rep.Deadlift
	k.RingHz, k.level = ring.hz, on.level
	find := func(way, from, to int, level float64) (t float64) {
		e := edge{way: way, level: level, travel: k.level - k.bottom, sigma: sigma, pull: pull}
		if !plates {
			// The middle is moved by the hands and only shaken by the plates.
			e.ring = ring
			t, _ = e.find(w, from, to)
			return t
		}
		e.sigma = math.Hypot(sigma, sigma*math.Pow(s.sum.Cutoff/ring.hz, 2))
		z := w.unrung(from, to, ring)
		t, _ = e.find(&z, 0, len(z.y))
		return t
	}
	if from, to := max(m.from-2, 0), min(on.to, w.index(k.end+1)); to-from > 2*padding {
		if end := find(1, from, to, on.level); math.Abs(end-k.end) < min(1/ring.hz, ringMoves*k.span()) && end > k.start+0.1 {
			k.end = end
		}
	}
	if plates && !turned && !pull {
		from := w.index(k.start)
		for from > 0 && w.t[from] > k.start-ringPause && math.Abs(w.y[from-1]-k.bottom) < ringNear*(k.level-k.bottom) {
			from--
		}
		if m.to-from > 2*padding {
			if start := find(-1, from, m.to+1, k.bottom); math.Abs(start-k.start) < 1/ring.hz {
				k.start = start
			}
		}
	}
	for i := w.index(k.end); i < on.to && w.t[i] < k.end+1/ring.hz; i++ {
		k.RingTravel = max(k.RingTravel, w.y[i]-k.level)
	}
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
	holdLeast = 0.35 // s
	ringPause = 0.5  // s before a start from a pause that are looked at …
	ringMoves = 0.2  // of the rep: by no more does a ringing move its ends
	ringNear  = 0.1  // of the travel: … while the bar is no further away
	holdMost  = 1.5  // s
	holdDrop  = 0.06 // m: the bar is on its way down …
	holdSwing = 0.2  // s: … where it does not swing back within
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
