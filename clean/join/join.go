// Package join tells which logged set is which recorded set: records of one
// truth, kept by a person and by a unit on the same day.
//
// [Align] lays the logged sets of one lifter, day and lift beside the unit's,
// one to one and in order (but for a line that stands in another place and fits
// nothing else), so that the sum of scores is greatest. A score is
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
	Missed   int32 // of Reps; logged: where it says so
	At       rep.Null[rep.Instant]
	RPE      rep.Null[float64] // logged; recorded: as the export has it
	// Speeds of the set, m/s.
	First, Fastest, Last, Slowest, Mean rep.Null[float64]
	// Speeds of all reps, m/s, where two units are laid beside each other: they
	// take the place of the above.
	Speeds    []float64
	SpeedStep float64 // size of their last written digit, m/s; 0: unknown
}

// Has reports whether a recorded set may have so many reps: with those that a
// filter doubts, or without the missed ones, which logs often do not count.
func (d *Set) Has(reps int32) bool {
	return reps >= d.Reps.V-d.Missed && reps <= d.Reps.V+d.Extra
}

// Match is a logged set and the recorded set it belongs to, by index.
type Match struct {
	Logged, Done int
	Score        float64
	Second       float64 // score of the best other account of the logged set
	Load         Load
	Slot         bool // told by its place between two sure neighbours, or Moved
	Moved        bool // stands in another place of the log, and fits nothing else
}

// Sure reports whether the match may be acted on.
func (m Match) Sure() bool { return m.Slot || m.Score >= Least && m.Score-m.Second >= Margin }

// Aligner lays one day after the other, in the same memory. The zero value is
// ready.
type Aligner struct {
	score, head, tail, best grid[float64]
	load                    grid[Load]
}

// Align returns a match for each logged set that fits some recorded set in the
// best account of the day, in order. Both are in the order done.
func (a *Aligner) Align(logged, done []Set) []Match {
	n, m := len(logged), len(done)
	if n == 0 || m == 0 {
		return nil
	}
	score, load := a.score.of(n, m), a.load.of(n, m)
	for i := range logged {
		for j := range done {
			score[i][j], load[i][j] = Score(&logged[i], &done[j])
		}
	}
	// head[i][j]: best account of the first i logged and j done sets; tail the
	// same for those from i and j on.
	head, tail := a.head.of(n+1, m+1), a.tail.of(n+1, m+1)
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
	for _, more := range []func(logged, done []Set, sure []Match) []Match{slots, moved} {
		told := more(logged, done, out)
		for _, s := range told { // what was unsure is told by its place
			out = slices.DeleteFunc(out, func(m Match) bool { return m.Logged == s.Logged || m.Done == s.Done })
		}
		out = append(out, told...)
	}
	slices.SortFunc(out, func(a, b Match) int { return cmp.Compare(a.Logged, b.Logged) })
	return out
}

// matches returns the pairs of the best account.
func matches(n, m int, score [][]float64, load [][]Load, head, tail [][]float64) []Match {
	out := make([]Match, 0, min(n, m))
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

// grid is memory for rows of cells.
type grid[T any] struct {
	rows  [][]T
	cells []T
}

// of returns n rows of m zeros, until it is asked again.
func (g *grid[T]) of(n, m int) [][]T {
	g.rows, g.cells = slices.Grow(g.rows[:0], n)[:n], slices.Grow(g.cells[:0], n*m)[:n*m]
	clear(g.cells)
	for i := range g.rows {
		g.rows[i] = g.cells[i*m : (i+1)*m]
	}
	return g.rows
}

// Score returns the evidence that a logged and a recorded set are one, and how
// their loads relate. Different loads give −Inf. Evidence against is not weighed
// to the end: sets left apart score 0, so that less is as good as any.
func Score(l, d *Set) (float64, Load) {
	score, load := scoreLoad(l, d)
	if l.Speeds != nil && d.Speeds != nil {
		if load >= PoundsSlip && load != NoLoad {
			score = -1 // typed into two units by two hands; the speeds decide
		}
		clocks := scoreClocks(l.At, d.At)
		if most := score + readingsMost(len(l.Speeds), len(d.Speeds)) + clocks; most < -0.01 {
			return most, load
		}
		return score + scoreReadings(l.Speeds, d.Speeds, (l.SpeedStep+d.SpeedStep)/4) + clocks, load
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
			s := scoreSpeed(v.l.V, v.d.V)
			if !alike {
				s = max(s, -0.5) // of another rep, perhaps
			}
			score += s
		}
	}
	if l.At.OK && d.At.OK {
		switch apart := math.Abs(float64(l.At.V - d.At.V)); {
		case apart <= 75e3: // cut to the minute
			score += 2
		case apart <= 3*60e3:
			score++
		case apart <= 10*60e3:
			score += 0.5
		case apart > 40*60e3:
			score -= 2
		}
	}
	return score + scoreCalls(l.RPE, d.RPE), load
}

// scoreCalls compares the RPE of log and export: two records of one call.
func scoreCalls(l, d rep.Null[float64]) float64 {
	if !l.OK || !d.OK {
		return 0
	}
	switch apart := math.Abs(l.V - d.V); {
	case apart < 0.25:
		return 0.8
	case apart >= 2:
		return -1.5
	case apart >= 1:
		return -0.8
	}
	return 0
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

// scoreReps compares reps. A unit counts too many (rack, rebound) more often
// than too few.
func scoreReps(l, d *Set) float64 {
	if !l.Reps.OK || !d.Reps.OK {
		return 0
	}
	switch more := d.Reps.V - l.Reps.V; {
	case more == 0 || more > 0 && more == d.Missed:
		return 1.5
	case more > l.Reps.V+2:
		return -4 // several sets, or another one: no rack is that busy
	case more > 0:
		return max(1.2-0.5*float64(more), -1.5)
	case -more <= d.Extra:
		return 0.8 // with the reps a filter doubts it fits
	default:
		return max(0.6+0.6*float64(more), -2)
	}
}

// scoreSpeed compares one logged speed with the unit's, by how far they are
// apart: as the normal error of another reading, which may be another unit's,
// against any speed within 0.2 m/s.
func scoreSpeed(logged, read float64) float64 {
	z := (logged - read) / (readError + readShare*read)
	return max(1.5-z*z/2, -2)
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

// readingsMost returns what scoreReadings gives at the most for so many speeds.
func readingsMost(a, b int) float64 {
	return min(readAlike*float64(min(a, b))-readAlone*float64(max(a, b)-min(a, b)), readMost)
}

// scoreReadings compares the speeds of two units' reps by their best alignment
// in order; rounding is what was lost in writing them.
func scoreReadings(a, b []float64, rounding float64) float64 {
	var few [32]float64 // most sets are shorter
	row := few[:0]
	for j := range len(b) + 1 {
		row = append(row, -readAlone*float64(j))
	}
	for _, x := range a {
		diagonal := row[0]
		row[0] -= readAlone
		for j, y := range b {
			pair := diagonal + scoreReading(x, y, rounding)
			diagonal = row[j+1]
			row[j+1] = max(pair, row[j+1]-readAlone, row[j]-readAlone)
		}
	}
	return min(row[len(b)], readMost)
}

// scoreReading compares two units' speeds of one rep.
func scoreReading(x, y, rounding float64) float64 {
	z := (x - y) / (readError + readShare*y + rounding)
	return readAlike - min(z*z/2, 2.5)
}
