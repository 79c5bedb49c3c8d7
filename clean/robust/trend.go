package robust

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

// Trend is the slope of y over x by Theil and Sen, with the Mann–Kendall test
// of whether there is one.
type Trend struct {
	Slope, Lo, Hi float64 // median of the pairwise slopes, and its interval
	Intercept     float64 // median(y) − slope·median(x)
	N             int     // values
	Pairs         int     // slopes: pairs of different x

	S    float64 // pairs that rise minus pairs that fall
	VarS float64 // of S, if there were no trend; corrected for ties
	Z    float64 // (S − sign S)/√VarS
	P    float64 // two-sided
}

// slopeRoom is used again from trend to trend: a lifter has dozens.
var slopeRoom = sync.Pool{New: func() any { return new([]float64) }}

// TheilSen returns the trend of y over x, len(x) == len(y), in any order, with
// the interval that holds the slope with probability level. Memory grows with
// the square of the length: it is meant for sessions, not for samples. The
// error is [ErrTooFew] where the interval would need more than the largest or
// smallest pairwise slope: at 0.95, fewer than six values.
//
// Sources: Sen (1968) J Am Stat Assoc 63:1379–1389; interval at ranks
// (Pairs ∓ z·√VarS)/2, interpolated, after Gilbert (1987) Statistical Methods
// for Environmental Pollution Monitoring, pp. 217–219; ties in x and y after
// Kendall (1970) Rank Correlation Methods, ch. 4.
func TheilSen(x, y []float64, level float64) (Trend, error) {
	if len(x) != len(y) {
		return Trend{}, fmt.Errorf("trend of %d x and %d y", len(x), len(y))
	}
	n := len(x)
	t := Trend{N: n}
	room := slopeRoom.Get().(*[]float64)
	defer slopeRoom.Put(room)
	*room = slices.Grow((*room)[:0], n*max(n-1, 0)/2)
	slopes := *room
	rising, falling := 0, 0
	for i := range x {
		for j := range i {
			dx, dy := x[i]-x[j], y[i]-y[j]
			if dx == 0 {
				continue
			}
			slope := dy / dx
			slopes = append(slopes, slope)
			// Counted without branching: nothing tells beforehand which it is.
			up, down := 0, 0
			if slope > 0 {
				up = 1
			}
			if slope < 0 {
				down = 1
			}
			rising, falling = rising+up, falling+down
		}
	}
	t.Pairs, t.S = len(slopes), float64(rising-falling)
	mx, tiesX := middleAndTies(x)
	my, tiesY := middleAndTies(y)
	t.VarS = varS(n, tiesX, tiesY)
	if !(t.VarS > 0) {
		return t, fmt.Errorf("trend of %d values: %w", n, ErrTooFew)
	}
	t.Z = (t.S - float64(cmp.Compare(t.S, 0))) / math.Sqrt(t.VarS)
	normal := distuv.UnitNormal
	t.P = 2 * normal.Survival(math.Abs(t.Z))

	half := normal.Quantile(0.5+level/2) * math.Sqrt(t.VarS) / 2
	low := float64(t.Pairs)/2 - half // ranks from 1
	high := float64(t.Pairs)/2 + half + 1
	if low < 1 {
		return t, fmt.Errorf("trend of %d values: no %g interval: %w", n, level, ErrTooFew)
	}
	last := len(slopes) - 1
	ranks := []int{int(low) - 1, int(low), last / 2, len(slopes) / 2, min(int(high)-1, last), min(int(high), last)}
	slices.Sort(ranks)
	place(slopes, 0, ranks)
	t.Slope = slopes[last/2] + (slopes[len(slopes)/2]-slopes[last/2])/2
	t.Lo, t.Hi = atRank(slopes, low), atRank(slopes, high)
	t.Intercept = my - t.Slope*mx
	return t, nil
}

// atRank interpolates between the values of s at the ranks, from 1, on either side;
// both are in place.
func atRank(s []float64, rank float64) float64 {
	i := int(rank)
	if i >= len(s) {
		return s[len(s)-1]
	}
	return s[i-1] + (rank-float64(i))*(s[i]-s[i-1])
}

// middleAndTies returns the median of x and the sizes of the groups of equal
// values, singles left out, sorting x but once.
func middleAndTies(x []float64) (median float64, ties []float64) {
	if !slices.IsSorted(x) { // days are
		x = slices.Clone(x)
		slices.Sort(x)
	}
	same := 1
	for i := range x {
		if i+1 < len(x) && x[i+1] == x[i] {
			same++
			continue
		}
		if same > 1 {
			ties = append(ties, float64(same))
		}
		same = 1
	}
	if n := len(x); n > 0 {
		lo, hi := x[(n-1)/2], x[n/2]
		median = lo + (hi-lo)/2
	}
	return median, ties
}

// varS returns the variance of Kendall's S without a trend, n values, with
// groups of ties of sizes tx and ty.
func varS(n int, tx, ty []float64) float64 {
	sums := func(t []float64) (a, b, c float64) {
		for _, k := range t {
			a += k * (k - 1) * (2*k + 5)
			b += k * (k - 1)
			c += k * (k - 1) * (k - 2)
		}
		return
	}
	m := float64(n)
	ax, bx, cx := sums(tx)
	ay, by, cy := sums(ty)
	v := (m*(m-1)*(2*m+5) - ax - ay) / 18
	if n > 1 {
		v += bx * by / (2 * m * (m - 1))
	}
	if n > 2 {
		v += cx * cy / (9 * m * (m - 1) * (m - 2))
	}
	return v
}
