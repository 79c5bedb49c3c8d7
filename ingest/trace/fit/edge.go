package fit

import "math"

// Edge is the end of a movement at a level: where it leaves a rest, comes to one,
// or turns. Times run from outside the movement into it, positions are relative to the
// level.
//
// From the moment t2 on the movement goes
//
//	Travel·(α·F(s) + β1·s^(q+1) + β2·s^(q+2)), s = (t − t2)/Whole
//
// with F the share of the way of a symmetric movement, whose speed is in proportion
// to s^(q−1)·(1 − s)^(q−1): q = 1 is steady speed, 2 a parabola of speed, 3 minimum
// jerk (Flash & Hogan 1985). α is 1 and the β are 0, give or take what people
// differ. The other side of the level is rest, or another movement that ends at
// t1 ≤ t2 and has a power of its own; t1 = t2 where the bar turns. The level may
// drift, and a swing be on top of it. Coefficients are normal and integrated out,
// so that of two courses that meet the points alike the plainer weighs more. Answers
// are means over powers and moments, by their posterior weight: noise blurs them but
// does not throw them.
//
// How far the points scatter is learnt from the best course so far, and the
// moments are looked at more closely where it matters, round by round.
type Edge struct {
	Whole, Other float64 // s the movement takes, and the one on the other side, about
	Travel, Back float64 // m they go: positive above the level
	Sigma, Least float64 // m, RMS error of the positions: a first guess, and the least
	Pull         bool    // of plates on a springy bar from the floor: they leave it gently, then catch up
	Way          int     // +1 where times run backwards: the end of a movement; −1 at its start
	Swing        Swing   // is fitted along where its Hz are not 0
}

// All: chosen on simulated traces, no source.
const (
	steps     = 16  // between the earliest and the latest moment, of each side
	closer    = 4   // times as many at first where there is one side only
	rounds    = 3   // each looks at what the one before left
	powers    = 7   // 1, 1.5, … 4
	unlikely  = 15  // e-foldings from the best: is left out
	plausible = 6   // e-foldings: is looked at in the next round
	turnPrior = 0.5 // share of levels without a rest between two movements

	drift   = 0.002 // m/s, standard deviation of a drift of the level
	off     = 0.02  // of the way from the level: how far the course may be off …
	offFrom = 0.1   // of the travel: … from there on; in proportion before
	guesses = 4.0   // points' worth of trust in Least
	alike   = 0.2   // of the points at least count as if neighbours were not alike
)

// spread is how much people differ: standard deviations of α, β1 and β2.
type spread [coefs]float64

var (
	lifts  = spread{0.35, 0.6, 0.8}
	others = spread{0.6, 0.6, 0.8} // the movement on the other side may go another way
	pulls  = spread{2, 3, 3}       // plates on a spring go their own way
)

const steady = 0.2 // of the spread of β: a movement of power 1

// How likely powers are: people seldom start or stop with a jerk.
var (
	prior     = [powers]float64{0.2, 0.1, 1, 1, 1, 0.3, 0.1}
	pullPrior = [powers]float64{0.05, 0.05, 0.2, 0.5, 1, 1.5, 2}
)

// hypothesis is a moment and a power of each side.
type hypothesis struct {
	t1, t2 float64
	p1, p2 int            // p1 < 0: rest
	still  bool           // the swing ends where the movement begins
	logp   float64        // log of its weight
	shared [terms]float64 // coefficients of what both sides share
}

// span is where a moment is looked for.
type span struct{ lo, hi float64 }

func (s span) at(k, n int) float64 { return s.lo + (s.hi-s.lo)*float64(k)/float64(n) }

// search is the state of the rounds.
type search struct {
	*points
	turned, first, second span // where a turn, the end before a rest and the start behind it may be
	before, after         int  // powers that may be, a bit each
	sides                 int  // steps of a movement beside a rest
	left, right           [steps + 1][powers]flank
	found                 []hypothesis
	best                  float64
}

// Between returns when the movement leaves the level, between two times, and
// where the level is then; rested says that what lies before is rest.
func (e Edge) Between(ts, ys []float64, earliest, latest float64, rested bool) (t, level float64) {
	all := span{earliest, latest}
	s := &search{points: newPoints(&e, ts, ys, (earliest+latest)/2), turned: all, first: all, second: all, before: 1<<powers - 1, after: 1<<powers - 1}
	sigma := max(e.Sigma, e.Least)
	for round := range rounds {
		s.weigh(sigma)
		s.found, s.best = s.found[:0], math.Inf(-1)
		if rested {
			s.one(round == 0)
		} else {
			s.two(round == 0, latest-earliest)
		}
		if len(s.found) == 0 {
			return latest, 0
		}
		if round == rounds-1 {
			break
		}
		next := s.scatter(s.top())
		s.narrow(all, plausible*max(1, next*next/sigma/sigma))
		sigma = next
	}
	total := 0.0
	for _, h := range s.found {
		weight := math.Exp(h.logp - s.best)
		t, total = t+weight*h.t2, total+weight
		level += weight * (h.shared[0] + h.shared[1]*(h.t2-s.middle))
	}
	return t / total, level / total
}

// one tries the moments and powers of a movement beside a rest.
func (s *search) one(first bool) {
	s.sides = steps
	if first {
		s.sides = closer * steps
	}
	modes := 1
	if s.shared > 2 {
		modes = 2
	}
	for mode := range modes {
		s.still = mode == 1
		for k := range s.sides + 1 {
			at := s.second.at(k, s.sides)
			if s.still {
				s.add(at)
			}
			for q := range powers {
				if s.after>>q&1 != 0 {
					f := s.flank(at, q, 1)
					s.try(nil, &f, hypothesis{t2: at, p1: -1, p2: q, still: s.still}, s.likely(q))
				}
			}
		}
	}
}

// two tries the moments and powers of two movements, with or without a rest
// between them. A density over one moment and one over two are made alike by
// what they are over: the whole span there was.
func (s *search) two(same bool, whole float64) {
	step := func(s span) float64 { return (s.hi - s.lo) / steps / whole }
	if s.turned.hi > s.turned.lo {
		s.grid(s.turned, &s.left, -1, s.before)
		s.grid(s.turned, &s.right, 1, s.after)
		s.pairs(s.turned, s.turned, true, math.Log(turnPrior*step(s.turned)))
	}
	if s.second.hi > s.second.lo {
		if !same {
			s.grid(s.first, &s.left, -1, s.before)
			s.grid(s.second, &s.right, 1, s.after)
		}
		s.pairs(s.first, s.second, false, math.Log((1-turnPrior)*2*step(s.first)*step(s.second)))
	}
}

// grid fills in one side of the level for all moments of a span.
func (s *search) grid(in span, to *[steps + 1][powers]flank, way float64, may int) {
	for k := range to {
		for q := range powers {
			if may>>q&1 != 0 {
				to[k][q] = s.flank(in.at(k, steps), q, way)
			}
		}
	}
}

// pairs tries every side before with every side behind it, or of a turn those
// at one moment.
func (s *search) pairs(first, second span, turn bool, logp float64) {
	for i := range s.left {
		for j := range s.right {
			h := hypothesis{t1: first.at(i, steps), t2: second.at(j, steps)}
			if turn && i != j || !turn && h.t1 >= h.t2 {
				continue
			}
			for h.p1 = range powers {
				for h.p2 = range powers {
					if s.before>>h.p1&1 != 0 && s.after>>h.p2&1 != 0 {
						s.try(&s.left[i][h.p1], &s.right[j][h.p2], h, logp+s.likely(h.p1)+s.likely(h.p2))
					}
				}
			}
		}
	}
}

// likely returns the log of how likely a power is.
func (s *search) likely(power int) float64 {
	if s.e.Pull {
		return logPullPrior[power]
	}
	return logPrior[power]
}

var logPrior, logPullPrior = logs(prior), logs(pullPrior)

func logs(x [powers]float64) (l [powers]float64) {
	for i := range x {
		l[i] = math.Log(x[i])
	}
	return l
}

// try weighs a hypothesis.
func (s *search) try(a, b *flank, h hypothesis, logp float64) {
	h.logp, h.shared = s.join(a, b)
	if h.logp += logp; h.logp > s.best-unlikely {
		s.best = max(s.best, h.logp)
		s.found = append(s.found, h)
	}
}

// top returns the best hypothesis.
func (s *search) top() *hypothesis {
	for i := range s.found {
		if s.found[i].logp == s.best {
			return &s.found[i]
		}
	}
	return &s.found[0]
}

// narrow leaves what lies within so many e-foldings of the best to the next round.
func (s *search) narrow(all span, within float64) {
	none := span{math.Inf(1), math.Inf(-1)}
	turned, first, second := none, none, none
	put := func(to *span, t float64, was span, n int) {
		step := (was.hi - was.lo) / float64(n)
		to.lo, to.hi = min(to.lo, max(all.lo, t-step)), max(to.hi, min(all.hi, t+step))
	}
	s.before, s.after = 0, 0
	for i := range s.found {
		h := &s.found[i]
		if h.logp < s.best-within {
			continue
		}
		s.after |= 1 << h.p2
		switch {
		case h.p1 < 0:
			put(&second, h.t2, s.second, s.sides)
			continue
		case h.t1 == h.t2:
			put(&turned, h.t2, s.turned, steps)
		default:
			put(&first, h.t1, s.first, steps)
			put(&second, h.t2, s.second, steps)
		}
		s.before |= 1 << h.p1
	}
	s.turned, s.first, s.second = turned, first, second
}
