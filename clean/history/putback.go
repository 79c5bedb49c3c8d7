package history

import "math"

// habit is how a lifter puts the bar back, as far as a unit records it: the
// short last movements of sets in which nobody fails. One like them is no
// failed attempt in a hard set either.
type habit struct {
	travel, time []float64 // share of the usual; s
}

// How many sets must end so before it counts as a habit, and what share of
// them (common practice, no source).
const (
	leastHabit = 5
	habitShare = 0.05
	rackMost   = 0.15 // m: more than that, and more than rackTravel, is no way to put a bar back
)

// putBack learns how the bar is put back.
func (h *History) putBack() *habit {
	var b habit
	easy, far := 0, h.VelocityAt1RM()+EasyMargin
	for s := range h.Sets {
		last := h.Sets[s].Hi - 1
		usual, slowest := h.Others(s, last)
		if math.IsInf(slowest, 1) || math.IsNaN(usual) {
			continue
		}
		if rpe := h.Sets[s].Effort(); slowest < far && !(rpe.OK && rpe.V < MissRPE-0.5) {
			continue
		}
		easy++
		if h.Travel[last] < min(shortShare*usual, max(rackTravel*usual, rackMost)) && !h.Missed[last] && h.Mark[last] == Whole {
			b.travel, b.time = append(b.travel, h.Travel[last]/usual), append(b.time, h.Time[last])
		}
	}
	if len(b.travel) < leastHabit || float64(len(b.travel)) < habitShare*float64(easy) {
		return new(habit)
	}
	return &b
}

// like reports whether the bar was put back in about as much travel and time
// before. NaN is like nothing.
func (b *habit) like(travel, time float64) bool {
	for i := range b.travel {
		if travel <= b.travel[i]+0.02 && time <= 1.25*b.time[i] {
			return true
		}
	}
	return false
}
