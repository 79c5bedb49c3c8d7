package history

import (
	"slices"

	"repsift/clean/robust"
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
		set.rig = number(&h.rigs, rig{t.Variant.At(r), t.Device.At(r), t.Bar.At(r), t.Tether.At(r)})
		set.variant = number(&h.variants, t.Variant.At(r))
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
	// The reps of a single rig are those of its variant.
	alone := len(h.rigs) == 1 && !slices.ContainsFunc(h.Sets, func(s Set) bool { return s.Twin != 0 })
	room := h.samples(2 * len(h.Rows))
	part := func(n int32) []float64 {
		lo := len(room)
		room = room[:lo+int(n)]
		return room[lo:lo:len(room)]
	}
	for k, n := range size {
		own[k] = part(n)
	}
	for k, n := range sizePooled {
		if !alone {
			pooled[k] = part(n)
		}
	}
	for s := range h.Sets {
		set := &h.Sets[s]
		for i := set.Lo; i < set.Hi; i++ {
			if rom := h.Travel[i]; h.Standing(i) && !h.Missed[i] && rom > 0 {
				own[set.rig] = append(own[set.rig], rom)
				if set.Twin == 0 && !alone {
					pooled[set.variant] = append(pooled[set.variant], rom)
				}
			}
		}
	}
	if alone {
		pooled = own
	}
	h.Learnt.longer = make([]float64, len(pooled))
	for k, roms := range pooled {
		if len(roms) < BandReps {
			h.Learnt.longer[k] = longer(roms)
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
	h.Learnt.own = learn(own)
	h.Learnt.pooled = h.Learnt.own
	if !alone {
		h.Learnt.pooled = learn(pooled)
	}
}

// longer returns the median of the movements that travel at least 60 % of the
// second longest: where reps are few, movements in the rack may outnumber them,
// but are shorter. 0 for fewer than three. It sorts roms.
func longer(roms []float64) float64 {
	if len(roms) < 3 {
		return 0
	}
	slices.Sort(roms)
	from, _ := slices.BinarySearch(roms, 0.6*roms[len(roms)-2])
	m, _ := robust.MedianInPlace(roms[from:])
	return m
}

// Band returns the band for set s: of its rig, else of its variant, where
// learnt from at least so many reps, brought to the set's own travel where it
// has one; else none.
func (h *History) Band(s, least int) Band {
	if least == BandReps {
		return h.Learnt.bands[s]
	}
	return h.bandAt(s, least)
}

func (h *History) bandAt(s, least int) Band {
	b := h.bandOf(s, least)
	if own := h.Learnt.local[s]; own > 0 && b.N > 0 {
		b.Deviation *= own / b.Median
		b.Median = own
	}
	return b
}

func (h *History) bandOf(s, least int) Band {
	set := &h.Sets[s]
	if b := h.Learnt.own[set.rig]; b.N >= least {
		return b
	}
	if b := h.Learnt.pooled[set.variant]; b.N >= least {
		return b
	}
	return Band{}
}

// What makes a travel that is not the usual one the lifter's own, on a day or
// in a set: so many reps within so wide a band, more than a third of the usual,
// which hardly a movement in the rack has, and for each rep of the usual travel
// there three of them. A partial lift under the name of the full one, another
// stance, higher blocks: common practice, no source.
const (
	localReps  = 3
	localWidth = 1.3  // longest over shortest
	localOff   = 1.2  // from the usual, as a quotient, that makes a travel another one
	localMore  = 3    // for each rep of the usual travel
	localLeast = 0.35 // of the usual
	localShare = 0.6  // of the reps longer than that
)

// learnLocal notes the days, and on other days the sets, that have a travel of
// their own.
func (h *History) learnLocal() {
	h.Learnt.local = cleared(h.Learnt.local, len(h.Sets))
	var sets []offUsual // of the day
	for _, d := range h.Days {
		sets = slices.Grow(sets[:0], int(d.Hi-d.Lo))[:d.Hi-d.Lo]
		done := int32(-1) // a rig without a travel of its own on the day
		for s := d.Lo; s < d.Hi; s++ {
			if h.Learnt.local[s] > 0 {
				continue
			}
			b := h.bandOf(int(s), BandReps)
			if b.N == 0 {
				continue
			}
			if rig := h.Sets[s].rig; rig != done {
				done = rig
				if own := h.dayTravel(d, rig, b.Median, sets); own > 0 {
					for o := s; o < d.Hi; o++ {
						if h.Sets[o].rig == rig {
							h.Learnt.local[o] = own
						}
					}
					continue
				}
			}
			if sets[s-d.Lo].may() {
				h.few = h.travels(h.few[:0], s)
				h.Learnt.local[s] = ownTravel(h.few, b.Median)
			}
		}
	}
}

// dayTravel returns the travel that the reps done with a rig on a day share
// where it is another than the usual; else 0. It counts the rig's sets.
func (h *History) dayTravel(d Span, rig int32, usual float64, sets []offUsual) float64 {
	var all offUsual
	for s := d.Lo; s < d.Hi; s++ {
		if h.Sets[s].rig == rig {
			n := h.countTravels(s, usual)
			sets[s-d.Lo] = n
			all.counted += n.counted
			all.normal += n.normal
		}
	}
	if !all.may() {
		return 0
	}
	roms := h.few[:0]
	for s := d.Lo; s < d.Hi; s++ {
		if h.Sets[s].rig == rig {
			roms = h.travels(roms, s)
		}
	}
	h.few = roms
	return ownTravel(roms, usual)
}

// offUsual counts the reps that travel far enough to say something of the usual
// travel, and those of them that have it.
type offUsual struct{ counted, normal int }

// may reports whether the reps may have a travel of their own.
func (n offUsual) may() bool { return n.counted >= localReps && n.counted >= localMore*n.normal }

func (h *History) countTravels(s int32, usual float64) (n offUsual) {
	least, lo, hi := localLeast*usual, usual/localOff, usual*localOff
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if rom := h.Travel[i]; rom > 0 && rom >= least && !h.Missed[i] && h.Mark[i] != SecondHalf {
			n.counted++
			if rom > lo && rom < hi {
				n.normal++
			}
		}
	}
	return n
}

// travels appends the travel of the reps of set s that were not missed.
func (h *History) travels(roms []float64, s int32) []float64 {
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if rom := h.Travel[i]; rom > 0 && !h.Missed[i] && h.Mark[i] != SecondHalf {
			roms = append(roms, rom)
		}
	}
	return roms
}

// ownTravel returns the travel that reps share where it is another than the
// usual; else 0. It sorts roms.
func ownTravel(roms []float64, usual float64) float64 {
	var all offUsual
	for _, rom := range roms {
		if rom < localLeast*usual {
			continue
		}
		all.counted++
		if rom > usual/localOff && rom < usual*localOff {
			all.normal++
		}
	}
	if !all.may() {
		return 0
	}
	slices.Sort(roms)
	at, n, hi := 0, 0, 0
	for lo, rom := range roms {
		if rom < localLeast*usual {
			continue
		}
		for hi < len(roms) && roms[hi] <= localWidth*rom {
			hi++
		}
		if hi-lo > n {
			at, n = lo, hi-lo
		}
	}
	if n < localReps || n < localMore*all.normal || float64(n) < localShare*float64(all.counted) {
		return 0
	}
	own := roms[at+n/2]
	if own > usual/localOff && own < usual*localOff {
		return 0
	}
	return own
}
