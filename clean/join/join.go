// Package join tells which logged set is which recorded set: records of one
// truth, kept by a person and by a unit on the same day.
//
// [Align] lays the logged sets of one lifter, day and lift beside the unit's,
// one to one and in order, so that the sum of scores is greatest. A score is
// evidence in nats (natural logarithm of a likelihood ratio, set by judgement:
// common practice, no source): agreement in load counts most, then speeds the
// log gives, then reps, then time. A pair is sure only where every other
// account of the logged set scores less by [Margin]; what is not sure is left
// apart for the coach.
//
// It does not know tables, filters or the season.
package join

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// Margin is how much worse every other account of a logged set must score for
// a pair to be sure; Least is the least score of a pair.
const (
	Margin = 1.0
	Least  = 1.5
)

// Set is one set, as logged or as recorded.
type Set struct {
	Load     rep.Null[float64] // kg
	LoadStep float64           // size of the last written digit, kg; 0: unknown
	Reps     rep.Null[int32]
	Extra    int32 // recorded: further reps that a filter doubts
	At       rep.Null[rep.Instant]
	// Speeds of the set, m/s.
	First, Fastest, Last, Slowest, Mean rep.Null[float64]
	// Speeds of all reps, m/s, where two units are laid beside each other: they
	// take the place of the above.
	Speeds []float64
}

// Load says how two loads relate.
type Load uint8

// Relations of loads, from the most to the least telling.
const (
	SameLoad    Load = iota // equal as written
	NearLoad                // within what plates or rounding differ by
	PoundsSlip              // one in lb, the other in kg
	TenfoldSlip             // the decimal mark
	DigitSlip               // a digit, or the bar's own weight: alone this says little
	NoLoad                  // one of them does not say
	OtherLoad               // different
)

// Match is a logged set and the recorded set it belongs to, by index.
type Match struct {
	Logged, Done int
	Score        float64
	Second       float64 // score of the best other account of the logged set
	Load         Load
	Slot         bool // the only one left between two sure neighbours, with the same reps
}

// Sure reports whether the match may be acted on.
func (m Match) Sure() bool { return m.Slot || m.Score >= Least && m.Score-m.Second >= Margin }

// Align returns a match for each logged set that fits some recorded set in the
// best account of the day, in order. Both are in the order done.
func Align(logged, done []Set) []Match {
	n, m := len(logged), len(done)
	if n == 0 || m == 0 {
		return nil
	}
	score := make([][]float64, n)
	load := make([][]Load, n)
	for i := range logged {
		score[i], load[i] = make([]float64, m), make([]Load, m)
		for j := range done {
			score[i][j], load[i][j] = Score(&logged[i], &done[j])
		}
	}
	// head[i][j]: best account of the first i logged and j done sets; tail the
	// same for those from i and j on.
	head, tail := grid(n+1, m+1), grid(n+1, m+1)
	for i := 1; i <= n; i++ {
		for j := 1; j <= m; j++ {
			head[i][j] = max(head[i-1][j], head[i][j-1], head[i-1][j-1]+score[i-1][j-1])
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			tail[i][j] = max(tail[i+1][j], tail[i][j+1], tail[i+1][j+1]+score[i][j])
		}
	}
	out := matches(n, m, score, load, head, tail)
	told := slots(logged, done, out)
	for _, s := range told { // what was unsure is told by its place
		out = slices.DeleteFunc(out, func(m Match) bool { return m.Logged == s.Logged || m.Done == s.Done })
	}
	out = append(out, told...)
	slices.SortFunc(out, func(a, b Match) int { return cmp.Compare(a.Logged, b.Logged) })
	return out
}

// matches returns the pairs of the best account.
func matches(n, m int, score [][]float64, load [][]Load, head, tail [][]float64) []Match {
	var out []Match
	next := 0
	for i := range n {
		// Through each account of logged set i: alone, or with done set j.
		alone := math.Inf(-1)
		for j := 0; j <= m; j++ {
			alone = max(alone, head[i][j]+tail[i+1][j])
		}
		best, second, at := math.Inf(-1), alone, -1
		for j := range m {
			through := head[i][j] + score[i][j] + tail[i+1][j+1]
			switch {
			case j >= next && through > best+1e-9:
				second, best, at = max(second, best), through, j
			default:
				second = max(second, through)
			}
		}
		if at < 0 || best < head[n][m]-1e-9 || alone >= best {
			continue // the best account leaves it alone
		}
		// Scores of whole accounts differ by what the set itself adds.
		own := score[i][at]
		out = append(out, Match{Logged: i, Done: at, Score: own, Second: own - (best - second), Load: load[i][at]})
		next = at + 1
	}
	return out
}

// slots returns the pairs that only their place tells: between two sure
// neighbours (or the ends of the day) as many logged as done sets are left, two
// by two with the same reps, and all but one with the same load. That one was
// mistyped.
func slots(logged, done []Set, sure []Match) []Match {
	var out []Match
	from := Match{Logged: -1, Done: -1}
	fill := func(to Match) {
		n := to.Logged - from.Logged - 1
		ends := from.Logged < 0 || to.Logged == len(logged)
		if n == 0 || n != to.Done-from.Done-1 || n == len(logged) || ends && n == 1 {
			return
		}
		other := 0
		for k := 1; k <= n; k++ {
			l, d := &logged[from.Logged+k], &done[from.Done+k]
			if !l.Reps.OK || !d.Reps.OK || l.Reps.V < d.Reps.V || l.Reps.V > d.Reps.V+d.Extra {
				return
			}
			if CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) > NearLoad {
				other++
			}
		}
		if other > 1 {
			return
		}
		for k := 1; k <= n; k++ {
			i, j := from.Logged+k, from.Done+k
			out = append(out, Match{Logged: i, Done: j, Slot: true,
				Load: CompareLoads(logged[i].Load, logged[i].LoadStep, done[j].Load, done[j].LoadStep)})
		}
	}
	for _, m := range sure {
		if m.Sure() {
			fill(m)
			from = m
		}
	}
	fill(Match{Logged: len(logged), Done: len(done)})
	return out
}

func grid(n, m int) [][]float64 {
	g := make([][]float64, n)
	cells := make([]float64, n*m)
	for i := range g {
		g[i] = cells[i*m : (i+1)*m]
	}
	return g
}

// Score returns the evidence that a logged and a recorded set are one, and how
// their loads relate. Different loads give −Inf.
func Score(l, d *Set) (float64, Load) {
	score, load := scoreLoad(l, d)
	if l.Speeds != nil && d.Speeds != nil {
		if load >= PoundsSlip && load != NoLoad {
			score = -1 // typed into two units by two hands; the speeds decide
		}
		return score + scoreReadings(l.Speeds, d.Speeds) + scoreClocks(l.At, d.At), load
	}
	if load == OtherLoad {
		return math.Inf(-1), load
	}
	score += scoreReps(l, d)
	alike := l.Reps.OK && d.Reps.OK && l.Reps.V == d.Reps.V
	for _, v := range [...]struct{ l, d rep.Null[float64] }{
		{l.First, d.First}, {l.Fastest, d.Fastest}, {l.Last, d.Last}, {l.Slowest, d.Slowest}, {l.Mean, d.Mean},
	} {
		if v.l.OK && v.d.OK {
			s := scoreSpeed(math.Abs(v.l.V - v.d.V))
			if !alike {
				s = max(s, -0.5) // of another rep, perhaps
			}
			score += s
		}
	}
	if l.At.OK && d.At.OK {
		switch apart := math.Abs(float64(l.At.V - d.At.V)); {
		case apart <= 3*60e3:
			score += 1.5
		case apart <= 10*60e3:
			score += 0.5
		case apart > 40*60e3:
			score -= 2
		}
	}
	return score, load
}

// scoreClocks compares the times of two units, brought to one clock: of one set
// they are within the minute that a unit may cut its times to; sets follow one
// another after more than that.
func scoreClocks(a, b rep.Null[rep.Instant]) float64 {
	if !a.OK || !b.OK {
		return 0
	}
	switch apart := math.Abs(float64(a.V - b.V)); {
	case apart <= 75e3:
		return 2
	case apart > 180e3:
		return -4
	}
	return 0
}

// scoreLoad compares loads.
func scoreLoad(l, d *Set) (float64, Load) {
	switch load := CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep); load {
	case SameLoad:
		return 3, load
	case NearLoad:
		return 2 - math.Abs(l.Load.V-d.Load.V)/2.6*1.5, load
	case PoundsSlip:
		return 1, load
	case TenfoldSlip:
		return 0.8, load
	case DigitSlip:
		return -0.5, load
	case NoLoad:
		return 0, load
	default:
		return math.Inf(-1), load
	}
}

// Loads that differ by no more than a pair of the smallest common plates are
// near: a log is often rounded to what was meant.
const nearLoad = 2.6 // kg

// CompareLoads says how a logged and a recorded load relate. Steps are the
// sizes of the last written digits; 0 is unknown.
func CompareLoads(l rep.Null[float64], lStep float64, d rep.Null[float64], dStep float64) Load {
	if !l.OK || !d.OK {
		return NoLoad
	}
	const pound = 0.45359237
	a, b := l.V, d.V
	apart := math.Abs(a - b)
	within := func(x, y float64) bool { return math.Abs(x-y) <= 0.006*math.Max(x, y)+0.26 }
	tenfold := func(x, y float64) bool { return math.Abs(10*x-y) <= 0.02*y }
	switch {
	case apart <= min(0.3, max((lStep+dStep)/2*1.001, 0.01)):
		return SameLoad
	case apart <= nearLoad:
		return NearLoad
	case within(a*pound, b) || within(a, b*pound):
		return PoundsSlip
	case tenfold(a, b) || tenfold(b, a):
		return TenfoldSlip
	case forgotten(apart) || oneDigit(a, b):
		return DigitSlip
	}
	return OtherLoad
}

// forgotten reports whether two loads differ by a pair of plates, or by a bar.
func forgotten(apart float64) bool {
	switch apart {
	case 10, 15, 20, 25, 30, 40, 50:
		return true
	}
	return false
}

// oneDigit reports whether two loads, in tenths of a kilogram, differ by one
// digit or by two neighbours that changed places.
func oneDigit(a, b float64) bool {
	x, y := digits(a), digits(b)
	if len(x) != len(y) {
		return false
	}
	var at []int
	for i := range x {
		if x[i] != y[i] {
			at = append(at, i)
		}
	}
	return len(at) == 1 || len(at) == 2 && at[1] == at[0]+1 && x[at[0]] == y[at[1]] && x[at[1]] == y[at[0]]
}

func digits(kg float64) []byte {
	n := int64(math.Round(kg * 10))
	var d []byte
	for ; n > 0; n /= 10 {
		d = append(d, byte(n%10))
	}
	return d
}

// scoreReps compares reps. A unit counts too many (rack, rebound) more often
// than too few.
func scoreReps(l, d *Set) float64 {
	if !l.Reps.OK || !d.Reps.OK {
		return 0
	}
	switch more := d.Reps.V - l.Reps.V; {
	case more == 0:
		return 1.5
	case more > 0:
		return max(1-0.5*float64(more), -1.5)
	case -more <= d.Extra:
		return 0.8 // with the reps a filter doubts it fits
	default:
		return max(0.6+0.6*float64(more), -2)
	}
}

// scoreSpeed compares one logged speed with the unit's, by how far they are
// apart, m/s: as a normal error of 0.015 m/s (two digits, and another reading
// of them) against any speed within 0.2 m/s.
func scoreSpeed(apart float64) float64 {
	const sd = 0.015
	return max(1.5-apart*apart/(2*sd*sd), -3)
}

// What the speeds of two units say of one another: they scatter about each
// other by readError + readShare of the speed; reps that one has and the other
// has not are rare. Common practice, no source.
const (
	readError = 0.015 // m/s
	readShare = 0.015
	readAlike = 0.5 // nats for one rep that agrees in full
	readAlone = 0.4 // nats off for a rep without a counterpart
	readMost  = 4   // nats for a whole set
)

// scoreReadings compares the speeds of two units' reps by their best alignment
// in order.
func scoreReadings(a, b []float64) float64 {
	row := make([]float64, len(b)+1)
	for j := range row {
		row[j] = -readAlone * float64(j)
	}
	for _, x := range a {
		diagonal := row[0]
		row[0] -= readAlone
		for j, y := range b {
			z := (x - y) / (readError + readShare*y)
			pair := diagonal + readAlike - min(z*z/2, 2.5)
			diagonal = row[j+1]
			row[j+1] = max(pair, row[j+1]-readAlone, row[j]-readAlone)
		}
	}
	return min(row[len(b)], readMost)
}
