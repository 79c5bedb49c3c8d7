package trace

import (
	"math"

	"repsift/ingest/rep"
	"repsift/ingest/trace/fit"
)

// blur returns the RMS error of a smoothed position, m: what the low pass
// leaves of the noise, beside what a model of a lift's edge misses.
func (s *Segmenter) blur() float64 {
	const model = 0.00025 // m
	step := s.clock.step / math.Sqrt(12)
	noise := max(s.sum.Noise, min(step, 0.003)) * math.Sqrt(min(1, 2*s.sum.Cutoff*s.clock.dt))
	return math.Hypot(noise, model)
}

// edge asks when the bar left a level it rested at (way −1) or came to rest
// there (way +1), or turned. Any threshold of speed starts the clock late, by an
// amount that depends on the lift and on the threshold; so the edge of the movement
// is fitted instead ([fit.Edge]), to where edgePart of the travel is done. On the
// other side of the level lies a rest of restFor or more, or another movement.
type edge struct {
	way           int
	level, travel float64   // m
	whole         float64   // s the movement takes, about; 0: unknown
	sigma         float64   // m, RMS error of the positions
	pull          bool      // from the floor
	ring          fit.Swing // that shakes the bar's middle; fitted along
}

// All: chosen on simulated traces, no source.
const (
	restFor    = 0.4  // s
	edgePart   = 0.10 // of the travel
	pullPart   = 0.06 // of a pull's: plates that swing free soon go another way
	edgePoints = 72
)

// edge returns the edge of a stroke.
func (s *Segmenter) edge(way int, k *stroke, m move) edge {
	e := edge{way: way, level: k.bottom, travel: k.level - k.bottom, sigma: s.blur(), pull: way < 0 && s.opt.Lift == rep.Deadlift, whole: s.win.t[m.to] - s.win.t[m.from]}
	if way > 0 {
		e.level = k.level
	}
	return e
}

// with is e with a ringing that is fitted along.
func (e edge) with(ring fit.Swing) edge {
	e.ring = ring
	return e
}

// find returns the moment, between two samples of a window, to excluded, and
// the level.
func (e edge) find(w *window, from, to int) (t, level float64) {
	far := func(i int) float64 { return math.Abs(w.y[i] - e.level) }
	// Walk outwards from the last sample well inside.
	inside := from
	for i := from; i < to; i++ {
		if far(i) >= 0.4*e.travel {
			inside = i
			if e.way < 0 {
				break
			}
		}
	}
	return e.around(w, from, to, inside)
}

// around is find, walking outwards from a sample well inside the movement.
func (e edge) around(w *window, from, to, inside int) (t, level float64) {
	far := func(i int) float64 { return math.Abs(w.y[i] - e.level) }
	at := func(dist float64) int {
		i := inside
		for i+e.way >= from && i+e.way < to && far(i) > dist {
			i += e.way
		}
		return i
	}
	part := float64(edgePart)
	if e.pull {
		part = pullPart
	}
	in, seen := at(max(part*e.travel, 8*e.sigma)), at(max(0.004*e.travel, 2*e.sigma))
	for (seen-in)*e.way < 5 && in != inside && far(in-e.way) < 0.25*e.travel {
		in -= e.way
	}
	near := max(0.006*e.travel, 4*e.sigma, 0.003) + 3*e.ring.Size
	out := seen
	next := func() bool { return out+e.way >= from && out+e.way < to }
	for next() && far(out+e.way) < near && math.Abs(w.t[out+e.way]-w.t[seen]) < restFor {
		out += e.way
	}
	rested := out // where the rest begins, or restFor before
	if next() && math.Abs(w.t[out+e.way]-w.t[seen]) < restFor {
		most := max(edgePart*e.travel, 8*e.sigma, near)
		for next() && far(out+e.way) < most && far(out+e.way) >= far(out)-e.sigma && math.Abs(w.t[out+e.way]-w.t[rested]) < restFor {
			out += e.way
		}
	}
	n := (out-in)*e.way + 1
	if n < 4 {
		return w.t[seen], w.y[seen]
	}
	// Positions as measured: the low pass rounds off a sharp edge.
	stride := (n + edgePoints - 1) / edgePoints
	var ts, ys []float64
	for k := 0; k+stride <= n; k += stride {
		t, y := 0.0, 0.0
		for i := range stride {
			at := out - e.way*(k+i)
			t, y = t+math.Abs(w.t[at]-w.t[out]), y+w.raw[at]-e.level
		}
		ts, ys = append(ts, t/float64(stride)), append(ys, y/float64(stride))
	}
	f := fit.Edge{Whole: e.whole, Sigma: e.sigma, Pull: e.pull, Way: e.way, Swing: e.ring}
	known := math.Abs(w.t[in] - w.t[seen])
	latest := math.Abs(w.t[seen] - w.t[out])
	if e.ring.Hz == 0 {
		left := math.Abs(w.t[rested] - w.t[out])
		if out == rested {
			left = latest
		}
		t, level = f.Between(ts, ys, max(0, min(left-0.05, latest-2*known-0.03)), latest+known/2, out == rested)
	} else {
		for len(ts) > 0 && ts[0] < math.Abs(w.t[rested]-w.t[out]) {
			ts, ys = ts[1:], ys[1:]
		}
		t, level = f.Shaken(ts, ys, max(0, latest-2*known-0.03), latest+known/2)
	}
	return w.t[out] - float64(e.way)*t, e.level + level
}
