package judge

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var travelCheck = &kind{
	Kind: rep.TravelCheck,
	what: "Sets aside a rep whose mean speed × duration is not its travel, after allowing for rounding and for how the unit " +
		"itself times a rep, learnt from its other reps.",
	limits: []limit{
		{name: "ratio", value: 1.5, source: unsourced, least: 1, most: 10},
	},
	look: func(h *History, l []float64, out *looks) {
		ratio := l[0]
		t := h.Table
		for i, r := range h.Rows {
			rom, dur := h.Travel[i], h.Time[i]
			if !out.in(i) || h.Missed[i] || h.Mark[i] != history.Whole || !h.BothGiven(i) {
				continue
			}
			// What half a digit of each value can do to the quotient.
			slack := (1 + t.MeanStep(r)/h.Speed[i]/2) * (1 + t.ROMStep(r)/rom/2) * (1 + 0.05/dur)
			q := h.Speed[i] * dur / rom / h.Learnt.Timing(h.History.History, i)
			out.at(i, q > ratio*slack || q < 1/(ratio*slack), h.Speed[i]*dur, rom)
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("mean speed × duration gives %s, but the travel is %s", travelText(f.measured), travelText(f.limit))
	},
}
