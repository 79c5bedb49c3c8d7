package history

import (
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/clean/usual"
)

// marks of reps that are not one rep as read.
const (
	Whole uint8 = iota // one rep, as far as is known
	FirstHalf
	SecondHalf
	Fused // two reps counted as one
)

// BandReps is the fewest reps from which context filters take a band; the
// usual travel filter has its own, declared one.
const BandReps = 10

// UsualTravel returns the usual travel around set s: the band's median, or,
// with too few reps for a band, that of the longer movements of the variant.
func (h *History) UsualTravel(s int) (usual float64, known bool) {
	if b := h.Band(s, BandReps); b.N > 0 {
		return b.Median, true
	}
	usual = h.Learnt.longer[h.Sets[s].variant]
	return usual, usual > 0
}

// travelBeside returns the usual travel in set s without positions a and z: the
// median of its other reps that lie in the middle of the band, where it has
// two, else the band's.
func (h *History) travelBeside(s int, b usual.Band, a, z int32) float64 {
	roms := h.few[:0]
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if i != a && i != z && h.Travel[i] > 0.7*b.Median && h.Travel[i] < 1.4*b.Median {
			roms = append(roms, h.Travel[i])
		}
	}
	h.few = roms
	if m, ok := robust.MedianInPlace(roms); ok && len(roms) >= 2 {
		return m
	}
	return b.Median
}

// UsualTime returns how long a rep of the usual travel takes in set s: from
// the median speed of its other reps of at least 70 % of that travel, else
// from the usual speed at its load; 0 where neither is known. Positions a and
// z are left out.
func (h *History) UsualTime(s int, usual float64, a, z int32) float64 {
	vs := h.speedsBeside(s, usual, a, z)
	if v, ok := robust.MedianInPlace(vs); ok {
		return usual / v
	}
	return h.lineTime(s, usual)
}

// leastTime is usualTime for the fastest of the other reps.
func (h *History) LeastTime(s int, usual float64, a, z int32) float64 {
	vs := h.speedsBeside(s, usual, a, z)
	line := h.lineTime(s, usual)
	switch {
	case len(vs) == 0:
		return line
	case len(vs) == 1 && line > 0:
		return min(usual/vs[0], line) // one rep may itself be a grinder
	}
	return usual / slices.Max(vs)
}

// lineTime is how long a rep takes at the load of set s on a day on which the
// lifter is two deviations faster than usual; 0 without a line.
func (h *History) lineTime(s int, usual float64) float64 {
	l := h.Learnt.Line
	if l.Sets == 0 {
		return 0
	}
	return usual / (l.At(h.Load[h.Sets[s].Lo], h.VelocityAt1RM()) + 2*l.Deviation)
}

// speedsBeside returns the speeds of the standing reps of set s, without
// positions a and z, that travel at least 70 % of the usual. They are valid until
// the next such question.
func (h *History) speedsBeside(s int, usual float64, a, z int32) []float64 {
	vs := h.few[:0]
	set := &h.Sets[s]
	for i := set.Lo; i < set.Hi; i++ {
		if i != a && i != z && h.Standing(i) && !h.Missed[i] && h.Speed[i] > 0 && h.Travel[i] >= 0.7*usual {
			vs = append(vs, h.Speed[i])
		}
	}
	h.few = vs
	return vs
}

// Gap returns the time from the end of the rep before position i to its start,
// in s. ok is false for a set's first rep and where times are not given to the
// rep in fractions of a second. Units stamp a rep at its start or at its end;
// the longer of the two durations is taken off, so that the gap is not
// overstated either way.
func (h *History) Gap(set *Set, i int32) (s float64, ok bool) {
	if i <= set.Lo || !set.Fine {
		return 0, false
	}
	d := fmax(h.Time[i], h.Time[i-1])
	if math.IsNaN(d) {
		return 0, false
	}
	return float64(h.At[i]-h.At[i-1])/1000 - d, true
}

// leastGap is the shortest that the time from the end of the rep before
// position i to its start can have been, also where times are cut to the
// second. ok is false where reps have no times of their own.
func (h *History) leastGap(set *Set, i int32) (s float64, ok bool) {
	if gap, ok := h.Gap(set, i); ok {
		return gap, true
	}
	if i <= set.Lo || !set.Each || math.IsNaN(h.Time[i-1]) {
		return 0, false
	}
	return float64(h.At[i]-h.At[i-1])/1000 - 1 - h.Time[i-1], true
}

// Late reports whether position i comes so long after the rep before it that
// nobody held the bar meanwhile: lateGap and more, and lateMore times as long as
// between the set's other reps. No where reps have no times of their own.
func (h *History) Late(set *Set, i int32) bool {
	gap, ok := h.leastGap(set, i)
	if !ok || gap < lateGap {
		return false
	}
	others := h.few[:0]
	for k := set.Lo + 1; k < set.Hi; k++ {
		if k != i && h.Standing(k) {
			others = append(others, float64(h.At[k]-h.At[k-1])/1000)
		}
	}
	h.few = others
	usual, ok := robust.MedianInPlace(others)
	return !ok || gap >= lateMore*usual
}

// From a rep to what follows it, s: a breath or five before the last rep of a
// heavy set is shorter (common practice, no source).
const (
	lateGap  = 12
	lateMore = 4
)

// findFine notes which sets have a time of its own for every rep, and which of
// those in fractions of a second; and how coarse the others are.
func (h *History) findFine() {
	for s := range h.Sets {
		set := &h.Sets[s]
		set.Each = set.Hi-set.Lo > 1
		fraction := false
		for i := set.Lo; i < set.Hi && set.Each; i++ {
			fraction = fraction || h.At[i]%1000 != 0
			set.Each = h.At[i] != NoTime && (i == set.Lo || h.At[i] >= h.At[i-1])
		}
		set.Each = set.Each && h.At[set.Hi-1] > h.At[set.Lo]
		set.Fine = set.Each && fraction
	}
	h.Tick = 60
	for s := range h.Sets {
		for i := h.Sets[s].Lo; i < h.Sets[s].Hi && h.Sets[s].Each && !h.Sets[s].Fine && h.Tick > 1; i++ {
			for int64(h.At[i])%int64(1000*h.Tick) != 0 {
				h.Tick = finer[h.Tick]
			}
		}
	}
}

// finer leads from a tick of a clock, s, to the next finer one.
var finer = map[float64]float64{60: 30, 30: 10, 10: 5, 5: 2, 2: 1, 1: 0.001}
