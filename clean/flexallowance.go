package clean

import (
	"fmt"
	"math"

	"repsift/clean/bar"
	"repsift/ingest/rep"
)

var flexAllowance = &kind{
	Kind: rep.FlexAllowance,
	what: "Corrects the travel of a deadlift measured at the middle of a deadlift bar: the middle rises before the plates leave the " +
		"floor. Takes off the deflection of the beam, or a declared allowance per kg of plates; keeps the travel as read beside.",
	flags: true,
	limits: []limit{
		{name: "diameter_m", value: bar.Deadlift.Diameter, source: unsourced, lo: 0.02, hi: 0.04},
		{name: "span_m", value: bar.Deadlift.Span, source: unsourced, lo: 1, hi: 2},
		{name: "hands_m", value: bar.Deadlift.Hands, source: unsourced, lo: 0.2, hi: 1.2},
		{name: "modulus_pa", value: bar.Deadlift.Modulus, source: "200–205 GPa, carbon and alloy steels: engineering tables", lo: 1e11, hi: 3e11},
		{name: "bar_kg", value: bar.Deadlift.Mass, source: unsourced, lo: 5, hi: 40},
		{name: "allowance_m_per_kg", value: 0, source: "0: beam theory, two equal symmetric loads (Roark; Mott, table A14-1(b))", hi: 0.001},
	},
	look: func(h *history, l []float64, out *looks) {
		if h.lift != rep.Deadlift {
			return // other lifts begin with the bar bent already
		}
		b := bar.Bar{Diameter: l[0], Span: l[1], Hands: l[2], Modulus: l[3], Mass: l[4]}
		t := h.t
		whippy, okBar := t.Text.Lookup(rep.DeadliftBar)
		centre, okTether := t.Text.Lookup(rep.TetherCentre)
		if !okBar || !okTether {
			return
		}
		for i, r := range h.rows {
			if !out.in(i) || t.Bar[r] != whippy || t.Tether[r] != centre || math.IsNaN(t.ROM[r]) || t.Flags[r].Has(rep.FlexAllowance) {
				continue
			}
			rise := b.Middle(b.Force(h.load[i]))
			if l[5] > 0 {
				rise = l[5] * max(0, h.load[i]-b.Mass)
			}
			out.at(i, rise > 0, h.rom[i], rise)
		}
	},
	say: func(h *history, i int, f finding) string {
		return fmt.Sprintf("travel %s was measured at the middle of a whippy bar: %s taken off", travelText(f.measured), travelText(f.limit))
	},
}
