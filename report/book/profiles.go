package book

import (
	"repsift/profile"
	"repsift/report/tidy"
)

// profiles is the table of key numbers, a row a lifter and lift: the club at a
// glance. A number there is not enough data for is empty; the lifter's sheet
// and page say what is missing.
func profiles(p *profile.Profiles) *table {
	type line struct {
		lifter string
		*profile.Lift
	}
	var lines []line
	for i := range p.Lifters {
		for j := range p.Lifters[i].Lifts {
			lines = append(lines, line{p.Lifters[i].Name, &p.Lifters[i].Lifts[j]})
		}
	}
	columns := []column{
		{"Lifter", "", 24}, {"Lift", "", 14}, {"Numbers rest on", "", 36}, {"From", asDate, 12}, {"To", asDate, 12}, {"Sets", "", 9}, {"Reps", "", 9},
	}
	for _, e := range estimates {
		columns = append(columns, column{e.heading, e.format, 12}, column{e.heading + ", low", e.format, 12}, column{e.heading + ", high", e.format, 12})
	}
	columns = append(columns, column{"Last warm-up", "", 15}, column{"on", asDate, 12})
	return &table{"profiles", "key numbers, one row per lifter and lift", "profiles.json", columns, len(lines),
		func(dst []tidy.Cell, i int) []tidy.Cell {
			l := lines[i]
			dst = append(dst[:0], word(l.lifter), word(l.Lift.Lift), word(rigging(l.Main)), dateOf(l.From), dateOf(l.To), whole(l.Sets), whole(l.Reps))
			for _, e := range estimates {
				if v := e.of(l.Lift); v.Known {
					dst = append(dst, real(v.Value), real(v.Lo), real(v.Hi))
				} else {
					dst = append(dst, tidy.Cell{}, tidy.Cell{}, tidy.Cell{})
				}
			}
			var on tidy.Cell
			if l.ReadinessNow.Speed.OK() && l.ReadinessNow.Date != 0 {
				on = dateOf(l.ReadinessNow.Date)
			}
			return append(dst, word(string(l.ReadinessNow.Verdict)), on)
		}}
}

// estimates are the numbers of the table of profiles.
var estimates = []struct {
	heading, format string
	of              func(*profile.Lift) profile.Estimate
}{
	{"e1RM now (kg)", toLoad, func(l *profile.Lift) profile.Estimate { return l.E1RMNow }},
	{"Speed at 1RM (m/s)", toSpeed, func(l *profile.Lift) profile.Estimate { return l.LoadVelocity.V1RM }},
	{"Slowest rep at RPE 8 (m/s)", toSpeed, func(l *profile.Lift) profile.Estimate { return l.Effort.AtRPE8 }},
	{"Change per RPE (m/s)", toSpeed, func(l *profile.Lift) profile.Estimate { return l.Effort.PerRPE }},
	{"Change per kg (m/s)", "0.0000", func(l *profile.Lift) profile.Estimate { return l.LoadVelocity.Slope }},
	{"e1RM change (kg per week)", toSpeed, func(l *profile.Lift) profile.Estimate { return l.E1RMTrend.PerWeek }},
}
