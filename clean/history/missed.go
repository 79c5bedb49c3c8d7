package history

import (
	"math"

	"repsift/clean/robust"
	"repsift/ingest/rep"
)

// A miss that no source marks is told by what a failed attempt looks like: the
// last of its set, at a heavy load, slow, and short of the usual travel, yet
// lasting: a movement in the rack is short in time too. All: common practice,
// no source.
const (
	heavyShare = 0.75 // of the load at which the lifter's line reaches the speed of a 1RM
	shortShare = 0.85 // of the usual travel, below which an attempt did not reach lockout
	MissTravel = 0.20 // of the usual travel, below which the bar was not lifted
	MissTime   = 0.7  // s
	SlowMargin = 0.10 // m/s above the speed at 1RM
	MissRPE    = 9.5  // a set with a miss is not called less
	EasyMargin = 0.30 // m/s above the speed at 1RM: who lifts that fast does not fail the next rep
	rackTravel = 0.35 // of the usual travel: no more than that, and no struggle, is the bar put back
	nearMargin = 0.15 // m/s above the speed at 1RM, where the rep before was no faster
	sameSpeed  = 0.03 // m/s: how much faster than the slowest other rep a miss may be
	struggle   = 1.5  // s: alone in its set, no other short movement at the speed of a 1RM lasts so long

	// Whatever the load, a last movement is an attempt that failed where it is
	// this slow beside the slowest other rep, and takes this long, and this much
	// longer than the longest other rep: a bar is not put back so.
	stuckShare  = 0.6
	stuckTime   = 1.3 // s
	stuckLonger = 1.2
)

// Recognise marks misses among the reps that no source marks.
func (h *History) Recognise() {
	slow := h.VelocityAt1RM() + SlowMargin
	var putBack *habit // learnt from reps of which none is recognised yet
	for s := range h.Sets {
		set := &h.Sets[s]
		if rpe := set.Effort(); rpe.OK && rpe.V < MissRPE {
			continue
		}
		last := set.Hi - 1
		usual := h.travelOfOthers(s, last)
		for last > set.Lo && h.Travel[last] < MissTravel*usual {
			last-- // the bar put down
			usual = h.travelOfOthers(s, last)
		}
		rom := h.Travel[last]
		if h.Missed[last] || h.Mark[last] != Whole || !(rom > 0) || !(h.Time[last] >= MissTime) {
			continue
		}
		if !(rom < shortShare*usual) || rom < MissTravel*usual {
			continue
		}
		if rom < rackTravel*usual && h.Late(set, last) { // the bar was put down before
			continue
		}
		slowest := h.slowestOther(s, last)
		if putBack == nil {
			putBack = h.putBack()
		}
		if !math.IsInf(slowest, 1) && h.asPutBack(rom/usual, h.Time[last], slowest) || putBack.like(rom/usual, h.Time[last]) {
			continue
		}
		if h.stuck(s, last, slowest) {
			h.Missed[last] = true
			continue
		}
		if h.Speed[last] > slow || h.Speed[last] > slowest+sameSpeed {
			continue
		}
		h.Missed[last] = h.Heavy(h.Load[last], slowest) ||
			math.IsInf(slowest, 1) && h.Time[last] >= struggle && h.Speed[last] <= h.VelocityAt1RM()+0.02
	}
}

// asPutBack reports whether a short last movement is rather the bar put back:
// little travel without a struggle where the rep before was not near the limit,
// and little travel at all where it was far from it.
func (h *History) asPutBack(travel, time, before float64) bool {
	over := before - h.VelocityAt1RM()
	return travel < rackTravel && (over > nearMargin && time < stuckTime || over > EasyMargin)
}

// stuck reports whether the last rep of set s was a long struggle beside the
// others, of which slowest is the speed.
func (h *History) stuck(s int, last int32, slowest float64) bool {
	if math.IsInf(slowest, 1) || h.Speed[last] > stuckShare*slowest || h.Time[last] < stuckTime {
		return false
	}
	for i := h.Sets[s].Lo; i < last; i++ {
		if h.Standing(i) && h.Time[last] < stuckLonger*h.Time[i] {
			return false
		}
	}
	return true
}

// Effort is the RPE that export or hand log gives the set, as far as known.
func (s *Set) Effort() rep.Null[float64] {
	if s.Log != nil && s.Log.RPE.OK {
		return s.Log.RPE
	}
	return s.RPE
}

// Others returns the usual travel around a rep, NaN where unknown, and the
// slowest speed of the other standing reps of its set, +Inf where there are
// none.
func (h *History) Others(s int, but int32) (usual, slowest float64) {
	return h.travelOfOthers(s, but), h.slowestOther(s, but)
}

func (h *History) travelOfOthers(s int, but int32) float64 {
	if b := h.Band(s, BandReps); b.N > 0 {
		return b.Median
	}
	roms := h.few[:0]
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if i != but && h.Standing(i) && h.Travel[i] > 0 {
			roms = append(roms, h.Travel[i])
		}
	}
	h.few = roms
	if m, ok := robust.MedianInPlace(roms); ok {
		return m
	}
	return math.NaN()
}

func (h *History) slowestOther(s int, but int32) float64 {
	short := math.NaN() // below it is no rep to compare with
	if b := h.Band(s, BandReps); b.N > 0 {
		short = b.Median / 2
	}
	slowest := math.Inf(1)
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if i != but && h.Standing(i) && !(h.Travel[i] < short) {
			slowest = min(slowest, h.Speed[i])
		}
	}
	return slowest
}

// Heavy reports whether a set is near the lifter's limit: by how slow its other
// reps were, or, where they were not fast, by the lifter's own line: the load
// is near its end, or the others were as slow as there, whatever load was
// entered. slowest is +Inf where there are no others.
func (h *History) Heavy(load, slowest float64) bool {
	v := h.VelocityAt1RM()
	l := h.Learnt.Line
	if slowest <= v+SlowMargin {
		return true
	}
	if l.Sets == 0 || slowest > v+EasyMargin && !math.IsInf(slowest, 1) {
		return false
	}
	end := heavyShare * l.Maximum(v)
	return load >= end || slowest <= l.At(end, v)
}
