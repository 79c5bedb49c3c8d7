// Package effort is the line of a set's slowest (or last) rep speed over the
// RPE the lifter called, and its reading backwards.
//
// It works from four sets, because it leans on what is known before any set:
// speed falls by about 0.04 m/s per RPE point, sets scatter by about
// 0.032 m/s, days differ less than sets of a day do. Every such figure stands
// beside its source below; as sets come they fade.
package effort

import (
	"math"
	"slices"

	"repsift/profile/mixed"
)

const (
	// slopePrior ± slopePriorSD is the change of speed per RPE point, m/s:
	// common practice, no source.
	slopePrior, slopePriorSD = -0.04, 0.025
	// atTenSD allows sets called 10 to leave the line: above 10 nothing can
	// be called, so some are harder than 10. m/s; common practice, no source.
	atTenSD = 0.02
	// scatterPrior is the scatter of sets around the line, m/s, worth
	// scatterPriorDF sets: published day-to-day errors of mean velocity at 60
	// to 90 % of 1RM are 0.03 to 0.08 (Grgic et al. 2020, Front Physiol
	// 11:561682) and 0.03 (Ruf et al. 2018, J Strength Cond Res 32:681–689).
	scatterPrior, scatterPriorDF = 0.032, 2
	// dayRatioPrior is how much days differ, over how much sets of one day
	// differ at the same RPE: half a Cauchy distribution with this scale. A
	// lifter meets an RPE at whatever load the day allows, so days mostly
	// differ little here. Common practice, no source.
	dayRatioPrior = 0.3

	// driftPriorSD is what the speed at an RPE changes in a week, m/s: a fifth
	// of what the speed at a load does (see package loadline). Common practice,
	// no source.
	driftPriorSD = 0.001

	// Lowest is the lowest RPE that counts reps in reserve; below it the
	// scale describes feeling only (Zourdos et al. 2016, J Strength Cond Res
	// 30:267–275).
	Lowest = 5

	// Need is how many sets a line needs; what fewer give is the prior.
	Need = 4
)

// Prior says what is assumed before any set.
const Prior = "before any set the line falls by 0.04 m/s per RPE point, give or take 0.025 (common practice, no source)"

// Line is speed over called RPE. Known reports whether there is one.
type Line struct {
	RPE, Speed []float64 // the sets in the line
	Days       int

	data mixed.Data
	tens bool // a column for sets called 10
	fit  *mixed.Fit
}

// New fits the line. rpe, speed and day have one value a set; day is the
// number of its day, 0, 1, … in the order of sets. Every RPE is [Lowest] or
// more; shifts are columns of sets of another unit, see [mixed.Shifts]. With
// fewer than [Need] sets the line is not known.
//
// Nominal 95 % intervals held the truth with 4, 8, 20 and 60 sets in 95.8 / 94.6 / 95.1 / 94.0 %
// (speed at RPE 8) and 96.0 / 95.0 / 94.8 / 94.3 % (next set): go run ./profile/calibrate
// -runs 800 effort. More is in the doc of package calibrate.
func New(rpe, speed []float64, day []int, weeks []float64, shifts ...mixed.Column) *Line {
	l := &Line{RPE: rpe, Speed: speed}
	n := len(rpe)
	one, points, ten := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, r := range rpe {
		one[i], points[i] = 1, r-8
		if r >= 10 {
			ten[i], l.tens = 1, true
		}
		l.Days = max(l.Days, day[i]+1)
	}
	l.data = mixed.Data{Y: speed, Day: day, PriorDF: scatterPriorDF, PriorSD: scatterPrior, DayRatio: dayRatioPrior,
		Columns: []mixed.Column{{X: one}, {X: points, Mean: slopePrior, SD: slopePriorSD}}}
	if l.tens {
		l.data.Columns = append(l.data.Columns, mixed.Column{X: ten, SD: atTenSD})
	}
	l.data.Columns = append(l.data.Columns, shifts...)
	if n >= Need {
		// With a prior of the slope any four sets settle a line.
		d := l.data
		d.Columns = append(slices.Clone(d.Columns), mixed.Column{X: weeks, SD: driftPriorSD})
		if f, err := mixed.New(d); err == nil {
			l.fit = f
		}
	}
	return l
}

// Known reports whether there were enough sets; the methods below need it.
func (l *Line) Known() bool { return l.fit != nil }

// columns returns the column values at an RPE.
func (l *Line) columns(rpe float64) []float64 {
	c := make([]float64, len(l.data.Columns)+1) // the last: weeks from now
	c[0], c[1] = 1, rpe-8
	if l.tens && rpe >= 10 {
		c[2] = 1
	}
	return c
}

// Height returns the mean of [Line.Mean], for next to nothing.
func (l *Line) Height(rpe float64) float64 { return l.fit.MeanAt(l.columns(rpe)) }

// Mean returns where the line lies at an RPE.
func (l *Line) Mean(rpe float64) mixed.Mixture { return l.fit.At(l.columns(rpe), mixed.OfLine) }

// Next returns where the next set at an RPE lies, on another day.
func (l *Line) Next(rpe float64) mixed.Mixture { return l.fit.At(l.columns(rpe), mixed.OfValue) }

// PerRPE returns the change of speed per RPE point.
func (l *Line) PerRPE() mixed.Mixture { return l.fit.Coefficient(1) }

// Spread returns the middle of what the SD of sets around their day's line,
// and of days around the line, may be. False for days where they cannot be
// told: one day, or one set a day.
func (l *Line) Spread() (scatter, days float64, ok bool) {
	return l.fit.Scatter().Quantile(0.5), l.fit.DaySD().Quantile(0.5), l.Days > 1 && l.Days < len(l.RPE)
}

// Step returns the coefficient of one more column, x a set: how speed at the
// same RPE changes with x. The error is [mixed.ErrTooFew].
func (l *Line) Step(x []float64) (mixed.Mixture, error) {
	d := l.data
	d.Columns = append(slices.Clone(d.Columns), mixed.Column{X: x})
	return mixed.Coefficient(d, len(d.Columns)-1)
}

const (
	// Before any set a lifter calls RPE 8 ± 1, worth callsWorth sets: most
	// working sets of the sport lie at 7 to 9 (common practice, no source).
	callsMean, callsSD, callsWorth = 8, 1, 2
	smoothWorth                    = 20
	step                           = 0.5 // calls are made in half points
	steps                          = (10-Lowest)/step + 1
	// parts is how many normal distributions stand for the next set's speed
	// where its density is asked often.
	parts = 24
)

// Backwards returns the RPE the lifter would call a set of each speed: the
// middle, read between half points, and the range of calls. Turning the line
// round would give calls of 12 or 4 for speeds a little off; so each RPE is
// weighed by how well it explains the speed and by how often this lifter calls
// it. Calls end at 10.
func (l *Line) Backwards(speeds []float64, level float64) (v, lo, hi []float64) {
	weight := l.calls()
	var at [steps]mixed.Mixture
	for i := range at {
		at[i] = l.Next(Lowest + step*float64(i)).Coarse(parts)
	}
	for _, s := range speeds {
		var post [steps]float64
		var total float64
		for i := range at {
			post[i] = weight[i] * at[i].Density(s)
			total += post[i]
		}
		if !(total > 0) { // too far off for any number: the end it lies beyond
			end := 0
			if s < at[0].Mean() {
				end = steps - 1
			}
			post[end] = 1
		}
		m, a, b := middle(post[:], level)
		v, lo, hi = append(v, m), append(lo, a), append(hi, b)
	}
	return v, lo, hi
}

// calls is how often the lifter calls each RPE: what is to be expected of the
// next call, Student's t, by the mean and SD of their calls shrunk to what is
// usual.
func (l *Line) calls() (weight [steps]float64) {
	n := float64(len(l.RPE))
	mean := float64(callsMean * callsWorth)
	for _, r := range l.RPE {
		mean += r
	}
	mean /= n + callsWorth
	ss := float64(callsSD * callsSD * callsWorth)
	for _, r := range l.RPE {
		ss += (r - mean) * (r - mean)
	}
	sd := math.Max(math.Sqrt(ss/(n+callsWorth)), 0.7)
	df, total := n+callsWorth-1, 0.0
	sd *= math.Sqrt(1 + 1/(n+callsWorth))
	for i := range weight {
		z := (Lowest + step*float64(i) - mean) / sd
		weight[i] = math.Pow(1+z*z/df, -(df+1)/2)
		total += weight[i]
	}
	// The calls themselves, that shape standing for smoothWorth more of them: who
	// calls whole points only, or 8 and 9, will do so again.
	for i := range weight {
		weight[i] *= smoothWorth / total
	}
	for _, r := range l.RPE {
		// The middle of a range may lie between two calls.
		at := (math.Min(r, 10) - Lowest) / step
		i := int(at)
		weight[i] += 1 - (at - float64(i))
		if at > float64(i) {
			weight[i+1] += at - float64(i)
		}
	}
	return weight
}

// middle returns the median of a density on the called RPE, read between calls
// as if each stood for the half point around it, and the shortest range of calls
// that holds the level; of equally short ones the likeliest. Tails of half of
// 1 − level each would be whole calls too, and hold 98 in 100 where 95 are
// stated.
func middle(density []float64, level float64) (m, lo, hi float64) {
	var total float64
	for _, d := range density {
		total += d
	}
	var below float64
	for i, d := range density {
		if d > 0 && below+d >= total/2 {
			m = math.Min(Lowest+step*(float64(i)-0.5+(total/2-below)/d), 10)
			break
		}
		below += d
	}
	first, last, most := 0, len(density)-1, 0.0
	for i := range density {
		var held float64
		for k := i; k < len(density) && k-i <= last-first; k++ {
			held += density[k]
			if held >= level*total && (k-i < last-first || held > most) {
				first, last, most = i, k, held
			}
		}
	}
	lo, hi = Lowest+step*float64(first), Lowest+step*float64(last)
	return math.Min(math.Max(m, lo), hi), lo, hi
}
