// Package loadline is the load-velocity line of one lifter: the speed of the
// fastest rep over load, with whole days above or below the line, and with the
// line turning as the lifter's strength changes.
//
//	speed = a + b·load + c·weeks·load + day effect + scatter
//
// Weeks are counted back from the latest day, so a and b describe the lifter
// now. Strength turns the line and leaves the speed at no load alone: were it
// to shift the line, slopes over a season would come out wrong.
package loadline

import (
	"errors"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"repsift/clean/robust"
	"repsift/profile/mixed"
)

const (
	// turnPriorSD is what the speed at a middling load changes in a week, m/s,
	// before any data: a 1RM that grows by half a percent a week does about
	// that. Common practice, no source.
	turnPriorSD = 0.005
	// scatterPrior, worth one point, keeps the scatter off zero where speeds
	// rounded to 0.01 m/s agree exactly; m/s, see package effort.
	scatterPrior, scatterPriorDF = 0.035, 1

	// NeedPoints loads × days, NeedDays days and loads NeedSpan times apart
	// make a line.
	NeedPoints, NeedDays = 8, 3
	NeedSpan             = 1.2
	// NeedCurve points are asked for before a bend is looked for.
	NeedCurve = 20
	// dayRatioPrior is how much days differ, over how much loads of one day
	// scatter: half a Cauchy distribution with this scale. Published errors
	// within and between days are of one size (Grgic et al. 2020, Front Physiol
	// 11:561682).
	dayRatioPrior = 1.3
	// needUneven points are asked for before scatter is tested over loads, and
	// surelyUneven is the probability from which a page says that it differs.
	needUneven, surelyUneven = 30, 0.9
	// slowest is the least speed that scatter is scaled with, m/s.
	slowest = 0.15
)

// powers are how the scatter may go with speed: not at all, with its root, in
// proportion. Published errors of the squat lie in between: 3.9 % at 40 % of
// 1RM, 7.9 % at 90 % (Orange et al. 2020, J Strength Cond Res 34:728–737).
var powers = [...]float64{0, 0.5, 1}

// Points is what a line is fitted to: a value each for each load of each day,
// in the order of days.
type Points struct {
	Load, Speed []float64 // kg, m/s
	Day         []int     // number of the day, 0, 1, …
	WeeksAgo    []float64 // before the latest day, 0 or less: −1 is a week before

	// Shifts are columns of points of another unit, by a correction that may
	// be off: see [mixed.Shifts].
	Shifts []mixed.Column
}

// Line is a fitted line.
type Line struct {
	Points
	Days   int
	Centre float64 // mean of the loads, kg
	Lo, Hi float64 // lightest and heaviest load

	// DaySD and Scatter are REML estimates, m/s.
	DaySD, Scatter float64
	// Uneven is the probability by chance of a scatter that grows so with
	// speed; NaN where there are too few points. Weighted says that fast
	// points surely scatter more and count less.
	Uneven   float64
	Weighted bool

	mean float64    // of the speeds
	data mixed.Data // weighed by the most probable of powers
	fit  *mixed.Fit // the average over powers

	along *mixed.Along // see now
	c     []float64    // what columns returned last
}

// ErrTooFew says that the points do not make a line.
var ErrTooFew = errors.New("too few points, days or different loads")

// New fits the line. The error is [ErrTooFew].
//
// Nominal 95 % intervals held the truth with 3, 6, 12 and 24 days in 94.1 / 96.0 /
// 94.3 / 94.8 % (slope) and 97.4 / 95.7 / 95.2 / 95.0 % (speed of the next day at
// 70 % of 1RM): go run ./profile/calibrate lines. The worst slope, 92.8, is that of
// a scatter in proportion to speed, 3 days.
func New(p Points) (*Line, error) {
	l := &Line{Points: p, Uneven: math.NaN()}
	n := len(p.Load)
	if n < NeedPoints {
		return nil, ErrTooFew
	}
	one, load, turn := make([]float64, n), make([]float64, n), make([]float64, n)
	l.Lo, l.Hi = slices.Min(p.Load), slices.Max(p.Load)
	for i, kg := range p.Load {
		l.Centre += kg / float64(n)
		l.Days = max(l.Days, p.Day[i]+1)
	}
	if l.Days < NeedDays || l.Hi < NeedSpan*l.Lo {
		return nil, ErrTooFew
	}
	for i, kg := range p.Load {
		one[i], load[i], turn[i] = 1, kg-l.Centre, p.WeeksAgo[i]*kg/l.Centre
	}
	l.data = mixed.Data{Y: p.Speed, Day: p.Day, PriorDF: scatterPriorDF, PriorSD: scatterPrior, DayRatio: dayRatioPrior,
		Columns: append([]mixed.Column{{X: one}, {X: load}, {X: turn, SD: turnPriorSD}}, p.Shifts...)}
	if err := l.average(); err != nil {
		return nil, ErrTooFew
	}
	l.testUneven()
	var err error
	l.DaySD, l.Scatter, err = mixed.REML(l.data)
	return l, err
}

// fitRooms are used again from line to line.
var fitRooms = sync.Pool{New: func() any { return new([len(powers)]mixed.Fit) }}

// average fits the line once for each of powers, fast points weighed
// accordingly, and averages the fits: how scatter goes with speed is no more
// certain than the points make it.
func (l *Line) average() error {
	fits := fitRooms.Get().(*[len(powers)]mixed.Fit)
	defer fitRooms.Put(fits)
	even := &fits[0]
	if err := even.Refit(l.data); err != nil {
		return err
	}
	for _, v := range l.Speed {
		l.mean += v / float64(len(l.Speed))
	}
	var weights [len(powers)][]float64
	heights := make([]float64, len(l.Load))
	for i := range heights {
		heights[i] = even.MeanAt(l.columns(l.Load[i], l.WeeksAgo[i]))
	}
	for k, power := range powers[1:] {
		w := make([]float64, len(l.Load))
		for i := range w {
			w[i] = l.weight(heights[i], power)
		}
		d := l.data
		d.Weight = w
		if err := fits[k+1].Refit(d); err != nil {
			return err
		}
		weights[k+1] = w
	}
	l.fit = mixed.Average(&fits[0], &fits[1], &fits[2])
	best := 0
	for k := range powers {
		if l.fit.Probability(k) > l.fit.Probability(best) {
			best = k
		}
	}
	l.data.Weight = weights[best]
	l.Weighted = l.fit.Probability(0) < 1-surelyUneven
	return nil
}

// weight is what a point counts whose scatter goes with this power of its speed
// on the line: 1 at the mean speed.
func (l *Line) weight(speed, power float64) float64 {
	ratio := math.Max(l.mean, slowest) / math.Max(speed, slowest)
	switch power { // of powers
	case 0.5:
		return ratio
	case 1:
		return ratio * ratio
	}
	return math.Pow(ratio, 2*power)
}

// testUneven tests whether fast reps scatter more than slow ones, by Koenker's
// (1981, J Econometrics 17:107–112) studentised form of Breusch and Pagan's
// test: n·R² of squared residuals on fitted speed against χ² with 1 degree of
// freedom, residuals taken within days.
func (l *Line) testUneven() {
	if len(l.Load) < needUneven {
		return
	}
	x, y := within(l.data.Columns[1].X, l.Day), within(l.Speed, l.Day)
	line, err := robust.LeastSquares(x, y, nil)
	if err != nil {
		return
	}
	sq, fitted := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		r := y[i] - line.At(x[i])
		sq[i] = r * r
		fitted[i] = l.mean + line.Slope*l.data.Columns[1].X[i]
	}
	aux, err := robust.LeastSquares(fitted, sq, nil)
	if err != nil {
		return
	}
	l.Uneven = distuv.ChiSquared{K: 1}.Survival(float64(len(x)) * aux.R2)
}

// within takes the mean of its day off each value.
func within(x []float64, day []int) []float64 {
	sum, n := make([]float64, len(x)), make([]float64, len(x))
	for i, d := range day {
		sum[d] += x[i]
		n[d]++
	}
	out := make([]float64, len(x))
	for i, d := range day {
		out[i] = x[i] - sum[d]/n[d]
	}
	return out
}

// columns returns the column values at a load, weeks from the latest day. They
// hold until it is called again.
func (l *Line) columns(kg, weeks float64) []float64 {
	if l.c == nil {
		l.c = make([]float64, len(l.data.Columns)) // of the unit itself: no shift
	}
	l.c[0], l.c[1], l.c[2] = 1, kg-l.Centre, weeks*kg/l.Centre
	return l.c
}

// Height returns mean and SD of [Line.Mean], for next to nothing.
func (l *Line) Height(kg float64) (mean, sd float64) { return l.now().MeanSD(kg, mixed.OfLine) }

// Mean returns where the line lies at a load, on the latest day.
func (l *Line) Mean(kg float64) mixed.Mixture { return l.fit.At(l.columns(kg, 0), mixed.OfLine) }

// MeanBand returns the middle and the interval of [Line.Mean] at all loads from
// one to another.
func (l *Line) MeanBand(from, to, level float64) *mixed.Band {
	return l.now().Band(from, to, level, mixed.OfLine, nil)
}

// NextBand returns the same for the fastest rep of a load on the next day.
func (l *Line) NextBand(from, to, level float64) *mixed.Band {
	var w [len(powers)]float64
	return l.now().Band(from, to, level, mixed.OfValue, func(kg float64) []float64 {
		height := l.fit.MeanAt(l.columns(kg, 0))
		for k, power := range powers {
			w[k] = l.weight(height, power)
		}
		return w[:]
	})
}

// Slope returns the change of speed per kg.
func (l *Line) Slope() mixed.Mixture { return l.fit.Coefficient(1) }

// Turn returns the change of speed in a week at the load Centre.
func (l *Line) Turn() mixed.Mixture { return l.fit.Coefficient(2) }

// DaySDRange returns the interval of the SD of days.
func (l *Line) DaySDRange(level float64) (lo, hi float64) {
	sd := l.fit.DaySD()
	return sd.Quantile((1 - level) / 2), sd.Quantile((1 + level) / 2)
}

// Crossing returns the load at which the line meets a speed known as mean and
// SD, with its interval; false where no finite one exists.
func (l *Line) Crossing(speed, sd, level float64) (v, lo, hi float64, ok bool) {
	return l.now().Crossing(speed, sd, 0, 4*l.Hi, level, mixed.OfLine)
}

// now is the line on the latest day, along loads.
func (l *Line) now() *mixed.Along {
	if l.along == nil {
		per := make([]float64, len(l.data.Columns))
		per[1] = 1
		l.along = l.fit.Along(l.columns(0, 0), per)
	}
	return l.along
}

// Curvature returns the quadratic term, m/s per kg², of a bent line through
// the same points. The error is [ErrTooFew].
func (l *Line) Curvature() (mixed.Mixture, error) {
	if len(l.Load) < NeedCurve {
		return nil, ErrTooFew
	}
	d := l.data
	sq := make([]float64, len(l.Load))
	for i, x := range d.Columns[1].X {
		sq[i] = x * x
	}
	d.Columns = append(slices.Clone(d.Columns), mixed.Column{X: sq})
	m, err := mixed.Coefficient(d, len(d.Columns)-1)
	if err != nil {
		return nil, ErrTooFew
	}
	return m, nil
}

// Step returns how much faster points with x 1 are than those with x 0 at the
// same load, on one line for both, given that before any data the step is 0
// give or take priorSD. Days that both have are one. It needs no line of
// either: only that loads differ.
func Step(p Points, x []float64, priorSD float64) (mixed.Mixture, error) {
	n := len(p.Load)
	centre := 0.0
	for _, kg := range p.Load {
		centre += kg / float64(n)
	}
	cols := []mixed.Column{{}, {}, {SD: turnPriorSD}, {X: x, SD: priorSD}}
	for i, kg := range p.Load {
		cols[0].X = append(cols[0].X, 1)
		cols[1].X = append(cols[1].X, kg-centre)
		cols[2].X = append(cols[2].X, p.WeeksAgo[i]*kg/centre)
	}
	cols = append(cols, p.Shifts...)
	return mixed.Coefficient(mixed.Data{Y: p.Speed, Day: p.Day, Columns: cols, PriorDF: scatterPriorDF, PriorSD: scatterPrior}, 3)
}

// DayLoad is the load at which the line of one day meets a speed.
type DayLoad struct {
	First  int // first point of the day
	Points int
	Kg, SD float64
}

// DayLoads returns, for each day, the load at which that day's line meets a
// speed known as mean and SD: the line shifted to the day as far as the day's
// points warrant. SDs by the delta method. Days whose line does not fall are
// left out.
func (l *Line) DayLoads(speed, sd float64) []DayLoad {
	mean, cov := l.fit.Moments()
	var out []DayLoad
	dv, sv := l.DaySD*l.DaySD, math.Max(l.Scatter*l.Scatter, 1e-6)
	for i := 0; i < len(l.Load); {
		j := i
		var m, r float64
		for ; j < len(l.Load) && l.Day[j] == l.Day[i]; j++ {
			w := 1.0
			if l.data.Weight != nil {
				w = l.data.Weight[j]
			}
			fit := 0.0
			for k, c := range l.data.Columns {
				fit += mean[k] * c.X[j]
			}
			m += w
			r += w * (l.Speed[j] - fit)
		}
		u, uVar := dv*r/(sv+m*dv), dv*sv/(sv+m*dv)
		// The line of the day: its height at no load and its fall per kg.
		fall := mean[1] + mean[2]*l.WeeksAgo[i]/l.Centre
		if fall < 0 {
			kg := (speed - u - mean[0] + mean[1]*l.Centre) / fall
			c := l.columns(kg, l.WeeksAgo[i])
			v := sd*sd + uVar
			for p := range c {
				for q := range c {
					v += c[p] * c[q] * cov[p*len(c)+q]
				}
			}
			out = append(out, DayLoad{First: i, Points: j - i, Kg: kg, SD: math.Sqrt(v) / -fall})
		}
		i = j
	}
	return out
}
