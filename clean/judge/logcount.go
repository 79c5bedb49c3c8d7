package judge

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean/history"
	"repsift/clean/robust"
	"repsift/ingest/rep"
)

var logCount = &kind{
	Kind: rep.LogCount,
	what: "Sets aside, where the joined hand log counts fewer reps than the unit, the least plausible ones: by travel, time, speed " +
		"and place in the set. Where none is clearly less plausible than the rest, all stay and the set is reported.",
	step: logged,
	look: func(h *History, l []float64, out *looks) {
		for s := range h.Sets {
			if set := &h.Sets[s]; set.Log != nil && set.Log.Reps.OK {
				h.takeExtra(s, out)
			} else {
				h.uncount(set.Span)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("the hand log counts %s in this set, the unit more: this one is the least plausible",
			count(int32(f.limit), "rep"))
	},
}

// takeExtra sets aside the reps of set s that the log does not count. Those
// that an earlier pass took stay taken: what is told of units and logs rests on
// it.
func (h *History) takeExtra(s int, out *looks) {
	set := &h.Sets[s]
	logged := set.Log.Reps.V
	take := func(i int32) {
		if out.in(int(i)) {
			out.at(int(i), true, float64(set.Hi-set.Lo), float64(logged))
			h.counted[i] = true
		}
	}
	var left []int32
	missed := int32(0)
	for i := set.Lo; i < set.Hi; i++ {
		switch {
		case h.counted[i]:
			take(i)
		case h.Failed[i] == 0:
			left = append(left, i)
			if h.Missed[i] && (h.Marked[i] || !set.Log.RPE.OK || set.Log.RPE.V >= history.MissRPE) {
				missed++
			}
		}
	}
	extra := int32(len(left)) - logged
	if extra > missed && h.failedLast(s, left) {
		h.Missed[left[len(left)-1]] = true
		missed++
	}
	if extra -= missed; extra > 0 { // logs often count only what was lifted
		for _, i := range h.oddest(s, left, int(min(extra, int32(len(left))-1))) {
			take(i)
		}
	}
}

// uncount gives back the reps of a set that is no longer joined to a log.
func (h *History) uncount(set history.Span) {
	for i := set.Lo; i < set.Hi; i++ {
		if h.counted[i] {
			h.counted[i] = false
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

// countMargin is by how much the reps taken must be odder than those left.
const countMargin = 1

// oddest returns the positions among left that fit worst, up to most, as far as
// they stand clear of the rest.
func (h *History) oddest(s int, left []int32, most int) []int32 {
	usual, known := h.UsualTravel(s)
	odd := make([]float64, len(left))
	order := make([]int, len(left))
	for k := range left {
		odd[k], order[k] = h.oddness(left, k, usual, known), k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(odd[b], odd[a]) })
	for n := most; n > 0; n-- {
		if odd[order[n-1]]-odd[order[n]] < countMargin {
			continue
		}
		out := make([]int32, n)
		for k := range out {
			out[k] = left[order[k]]
		}
		return out
	}
	return nil
}

// oddness says how unlike a rep left[k] is beside the others of its set: the
// sum of squared deviations over what is usual, halved and capped, so that one
// wild value decides no more than it should. All weights: common practice, no
// source; chosen on simulated seasons.
func (h *History) oddness(left []int32, k int, usual float64, known bool) float64 {
	i := left[k]
	if h.Missed[i] {
		return 0
	}
	var v, dur, shape []float64
	for j, o := range left {
		if j == k {
			continue
		}
		v = append(v, h.Speed[o])
		if h.Time[o] > 0 {
			dur = append(dur, h.Time[o])
		}
		if q := h.Peak[o] / h.Speed[o]; q > 0 {
			shape = append(shape, q)
		}
	}
	sum := 0.0
	add := func(deviation, unit, most float64) {
		if !math.IsNaN(deviation) {
			sum += min(deviation*deviation/(unit*unit)/2, most)
		}
	}
	if known {
		add(h.Travel[i]/usual-1, 0.08, 8)
	}
	last := k == len(left)-1
	if len(v) < 3 { // two or three reps do not say which of them is usual
		v = h.withLine(v, i)
	}
	if m, ok := robust.MedianInPlace(v); ok {
		d := math.Log(h.Speed[i] / m)
		unit := 0.15
		switch {
		case d < 0 && last && m < h.VelocityAt1RM()+history.EasyMargin:
			unit = 0.45 // the last rep may be a grinder
		case d > 0 && k > 1:
			unit = 0.12 // reps do not get faster
		}
		add(d, unit, 6)
	}
	if m, ok := robust.MedianInPlace(dur); ok && h.Time[i] < m {
		add(math.Log(h.Time[i]/m), 0.3, 4)
	}
	if m, ok := robust.MedianInPlace(shape); ok {
		add(math.Log(h.Peak[i]/h.Speed[i]/m), 0.3, 3)
	}
	if gap, ok := h.Gap(h.Sets[h.SetAt(i)], i); ok && gap < 0.5 {
		sum += 4
	}
	return sum
}

// withLine adds to the speeds v of a rep's few neighbours the usual speed at
// its load; or puts it in the place of a single one. The line is left out where
// no rep of the set is near it: then the load may be wrong.
func (h *History) withLine(v []float64, i int32) []float64 {
	l := h.Learnt.Line
	if l.Sets == 0 || len(v) == 0 {
		return v
	}
	usual := l.At(h.Load[i], h.VelocityAt1RM())
	if off := math.Abs(math.Log(max(slices.Max(v), h.Speed[i]) / usual)); off > 0.3 {
		return v
	}
	if len(v) == 1 {
		return []float64{usual}
	}
	return append(v, usual)
}
