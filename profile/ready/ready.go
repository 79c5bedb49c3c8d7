// Package ready compares the speed of today's last warm-up with what it was on
// a lifter's earlier days.
//
// Earlier days count at whatever load near today's they used, brought to
// today's load by the lifter's own change of speed per kg, and a lifter who
// gets stronger is not called "faster" every day: usual means usual by now.
package ready

import (
	"errors"
	"math"

	"repsift/profile/mixed"
)

const (
	// Need is how many earlier days a comparison needs (common practice, no
	// source).
	Need = 4
	// NearLoad is how far, as a share, an earlier day's warm-up may be from
	// today's load.
	NearLoad = 0.075

	// scatterPrior, worth half a day, is the day-to-day SD of one
	// warm-up, m/s: published typical errors of mean velocity at 60 to 90 %
	// of 1RM are 0.03 to 0.05 (Orange et al. 2020, J Strength Cond Res
	// 34:728–737; Ruf et al. 2018, ibid. 32:681–689).
	scatterPrior, scatterPriorDF = 0.035, 0.5
	// trendPriorSD is the change of speed at a load in a week, m/s; see
	// package loadline.
	trendPriorSD = 0.005
	// perKgShare is how far the change of speed per kg may be off, as a share.
	perKgShare = 0.3
)

// Day is one earlier day's warm-up.
type Day struct {
	WeeksAgo float64 // before today, 0 or less
	Kg       float64
	Speed    float64
}

// Usual is what today's warm-up would be on a day like the earlier ones.
type Usual struct {
	next         mixed.Mixture
	TypicalError float64 // SD of one day, m/s
}

// ErrTooFew says that there are fewer than [Need] earlier days.
var ErrTooFew = errors.New("too few earlier days")

// New returns what is usual today at a load, from earlier days in any order.
// perKg is the lifter's change of speed per kg, m/s; NaN where it is unknown:
// then only days at the very load count. The error is [ErrTooFew].
//
// Measured: 5 in 100 days without any change are called faster or slower with
// the 95 % interval; the figures are in the doc of package calibrate.
func New(earlier []Day, kg, perKg float64) (*Usual, error) {
	var d mixed.Data
	cols := []mixed.Column{{}, {SD: trendPriorSD}, {Mean: perKg, SD: perKgShare * math.Abs(perKg)}}
	moved := false
	for _, x := range earlier {
		off := x.Kg - kg
		if math.IsNaN(perKg) && off != 0 {
			continue
		}
		moved = moved || off != 0
		d.Y = append(d.Y, x.Speed)
		cols[0].X = append(cols[0].X, 1)
		cols[1].X = append(cols[1].X, x.WeeksAgo)
		cols[2].X = append(cols[2].X, off)
	}
	if len(d.Y) < Need {
		return nil, ErrTooFew
	}
	at := []float64{1, 0, 0}
	if !moved || math.IsNaN(perKg) {
		cols, at = cols[:2], at[:2]
	}
	d.Columns, d.PriorDF, d.PriorSD = cols, scatterPriorDF, scatterPrior
	f, err := mixed.New(d)
	if err != nil {
		return nil, err
	}
	u := &Usual{next: f.At(at, mixed.OfValue)}
	u.TypicalError, _, _ = f.Scatter(0.95)
	return u, nil
}

// Range returns the middle and the range of the level of usual days.
func (u *Usual) Range(level float64) (v, lo, hi float64) { return u.next.Interval(level) }

// Chances returns the probabilities that today is truly slower than usual by
// more than worth, within worth of it, or faster, after a warm-up at speed.
func (u *Usual) Chances(speed, worth float64) (slower, usual, faster float64) {
	faster = u.next.Below(speed - worth)
	slower = 1 - u.next.Below(speed+worth)
	return slower, 1 - slower - faster, faster
}

// MinimalDetectableChange returns the least difference between two single
// measurements that is no error with 95 % probability: 1.96·√2·typical error
// (Weir 2005, J Strength Cond Res 19:231–240).
func MinimalDetectableChange(typicalError float64) float64 { return 1.96 * math.Sqrt2 * typicalError }

// SmallestWorthwhile returns the smallest change that matters by Hopkins' rule,
// 0.2 × the SD between subjects (Hopkins 2004, Sportscience 8:1–7).
func SmallestWorthwhile(sd float64) float64 { return 0.2 * sd }
