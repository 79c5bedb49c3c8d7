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
	"slices"

	"repsift/profile/mixed"
)

const (
	// Need is how many earlier days a comparison needs (common practice, no
	// source).
	Need = 4
	// NearLoad is how far, as a share, an earlier day's warm-up may be from
	// today's load.
	NearLoad = 0.075

	// scatterPrior, worth a tenth of a day, is the last digit that units show,
	// m/s: days whose speeds agree exactly still scatter. Published typical
	// errors are 0.03 to 0.05 (Orange et al. 2020, J Strength Cond Res
	// 34:728–737), but as a prior worth half a day they made four days call
	// 1 steady lifter's day in 100 different where 5 are stated.
	scatterPrior, scatterPriorDF = 0.01, 0.1
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
	Unit
}

// Unit is what is known of the speeds of one unit: that they stand as another's
// by a correction, and what they may be off together, SD, m/s. The zero value is
// a unit whose speeds stand as measured.
type Unit struct {
	ReadFrom string
	Error    float64
}

// Usual is what today's warm-up would be on a day like the earlier ones.
type Usual struct {
	next         mixed.Mixture
	TypicalError float64 // SD of one day, m/s
}

// ErrTooFew says that there are fewer than [Need] earlier days.
var ErrTooFew = errors.New("too few earlier days")

// New returns what is usual today at a load by a unit, from earlier days in any
// order.
// perKg is the lifter's change of speed per kg, m/s; NaN where it is unknown:
// then only days at the very load count. The error is [ErrTooFew].
//
// Measured with 4, 8 and 20 earlier days: 5.4 / 4.8 / 4.4 % of days without any
// change lie outside the 95 % range (go run ./profile/calibrate readiness).
func New(earlier []Day, kg, perKg float64, today Unit) (*Usual, error) {
	return new(room).usual(earlier, kg, perKg, today)
}

// usual is New; what it returns holds until it is called again.
func (room *room) usual(earlier []Day, kg, perKg float64, today Unit) (*Usual, error) {
	n := len(earlier)
	room.values = slices.Grow(room.values[:0], 4*n)
	values := room.values[:4*n]
	d := mixed.Data{Y: values[:0:n]}
	cols := append(room.cols[:0],
		mixed.Column{X: values[n : n : 2*n]},
		mixed.Column{X: values[2*n : 2*n : 3*n], SD: trendPriorSD},
		mixed.Column{X: values[3*n : 3*n], Mean: perKg, SD: perKgShare * math.Abs(perKg)})
	room.cols = cols
	moved, corrected := false, false
	days := earlier
	if math.IsNaN(perKg) {
		days = slices.DeleteFunc(slices.Clone(earlier), func(x Day) bool { return x.Kg != kg })
	}
	for i := range days {
		x := &days[i]
		off := x.Kg - kg
		moved, corrected = moved || off != 0, corrected || x.Error != 0
		d.Y = append(d.Y, x.Speed)
		cols[0].X = append(cols[0].X, 1)
		cols[1].X = append(cols[1].X, x.WeeksAgo)
		cols[2].X = append(cols[2].X, off)
	}
	if len(d.Y) < Need {
		return nil, ErrTooFew
	}
	at := append(room.at[:0], 1, 0, 0)
	room.at = at
	if !moved || math.IsNaN(perKg) {
		cols, at = cols[:2], at[:2]
	}
	// Today's unit and those of earlier days may be off apart.
	if today.Error > 0 && !slices.ContainsFunc(days, func(x Day) bool { return x.Unit == today }) {
		cols, at = append(cols, mixed.Column{X: make([]float64, len(d.Y)), SD: today.Error}), append(at, 1)
	}
	if corrected {
		for _, col := range mixed.Shifts(len(days), func(i int) (string, float64) { return days[i].ReadFrom, days[i].Error }) {
			same := 0.0
			if first := slices.Index(col.X, 1); days[first].Unit == today {
				same = 1
			}
			cols, at = append(cols, col), append(at, same)
		}
	}
	d.Columns, d.PriorDF, d.PriorSD = cols, scatterPriorDF, scatterPrior
	if err := room.fit.Refit(d); err != nil {
		return nil, err
	}
	f := &room.fit
	room.last.next = f.AtIn(room.last.next, at, mixed.OfValue)
	room.last.TypicalError = f.Scatter().Quantile(0.5)
	return &room.last, nil
}

// Range returns the middle and the range of the level of usual days.
func (u *Usual) Range(level float64) (v, lo, hi float64) { return u.next.Interval(level) }

// AsSlow returns the share of usual days whose warm-up is as slow as speed or
// slower: under 0.025 or over 0.975 outside of the 95 % range.
func (u *Usual) AsSlow(speed float64) float64 { return u.next.Below(speed) }

// MinimalDetectableChange returns the least difference between two single
// measurements that is no error with 95 % probability: 1.96·√2·typical error
// (Weir 2005, J Strength Cond Res 19:231–240).
func MinimalDetectableChange(typicalError float64) float64 { return 1.96 * math.Sqrt2 * typicalError }

// SmallestWorthwhile returns the smallest change that matters by Hopkins' rule,
// 0.2 × the SD between subjects (Hopkins 2004, Sportscience 8:1–7).
func SmallestWorthwhile(sd float64) float64 { return 0.2 * sd }
