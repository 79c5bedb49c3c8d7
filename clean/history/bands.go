package history

import (
	"math"

	"repsift/ingest/rep"
)

// Band is the usual travel of one rig.
type Band struct {
	Median, Deviation float64 // m; the deviation scaled to a standard deviation
	N                 int     // reps it was learnt from; 0: no band
}

// Limits returns the travel a rep may have. The Band is never narrower than
// 5 cm below and 12 cm above: with a travel of 15 cm, a share is within the
// error of a unit that is clipped a little off the middle.
func (b Band) Limits(deviations, low, high float64) (lo, hi float64) {
	lo = min(b.Median-deviations*b.Deviation, low*b.Median, b.Median-0.05)
	hi = max(b.Median+deviations*b.Deviation, high*b.Median, b.Median+0.12)
	return lo, hi
}

// rig is how a set was done and measured. A history has a handful.
type rig struct{ variant, device, bar, tether rep.Sym }

// findRigs numbers the rigs of the history and of its variants, and notes each
// set's.
func (h *History) findRigs() {
	t := h.Table
	for s := range h.Sets {
		set := &h.Sets[s]
		r := h.Rows[set.Lo]
		set.rig = number(&h.rigs, rig{t.Variant[r], t.Device[r], t.Bar[r], t.Tether[r]})
		set.variant = number(&h.variants, t.Variant[r])
	}
}

// number returns the place of x in list and adds it where it is new.
func number[T comparable](list *[]T, x T) int32 {
	for i, y := range *list {
		if x == y {
			return int32(i)
		}
	}
	*list = append(*list, x)
	return int32(len(*list) - 1)
}

// learnBands learns the usual travel of every rig and, for those with few
// reps, of every variant.
func (h *History) learnBands() {
	own, pooled := make([][]float64, len(h.rigs)), make([][]float64, len(h.variants))
	size, sizePooled := make([]int32, len(h.rigs)), make([]int32, len(h.variants))
	for s := range h.Sets {
		set := &h.Sets[s]
		size[set.rig] += set.Hi - set.Lo
		sizePooled[set.variant] += set.Hi - set.Lo
	}
	for k, n := range size {
		own[k] = make([]float64, 0, n)
	}
	for k, n := range sizePooled {
		pooled[k] = make([]float64, 0, n)
	}
	for s := range h.Sets {
		set := &h.Sets[s]
		for i := set.Lo; i < set.Hi; i++ {
			if rom := h.Travel[i]; h.Standing(i) && !h.Missed[i] && rom > 0 {
				own[set.rig] = append(own[set.rig], rom)
				if set.Twin == 0 {
					pooled[set.variant] = append(pooled[set.variant], rom)
				}
			}
		}
	}
	learn := func(samples [][]float64) []Band {
		out := make([]Band, len(samples))
		for i, roms := range samples {
			out[i].N = len(roms)
			out[i].Median, out[i].Deviation, _ = spread(roms)
		}
		return out
	}
	h.Learnt.own, h.Learnt.pooled = learn(own), learn(pooled)
}

// Band returns the band for set s: of its rig, else of its variant, where
// learnt from at least so many reps; else none.
func (l *Learnt) Band(h *History, s, least int) Band {
	set := &h.Sets[s]
	if b := l.own[set.rig]; b.N >= least {
		return b
	}
	if b := l.pooled[set.variant]; b.N >= least {
		return b
	}
	return Band{}
}

// OwnTravel reports whether the reps of set s share a travel of their own:
// three or more, within 15 % of each other, and more than a third of the
// usual, which no movement in the rack has.
func (h *History) OwnTravel(s int, usual float64) bool {
	lo, hi, n := math.Inf(1), 0.0, 0
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if rom := h.Travel[i]; !math.IsNaN(rom) && !h.Missed[i] {
			lo, hi = min(lo, rom), max(hi, rom)
			n++
		}
	}
	return n >= 3 && hi <= 1.15*lo && lo > usual/3
}
