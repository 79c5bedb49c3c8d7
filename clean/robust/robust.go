// Package robust holds the small statistics that cleaning and profiles share:
// order statistics that a few wild reps cannot move, the least-squares line
// with its standard errors, and the trend of a series in time.
//
// Every function names its method, leaves its arguments as they were unless
// its name says otherwise, and answers "too little data" with a bool or an
// [ErrTooFew] rather than with NaN. What is enough data for a statement to a
// lifter is decided by the caller; here it is what the arithmetic needs.
//
// It does not know reps, loads or lifters.
package robust

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// ErrTooFew says that the data are too few, or too much alike, for the asked
// quantity to exist.
var ErrTooFew = errors.New("too few different values")

// NormalScale makes the median absolute deviation of normal data estimate
// their standard deviation: 1/Φ⁻¹(3/4).
//
// Source: documentation of R's mad; Φ⁻¹(3/4) = 0.674489750196.
const NormalScale = 1.482602218505602

// Median returns the middle value of x, or the mean of the two middle ones
// where their number is even. It returns false for no values. x stays as it
// is and need not be sorted.
func Median(x []float64) (float64, bool) {
	return MedianInPlace(slices.Clone(x))
}

// MedianInPlace is [Median] for hot loops: it reorders x instead of copying
// it, and takes time in proportion to len(x).
func MedianInPlace(x []float64) (float64, bool) {
	n := len(x)
	if n == 0 {
		return 0, false
	}
	place(x, 0, []int{(n - 1) / 2, n / 2})
	lo, hi := x[(n-1)/2], x[n/2]
	return lo + (hi-lo)/2, true
}

// MedianAbsDev returns scale times the median of |x − median(x)|; scale 1 is
// the bare statistic, [NormalScale] makes it comparable to a standard
// deviation. It returns false for no values. It is 0 where more than half of
// the values are equal: never divide by it unchecked.
func MedianAbsDev(x []float64, scale float64) (float64, bool) {
	d := slices.Clone(x)
	m, ok := MedianInPlace(d)
	if !ok {
		return 0, false
	}
	for i := range d {
		d[i] = math.Abs(d[i] - m)
	}
	mad, _ := MedianInPlace(d)
	return scale * mad, true
}

// Quantile returns the p-quantile of x, 0 ≤ p ≤ 1, by linear interpolation
// between order statistics with the smallest at 0 and the largest at 1
// (definition 7 of Hyndman & Fan 1996, The American Statistician 50:361–365).
// It returns false for no values or a p outside [0,1]. x need not be sorted.
func Quantile(x []float64, p float64) (float64, bool) {
	if len(x) == 0 || !(p >= 0 && p <= 1) {
		return 0, false
	}
	s := slices.Clone(x)
	slices.Sort(s)
	h := p * float64(len(s)-1)
	i := int(h)
	if i == len(s)-1 {
		return s[i], true
	}
	return s[i] + (h-float64(i))*(s[i+1]-s[i]), true
}

// MeanSD returns the mean and the sample standard deviation (n − 1), by the
// corrected two-pass algorithm. It returns false for fewer than two values.
func MeanSD(x []float64) (mean, sd float64, ok bool) {
	if len(x) < 2 {
		return 0, 0, false
	}
	mean, sd = stat.MeanStdDev(x, nil)
	return mean, sd, true
}

// place puts the values at their ranks that sorting would put there, no larger
// ones before and no smaller ones behind each of them; x begins at rank from, and
// ranks rise. It is quickselect that goes on wherever a rank is wanted (Chambers
// 1971, Communications of the ACM 14:357–358) and takes its pivots from samples, a
// little to the far side of the rank, so that most of what it is not among falls
// away at once (the idea of Floyd and Rivest 1975, ibid. 18:165–172). It parts
// values by counting and not by branching (Lomuto's partition), as nothing tells
// beforehand on which side one falls.
func place(x []float64, from int, ranks []int) {
	for len(ranks) > 0 && len(x) > 12 {
		pivot := pivotFor(x, ranks[len(ranks)/2]-from)
		n := part(x, pivot, false)
		if n == 0 { // the pivot is the least: those equal to it are in place
			if n = part(x, pivot, true); n == 0 { // nothing is comparable
				break
			}
			for len(ranks) > 0 && ranks[0] < from+n {
				ranks = ranks[1:]
			}
		} else {
			k := 0
			for k < len(ranks) && ranks[k] < from+n {
				k++
			}
			place(x[:n], from, ranks[:k])
			ranks = ranks[k:]
		}
		x, from = x[n:], from+n
	}
	if len(ranks) > 0 {
		sortFew(x)
	}
}

// sampled is how many values tell where index k is about, and sampleOff by how
// many of them a pivot is off it: near their standard deviation.
const (
	sampled   = 25
	sampleOff = 2
)

// pivotFor returns the value of x to part it by for index k.
func pivotFor(x []float64, k int) float64 {
	if len(x) < 16*sampled {
		return middle(x[0], x[len(x)/2], x[len(x)-1])
	}
	var few [sampled]float64
	for i := range few {
		few[i] = x[i*(len(x)-1)/(sampled-1)]
	}
	sortFew(few[:])
	at := k * sampled / len(x)
	if 2*k <= len(x) {
		at += sampleOff
	} else {
		at -= sampleOff
	}
	return few[max(0, min(at, sampled-1))]
}

// middle returns the middle one of three values.
func middle(a, b, c float64) float64 {
	if b < a {
		a, b = b, a
	}
	if c < b {
		b = max(a, c)
	}
	return b
}

// sortFew sorts few values.
func sortFew(x []float64) {
	for i := 1; i < len(x); i++ {
		for j := i; j > 0 && x[j] < x[j-1]; j-- {
			x[j], x[j-1] = x[j-1], x[j]
		}
	}
}

// part puts the values below the pivot, or those up to it, in front of the
// others and returns how many they are.
func part(x []float64, pivot float64, equal bool) int {
	n := 0
	for i, v := range x {
		front := 0
		if equal {
			if v <= pivot {
				front = 1
			}
		} else if v < pivot {
			front = 1
		}
		x[i] = x[n]
		x[n] = v
		n += front
	}
	return n
}
