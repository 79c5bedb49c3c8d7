package usual

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/robust"
)

// Line is the usual speed of the fastest rep of a set over load: a
// straight line, as individual load–velocity lines are near straight (median
// r 0.98–0.99, García-Ramos 2019).
type Line struct {
	Intercept, Slope  float64 // m/s; m/s per kg
	Deviation         float64 // of a set from the line, scaled to a standard deviation
	Sets, Loads, Reps int     // learnt from; 0 sets: no line
}

// At returns the usual speed at a load, never below a third of the speed at
// 1RM.
func (l Line) At(load, least float64) float64 {
	return max(l.Intercept+l.Slope*load, least/3)
}

// Maximum returns the load at which the line reaches the speed of a 1RM.
func (l Line) Maximum(v float64) float64 { return (v - l.Intercept) / l.Slope }

// Fewest sets and different loads for a line of usual speed.
const (
	lineSets  = 8
	lineLoads = 3
)

// Point is the fastest rep of a set.
type Point struct{ Load, Speed float64 }

// FitLine fits the line to the points of sets: the median speed per load, and
// through those the slope of Theil and Sen, pairs weighted by the sets behind
// them, so that mistyped loads, each met once, do not move it. There is no line
// where sets or loads are too few, or heavier ones no slower. It sorts points by
// load, and works in room where that holds as many values. Reps is left 0.
func FitLine(points []Point, room []float64) Line {
	if len(points) < lineSets {
		return Line{}
	}
	room = slices.Grow(room[:0], len(points))
	byLoad := func(a, b Point) int { return cmp.Compare(a.Load, b.Load) }
	if !slices.IsSortedFunc(points, byLoad) { // a set of several loads
		slices.SortFunc(points, byLoad)
	}
	// At most 64 steps of load keep the pairs few, however long the season.
	width := max(1, (points[len(points)-1].Load-points[0].Load)/64)
	var loads, speeds, weights []float64
	for lo := 0; lo < len(points); {
		hi := lo
		for hi < len(points) && points[hi].Load < points[lo].Load+width {
			hi++
		}
		mid := lo + (hi-lo)/2 // the median load, as points are sorted by it
		vs := room[:0]
		for _, p := range points[lo:hi] {
			vs = append(vs, p.Speed)
		}
		v, _ := robust.MedianInPlace(vs)
		loads, speeds, weights = append(loads, points[mid].Load), append(speeds, v), append(weights, float64(hi-lo))
		lo = hi
	}
	if len(loads) < lineLoads {
		return Line{}
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
	l := Line{Sets: len(points), Loads: len(loads), Slope: weightedMedian(slopes, by)}
	if !(l.Slope < 0) {
		return Line{}
	}
	rest := room[:0]
	for _, p := range points {
		rest = append(rest, p.Speed-l.Slope*p.Load)
	}
	l.Intercept, l.Deviation, _ = spread(rest)
	l.Deviation = max(l.Deviation, 0.03) // the least day-to-day standard error met: Grgic 2020
	return l
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
