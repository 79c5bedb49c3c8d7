package trace

import (
	"math"
	"slices"

	"repsift/ingest/rep"
)

// Limits of telling which way is up. All: common practice, no source.
const (
	sideAlone  = 0.8  // of the time away from rest: so much more on one side decides alone
	levels     = 20   // of the way there is, in which the bar's rest is looked for
	restNear   = 0.05 // of that way: the bar begins at rest
	awayFrom   = 0.25 // of the way on either side: away from rest …
	awayLeast  = 0.09 // m: … and further than out of a rack
	awayLong   = 1.0  // s: … and longer than to lift it back into one
	beginFor   = 0.5  // s
	wayMost    = 0.7  // of that way: a first movement that tells
	pullShort  = 1.6  // s: who pulls the tether lets go sooner …
	pullFlank  = 0.4  // s: … and is up sooner than anybody lowers a bar
	pullExcess = 0.1  // of the way: away from rest, for that
)

// direction tells which way is up, and whether that is sure. A squat and a bench
// press begin with the bar coming down and are done below where the bar rests, a
// deadlift begins with it going up and is done above. Positions that count upwards
// are the rule: they count downwards only where the beginning says so and the rest
// does not speak against it, or the rest says it clearly.
// Where the lift is unknown, they count upwards.
func (s *Segmenter) direction() (up int, sure bool) {
	first := map[string]float64{rep.Squat: -1, rep.BenchPress: -1, rep.Deadlift: 1}[s.opt.Lift]
	if first == 0 {
		return 1, true
	}
	s.sum.Up = 1
	s.smooth()
	w := &s.win
	lo, hi := slices.Min(w.y), slices.Max(w.y)
	way := hi - lo
	if way < anyFloor {
		return 1, false // nothing was lifted
	}
	rest, begins := w.restLevel(lo, way)
	if first < 0 && w.pullOnly(rest, way) {
		return 1, false
	}
	side, away := w.side(rest, lo, hi)
	side *= first
	turned := first*w.firstWay(way) < 0
	if side < -sideAlone && (begins && away > awayLong || turned) || side <= 0 && begins && turned {
		return -1, true
	}
	return 1, true
}

// firstWay returns the first way, up or down, of most of all there is: more than a
// bar rises out of a rack before the shortest of presses.
func (w *window) firstWay(way float64) float64 {
	lo, hi := w.y[0], w.y[0]
	for _, y := range w.y {
		lo, hi = min(lo, y), max(hi, y)
		switch {
		case y-lo > wayMost*way:
			return 1
		case hi-y > wayMost*way:
			return -1
		}
	}
	return 0
}

// restLevel returns where the bar rests: where it begins, if it does not move there,
// which begins reports; else where it is most of the time.
func (w *window) restLevel(lo, way float64) (level float64, begins bool) {
	begins = true
	for i := 0; begins && i < len(w.y) && w.t[i]-w.t[0] < beginFor; i++ {
		begins = math.Abs(w.y[i]-w.y[0]) < restNear*way
	}
	if begins {
		return w.y[0], true
	}
	var n [levels]int
	for _, y := range w.y {
		n[min(int((y-lo)/way*levels), levels-1)]++
	}
	most := 0
	for i := range n {
		if n[i] > n[most] {
			most = i
		}
	}
	return lo + (float64(most)+0.5)/levels*way, false
}

// side returns how much more of the time away from rest the bar is above it, from
// −1 to 1, and how long it is away, in seconds.
func (w *window) side(rest, lo, hi float64) (side, away float64) {
	above, below := 0, 0
	for _, y := range w.y {
		switch {
		case y > rest+max(awayLeast, awayFrom*(hi-rest)):
			above++
		case y < rest-max(awayLeast, awayFrom*(rest-lo)):
			below++
		}
	}
	n := float64(max(above+below, 1))
	return float64(above-below) / n, n * (w.t[len(w.t)-1] - w.t[0]) / float64(len(w.t))
}

// pullOnly reports whether the bar leaves its rest once only, as fast and for no
// longer than somebody pulls the tether.
func (w *window) pullOnly(rest, way float64) bool {
	times, from, far := 0, -1, -1
	for i, y := range w.y {
		off := math.Abs(y - rest)
		if from >= 0 && far < 0 && off > (1-pullExcess)*way {
			far = i
		}
		switch away := off > pullExcess*way; {
		case away && from < 0:
			from, far = i, -1
			times++
		case !away && from >= 0:
			if far < 0 || w.t[far]-w.t[from] > pullFlank || w.t[i]-w.t[from] > pullShort {
				return false
			}
			from = -1
		}
	}
	return times == 1 && from < 0
}
