package history

import (
	"math"
)

// Rejoined is a rep put together from two halves, by position.
type Rejoined struct {
	First, Second int32
	Usual         float64
	Travel, Time  [2]float64 // of the halves as read
	speed, peak   float64    // of the first half as read
}

// Rejoin finds reps counted as two and puts the sum in the first half's place.
func (h *History) Rejoin(gap, share float64) {
	low, high := 1-share, 1+share
	for s := range h.Sets {
		set := &h.Sets[s]
		b := h.Band(s, BandReps)
		if b.N == 0 {
			continue // halves are told by what is whole
		}
		short := 0.85 * b.Median
		if h.Ranges[s].Travel.Lo > short {
			continue
		}
		off := func(a int32) float64 { // how far two neighbours are from one rep, as a share
			z := a + 1
			if z >= set.Hi || !(h.Travel[a] <= short) {
				return math.Inf(1)
			}
			usual := h.travelBeside(s, b, a, z)
			sum := h.Travel[a] + h.Travel[z]
			if !(sum >= low*usual && sum <= high*usual) || !h.halves(a, z, usual) {
				return math.Inf(1)
			}
			if g, ok := h.leastGap(set, z); ok && g > gap {
				return math.Inf(1)
			}
			// Two movements in the rack can add up to a short bench press; but
			// they are over sooner than a rep at this load.
			if time := h.Time[a] + h.Time[z]; !(time >= 0.7*h.LeastTime(s, usual, a, z)) {
				return math.Inf(1)
			}
			return math.Abs(sum/usual - 1)
		}
		for i := set.Lo; i+1 < set.Hi; i++ {
			if fit := off(i); fit < math.Inf(1) && fit <= off(i+1) {
				h.put(s, i, h.travelBeside(s, b, i, i+1))
				i++
			}
		}
	}
}

// put puts the rep of set s that was counted as two at a and a + 1 together at a.
func (h *History) put(s int, a int32, usual float64) {
	z := a + 1
	h.Rejoined = append(h.Rejoined, Rejoined{First: a, Second: z, Usual: usual,
		Travel: [2]float64{h.Travel[a], h.Travel[z]}, Time: [2]float64{h.Time[a], h.Time[z]}, speed: h.Speed[a], peak: h.Peak[a]})
	h.Time[a] += h.Time[z]
	h.Travel[a] += h.Travel[z]
	h.Speed[a] = h.Travel[a] / h.Time[a]
	h.Peak[a] = fmax(h.Peak[a], h.Peak[z])
	h.Mark[a], h.Mark[z] = FirstHalf, SecondHalf
	h.divide(a)
	h.Ranges[s].Travel.widen(h.Travel[a])
	h.Ranges[s].Speed.widen(h.Speed[a])
}

// halves reports whether two neighbours can be the halves of one rep: both
// short of the usual, neither a mere twitch, their speeds not worlds apart.
func (h *History) halves(a, z int32, usual float64) bool {
	for _, i := range [2]int32{a, z} {
		if h.Missed[i] || h.Travel[i] > 0.85*usual || h.Travel[i] < 0.18*usual || math.IsNaN(h.Time[i]) {
			return false
		}
	}
	return h.Speed[a] < 3*h.Speed[z] && h.Speed[z] < 3*h.Speed[a]
}

// Undo puts the halves back as they were read.
func (h *History) Undo() {
	h.Apart()
	h.Rejoined = h.Rejoined[:0]
}

// Apart takes rejoined reps apart again, but remembers which they were.
func (h *History) Apart() {
	for _, r := range h.Rejoined {
		h.Travel[r.First], h.Time[r.First], h.Speed[r.First], h.Peak[r.First] = r.Travel[0], r.Time[0], r.speed, r.peak
		h.divide(r.First)
	}
	clear(h.Mark)
}

// fmax is the larger of two values of which either may be missing.
func fmax(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// Fuse marks reps that hold two.
func (h *History) Fuse(share float64) {
	low, high := 2-share, 2+share
	for s := range h.Sets {
		b := h.Band(s, BandReps)
		if b.N == 0 || h.Ranges[s].Travel.Hi < low*b.Median {
			continue
		}
		for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
			if h.Travel[i] >= low*b.Median && h.Travel[i] <= high*b.Median && h.Mark[i] == Whole && !math.IsNaN(h.Time[i]) &&
				h.Time[i] >= 1.6*h.UsualTime(s, b.Median, i, i) {
				h.Mark[i] = Fused
			}
		}
	}
}
