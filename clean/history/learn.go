package history

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/clean/usual"
	"repsift/ingest/rep"
)

// Learnt is what a lifter's own reps of a lift say about what is usual. It
// rests on the reps that default filters leave standing, whatever the season
// file declares: so that one more filter never brings a rep back.
type Learnt struct {
	own, pooled []usual.Band // travel, by rig and by variant
	longer      []float64    // usual travel by variant where there is no band, m; 0: unknown
	timings     []timing     // of units: speed × duration / travel
	Line        usual.Line   // usual speed over load
	slowest     float64      // speed of a 1RM, m/s
	local       []float64    // by set: a travel of its own or of its day, m; 0: the usual
	bands       []usual.Band // by set, of BandReps
}

// Learn learns anew from the reps that stand.
func (h *History) Learn() {
	h.learnBands()
	h.learnLocal()
	h.Learnt.bands = room(h.Learnt.bands, len(h.Sets))
	for s := range h.Learnt.bands {
		h.Learnt.bands[s] = h.bandAt(s, BandReps)
	}
	h.Learnt.timings = h.learnTimings(10)
	h.Learnt.Line = h.fitSpeed()
	h.Learnt.slowest = h.learnSlowest()
}

// VelocityAt1RM returns the mean concentric velocity of a true maximum, m/s:
// powerlifters, free weights (Helms 2017); for other lifts what the lifter's
// own heavy sets show.
func (h *History) VelocityAt1RM() float64 {
	switch h.Lift {
	case rep.Squat:
		return 0.23
	case rep.BenchPress:
		return 0.10
	case rep.Deadlift:
		return 0.14
	}
	return max(h.Learnt.slowest, 0.15)
}

// heavySets is the fewest sets that say how slow a lift without a published
// speed at 1RM gets.
const heavySets = 10

// learnSlowest returns the lower quartile of the speeds of the fastest reps of
// the heaviest fifth of the sets; 0 with too few sets. The fastest, as it surely
// is a rep. A row or a clean that is that slow is near its limit, however fast it
// is beside a squat: common practice, no source.
func (h *History) learnSlowest() float64 {
	switch h.Lift {
	case rep.Squat, rep.BenchPress, rep.Deadlift:
		return 0 // theirs is published
	}
	type set struct{ load, v float64 }
	var sets []set
	for s := range h.Sets {
		if at, ok := h.Fastest(s); ok && h.Speed[at] > 0 {
			sets = append(sets, set{h.Load[at], h.Speed[at]})
		}
	}
	if len(sets) < heavySets {
		return 0
	}
	slices.SortFunc(sets, func(a, b set) int { return cmp.Or(cmp.Compare(b.load, a.load), cmp.Compare(a.v, b.v)) })
	sets = sets[:max(3, len(sets)/5)]
	slices.SortFunc(sets, func(a, b set) int { return cmp.Compare(a.v, b.v) })
	return sets[len(sets)/4].v
}

// fewLoads is up to how many different loads are put in order one by one.
const fewLoads = 512

// orderLoads finds the place of each set in the order of the loads of their
// first reps, as far as different loads are few: to fit a line then takes no
// sorting.
func (h *History) orderLoads() {
	loads, first := h.samples(len(h.Sets)), func(s int) float64 { return h.Load[h.Sets[s].Lo] }
	at := make([]int32, 1, 64) // how many sets have a load that is less
	h.byLoad = room(h.byLoad, len(h.Sets))
	for s := range h.Sets {
		h.byLoad[s] = int32(s)
		if len(loads) > fewLoads {
			continue // in the order done, then
		}
		k, known := slices.BinarySearch(loads, first(s))
		if !known {
			loads = slices.Insert(loads, k, first(s))
			at = slices.Insert(at, k+1, 0)
		}
		at[k+1]++
	}
	if len(loads) > fewLoads {
		return
	}
	for k := range loads {
		at[k+1] += at[k]
	}
	for s := range h.Sets {
		k, _ := slices.BinarySearch(loads, first(s))
		h.byLoad[s] = at[k]
		at[k]++
	}
}

// fitSpeed fits the line to the fastest standing rep of each set.
func (h *History) fitSpeed() usual.Line {
	h.points = room(h.points, len(h.Sets))
	reps := 0
	for s, place := range h.byLoad {
		p := usual.Point{Load: math.NaN()} // none
		if i, ok := h.Fastest(s); ok && h.Sets[s].Twin == 0 {
			reps += int(h.Sets[s].Hi - h.Sets[s].Lo)
			p = usual.Point{Load: h.Load[i], Speed: h.Speed[i]}
		}
		h.points[place] = p
	}
	points := slices.DeleteFunc(h.points, func(p usual.Point) bool { return math.IsNaN(p.Load) })
	line := usual.FitLine(points, h.samples(len(points)))
	if line.Sets > 0 {
		line.Reps = reps
	}
	return line
}

// Fastest returns the position of the fastest rep of set s that stands and was
// not missed.
func (h *History) Fastest(s int) (at int32, ok bool) {
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Standing(i) && !h.Missed[i] && (!ok || h.Speed[i] > h.Speed[at]) {
			at, ok = i, true
		}
	}
	return at, ok
}

// timing is the usual quotient of speed × duration and travel of one unit.
type timing struct {
	unit     rep.Sym
	quotient float64
}

// Timing returns the usual quotient of speed × duration and travel of the unit
// that recorded position i: 1 unless the unit times or averages a rep otherwise.
func (h *History) Timing(i int) float64 {
	for _, t := range h.Learnt.timings {
		if t.unit == h.Unit[i] {
			return t.quotient
		}
	}
	return 1
}

// Timings returns what [History.Timing] is at least and at most.
func (h *History) Timings() (least, most float64) {
	least, most = 1, 1
	for _, t := range h.Learnt.timings {
		least, most = min(least, t.quotient), max(most, t.quotient)
	}
	return least, most
}

// learnTimings learns the quotient per unit from reps that stand; with fewer than
// the given number it is 1.
func (h *History) learnTimings(least int) []timing {
	var out []timing
	for _, unit := range h.units {
		q := h.samples(len(h.Rows))
		for i, u := range h.Unit {
			if v := h.Quotient[i]; v == v && u == unit && h.Standing(int32(i)) {
				q = append(q, v)
			}
		}
		if len(q) >= least {
			median, _ := robust.MedianInPlace(q)
			out = append(out, timing{unit, median})
		}
	}
	return out
}
