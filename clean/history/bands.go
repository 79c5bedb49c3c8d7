package history

import (
	"slices"

	"repsift/clean/usual"
	"repsift/ingest/rep"
)

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
			h.Learnt.longer[k] = usual.Longer(roms)
		}
	}
	learn := func(samples [][]float64) []usual.Band {
		out := make([]usual.Band, len(samples))
		for i, roms := range samples {
			out[i] = usual.BandOf(roms)
		}
		return out
	}
	h.Learnt.own = learn(own)
	h.Learnt.pooled = h.Learnt.own
	if !alone {
		h.Learnt.pooled = learn(pooled)
	}
}

// Band returns the band for set s: of its rig, else of its variant, where
// learnt from at least so many reps, brought to the set's own travel where it
// has one; else none.
func (h *History) Band(s, least int) usual.Band {
	if least == BandReps {
		return h.Learnt.bands[s]
	}
	return h.bandAt(s, least)
}

func (h *History) bandAt(s, least int) usual.Band {
	b := h.bandOf(s, least)
	if own := h.Learnt.local[s]; own > 0 && b.N > 0 {
		b.Deviation *= own / b.Median
		b.Median = own
	}
	return b
}

func (h *History) bandOf(s, least int) usual.Band {
	set := &h.Sets[s]
	if b := h.Learnt.own[set.rig]; b.N >= least {
		return b
	}
	if b := h.Learnt.pooled[set.variant]; b.N >= least {
		return b
	}
	return usual.Band{}
}

// learnLocal notes the days, and on other days the sets, that have a travel of
// their own.
func (h *History) learnLocal() {
	h.Learnt.local = cleared(h.Learnt.local, len(h.Sets))
	var sets []usual.Tally // of the day
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
			if sets[s-d.Lo].MayDiffer() {
				h.few = h.travels(h.few[:0], s)
				h.Learnt.local[s] = usual.OwnTravel(h.few, b.Median)
			}
		}
	}
}

// dayTravel returns the travel that the reps done with a rig on a day share
// where it is another than the usual; else 0. It counts the rig's sets.
func (h *History) dayTravel(d Span, rig int32, median float64, sets []usual.Tally) float64 {
	var all usual.Tally
	around := usual.AroundOf(median)
	for s := d.Lo; s < d.Hi; s++ {
		if h.Sets[s].rig == rig {
			n := h.countTravels(s, around)
			sets[s-d.Lo] = n
			all.Add(n)
		}
	}
	if !all.MayDiffer() {
		return 0
	}
	roms := h.few[:0]
	for s := d.Lo; s < d.Hi; s++ {
		if h.Sets[s].rig == rig {
			roms = h.travels(roms, s)
		}
	}
	h.few = roms
	return usual.OwnTravel(roms, median)
}

// countTravels counts the travels of set s around the median of its band.
func (h *History) countTravels(s int32, around usual.Around) (n usual.Tally) {
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if rom := h.Travel[i]; rom > 0 && !h.Missed[i] && h.Mark[i] != SecondHalf {
			around.Count(&n, rom)
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
