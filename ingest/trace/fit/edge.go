package fit

import "math"

// Edge is the end of a movement at a level: where it leaves a rest, comes to one,
// or turns. Times run from outside the movement into it, positions are relative to the
// level.
//
// The movement is a power of time, a·u^q·(1 − c·u/Whole), u = |t − t2| and
// c = 0.65·q(q − 1)/(q + 1): part of what a symmetric course of speed
// u^(q−1)·(Whole − u)^(q−1) has. Points count less the further they lie from the
// level, where no such curve fits all lifts. The other side of the level may be
// rest, or another movement, which ends at t1 ≤ t2 by a power of its own; t1 = t2
// where the bar turns. Answers are means over powers from 1 (speed from a jerk) to
// 4 and over all moments, weighted by their likelihood, so that noise blurs them
// but does not throw them.
type Edge struct {
	Whole float64 // s the movement takes, about; 0: unknown, and c = 0
	Sigma float64 // m, RMS error of the positions
	Pull  bool    // from the floor: plates leave it gently, powers of 3 and 4 are as likely as lower ones
	Way   int     // +1 where times run backwards: the end of a movement; −1 at its start
	Swing Swing   // fitted along by Shaken
}

// All: chosen on simulated traces, no source.
const (
	steps = 40
	curve = 0.65
	off   = 0.02 // of the way from the level: how far the curve may be off
	// Neighbours behind a low pass say nearly the same: so many points count, a side.
	worth     = 20
	gentle    = 0.6 // e-foldings a power: people seldom start that gently
	turnPrior = 0.4 // share of levels without a rest between two movements
)

// prior returns how likely a power is beside others.
func (e Edge) prior(q float64) float64 {
	if e.Pull {
		return 1
	}
	return math.Exp(-gentle * (q - 1))
}

// flank is one side of a level: the sums of a power of the time from a moment.
type flank struct{ s, ss, sy, prior float64 }

// flank returns the sums of the power q on one side of t0: behind it (way 1) or
// before it (way −1).
func (e Edge) flank(ts, ys, ws []float64, t0, q, way float64) flank {
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

// Between fits a level between two movements, or beside one: rested says that what
// lies before is rest.
func (e Edge) Between(ts, ys []float64, earliest, latest float64, rested bool) (t, level float64) {
	const powers = 7
	var left, right [steps + 1][powers]flank
	sy, syy, n := 0.0, 0.0, 0.0
	ws := make([]float64, len(ts))
	for i, y := range ys {
		d := off * y / e.Sigma
		ws[i] = 1 / (1 + d*d)
		sy, syy, n = sy+ws[i]*y, syy+ws[i]*y*y, n+ws[i]
	}
	at := func(k int) float64 { return earliest + (latest-earliest)*float64(k)/steps }
	sides := 2.0
	if rested {
		sides = 1
	}
	// Weights are kept beside the best so far, so that one pass will do.
	best, total, scale := math.Inf(1), 0.0, 0.5*sides*worth/n/(e.Sigma*e.Sigma)
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
			prior := (1 - turnPrior) * 2 / (steps * (steps + 1))
			if i == j {
				prior = turnPrior / (steps + 1)
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

// Shaken returns the moment at which y leaves its level, between two times, and
// the level, with a swing fitted along: from that moment on, or all along; times run from rest into the movement.
func (e Edge) Shaken(ts, ys []float64, earliest, latest float64) (t, level float64) {
	swings := make([][2]float64, len(ts))
	n := normal{k: 4}
	for i, t := range ts {
		swings[i][0], swings[i][1] = e.Swing.At(-float64(e.Way) * t)
	}
	best := math.Inf(1)
	var t0s, levels, sses, priors []float64
	for m := range 2 {
		for q := 1.0; q <= 4; q += 0.5 {
			prior := e.prior(q)
			for k := 0; k <= steps; k++ {
				t0 := earliest + (latest-earliest)*float64(k)/steps
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
		weight := priors[i] * math.Exp(-0.5*worth*(sse-best)/float64(len(ts))/(e.Sigma*e.Sigma))
		t, level, total = t+weight*t0s[i], level+weight*levels[i], total+weight
	}
	return t / total, level / total
}

// power is how far a movement is at a time, but for a.
func (e Edge) power(x, q float64) float64 {
	p := power(x, q)
	if e.Whole > 0 {
		p *= 1 - curve*q*(q-1)/(q+1)*min(x/e.Whole, 0.3)
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
