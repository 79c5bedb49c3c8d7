package kinds

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/bar"
	"repsift/ingest/rep"
)

var flexAllowance = &Spec{
	Kind: rep.FlexAllowance,
	What: "Corrects the travel of a deadlift measured at the middle of a deadlift bar: the middle rises before the plates leave the " +
		"floor. Takes off the deflection of the beam, or a declared, measured allowance; keeps the travel as read beside.",
	Flags: true,
	Limits: []Limit{
		{Name: "allowance_m", Value: 0, Source: "0: beam theory, two equal symmetric loads (Roark; Mott, table A14-1(b))", Most: 0.2},
		{Name: "diameter_mm", Value: 1000 * bar.Deadlift.Diameter, Source: unsourced, Least: 20, Most: 40},
		{Name: "span_m", Value: bar.Deadlift.Span, Source: unsourced, Least: 1, Most: 2},
		{Name: "grip_m", Value: bar.Deadlift.Hands, Source: unsourced, Least: 0.1, Most: 2},
		{Name: "e_gpa", Value: bar.Deadlift.Modulus / 1e9, Source: "200–205 GPa, carbon and alloy steels: engineering tables", Least: 50, Most: 300},
	},
	Look: func(h *History, l []float64, out *Looks) {
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
			if !out.In(int32(i)) || t.Bar.At(r) != whippy || t.Tether.At(r) != centre || h.Given[i]&history.TravelGiven == 0 || h.Given[i]&history.FlexTaken != 0 {
				continue
			}
			rise := b.Middle(b.Force(h.Load[i]))
			if l[0] > 0 {
				rise = l[0]
			}
			out.At(int32(i), rise > 0, h.Travel[i], rise)
		}
	},
	Say: func(h *History, i int, f Finding) string {
		return fmt.Sprintf("travel %s was measured at the middle of a whippy bar: %s taken off", TravelText(f.Measured), TravelText(f.Limit))
	},
}
