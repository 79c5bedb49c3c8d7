package judge

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
	leastShare = 0.20 // of the usual travel, below which the bar was not lifted
	leastTime  = 0.7  // s
	slowMargin = 0.10 // m/s above the speed at 1RM
	leastRPE   = 9.5  // a set with a miss is not called less
	easyMargin = 0.30 // m/s above the speed at 1RM: who lifts that fast does not fail the next rep
	sameSpeed  = 0.03 // m/s: how much faster than the slowest other rep a miss may be
	struggle   = 1.5  // s: alone in its set, no other short movement at the speed of a 1RM lasts so long
)

// recognise marks misses among the reps that no source marks.
func (h *History) recognise() {
	slow := velocityAt1RM(h.Lift) + slowMargin
	for s := range h.Sets {
		set := &h.Sets[s]
		if rpe := set.effort(); rpe.OK && rpe.V < leastRPE {
			continue
		}
		last := set.Hi - 1
		usual, slowest := h.others(s, last)
		for last > set.Lo && h.rom[last] < leastShare*usual {
			last-- // the bar put down
			usual, slowest = h.others(s, last)
		}
		rom := h.rom[last]
		if h.Missed[last] || h.mark[last] != whole || !(rom > 0) || !(h.dur[last] >= leastTime) || !(h.v[last] <= slow) {
			continue
		}
		if !(rom < shortShare*usual) || rom < leastShare*usual || h.v[last] > slowest+sameSpeed {
			continue
		}
		h.Missed[last] = h.heavy(h.load[last], slowest) ||
			math.IsInf(slowest, 1) && h.dur[last] >= struggle && h.v[last] <= velocityAt1RM(h.Lift)+0.02
	}
}

// effort is the RPE that export or hand log gives the set, as far as known.
func (s *Set) effort() rep.Null[float64] {
	if s.Log != nil && s.Log.RPE.OK {
		return s.Log.RPE
	}
	return s.RPE
}

// others returns the usual travel around a rep, NaN where unknown, and the
// slowest speed of the other standing reps of its set, +Inf where there are
// none.
func (h *History) others(s int, but int32) (usual, slowest float64) {
	usual, slowest = math.NaN(), inf
	var roms []float64
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if i == but || !h.standing(i) {
			continue
		}
		if b := h.learnt.band(h, s, bandReps); b.n > 0 && h.rom[i] < b.median/2 {
			continue // no rep to compare with
		}
		slowest = min(slowest, h.v[i])
		if h.rom[i] > 0 {
			roms = append(roms, h.rom[i])
		}
	}
	if b := h.learnt.band(h, s, bandReps); b.n > 0 {
		usual = b.median
	} else if m, ok := robust.MedianInPlace(roms); ok {
		usual = m
	}
	return usual, slowest
}

// heavy reports whether a set is near the lifter's limit: by how slow its other
// reps were, or, where they were not fast, by the lifter's own line: the load
// is near its end, or the others were as slow as there, whatever load was
// entered. slowest is +Inf where there are no others.
func (h *History) heavy(load, slowest float64) bool {
	v := velocityAt1RM(h.Lift)
	l := h.learnt.speed
	if slowest <= v+slowMargin {
		return true
	}
	if l.sets == 0 || slowest > v+easyMargin && !math.IsInf(slowest, 1) {
		return false
	}
	end := heavyShare * l.maximum(v)
	return load >= end || slowest <= l.at(end, v)
}
