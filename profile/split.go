package profile

import (
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// offsetPriorSD is how far two groups' lines may lie apart before any data,
// m/s: wide enough to say little (common practice, no source).
const offsetPriorSD = 0.1

// split profiles a group beside the main one.
func split(h *sets.History, g Group, inMain []sets.Set) Split {
	own := sets.Where(h.Sets, func(s *sets.Set) bool { return s.Timed() && s.Group == g })
	x := Split{Group: g, Sets: len(own), Span: sets.SpanOf(own)}
	for i := range own {
		x.Reps += own[i].Reps + own[i].Missed
	}
	line := loadline.NewChart(own, sets.Points(own))
	line.V1 = loadline.ExpectedV1RM(h.Lift, own, nil)
	x.LoadVelocity = line.Profile(Estimate{})
	recent := sets.Since(own, x.To, sets.EffortDays)
	x.Effort = effort.NewChart(recent, effort.NewSetLine(recent, effort.SlowestOf), effort.NewSetLine(recent, effort.LastOf), h.Lift, x.LoadVelocity.V1RM)
	x.Offset = offset(inMain, own)
	return x
}

// offset returns how much faster other's fastest reps are than main's at the
// same load and in the same form: one line for both, with a step between them
// and days in common where both were used on one.
func offset(main, other []sets.Set) Estimate {
	const need = 4
	a, b := sets.Points(main), sets.Points(other)
	if len(a) < need || len(b) < need {
		return number.NotYet(need, min(len(a), len(b)), loadline.LoadsAndDays+" of either group")
	}
	da, db := sets.PointSpan(a), sets.PointSpan(b)
	if da.Days < 2 || db.Days < 2 {
		return number.NotYet(2, min(da.Days, db.Days), "days of either group")
	}
	both := slices.Concat(a, b)
	p := loadline.PointsOf(both, max(da.To, db.To))
	isOther := make([]float64, len(both))
	days := map[rep.Day]int{}
	for i := range both {
		// Days that both groups have are one day.
		d, ok := days[both[i].Date]
		if !ok {
			d = len(days)
			days[both[i].Date] = d
		}
		p.Day[i] = d
		if i >= len(a) {
			isOther[i] = 1
		}
	}
	m, err := loadline.Step(p, isOther, offsetPriorSD)
	if err != nil {
		return number.More(len(b), loadline.LoadsAndDays)
	}
	v, lo, hi := m.Interval(Level)
	return number.Known(v, lo, hi, len(b), loadline.LoadsAndDays)
}
