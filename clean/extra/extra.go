// Package extra tells which movements of a set are no reps where it is known
// how many reps there were: a hand log counts five, a unit seven.
//
// Every way to leave out the surplus is an account of the set. An account is as
// likely as its reps follow one another as reps do: each about as fast as the
// one before or a little slower, the first as fast as usual at the load, as far
// apart in time and of the same travel and shape; and as what is left out looks
// like a movement in the rack, a rebound or a touch: of any speed, at the ends
// of the set rather than within it; or as the second half of the rep before it.
// Against them stands, as far as the number is in doubt, that all are reps.
// [False] sums over all accounts and returns the chance of each movement to be
// none of the reps.
//
// All spreads and chances below: common practice, no source. They are wide, so
// that where little is known little is said.
package extra

import "math"

// Move is one movement of a set, in the order done. NaN is unknown.
type Move struct {
	Speed     float64 // mean, m/s
	SpeedStep float64 // of the last written digit
	Peak      float64 // m/s
	Travel    float64 // as a share of the usual
	At        float64 // start, s
}

// Set is what is known of the set.
type Set struct {
	Usual    float64 // speed of a first rep at the load, m/s; NaN where unknown
	Limit    float64 // mean speed at 1RM, m/s: reps near it slow down at once
	Racked   bool    // the bar is taken out of a rack and put back
	Shape    float64 // peak over mean of the lifter's reps at such speeds; NaN
	AtStep   float64 // precision of times, s
	Interval float64 // usual time from rep to rep, s; NaN
	Doubt    float64 // chance that the number of reps is not that of this set
}

// normal returns the log density of a normal distribution.
func normal(x, sd float64) float64 {
	z := x / sd
	return -z*z/2 - math.Log(sd) - 0.9189385332046727
}

// mixed returns the log of a weighted sum of two densities given as logs.
func mixed(a, b, weight float64) float64 {
	hi := max(a, b)
	return hi + math.Log((1-weight)*math.Exp(a-hi)+weight*math.Exp(b-hi))
}

// How fast a movement that is no rep is: around 0.3 m/s, anything from 0.07 to
// 1.2; some creep along at 0.03 to 0.15 (natural logarithms).
const (
	falseSpeed, falseSpread = -1.2, 0.75
	creepSpeed, creepSpread = -2.7, 0.5
	creepShare              = 0.2
)

// stalled is the share of the speed of a 1RM that hardly a rep falls below: two
// standard deviations under the mean of the squat, 0.23 ± 0.05 m/s (Helms 2017).
const stalled = 0.6

// rep returns the log density of what is known of a movement as a rep, but for
// what comes before it; and alone that of it as none.
func (s *Set) rep(m *Move) float64 {
	sum := 0.0
	if !math.IsNaN(m.Travel) {
		sum += mixed(normal(m.Travel-1, 0.08), normal(m.Travel-0.8, 0.3), 0.03)
	}
	if q := m.Peak / m.Speed; q > 0 && s.Shape > 0 {
		sum += mixed(normal(math.Log(q/s.Shape), 0.18), normal(math.Log(q/s.Shape), 0.5), 0.1)
	}
	if least := stalled * s.Limit; m.Speed < least {
		sum += 3 * math.Log(m.Speed/least)
	}
	return sum
}

func (s *Set) none(m *Move, at, of int) float64 {
	sum := math.Log(0.06)
	switch {
	case s.Racked && (at < 2 || at == of-1):
		sum = math.Log(0.2)
	case at == of-1:
		sum = math.Log(0.1) // plates that come off
	}
	v := math.Log(max(m.Speed, 0.005))
	sum += mixed(normal(v-falseSpeed, falseSpread), normal(v-creepSpeed, creepSpread), creepShare)
	if !math.IsNaN(m.Travel) {
		share := 1 - farShare
		if m.Travel > nearTravel {
			share = farShare
		}
		sum += math.Log(share / nearTravel)
	}
	if q := m.Peak / m.Speed; q > 0 && s.Shape > 0 {
		sum += normal(math.Log(q)-0.45, 0.3)
	}
	return sum
}

// A movement that is no rep travels anything up to nearTravel of a rep, and few
// as far as a rep or farther.
const (
	nearTravel = 0.8
	farShare   = 0.12
)

// A rep begins soonest after the start of another movement, s, and from lowered
// on as a rule: the bar must be lowered first. So of two movements closer than
// that the later is the false one.
const (
	soonest = 0.6
	lowered = 1.2
	tooSoon = 0.02 // chance
)

// before returns what speaks against a rep at moves[i] right after a movement
// that is none, where the rep before it is moves[a], −1 for none.
func (s *Set) before(moves []Move, a, i int) float64 {
	if i == a+1 {
		return 0
	}
	gap := max(moves[i].At-moves[i-1].At, s.AtStep/3) // of one tick: the mean
	if math.IsNaN(gap) {
		return 0
	}
	return math.Log(tooSoon) * max(0, min(1, (lowered-gap)/(lowered-soonest)))
}

// first returns the log density of the speed of a first rep.
func (s *Set) first(m *Move) float64 {
	if math.IsNaN(s.Usual) {
		return normal(math.Log(m.Speed/0.5), 0.6)
	}
	return mixed(normal(math.Log(m.Speed/s.Usual), 0.15+0.02/s.Usual), normal(math.Log(m.Speed/s.Usual), 0.5), 0.15)
}

// leastGap bounds what one odd gap says.
const leastGap = -8

// next returns the log density of a rep's speed and start after the rep a;
// between says whether something that is no rep lies between them.
func (s *Set) next(a, m *Move, last bool) float64 {
	v := min(a.Speed, m.Speed)
	rounding := (a.SpeedStep + m.SpeedStep) / 4 / max(v, 0.02)
	sd := math.Hypot(0.06+0.01/max(v, 0.05), rounding)
	tired := 0.08 // chance of a rep much slower than the one before
	if near := a.Speed - s.Limit; near < 0.3 && last {
		tired = 0.3
	} else if near < 0.3 {
		tired = 0.15
	}
	d := math.Log(m.Speed / a.Speed)
	sum := mixed(normal(d+0.03, sd), normal(d+0.35, 0.3), tired)
	if gap := m.At - a.At; gap >= 0 && s.Interval > 0 {
		gap = max(gap, s.AtStep/2, 0.1)
		sd := math.Hypot(0.3, s.AtStep/gap)
		x := math.Log(gap / s.Interval)
		sum += max(mixed(normal(x, sd), normal(x-0.5, 0.5), 0.15), leastGap)
	}
	return sum
}

// part is one rep of an account: a movement, or two that are its halves.
type part struct {
	Move
	first, end int     // moves
	is         float64 // log density, but for what comes before
}

// halves are two movements that are one rep: how often (a unit splits few), and
// what the second's speed is of the first's (natural logarithm); and how long
// after the first it begins at the most, s.
const (
	splitShare                = 0.02
	secondSpeed, secondSpread = -0.15, 0.35
	secondStart               = 3
)

// parts returns all reps that an account may have, by their last movement.
func (s *Set) parts(moves []Move, prior float64) []part {
	out := make([]part, 0, 2*len(moves))
	for i := range moves {
		z := &moves[i]
		if i > 0 {
			a := &moves[i-1]
			m := Move{Speed: 2 * a.Speed * z.Speed / (a.Speed + z.Speed), SpeedStep: max(a.SpeedStep, z.SpeedStep), Peak: a.Peak, Travel: a.Travel + z.Travel, At: a.At}
			if z.Peak > m.Peak {
				m.Peak = z.Peak
			}
			if !(z.At-a.At > secondStart) {
				out = append(out, part{m, i - 1, i, prior + s.rep(&m) + math.Log(splitShare) + normal(math.Log(z.Speed/a.Speed)-secondSpeed, secondSpread)})
			}
		}
		out = append(out, part{*z, i, i, prior + s.rep(z)})
	}
	return out
}

// False returns, for each movement, the chance that it is none of the reps,
// given that there were reps of them. There must be more movements than reps,
// and at least one rep.
func False(s Set, moves []Move, reps int) []float64 {
	m := len(moves)
	parts := s.parts(moves, 0)
	n := len(parts)
	none := make([]float64, m+1) // sum of none over moves before i
	for i := range moves {
		none[i+1] = none[i] + s.none(&moves[i], i, m)
	}
	// head[k][i]: log weight of all accounts up to part i in which it is rep k
	// (from 0); tail[k][i] that of all accounts of what comes after it.
	head, tail := grid(reps, n), grid(reps, n)
	for i := range parts {
		p := &parts[i]
		head[0][i] = none[p.first] + s.before(moves, -1, p.first) + s.first(&p.Move) + p.is
		tail[reps-1][i] = none[m] - none[p.end+1]
	}
	step, last := grid(n, n), grid(n, n) // from rep to rep
	for a := range parts {
		for i := a + 1; i < n; i++ {
			p, q := &parts[a], &parts[i]
			if q.first <= p.end {
				continue
			}
			skipped := none[q.first] - none[p.end+1] + s.before(moves, p.end, q.first) + q.is
			step[a][i] = skipped + s.next(&p.Move, &q.Move, false)
			last[a][i] = skipped + s.next(&p.Move, &q.Move, true)
		}
	}
	between := func(k int) [][]float64 { // from rep k−1 to rep k
		if k == reps-1 {
			return last
		}
		return step
	}
	for k := 1; k < reps; k++ {
		for i := k; i < n; i++ {
			for a := k - 1; a < i; a++ {
				head[k][i] = add(head[k][i], head[k-1][a]+between(k)[a][i])
			}
		}
	}
	for k := reps - 2; k >= 0; k-- {
		for a := k; a < n; a++ {
			for i := a + 1; i < n; i++ {
				tail[k][a] = add(tail[k][a], between(k + 1)[a][i]+tail[k+1][i])
			}
		}
	}
	total := math.Inf(-1)
	for i := range n {
		total = add(total, head[0][i]+tail[0][i])
	}
	all := s.first(&moves[0]) + s.rep(&moves[0]) // the account without a surplus
	for i := 1; i < m; i++ {
		all += s.rep(&moves[i]) + s.next(&moves[i-1], &moves[i], i == m-1)
	}
	right := 1.0
	if s.Doubt > 0 {
		right = 1 / (1 + s.Doubt/(1-s.Doubt)*math.Exp(all-total))
	}
	isRep := weights(m)
	for i := range parts {
		for k := range reps {
			at := parts[i].first
			isRep[at] = add(isRep[at], head[k][i]+tail[k][i])
		}
	}
	for i := range isRep {
		isRep[i] = right * (1 - math.Exp(isRep[i]-total))
	}
	return isRep
}

// Alone returns the same where it is not known how many reps there were: then
// only what hardly any rep does speaks against a movement.
func Alone(s Set, moves []Move) []float64 {
	m := len(moves)
	parts := s.parts(moves, math.Log(0.94))
	n := len(parts)
	none := make([]float64, m+1)
	for i := range moves {
		none[i+1] = none[i] + s.none(&moves[i], i, m)
	}
	head, tail := weights(n), weights(n)
	from := grid(n, n)
	for i := range parts {
		q := &parts[i]
		head[i] = none[q.first] + s.before(moves, -1, q.first) + s.first(&q.Move) + q.is
		for a := range i {
			if p := &parts[a]; q.first > p.end {
				from[a][i] = none[q.first] - none[p.end+1] + s.before(moves, p.end, q.first) + q.is + s.next(&p.Move, &q.Move, q.end == m-1)
				head[i] = add(head[i], head[a]+from[a][i])
			}
		}
	}
	total := none[m] // no rep at all
	for a := n - 1; a >= 0; a-- {
		tail[a] = none[m] - none[parts[a].end+1]
		for i := a + 1; i < n; i++ {
			tail[a] = add(tail[a], from[a][i]+tail[i])
		}
	}
	for i := range parts {
		total = add(total, head[i]+none[m]-none[parts[i].end+1]) // accounts by their last rep
	}
	isRep := weights(m)
	for i := range parts {
		at := parts[i].first
		isRep[at] = add(isRep[at], head[i]+tail[i])
	}
	for i := range isRep {
		isRep[i] = 1 - math.Exp(isRep[i]-total)
	}
	return isRep
}

// weights returns n weights of nothing.
func weights(n int) []float64 { return grid(1, n)[0] }

// add returns the log of the sum of two weights given as logs.
func add(a, b float64) float64 {
	hi := max(a, b)
	if math.IsInf(hi, -1) {
		return hi
	}
	return hi + math.Log1p(math.Exp(min(a, b)-hi))
}

// grid returns n rows of m weights of nothing.
func grid(n, m int) [][]float64 {
	g := make([][]float64, n)
	cells := make([]float64, n*m)
	for i := range cells {
		cells[i] = math.Inf(-1)
	}
	for i := range g {
		g[i] = cells[i*m : (i+1)*m]
	}
	return g
}
