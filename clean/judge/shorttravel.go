package judge

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var shortTravel = &kind{
	Kind: rep.ShortTravel,
	what: "Sets aside a rep whose travel is below a floor for the lift: unrack, walkout, re-rack, a touch of the tether. " +
		"Missed reps are exempt.",
	limits: []limit{
		// With a high arch a bench press travels 0.13–0.20 m; a rack pull or a
		// squat to high pins under 0.25 m. Floors lie below all of them: the
		// lifter's own band does the work.
		{name: "floor_m", value: 0.05, lifts: perLift(0.15, 0.08, 0.12), source: unsourced, most: 1.5},
	},
	look: func(h *History, l []float64, out *looks) {
		floor := l[0]
		for i, rom := range h.Travel {
			if out.in(i) && !h.Missed[i] && h.Mark[i] != history.SecondHalf && !math.IsNaN(rom) {
				out.at(i, rom < floor, rom, floor)
			}
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("travel %s is below the floor of %s for the %s", travelText(f.measured), travelText(f.limit), h.Lift)
	},
}
