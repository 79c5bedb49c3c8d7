package kinds

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean/extra"
	"repsift/clean/history"
	"repsift/clean/robust"
	"repsift/ingest/rep"
)

var logCount = &Spec{
	Kind: rep.LogCount,
	What: "Sets aside, where the joined hand log counts fewer reps than the unit, the least plausible ones: by travel, time, speed " +
		"and place in the set. Where none is clearly less plausible than the rest, all stay and the set is reported.",
	Step: Logged,
	Look: func(h *History, l []float64, out *Looks) {
		taken := slices.Contains(h.Counted, true)
		for s := range h.Sets {
			if reps, _ := h.Sets[s].Counted(); reps.OK {
				h.takeExtra(s, reps.V, out)
			} else if taken {
				h.uncount(h.Sets[s].Span)
			}
		}
	},
	Say: func(h *History, i int, f Finding) string {
		in := "in this set"
		if _, sure := h.Sets[h.SetAt(int32(i))].Counted(); !sure {
			in = "in each set at this load that day"
		}
		return fmt.Sprintf("the hand log counts %s %s, the unit more: this one is the least plausible",
			Count(int32(f.Limit), "rep"), in)
	},
}

// takeExtra sets aside the reps of set s beyond those logged. Those
// that an earlier pass took stay taken: what is told of units and logs rests on
// it.
func (h *History) takeExtra(s int, logged int32, out *Looks) {
	set := &h.Sets[s]
	take := func(i int32) {
		if out.In(i) {
			out.At(i, true, float64(set.Hi-set.Lo), float64(logged))
			h.Counted[i] = true
		}
	}
	var left []int32
	missed := int32(0)
	for i := set.Lo; i < set.Hi; i++ {
		switch {
		case h.Counted[i]:
			take(i)
		case h.Failed[i] == 0:
			left = append(left, i)
			if rpe := set.Effort(); h.Missed[i] && (h.Marked[i] || !rpe.OK || rpe.V >= history.MissRPE) {
				missed++
			}
		}
	}
	surplus := int32(len(left)) - logged
	if surplus > missed && h.failedLast(s, left) {
		h.Missed[left[len(left)-1]] = true
		missed++
	}
	if surplus -= missed; surplus > 0 && surplus <= logged+2 { // logs often count only what was lifted; and what has so many more is another set
		h.takeFalse(s, left, surplus, take)
	}
}

// sureFalse is the chance to be none of the counted reps from which a rep is
// taken: where it is less, the coach is told instead.
const sureFalse = 0.6

// takeFalse takes, of the reps left, as many as are too many, as far as they
// are surely false.
func (h *History) takeFalse(s int, left []int32, surplus int32, take func(i int32)) {
	left = slices.DeleteFunc(left, func(i int32) bool { return h.Missed[i] })
	reps := len(left) - int(surplus)
	if reps < 1 {
		return
	}
	set, moves := h.describe(s, left)
	chances := extra.False(set, moves, reps)
	order := make([]int, len(left))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(chances[b], chances[a]) })
	for _, k := range order[:surplus] {
		if chances[k] >= sureFalse {
			take(left[k])
		}
	}
}

// How likely a log's number is not that of the set beside it (common practice,
// no source): a slip of the pen or a forgotten line, which counts where travel
// tells what is a rep; and where the source has neither marks nor times, sets at
// one load that cannot be told apart.
const (
	doubtCount  = 0.005
	doubtWhich  = 0.1 // where it is not known which of the logged sets this is
	doubtBounds = 0.3
)

// describe puts the reps left of set s in the terms of package extra.
func (h *History) describe(s int, left []int32) (extra.Set, []extra.Move) {
	nan := math.NaN()
	set := extra.Set{Usual: nan, Limit: h.VelocityAt1RM(), Racked: h.Lift != rep.Deadlift, Shape: nan, Interval: nan}
	usual, known := h.UsualTravel(s)
	timed := h.Sets[s].Each && (h.Sets[s].Fine || h.Tick <= 2)
	if timed && !h.Sets[s].Fine {
		set.AtStep = h.Tick
	}
	moves := make([]extra.Move, len(left))
	var speeds, gaps []float64
	for k, i := range left {
		m := extra.Move{Speed: max(h.Speed[i], 0.005), SpeedStep: h.Table.MeanStep(h.Rows[i]), Peak: h.Peak[i], Travel: nan, At: nan}
		if known {
			m.Travel = h.Travel[i] / usual
		}
		if timed {
			m.At = float64(h.At[i]-h.At[left[0]]) / 1000
			if k > 0 {
				gaps = append(gaps, m.At-moves[k-1].At)
			}
		}
		speeds = append(speeds, m.Speed)
		moves[k] = m
	}
	_, sure := h.Sets[s].Counted()
	switch {
	case !h.Bounded(s):
		set.Doubt = doubtBounds
	case !sure:
		set.Doubt = doubtWhich
	case known:
		set.Doubt = doubtCount
	}
	middle, _ := robust.MedianInPlace(speeds)
	set.Shape = h.usualShape(middle)
	if gap, ok := robust.MedianInPlace(gaps); ok && len(gaps) >= 3 {
		set.Interval = max(gap, 1)
	}
	if l := h.Learnt.Line; l.Sets > 0 {
		at := l.At(h.Load[left[0]], set.Limit)
		for _, m := range moves {
			if math.Abs(math.Log(m.Speed/at)) < 0.3 { // else the load may be wrong
				set.Usual = at
			}
		}
	}
	return set, moves
}

// usualShape returns the usual quotient of peak and mean speed of the lifter's
// reps that are about as fast; NaN where too few have a peak.
func (h *History) usualShape(speed float64) float64 {
	var shapes []float64
	for s := range h.Sets {
		if h.Sets[s].Twin != 0 {
			continue // of another unit, and gone once the season is cleaned
		}
		for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
			if v := h.Speed[i]; v > speed/1.4 && v < 1.4*speed && h.Peak[i] > 0 && h.Standing(i) && !h.Missed[i] {
				shapes = append(shapes, h.Peak[i]/v)
			}
		}
	}
	if m, ok := robust.MedianInPlace(shapes); ok && len(shapes) >= 10 {
		return m
	}
	return math.NaN()
}

// uncount gives back the reps of a set that is no longer joined to a log.
func (h *History) uncount(set history.Span) {
	for i := set.Lo; i < set.Hi; i++ {
		if h.Counted[i] {
			h.Counted[i] = false
			h.Failed[i] &^= rep.Kinds(0).With(rep.LogCount)
		}
	}
}

// failedLast reports whether the rep that the log does not count is a failed
// last one: after a set called a 10, the slowest of it by a good part, at the
// speed of a 1RM, and no longer than the rest.
func (h *History) failedLast(s int, left []int32) bool {
	last := left[len(left)-1]
	if rpe := h.Sets[s].Effort(); rpe.OK && rpe.V < history.MissRPE || len(left) < 2 {
		return false
	}
	usual, slowest := h.Others(s, last)
	return h.Heavy(h.Load[last], slowest) && h.Speed[last] <= 0.85*slowest && h.Speed[last] <= h.VelocityAt1RM()+history.SlowMargin/2 &&
		!(h.Time[last] < history.MissTime) && !(h.Travel[last] > 0.97*usual) && !(h.Travel[last] < history.MissTravel*usual)
}

// StartCounted marks the reps that an earlier pass took on the log's word; but
// gives a set's back where the other filters now leave fewer than the log
// counts.
func (h *History) StartCounted(acting bool) {
	if !slices.Contains(h.Counted, true) {
		return
	}
	for s := range h.Sets {
		set := &h.Sets[s]
		left, counted := int32(0), int32(0)
		for i := set.Lo; i < set.Hi; i++ {
			if h.Counted[i] {
				counted++
			} else if h.Failed[i] == 0 {
				left++
			}
		}
		if counted == 0 {
			continue
		}
		reps, _ := set.Counted()
		keep := acting && reps.OK && left >= reps.V
		for i := set.Lo; i < set.Hi; i++ {
			if h.Counted[i] = h.Counted[i] && keep; h.Counted[i] {
				h.Failed[i] = h.Failed[i].With(rep.LogCount)
			}
		}
	}
}
