package trace

import (
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// Limits of classing. All: common practice, no source.
const (
	reachShare  = 0.5  // of the set's usual travel: less is no rep
	missedShare = 0.85 // of the way: less, and coming down again, is a miss; …
	missedLast  = 0.92 // … of the last of a set, this much
	missedLeast = 0.15 // of the usual travel: less was not lifted; …
	missedFloor = 0.03 // m: neither; …
	stuckLeast  = 0.07 // … after a lowering as of a rep less is enough: there it stuck
	stuckFloor  = 0.02 // m
	fellShare   = 0.7  // of what it rose: coming down again
	loweredAll  = 0.85 // of the usual travel: a lowering before a rep
	loweredNone = 0.3  // of the usual travel: none
	loweredBack = 0.8  // of the lowering before: more than a miss comes down
	reboundFor  = 0.6  // s after a lockout or a landing in which a small rise is a bounce
	reboundPart = 0.35 // of the usual travel, at most
	landedFor   = 0.1  // s after a lowering: no pause
	againFor    = 0.25 // s: a rise so soon after a small one sank back is the same effort …
	againPart   = 0.35 // of the usual travel: … where that was no more than this
	pulledFor   = 0.8  // s up, and
	letGoFor    = 1.1  // s until it is down again: nobody lifts a single that hastily
	apartFor    = 15.0 // s from the next rep: not of one go
	pulledOff   = 0.1  // of the usual travel of the set before: another travel than a rep's
	pulledFast  = 1.6  // times as fast as any rep of the set before, and
	pulledSpeed = 0.65 // m/s: no single is
	standsOff   = 0.08 // of the other reps' travel: another one …
	standsFar   = 0.25 // … so far from theirs that it is none; …
	standsFast  = 1.25 // times as fast as the fastest of them: … and faster
	bounceFor   = 0.4  // s: plates and bars bounce up faster
	mostMoves   = 2000 // movements that are a set at most
)

// floors are the least travels that can be a rep, m: below a bench press with a
// high arch, a pull from blocks, a squat to high pins.
var floors = map[string]float64{rep.Squat: 0.15, rep.BenchPress: 0.08, rep.Deadlift: 0.12}

const anyFloor = 0.08 // m, of a lift that is not known

// set collects the movements of one set: whether one is a rep shows only beside
// the others.
type set struct {
	number int
	moves  []stroke
	usual  float64 // m, of a rep in the set before; 0: none yet
	top    float64 // m/s, mean velocity of the fastest of them

	doubt []stroke // before the first set: a rep, or a pull of the tether
}

func (g *set) add(s *Segmenter, k stroke) {
	if n := len(g.moves); n > 0 && (k.start-g.moves[n-1].end > setRest || n == mostMoves) {
		g.close(s)
	}
	g.moves = append(g.moves, k)
}

// close classes the movements of the set and hands them on. A lone hasty movement
// before the first set may be a rep or a pull of the tether: that shows beside the
// next set.
func (g *set) close(s *Segmenter) {
	if len(g.moves) == 0 {
		return
	}
	c := g.classer(s.opt.Lift)
	if g.usual == 0 && g.doubt == nil && !c.several && !c.lowered && slices.ContainsFunc(g.moves, func(k stroke) bool { return c.hasty(&k) }) {
		g.doubt, g.moves = g.moves, nil
		return
	}
	if g.doubt != nil {
		moves := g.moves
		g.moves, g.usual, g.top = g.doubt, c.usual, c.fastest()
		g.doubt = nil
		g.class(s, g.classer(s.opt.Lift))
		g.moves = moves
		c = g.classer(s.opt.Lift)
	}
	g.class(s, c)
}

// end closes the last set.
func (g *set) end(s *Segmenter) {
	g.close(s)
	if g.moves = g.doubt; g.moves != nil {
		g.doubt = nil
		g.class(s, g.classer(s.opt.Lift))
	}
}

// class classes movements, the set's own, and hands them on.
func (g *set) class(s *Segmenter, c *classer) {
	reps := 0
	for i := range g.moves {
		k := &g.moves[i]
		k.Set = g.number
		if i > 0 && c.let {
			k.drop = 0 // it was the tether that came down
		}
		c.let = false
		k.Kind, k.Why = c.class(i)
		c.failed = k.Kind == Missed || c.failed && k.Kind != Rep && k.ROM < reachShare*c.usual
		s.sum.Kinds[k.Kind]++
		if k.Kind <= Missed {
			if reps++; reps == 1 {
				g.top = 0
			}
			g.top = max(g.top, k.MeanVelocity)
		}
		s.found(k.Found)
	}
	g.moves = g.moves[:0]
	if reps > 0 {
		g.usual = c.usual
		g.number++
	}
}

// classer tells what each movement of a set was.
type classer struct {
	moves   []stroke
	floor   float64 // m
	lowered bool    // the lift comes down before it goes up
	floored bool    // it starts from the floor: there is no rack
	usual   float64 // m, usual travel of a rep of the set; NaN where nothing reaches the floor
	several bool    // … of more than one movement
	before  float64 // m, the same of the set before; 0: none
	top     float64 // m/s, mean velocity of its fastest rep
	let     bool    // the movement before was a pull of the tether
	failed  bool    // the last rep so far was missed, and the bar lies where it ended
}

// classer learns the usual travel of a rep in the set: the median of the
// movements that come near its largest.
func (g *set) classer(lift string) *classer {
	c := &classer{moves: g.moves, floor: anyFloor, usual: math.NaN(), before: g.usual, top: g.top, lowered: lift == rep.Squat || lift == rep.BenchPress, floored: lift == rep.Deadlift}
	if f, ok := floors[lift]; ok {
		c.floor = f
	}
	far := c.far(c.lowered)
	if len(far) == 0 {
		far = c.far(false)
	}
	if len(far) == 0 {
		c.usual = c.stuck()
		return c
	}
	slices.Sort(far)
	// A slip may be the largest: the second largest leads where there are enough.
	lead := far[len(far)-1]
	if len(far) > 3 {
		lead = far[len(far)-2]
	}
	i, _ := slices.BinarySearch(far, reachShare*lead)
	far = far[i:]
	c.usual, c.several = far[len(far)/2], len(far) > 1
	return c
}

// far returns the travels that reach the floor; of a bar that is put back, or of the
// tether, none if only lowered ones are asked for.
func (c *classer) far(lowered bool) (far []float64) {
	for i := range c.moves {
		if k := &c.moves[i]; k.ROM >= c.floor && !k.Cut && !(lowered && k.drop < reachShare*k.ROM) {
			far = append(far, k.ROM)
		}
	}
	return far
}

// stuck returns the travel of a set in which nothing rose like a rep: how far the
// bar was lowered before a rise that sank back; NaN where there is none.
func (c *classer) stuck() float64 {
	way := math.NaN()
	for i := range c.moves {
		k := &c.moves[i]
		if c.lowered && k.ROM >= stuckFloor && k.fall >= fellShare*k.ROM && k.drop >= 2*c.floor && !(k.drop <= way) {
			way = k.drop
		}
	}
	return way
}

// class tells what a movement was, and why it is no rep.
func (c *classer) class(i int) (Kind, string) {
	k := &c.moves[i]
	rises := fmt.Sprintf("rises %.3f m", k.ROM)
	switch {
	case k.Cut && k.ROM >= missedFloor:
		return Part, rises + " and more: the samples begin or end in it, or some are missing"
	case math.IsNaN(c.usual):
		return Minor, rises + ": no movement of this set is as long as a rep"
	case c.pulled(i):
		c.let = true
		return Minor, rises + " and is let go at once, alone: the tether was pulled"
	case c.failed && c.lowered && k.ROM >= reachShare*c.usual:
		return Rack, rises + " from where a missed rep ended: the bar is put back"
	case c.again(i):
		return Minor, rises + " and sinks back: the first effort of the rep behind"
	case c.missed(i):
		return Missed, fmt.Sprintf("%s of %.3f m and comes down again", rises, c.way(i))
	case k.ROM >= reachShare*c.usual && k.ROM >= c.floor:
		if c.lowered && k.drop < loweredNone*c.usual && k.ROM < 0.75*c.usual {
			return Rack, rises + " without having been lowered"
		}
		return Rep, ""
	case c.bounced(i):
		return Rebound, rises + " right after a lockout or a landing"
	case c.outside(i) && !c.floored:
		return Rack, rises + " before the first or after the last rep"
	}
	return Minor, fmt.Sprintf("%s, a rep of this set %.3f m", rises, c.usual)
}

// way returns how far a movement had to go: the usual travel; where no rep follows,
// at least as far as the bar came down for it.
func (c *classer) way(i int) float64 {
	if c.lowered && c.ends(i) {
		return max(c.usual, c.moves[i].drop)
	}
	return c.usual
}

// missed reports whether a movement is a rep that did not reach lockout: it
// was lowered like a rep, or starts from the floor as the last of its set, ends
// short and comes down again.
func (c *classer) missed(i int) bool {
	k := &c.moves[i]
	least, floor, share := missedLeast, missedFloor, missedShare
	if c.lowered {
		least, floor = stuckLeast, stuckFloor
	}
	if c.ends(i) {
		share = missedLast
	}
	if k.ROM < floor || k.ROM < least*c.usual || k.ROM >= share*c.way(i) || k.fall < fellShare*k.ROM {
		return false
	}
	if c.lowered {
		return k.drop >= loweredAll*c.usual && (k.ROM < missedShare*c.way(i) || k.ROM < missedLast*k.drop)
	}
	return c.last(i) && (k.start-k.dropped > landedFor || k.Concentric > bounceFor)
}

// again reports whether a movement is a small rise off the bottom that sinks back,
// and the next one goes on from there at once: one effort.
func (c *classer) again(i int) bool {
	k := &c.moves[i]
	if !c.lowered || i+1 == len(c.moves) || k.ROM > againPart*c.usual || k.fall < fellShare*k.ROM {
		return false
	}
	n := &c.moves[i+1]
	return n.ROM >= reachShare*c.usual && n.drop < loweredAll*c.usual && n.start-n.dropped < againFor
}

// ends reports whether no movement follows that was lowered to like a rep, or, of
// a pull, rises like one.
func (c *classer) ends(i int) bool {
	least := missedLast * c.usual
	if !c.several {
		least = max(least, loweredBack*c.moves[i].drop)
	}
	for j := range c.moves[i+1:] {
		k := &c.moves[i+1+j]
		if c.lowered && k.drop >= least || !c.lowered && k.ROM >= reachShare*c.usual {
			return false
		}
	}
	return true
}

// pulled reports whether a long movement is that of a hand's that pulled the tether:
// up in no time and down again. Alone it was not lowered before or, of a pull, goes
// over another travel than the set before; at the beginning of a set it stands out
// of the others.
func (c *classer) pulled(i int) bool {
	k := &c.moves[i]
	if !c.hasty(k) || c.lowered && k.drop >= loweredNone*k.ROM {
		return false
	}
	switch {
	case !c.several && c.lowered:
		return true
	case !c.several:
		off := math.Abs(k.ROM/c.before - 1)
		return c.before > 0 && (off > pulledOff || off > standsOff && k.MeanVelocity > standsFast*c.top || k.MeanVelocity > max(pulledSpeed, pulledFast*c.top))
	case c.lowered && c.apart(i):
		return true
	}
	top, way := 0.0, []float64(nil)
	for j := range c.moves {
		if o := &c.moves[j]; j != i && o.ROM >= reachShare*c.usual && !o.Cut {
			if j < i {
				return false
			}
			top, way = max(top, o.MeanVelocity), append(way, o.ROM)
		}
	}
	if len(way) == 0 {
		return false
	}
	share := math.Abs(k.ROM/median(way) - 1)
	off, fast := share > standsOff, k.MeanVelocity > standsFast*top
	return share > standsFar || off && (fast || c.apart(i)) || k.MeanVelocity > pulledFast*top || c.lowered && (off || fast)
}

// fastest returns the mean velocity of the fastest long movement.
func (c *classer) fastest() (top float64) {
	for i := range c.moves {
		if k := &c.moves[i]; k.ROM >= reachShare*c.usual && !k.Cut {
			top = max(top, k.MeanVelocity)
		}
	}
	return top
}

// hasty reports whether a long movement is up in no time and down again.
func (c *classer) hasty(k *stroke) bool {
	return k.ROM >= reachShare*c.usual && k.Concentric <= pulledFor && k.down <= letGoFor
}

// apart reports whether no other long movement lies near in time.
func (c *classer) apart(i int) bool {
	for j := range c.moves {
		o := &c.moves[j]
		if j != i && o.ROM >= reachShare*c.usual && o.end > c.moves[i].start-apartFor && o.start < c.moves[i].end+apartFor {
			return false
		}
	}
	return true
}

// bounced reports whether a small movement follows right after the one before,
// or after a lowering without a pause.
func (c *classer) bounced(i int) bool {
	k := &c.moves[i]
	if i == 0 || k.ROM >= reboundPart*c.usual || k.ROM >= missedFloor && k.Concentric > bounceFor && k.fall >= fellShare*k.ROM {
		return false
	}
	return k.start-c.moves[i-1].end < reboundFor || k.start-k.dropped < landedFor && k.drop > reachShare*c.usual
}

// last reports whether no longer movement follows.
func (c *classer) last(i int) bool {
	for _, k := range c.moves[i+1:] {
		if k.ROM > c.moves[i].ROM {
			return false
		}
	}
	return true
}

// outside reports whether a movement lies before all reps or behind them.
func (c *classer) outside(i int) bool {
	before, after := false, false
	for j, k := range c.moves {
		if k.ROM >= reachShare*c.usual {
			before = before || j < i
			after = after || j > i
		}
	}
	return !before || !after
}
