package judge

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/bar"
	"repsift/ingest/rep"
)

var flexAllowance = &kind{
	Kind: rep.FlexAllowance,
	what: "Corrects the travel of a deadlift measured at the middle of a deadlift bar: the middle rises before the plates leave the " +
		"floor. Takes off the deflection of the beam, or a declared, measured allowance; keeps the travel as read beside.",
	flags: true,
	limits: []limit{
		{name: "allowance_m", value: 0, source: "0: beam theory, two equal symmetric loads (Roark; Mott, table A14-1(b))", most: 0.2},
		{name: "diameter_mm", value: 1000 * bar.Deadlift.Diameter, source: unsourced, least: 20, most: 40},
		{name: "span_m", value: bar.Deadlift.Span, source: unsourced, least: 1, most: 2},
		{name: "grip_m", value: bar.Deadlift.Hands, source: unsourced, least: 0.1, most: 2},
		{name: "e_gpa", value: bar.Deadlift.Modulus / 1e9, source: "200–205 GPa, carbon and alloy steels: engineering tables", least: 50, most: 300},
	},
	look: func(h *History, l []float64, out *looks) {
		if h.Lift != rep.Deadlift {
			return // other lifts begin with the bar bent already
		}
		b := bar.Bar{Diameter: l[1] / 1000, Span: l[2], Hands: min(l[3], l[2]), Modulus: l[4] * 1e9, Density: bar.Deadlift.Density}
		t := h.Table
		whippy, okBar := t.Text.Lookup(rep.DeadliftBar)
		centre, okTether := t.Text.Lookup(rep.TetherCentre)
		if !okBar || !okTether {
			return
		}
		for i, r := range h.Rows {
			if !out.in(i) || t.Bar.At(r) != whippy || t.Tether.At(r) != centre || h.Given[i]&history.TravelGiven == 0 || h.Given[i]&history.FlexTaken != 0 {
				continue
			}
			rise := b.Middle(b.Force(h.Load[i]))
			if l[0] > 0 {
				rise = l[0]
			}
			out.at(i, rise > 0, h.Travel[i], rise)
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("travel %s was measured at the middle of a whippy bar: %s taken off", travelText(f.measured), travelText(f.limit))
	},
}
