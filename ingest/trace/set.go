package trace

import (
	"fmt"
	"math"
	"slices"
)

// Limits of classing. All: common practice, no source.
const (
	reachShare  = 0.5  // of the set's usual travel: less is no rep
	missedShare = 0.85 // of the way back up: less, and coming down again, is a miss
	missedLeast = 0.15 // of the usual travel: less was not lifted
	reboundFor  = 0.6  // s after a lockout or a landing in which a small rise is a bounce
	reboundPart = 0.35 // of the usual travel, at most
	manyMoves   = 2000 // movements that are a set at most
)

// floors are the least travels that can be a rep, m: below a bench press with a
// high arch, a pull from blocks, a squat to high pins.
var floors = map[string]float64{"squat": 0.15, "bench press": 0.08, "deadlift": 0.12}

const anyFloor = 0.08 // m, of a lift that is not known

// set collects the movements of one set: whether one is a rep shows only beside
// the others.
type set struct {
	number int
	moves  []stroke
}

func (g *set) add(s *Segmenter, k stroke) {
	if n := len(g.moves); n > 0 && (k.start-g.moves[n-1].end > setRest || n == manyMoves) {
		g.close(s)
	}
	g.moves = append(g.moves, k)
}

// close classes the movements of the set and hands them on.
func (g *set) close(s *Segmenter) {
	if len(g.moves) == 0 {
		return
	}
	usual := g.usual(s.opt.Lift)
	reps := 0
	for i := range g.moves {
		k := &g.moves[i]
		k.Set = g.number
		k.Kind, k.Why = g.class(i, usual, s.opt.Lift)
		s.sum.Kinds[k.Kind]++
		if k.Kind <= Missed {
			reps++
		}
		s.found(k.Found)
	}
	g.moves = g.moves[:0]
	if reps > 0 {
		g.number++
	}
}

// usual returns the usual travel of a rep in the set: the median of the
// movements that come near its largest; NaN where none reaches the floor.
func (g *set) usual(lift string) float64 {
	floor := floorOf(lift)
	var far []float64
	for _, k := range g.moves {
		if k.ROM >= floor {
			far = append(far, k.ROM)
		}
	}
	if len(far) == 0 {
		return math.NaN()
	}
	slices.Sort(far)
	// A throw or a slip may be the largest: the second largest leads where
	// there are enough.
	lead := far[len(far)-1]
	if len(far) > 3 {
		lead = far[len(far)-2]
	}
	i, _ := slices.BinarySearch(far, reachShare*lead)
	far = far[i:]
	return far[len(far)/2]
}

func floorOf(lift string) float64 {
	if f, ok := floors[lift]; ok {
		return f
	}
	return anyFloor
}

// class tells what a movement of the set was.
func (g *set) class(i int, usual float64, lift string) (Kind, string) {
	k := &g.moves[i]
	if math.IsNaN(usual) {
		return Minor, fmt.Sprintf("rises %.3f m: no movement of this set is as long as a rep", k.ROM)
	}
	lowered := lift == "squat" || lift == "bench press"
	way := usual
	if k.drop > way && k.drop < 1.5*usual {
		way = k.drop
	}
	short := k.ROM < missedShare*way
	if k.ROM >= reachShare*usual && !(short && lowered && k.drop > 0.85*usual && k.fall > 0.7*k.ROM) && k.ROM >= floorOf(lift) {
		if lowered && k.drop < 0.3*usual && k.ROM < 0.75*usual {
			return Rack, fmt.Sprintf("rises %.3f m without having been lowered", k.ROM)
		}
		return Rep, ""
	}
	if k.ROM >= missedLeast*usual && k.ROM >= 0.05 && short && k.fall > 0.7*k.ROM && (k.drop > 0.85*usual || !lowered && g.last(i)) {
		return Missed, fmt.Sprintf("rises %.3f m of %.3f m and comes down", k.ROM, way)
	}
	if i > 0 {
		before := &g.moves[i-1]
		if k.ROM < reboundPart*usual && (k.start-before.end < reboundFor || k.start-k.dropped < 0.1 && k.drop > reachShare*usual || before.Kind == Rebound && k.start-before.end < reboundFor) {
			return Rebound, fmt.Sprintf("rises %.3f m right after a lockout or a landing", k.ROM)
		}
	}
	if g.outside(i, usual) {
		return Rack, fmt.Sprintf("rises %.3f m before the first or after the last rep", k.ROM)
	}
	return Minor, fmt.Sprintf("rises %.3f m, a rep of this set %.3f m", k.ROM, usual)
}

// last reports whether no longer movement follows.
func (g *set) last(i int) bool {
	for _, k := range g.moves[i+1:] {
		if k.ROM > g.moves[i].ROM {
			return false
		}
	}
	return true
}

// outside reports whether a movement lies before all reps or behind them.
func (g *set) outside(i int, usual float64) bool {
	before, after := false, false
	for j, k := range g.moves {
		if k.ROM >= reachShare*usual {
			before = before || j < i
			after = after || j > i
		}
	}
	return !before || !after
}
