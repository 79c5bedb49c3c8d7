package history

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
)

// Learnt is what a lifter's own reps of a lift say about what is usual. It
// rests on the reps that default filters leave standing, whatever the season
// file declares: so that one more filter never brings a rep back.
type Learnt struct {
	own, pooled []Band    // travel, by rig and by variant
	longer      []float64 // usual travel by variant where there is no band, m; 0: unknown
	timings     []timing  // of units: speed × duration / travel
	Line        SpeedLine // usual speed over load
	slowest     float64   // speed of a 1RM, m/s
	local       []float64 // by set: a travel of its own or of its day, m; 0: the usual
	bands       []Band    // by set, of BandReps
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

// spread returns the median of x and the scaled median absolute deviation. It
// reorders x.
func spread(x []float64) (median, deviation float64, ok bool) {
	median, ok = robust.MedianInPlace(x)
	if !ok {
		return 0, 0, false
	}
	for i := range x {
		x[i] = math.Abs(x[i] - median)
	}
	deviation, _ = robust.MedianInPlace(x)
	return median, robust.NormalScale * deviation, true
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

// SpeedLine is the usual speed of the fastest rep of a set over load: a
// straight line, as individual load–velocity lines are near straight (median
// r 0.98–0.99, García-Ramos 2019).
type SpeedLine struct {
	Intercept, Slope  float64 // m/s; m/s per kg
	Deviation         float64 // of a set from the line, scaled to a standard deviation
	Sets, Loads, Reps int     // learnt from; 0 sets: no line
}

// At returns the usual speed at a load, never below a third of the speed at
// 1RM.
func (l SpeedLine) At(load, least float64) float64 {
	return max(l.Intercept+l.Slope*load, least/3)
}

// Maximum returns the load at which the line reaches the speed of a 1RM.
func (l SpeedLine) Maximum(v float64) float64 { return (v - l.Intercept) / l.Slope }

// Fewest sets and different loads for a line of usual speed.
const (
	lineSets  = 8
	lineLoads = 3
)

// orderLoads finds the place of each set in the order of the loads of their
// first reps. Different loads are few.
func (h *History) orderLoads() {
	loads, first := h.samples(len(h.Sets)), func(s int) float64 { return h.Load[h.Sets[s].Lo] }
	at := make([]int32, 1, 64) // how many sets have a load that is less
	for s := range h.Sets {
		k, known := slices.BinarySearch(loads, first(s))
		if !known {
			loads = slices.Insert(loads, k, first(s))
			at = slices.Insert(at, k+1, 0)
		}
		at[k+1]++
	}
	for k := range loads {
		at[k+1] += at[k]
	}
	h.byLoad = room(h.byLoad, len(h.Sets))
	for s := range h.Sets {
		k, _ := slices.BinarySearch(loads, first(s))
		h.byLoad[s] = at[k]
		at[k]++
	}
}

// point is the fastest rep of a set.
type point struct{ load, v float64 }

// fitSpeed fits the line to the fastest standing rep of each set: the median
// speed per load, and through those the slope of Theil and Sen, pairs weighted
// by the sets behind them, so that mistyped loads, each met once, do not move it.
func (h *History) fitSpeed() SpeedLine {
	h.points = room(h.points, len(h.Sets))
	reps := 0
	for s, place := range h.byLoad {
		p := point{load: math.NaN()} // none
		if i, ok := h.Fastest(s); ok && h.Sets[s].Twin == 0 {
			reps += int(h.Sets[s].Hi - h.Sets[s].Lo)
			p = point{h.Load[i], h.Speed[i]}
		}
		h.points[place] = p
	}
	points := slices.DeleteFunc(h.points, func(p point) bool { return p.load != p.load })
	if len(points) < lineSets {
		return SpeedLine{}
	}
	byLoad := func(a, b point) int { return cmp.Compare(a.load, b.load) }
	if !slices.IsSortedFunc(points, byLoad) { // a set of several loads
		slices.SortFunc(points, byLoad)
	}
	// At most 64 steps of load keep the pairs few, however long the season.
	width := max(1, (points[len(points)-1].load-points[0].load)/64)
	var loads, speeds, weights []float64
	for lo := 0; lo < len(points); {
		hi := lo
		for hi < len(points) && points[hi].load < points[lo].load+width {
			hi++
		}
		mid := lo + (hi-lo)/2 // the median load, as points are sorted by it
		vs := h.samples(hi - lo)
		for _, p := range points[lo:hi] {
			vs = append(vs, p.v)
		}
		v, _ := robust.MedianInPlace(vs)
		loads, speeds, weights = append(loads, points[mid].load), append(speeds, v), append(weights, float64(hi-lo))
		lo = hi
	}
	if len(loads) < lineLoads {
		return SpeedLine{}
	}
	pairs := len(loads) * (len(loads) - 1) / 2
	slopes, by := make([]float64, 0, pairs), make([]float64, 0, pairs)
	for i := range loads {
		for j := range i {
			slopes = append(slopes, (speeds[i]-speeds[j])/(loads[i]-loads[j]))
			// A pair far apart says more of the slope; and a pair is as good as its smaller side.
			by = append(by, min(weights[i], weights[j])*(loads[i]-loads[j]))
		}
	}
	l := SpeedLine{Sets: len(points), Loads: len(loads), Reps: reps, Slope: weightedMedian(slopes, by)}
	if !(l.Slope < 0) {
		return SpeedLine{}
	}
	rest := h.samples(len(points))
	for _, p := range points {
		rest = append(rest, p.v-l.Slope*p.load)
	}
	l.Intercept, l.Deviation, _ = spread(rest)
	l.Deviation = max(l.Deviation, 0.03) // the least day-to-day standard error met: Grgic 2020
	return l
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

// weightedMedian returns the value at which half of the weight is reached.
func weightedMedian(x, w []float64) float64 {
	order := make([]int, len(x))
	total := 0.0
	for i := range order {
		order[i] = i
		total += w[i]
	}
	slices.SortFunc(order, func(a, b int) int {
		if x[a] != x[b] {
			return cmp.Compare(x[a], x[b])
		}
		return a - b
	})
	sum := 0.0
	for _, i := range order {
		if sum += w[i]; sum >= total/2 {
			return x[i]
		}
	}
	return math.NaN()
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
