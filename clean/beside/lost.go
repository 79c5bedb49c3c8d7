package beside

import (
	"math"
	"slices"

	"repsift/clean/join"
	"repsift/clean/robust"
	"repsift/ingest/rep"
)

// pairParts gives a second unit's set without a twin the twin of the set beside
// it where the two are parts of one: the unit began to count anew. sets are the
// unit's of a day, in order; scale brings its speeds to the first unit's.
func (h *History) pairParts(sets []int, scale float64) {
	for k, s := range sets {
		if h.Sets[s].Twin > 0 {
			continue
		}
		h.fresh()
		part, _ := h.readings(s, scale)
		if len(part.Speeds) == 0 {
			continue
		}
		for _, o := range [2]int{k - 1, k + 1} {
			if o < 0 || o >= len(sets) || h.Sets[sets[o]].Twin == 0 || math.Abs(h.Load[h.Sets[s].Lo]-h.Load[h.Sets[sets[o]].Lo]) > 0.05 {
				continue
			}
			whole, _ := h.readings(int(h.Sets[sets[o]].Twin-1), 1)
			both, _ := h.readings(sets[o], scale)
			if o < k {
				both.Speeds = append(both.Speeds, part.Speeds...)
			} else {
				both.Speeds = append(slices.Clone(part.Speeds), both.Speeds...)
			}
			n := len(both.Speeds)
			if n > len(whole.Speeds)+1 {
				continue // that set is whole already
			}
			if _, left := h.aligner.Lone(&whole, &both); len(left) <= n/4 {
				h.Sets[s].Twin = h.Sets[sets[o]].Twin
				break
			}
		}
	}
}

// readings returns the speeds of the reps of set s that are not set aside,
// times scale, and their positions; in room that is used again by fresh.
func (h *History) readings(s int, scale float64) (r join.Set, at []int32) {
	speeds, all := h.room.speeds, h.room.at
	lo, from := len(speeds), len(all)
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Failed[i] == 0 {
			speeds, all = append(speeds, h.Speed[i]*scale), append(all, i)
			r.SpeedStep = h.Table.MeanStep(h.Rows[i])
		}
	}
	h.room.speeds, h.room.at = speeds, all
	r.Speeds = speeds[lo:len(speeds):len(speeds)]
	return r, all[from:len(all):len(all)]
}

// fresh gives the room of readings back.
func (h *History) fresh() { h.room.speeds, h.room.at = h.room.speeds[:0], h.room.at[:0] }

// lostReps returns what speaks against each unit, in whole per cent of its
// reps, on days on which it and another recorded some set: the reps that only
// the other has, where they surely are reps, twice; and what only it has and may
// be none. scales are those of the pairs.
func (h *History) lostReps(scales map[[2]rep.Sym]float64) map[rep.Sym]int {
	against, of := make(map[rep.Sym]int), make(map[rep.Sym]int)
	unit := func(s int) rep.Sym { return h.Unit[h.Sets[s].Lo] }
	parts := make([][]int, len(h.Sets)) // of first sets, the second unit's
	for s := range h.Sets {
		if twin := h.Sets[s].Twin; twin > 0 {
			parts[twin-1] = append(parts[twin-1], s)
		}
	}
	count := func(has, lacks rep.Sym, at []int32, lone []int) {
		for _, k := range lone {
			if h.surely(at, k) {
				against[lacks] += 2
			} else {
				against[has]++
			}
		}
	}
	for s := range h.Sets {
		seconds := parts[s]
		h.fresh()
		for len(seconds) > 0 {
			first, second := unit(s), unit(seconds[0])
			a, atA := h.readings(s, 1)
			var b join.Set
			var atB []int32
			for len(seconds) > 0 && unit(seconds[0]) == second {
				x, at := h.readings(seconds[0], scales[[2]rep.Sym{first, second}])
				b.Speeds, b.SpeedStep, atB = append(b.Speeds, x.Speeds...), x.SpeedStep, append(atB, at...)
				seconds = seconds[1:]
			}
			if log := h.Sets[s].Log; log != nil && log.Reps.OK { // of the pass before
				against[first] += 2 * max(0, int(log.Reps.V)-len(atA))
				against[second] += 2 * max(0, int(log.Reps.V)-len(atB))
			}
			onlyA, onlyB := h.aligner.Lone(&a, &b)
			count(first, second, atA, onlyA)
			count(second, first, atB, onlyB)
			of[first] += len(atA)
			of[second] += len(atB)
		}
	}
	for _, d := range h.Days {
		days := make(map[rep.Sym]bool) // units with a pair on the day
		for s := d.Lo; s < d.Hi; s++ {
			if twin := h.Sets[s].Twin; twin > 0 {
				days[unit(int(s))], days[unit(int(twin-1))] = true, true
			}
		}
		for s := d.Lo; s < d.Hi && len(days) == 2; s++ {
			if own := unit(int(s)); days[own] && h.Sets[s].Twin == 0 && parts[s] == nil {
				h.fresh()
				_, at := h.readings(int(s), 1)
				for u := range days {
					if u != own {
						against[u] += 2 * len(at)
					}
				}
			}
		}
	}
	for u, n := range against {
		against[u] = 100 * n / max(of[u], 1)
	}
	return against
}

// surely reports whether number k of the reps at some positions of a set is
// surely a rep: by its travel; else by how far apart in time it is from the
// others and by a speed like theirs.
func (h *History) surely(at []int32, k int) bool {
	i := at[k]
	s := h.SetAt(i)
	if h.Travel[i] > 0 {
		usual, known := h.UsualTravel(s)
		return known && h.Travel[i] > 0.8*usual && h.Travel[i] < 1.25*usual
	}
	beside, n := 0.0, 0.0
	for _, j := range [2]int{k - 1, k + 1} {
		if j >= 0 && j < len(at) {
			beside += h.Speed[at[j]]
			n++
		}
	}
	if n == 0 || math.Abs(h.Speed[i]*n/beside-1) > 0.15 {
		return false
	}
	if !h.Sets[s].Each || len(at) < 4 {
		return true
	}
	var gaps []float64
	for j := 1; j < len(at); j++ {
		gaps = append(gaps, float64(h.At[at[j]]-h.At[at[j-1]]))
	}
	usual, _ := robust.MedianInPlace(gaps)
	apart := func(a, z int) bool {
		return a < 0 || z >= len(at) || float64(h.At[at[z]]-h.At[at[a]]) > 0.6*usual
	}
	return apart(k-1, k) && apart(k, k+1)
}
