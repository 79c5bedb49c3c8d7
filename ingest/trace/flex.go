package trace

import (
	"math"

	"repsift/ingest/rep"
)

// The usual bar for pulls, held at shoulder width: 27 mm, about 1.41 m between
// the sleeves, 20 kg, hands about 0.55 m apart (common practice; no single
// rule); steel at 205 GPa (engineering tables: 200–205).
const (
	shaft   = 0.027   // m
	between = 1.41    // m
	hands   = 0.55    // m
	modulus = 2.05e11 // Pa
	barKg   = 20.0
)

// middleRise returns how far the middle of a whippy bar stands above the
// plates once they hang, m: two equal loads P on a span L, each at distance a
// from its support, deflect the middle by P·a·(3L² − 4a²)/(24EI).
//
// Source: Roark's Formulas for Stress and Strain; Mott, Machine Elements in
// Mechanical Design, table A14-1(b).
func middleRise(loadKg float64) float64 {
	force := max(0, loadKg-barKg) / 2 * gravity
	a := (between - hands) / 2
	inertia := math.Pi * math.Pow(shaft, 4) / 64
	return force * a * (3*between*between - 4*a*a) / (24 * modulus * inertia)
}

// flexOf returns by how much load and bar say that the middle of the bar rises
// before the plates do: of a pull on a whippy bar, with the tether at its
// centre; else 0.
func (s *Segmenter) flexOf() float64 {
	o := &s.opt
	if o.Bar != rep.DeadliftBar || o.Tether != rep.TetherCentre || o.Lift != rep.Deadlift {
		return 0
	}
	return middleRise(o.LoadKg)
}

// flex takes bar flex out of a stroke: the slack at its start, the ringing at
// its end.
func (s *Segmenter) flex(k *stroke, m move, on hold, ring ringing, sigma float64) {
	w := &s.win
	if ring.hz > 0 {
		k.RingHz = ring.hz
		k.level = on.level
		if from, to := max(m.from-2, 0), min(on.to, w.index(k.end+1)); to-from > 2*padding {
			e := edge{way: 1, level: on.level, travel: k.level - k.bottom, sigma: sigma}
			z := w.unrung(from, to, ring)
			if s.opt.Tether == rep.TetherCentre {
				// The middle is moved by the hands and only shaken by the plates.
				z, e.ring = window{t: w.t[from:to], y: w.y[from:to]}, ring
			}
			if end := e.find(&z, 0, len(z.y)); end > k.start+0.1 {
				k.end = end
			}
		}
		high := k.level
		for i := w.index(k.end); i < on.to && w.t[i] < k.end+1/ring.hz; i++ {
			high = max(high, w.y[i])
		}
		k.RingTravel = high - k.level
	}
	if s.sum.Flex == 0 {
		return
	}
	rise := s.sum.Flex
	if k.level-k.bottom < 2*rise {
		return
	}
	t := w.passing(w.index(k.start), m.to, k.bottom+rise)
	k.SlackTime, k.SlackTravel = t-k.start, rise
	k.start, k.bottom = t, k.bottom+rise
}

// passing returns when the position last rises through a height before m.to.
func (w *window) passing(from, to int, height float64) float64 {
	for i := from; i < to; i++ {
		if w.y[i+1] >= height {
			share := (height - w.y[i]) / max(w.y[i+1]-w.y[i], 1e-12)
			return w.t[i] + min(1, max(0, share))*(w.t[i+1]-w.t[i])
		}
	}
	return w.t[from]
}

// hold is the time a bar is held after a movement: samples from, to excluded.
type hold struct {
	from, to int
	level    float64 // m, where it settles: the median
	steady   bool    // long enough to tell
}

const (
	holdLeast = 0.35 // s
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
