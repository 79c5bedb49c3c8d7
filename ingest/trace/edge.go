package trace

import "math"

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
// fitted instead: a level, and from the sought moment on a power of time,
// position = level + a·|t − t0|^q, by least squares, from restFor before the
// movement shows to where edgePart of the travel is done. The answer is the mean
// over powers from 1 (speed from a jerk) to 4 and over all moments, weighted by
// their likelihood, so that noise blurs it but does not throw it.
type edge struct {
	way           int
	level, travel float64 // m
	sigma         float64 // m, RMS error of the positions
	pull          bool    // from the floor: plates leave it gently, powers of 3 and 4 are as likely as lower ones
	ring          ringing // that shakes the bar's middle; fitted along: from t0 on, or all along
}

const (
	restFor    = 0.4 // s
	edgePart   = 0.04
	edgePoints = 72
	edgeSteps  = 40
	// Neighbours behind a low pass say nearly the same: so many points count.
	edgeWorth = 10
	edgePrior = 0.6 // e-foldings a power: people seldom start that gently
)

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
	at := func(dist float64) int {
		i := inside
		for i+e.way >= from && i+e.way < to && far(i) > dist {
			i += e.way
		}
		return i
	}
	in, seen := at(max(edgePart*e.travel, 8*e.sigma)), at(max(0.004*e.travel, 2*e.sigma))
	for (seen-in)*e.way < 4 && in != inside && far(in-e.way) < 0.25*e.travel {
		in -= e.way
	}
	near := max(0.006*e.travel, 4*e.sigma, 0.003) + 3*e.ring.size
	out := seen
	for out+e.way >= from && out+e.way < to && far(out+e.way) < near && math.Abs(w.t[out+e.way]-w.t[seen]) < restFor {
		out += e.way
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
	t, level = e.fit(ts, ys, max(0, latest-2*known-0.03), latest+known/2)
	return w.t[out] - float64(e.way)*t, e.level + level
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
			prior := math.Exp(-edgePrior * (q - 1))
			if e.pull {
				prior = 1
			}
			for k := 0; k <= edgeSteps; k++ {
				t0 := earliest + (latest-earliest)*float64(k)/edgeSteps
				n.a, n.syy = normal{}.a, 0
				for i, t := range ts {
					x := [terms]float64{1, 0, swings[i][0], swings[i][1]}
					if t > t0 {
						x[1] = power(t-t0, q)
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
