package trace

import (
	"math"

	"repsift/ingest/rep"
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
// there (way +1). Any threshold of speed starts the clock late, by an amount
// that depends on the lift and on the threshold; so the edge of the movement is
// fitted instead, by least squares, to where edgePart of the travel is done: a
// level, and from the sought moment on a power of time,
//
//	position = level + a·u^q·(1 − c·u/T), u = |t − t2|, c = edgeCurve·q(q − 1)/(q + 1)
//
// T being the time the whole movement takes, about: c is edgeCurve times what a
// symmetric course of speed u^(q−1)·(T − u)^(q−1) has. Points count less the further
// they lie from the level, where no such curve fits all lifts. On the other side of the level
// lies a rest of restFor or more, or another movement, which ends at a moment
// t1 ≤ t2 by a power of its own; t1 = t2 where the bar turns. The answer is the
// mean over powers from 1 (speed from a jerk) to 4 and over all moments, weighted
// by their likelihood, so that noise blurs it but does not throw it.
type edge struct {
	way           int
	level, travel float64 // m
	whole         float64 // s the movement takes, about; 0: unknown, and c = 0
	sigma         float64 // m, RMS error of the positions
	pull          bool    // from the floor: plates leave it gently, powers of 3 and 4 are as likely as lower ones
	ring          ringing // that shakes the bar's middle; fitted along: from t2 on, or all along
}

// All: chosen on simulated traces, no source.
const (
	restFor    = 0.4  // s
	edgePart   = 0.10 // of the travel
	pullPart   = 0.06 // of a pull's: plates that swing free soon go another way
	edgeCurve  = 0.65
	edgeOff    = 0.02 // of the way from the level: how far the curve may be off
	edgePoints = 72
	edgeSteps  = 40
	// Neighbours behind a low pass say nearly the same: so many points count, a side.
	edgeWorth = 20
	edgePrior = 0.6 // e-foldings a power: people seldom start that gently
	turnPrior = 0.4 // share of levels without a rest between two movements
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
func (e edge) with(ring ringing) edge {
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
	near := max(0.006*e.travel, 4*e.sigma, 0.003) + 3*e.ring.size
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
	known := math.Abs(w.t[in] - w.t[seen])
	latest := math.Abs(w.t[seen] - w.t[out])
	if e.ring.hz == 0 {
		left := math.Abs(w.t[rested] - w.t[out])
		if out == rested {
			left = latest
		}
		t, level = e.both(ts, ys, max(0, min(left-0.05, latest-2*known-0.03)), latest+known/2, out == rested)
	} else {
		for len(ts) > 0 && ts[0] < math.Abs(w.t[rested]-w.t[out]) {
			ts, ys = ts[1:], ys[1:]
		}
		t, level = e.fit(ts, ys, max(0, latest-2*known-0.03), latest+known/2)
	}
	return w.t[out] - float64(e.way)*t, e.level + level
}

// prior returns how likely a power is beside others.
func (e edge) prior(q float64) float64 {
	if e.pull {
		return 1
	}
	return math.Exp(-edgePrior * (q - 1))
}

// flank is one side of a level: the sums of a power of the time from a moment.
type flank struct{ s, ss, sy, prior float64 }

// flank returns the sums of the power q on one side of t0: behind it (way 1) or
// before it (way −1).
func (e edge) flank(ts, ys, ws []float64, t0, q, way float64) flank {
	f := flank{prior: e.prior(q)}
	for i, t := range ts {
		if d := way * (t - t0); d > 0 {
			x := e.power(d, q)
			w := ws[i] * x
			f.s, f.ss, f.sy = f.s+w, f.ss+w*x, f.sy+w*ys[i]
		}
	}
	return f
}

// both fits a level between two movements, or beside one: rested says that what
// lies before is rest.
func (e edge) both(ts, ys []float64, earliest, latest float64, rested bool) (t, level float64) {
	const powers = 7
	var left, right [edgeSteps + 1][powers]flank
	sy, syy, n := 0.0, 0.0, 0.0
	ws := make([]float64, len(ts))
	for i, y := range ys {
		off := edgeOff * y / e.sigma
		ws[i] = 1 / (1 + off*off)
		sy, syy, n = sy+ws[i]*y, syy+ws[i]*y*y, n+ws[i]
	}
	at := func(k int) float64 { return earliest + (latest-earliest)*float64(k)/edgeSteps }
	sides := 2.0
	if rested {
		sides = 1
	}
	// Weights are kept beside the best so far, so that one pass will do.
	best, total, scale := math.Inf(1), 0.0, 0.5*sides*edgeWorth/n/(e.sigma*e.sigma)
	try := func(a, b *flank, k int, prior float64) {
		num, den, sse := sy, n, syy
		if a.ss > 0 {
			num, den, sse = num-a.s*a.sy/a.ss, den-a.s*a.s/a.ss, sse-a.sy*a.sy/a.ss
		}
		if b.ss > 0 {
			num, den, sse = num-b.s*b.sy/b.ss, den-b.s*b.s/b.ss, sse-b.sy*b.sy/b.ss
		}
		if den < 1e-6*n {
			return
		}
		sse -= num * num / den
		if sse < best {
			less := math.Exp(scale * (sse - best))
			best, t, level, total = sse, t*less, level*less, total*less
		}
		if x := scale * (sse - best); x < 20 {
			weight := prior * a.prior * b.prior * math.Exp(-x)
			t, level, total = t+weight*at(k), level+weight*num/den, total+weight
		}
	}
	none := flank{prior: 1}
	for k := range right {
		for p := range powers {
			q := 1 + float64(p)/2
			right[k][p] = e.flank(ts, ys, ws, at(k), q, 1)
			if rested {
				try(&none, &right[k][p], k, 1)
			} else {
				left[k][p] = e.flank(ts, ys, ws, at(k), q, -1)
			}
		}
	}
	for i := 0; !rested && i < len(left); i++ {
		for j := i; j < len(right); j++ {
			prior := (1 - turnPrior) * 2 / (edgeSteps * (edgeSteps + 1))
			if i == j {
				prior = turnPrior / (edgeSteps + 1)
			}
			for p := range powers {
				for q := range powers {
					try(&left[i][p], &right[j][q], j, prior)
				}
			}
		}
	}
	return t / total, level / total
}

// fit returns the moment at which y leaves its level, between two times, and the
// level; times run from rest into the movement.
func (e edge) fit(ts, ys []float64, earliest, latest float64) (t, level float64) {
	swings := make([][2]float64, len(ts))
	models := 1
	n := normal{k: 2}
	if e.ring.hz > 0 {
		models, n.k = 2, 4
		for i, t := range ts {
			swings[i][0], swings[i][1] = e.ring.at(-float64(e.way) * t)
		}
	}
	best := math.Inf(1)
	var t0s, levels, sses, priors []float64
	for m := range models {
		for q := 1.0; q <= 4; q += 0.5 {
			prior := e.prior(q)
			for k := 0; k <= edgeSteps; k++ {
				t0 := earliest + (latest-earliest)*float64(k)/edgeSteps
				n.a, n.syy = normal{}.a, 0
				for i, t := range ts {
					x := [terms]float64{1, 0, swings[i][0], swings[i][1]}
					if t > t0 {
						x[1] = e.power(t-t0, q)
						if m == 1 {
							x[2], x[3] = 0, 0
						}
					}
					n.add(&x, ys[i])
				}
				c, sse := n.solve()
				t0s, levels = append(t0s, t0), append(levels, c[0])
				sses, priors = append(sses, sse), append(priors, prior)
				best = min(best, sse)
			}
		}
	}
	total := 0.0
	for i, sse := range sses {
		weight := priors[i] * math.Exp(-0.5*edgeWorth*(sse-best)/float64(len(ts))/(e.sigma*e.sigma))
		t, level, total = t+weight*t0s[i], level+weight*levels[i], total+weight
	}
	return t / total, level / total
}

// power is how far a movement is at a time, but for a.
func (e edge) power(x, q float64) float64 {
	p := power(x, q)
	if e.whole > 0 {
		p *= 1 - edgeCurve*q*(q-1)/(q+1)*min(x/e.whole, 0.3)
	}
	return p
}

// power returns x^q for q a multiple of ½.
func power(x, q float64) float64 {
	p := 1.0
	for ; q >= 1; q-- {
		p *= x
	}
	if q > 0 {
		p *= math.Sqrt(x)
	}
	return p
}
