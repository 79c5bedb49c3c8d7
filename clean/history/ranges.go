package history

import "math"

// Ranges are what the reps of a set lie within, so that a filter whose limits
// none of them reaches passes the set as a whole. They may be wider than need
// be: a rep that was rejoined widens them for good.
type Ranges struct {
	Travel   Range // NaN where one is missing
	Speed    Range
	Peak     Range // of reps that have one
	Quotient Range // as read, of reps that have one
}

// Range is a closed range.
type Range struct{ Lo, Hi float64 }

// Within reports whether nothing in the range is below lo or above hi.
func (r Range) Within(lo, hi float64) bool { return r.Lo >= lo && r.Hi <= hi }

// nothing is the range of no values.
var nothing = Range{math.Inf(1), math.Inf(-1)}

// widen takes a value in; NaN makes the range NaN.
func (r *Range) widen(v float64) { r.Lo, r.Hi = min(r.Lo, v), max(r.Hi, v) }

// measure finds the ranges of every set.
func (h *History) measure() {
	h.Ranges = room(h.Ranges, len(h.Sets))
	for s := range h.Sets {
		travel, speed, peak, quotient := nothing, nothing, nothing, nothing
		for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
			travel.widen(h.Travel[i])
			speed.widen(h.Speed[i])
			if p := h.Peak[i]; p == p {
				peak.widen(p)
			}
			h.divide(i)
			if q := h.Quotient[i]; q == q {
				quotient.widen(q)
			}
		}
		h.Ranges[s] = Ranges{travel, speed, peak, quotient}
	}
}

// divide finds the quotient of position i: 1, but for how the unit times a rep.
func (h *History) divide(i int32) {
	if h.Quotient[i] = math.NaN(); h.BothGiven(int(i)) {
		h.Quotient[i] = h.Speed[i] * h.Time[i] / h.Travel[i]
	}
}
