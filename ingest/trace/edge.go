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
	noise := max(s.sum.Noise, s.steps()) * math.Sqrt(min(1, 2*s.sum.Cutoff*s.clock.dt))
	return math.Hypot(noise, model)
}

// steps returns the RMS error of positions in steps, m.
func (s *Segmenter) steps() float64 { return min(s.clock.step/math.Sqrt(12), 0.003) }

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
	pull          bool      // of plates from the floor
	ring          fit.Swing // that shakes the bar's middle; fitted along
}

// All: chosen on simulated traces, no source.
const (
	restFor    = 0.4  // s
	edgePart   = 0.2  // of the travel
	pullPart   = 0.06 // of a pull's: plates that swing free soon go another way
	fewPoints  = 7    // in the edge: where samples are fewer, it goes further …
	fewPart    = 0.6  // of the travel: … up to here
	edgePoints = 50
	leastTrue  = 0.00003 // m: no model is truer
	firstTrue  = 0.001   // m: the first guess is no coarser; at low rates lifts look like noise
	halfTook   = 3.6     // times what lies between a tenth and half of the way is the whole, about
)

// pull reports whether the tether is at plates that leave the floor.
func (s *Segmenter) pull() bool {
	return s.opt.Lift == rep.Deadlift && s.atPlates()
}

// atPlates reports whether the tether is near the plates, not at the hands.
func (s *Segmenter) atPlates() bool {
	return s.opt.Tether == rep.TetherInsideSleeve || s.opt.Tether == rep.TetherSleeveEnd
}

// edge returns the edge of a stroke.
func (s *Segmenter) edge(way int, k *stroke) edge {
	e := edge{way: way, level: k.bottom, travel: k.level - k.bottom, sigma: s.blur(), pull: way < 0 && s.pull(), whole: k.span()}
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
	// Walk outwards from the last sample well inside.
	inside := from
	for i := from; i < to; i++ {
		if e.far(w, i) >= 0.4*e.travel {
			inside = i
			if e.way < 0 {
				break
			}
		}
	}
	return e.around(w, from, to, inside)
}

// far returns how far a sample lies from the level.
func (e *edge) far(w *window, i int) float64 { return math.Abs(w.y[i] - e.level) }

// around is find, walking outwards from a sample well inside the movement.
func (e edge) around(w *window, from, to, inside int) (t, level float64) {
	far := func(i int) float64 { return e.far(w, i) }
	at := func(dist float64) int {
		i := inside
		for i+e.way >= from && i+e.way < to && far(i) > dist {
			i += e.way
		}
		return i
	}
	part := edgePart
	if e.pull {
		part = pullPart
	}
	in, seen := at(max(part*e.travel, 8*e.sigma)), at(max(0.004*e.travel, 2*e.sigma))
	for (seen-in)*e.way < fewPoints && in != inside && far(in-e.way) < fewPart*e.travel {
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
	shaken := e.ring.Hz != 0
	if shaken {
		out, n = rested, (rested-in)*e.way+1
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
	f := fit.Edge{Whole: e.whole, Sigma: min(e.sigma, firstTrue), Least: max(w.least/math.Sqrt(float64(stride)), leastTrue), Pull: e.pull, Way: e.way, Swing: e.ring}
	if f.Whole <= 0 {
		f.Whole = 2.5 * math.Abs(w.t[in]-w.t[seen])
	}
	f.Other = f.Whole
	if took := e.other(w, rested, from, to); out != rested && took > 0 {
		f.Other = took
	}
	// Which way both go: the level is not known that well where samples are few.
	flat := 0.0
	for i := rested; i != seen-e.way; i -= e.way {
		flat += (w.raw[i] - e.level) / float64((rested-seen)*e.way+1)
	}
	f.Travel = math.Copysign(e.travel, ys[len(ys)-1]-flat)
	if f.Back = f.Travel; math.Abs(ys[0]-flat) > near {
		f.Back = math.Copysign(e.travel, ys[0]-flat)
	}
	// No course is gentler than the fourth power, which takes as long to the first
	// sample seen as from there to a tenth of the way.
	known := math.Abs(w.t[at(max(0.1*e.travel, 8*e.sigma))] - w.t[seen])
	latest, left := math.Abs(w.t[seen]-w.t[out]), math.Abs(w.t[rested]-w.t[out])
	if out == rested {
		left = latest
	}
	dt := math.Abs(w.t[in] - w.t[in+e.way])
	t, level = f.Between(ts, ys, max(0, min(left-0.05, latest-known-0.02-dt)), latest+max(known/2, dt), out == rested)
	return w.t[out] - float64(e.way)*t, e.level + level
}

// other returns how long the movement on the other side of a level takes, about;
// 0 where there is none that goes half as far.
func (e *edge) other(w *window, i, from, to int) float64 {
	reach := func(part float64) bool {
		for i+e.way >= from && i+e.way < to && e.far(w, i) < part*e.travel {
			i += e.way
		}
		return e.far(w, i) >= part*e.travel
	}
	if !reach(0.1) {
		return 0
	}
	tenth := w.t[i]
	if !reach(0.5) {
		return 0
	}
	return max(0.3, halfTook*math.Abs(w.t[i]-tenth))
}
