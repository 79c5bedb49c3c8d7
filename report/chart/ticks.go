package chart

import (
	"fmt"
	"math"
	"time"

	"gonum.org/v1/plot"
)

// round puts ticks at multiples of 1, 2 or 5 × 10ⁿ: the smallest step that
// gives at most mostTicks. Labels have the digits of the step.
type round struct{}

const mostTicks = 7

func (round) Ticks(lo, hi float64) []plot.Tick {
	step, digits := roundStep(hi - lo)
	if step == 0 {
		return []plot.Tick{{Value: lo, Label: fmt.Sprintf("%g", lo)}}
	}
	var ticks []plot.Tick
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+step*1e-9; k++ {
		v := k * step
		label := fmt.Sprintf("%.*f", digits, math.Abs(v))
		if k < 0 {
			label = "−" + label
		}
		ticks = append(ticks, plot.Tick{Value: v, Label: label})
	}
	return ticks
}

// roundStep returns the step over an extent and how many decimals it has; 0
// where there is no extent.
func roundStep(extent float64) (step float64, digits int) {
	if !(extent > 0) || math.IsInf(extent, 0) {
		return 0, 0
	}
	e := int(math.Floor(math.Log10(extent / mostTicks)))
	for ; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			// A power of ten by parsing is exact where by multiplying it is not.
			s := m * math.Pow10(e)
			if extent/s <= mostTicks-1+1e-9 {
				return s, max(0, -e)
			}
		}
	}
}

// calendar puts ticks at whole days: every day, every few days, Mondays, or the
// first of months, whatever gives at most mostTicks.
type calendar struct{}

func (calendar) Ticks(lo, hi float64) []plot.Tick {
	if hi-lo > 1e5 { // no season lasts for centuries; the axis does not matter then
		return round{}.Ticks(lo, hi)
	}
	first, last := int(math.Ceil(lo)), int(math.Floor(hi))
	for _, days := range []int{1, 2, 7, 14} {
		at := first
		if days >= 7 { // 1970-01-05 was a Monday
			at = first + (4-first%7+7)%7
		} else if days > 1 {
			at = first + first%days
		}
		var ticks []plot.Tick
		for ; at <= last; at += days {
			ticks = append(ticks, plot.Tick{Value: float64(at), Label: day(at).Format("2 Jan")})
		}
		if len(ticks) <= mostTicks {
			return ticks
		}
	}
	for _, months := range []int{1, 2, 3, 6, 12, 24, 60, 120, 600} {
		var ticks []plot.Tick
		from := day(first)
		for m := 0; ; m++ {
			d := time.Date(from.Year(), from.Month()+time.Month(m), 1, 0, 0, 0, 0, time.UTC)
			at := int(d.Unix() / 86400)
			if at > last {
				break
			}
			if at < first || (d.Year()*12+int(d.Month())-1)%months != 0 {
				continue
			}
			label := "Jan 2006"
			if months == 1 {
				label = "2 Jan"
			}
			ticks = append(ticks, plot.Tick{Value: float64(at), Label: d.Format(label)})
		}
		if len(ticks) <= mostTicks-1 {
			return ticks
		}
	}
	return round{}.Ticks(lo, hi)
}

func day(n int) time.Time { return time.Unix(int64(n)*86400, 0).UTC() }
