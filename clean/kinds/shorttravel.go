package kinds

import (
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var shortTravel = &Spec{
	Kind: rep.ShortTravel,
	What: "Sets aside a rep whose travel is below a floor for the lift: unrack, walkout, re-rack, a touch of the tether. " +
		"Missed reps are exempt.",
	Limits: []Limit{
		// With a high arch a bench press travels 0.13–0.20 m; a rack pull or a
		// squat to high pins under 0.25 m. Floors lie below all of them: the
		// lifter's own band does the work.
		{Name: "floor_m", Value: 0.05, Lifts: perLift(0.15, 0.08, 0.12), Source: unsourced, Most: 1.5},
	},
	Look: func(h *History, l []float64, out *Looks) {
		floor := l[0]
		for s := range h.Sets {
			if out.Skip(h.Ranges[s].Travel.Lo >= floor) {
				continue
			}
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				if rom := h.Travel[i]; out.In(i) && !h.Missed[i] && h.Mark[i] != history.SecondHalf && !math.IsNaN(rom) {
					out.At(i, rom < floor, rom, floor)
				}
			}
		}
	},
	Unit: TravelText,
	Say: func(h *History, i int, f Finding) string {
		return "travel " + TravelText(f.Measured) + " is below the floor of " + TravelText(f.Limit) + " for the " + h.Lift
	},
}
