package kinds

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var travelCheck = &Spec{
	Kind: rep.TravelCheck,
	What: "Sets aside a rep whose mean speed × duration is not its travel, after allowing for rounding and for how the unit " +
		"itself times a rep, learnt from its other reps.",
	Limits: []Limit{
		{Name: "ratio", Value: 1.5, Source: unsourced, Least: 1, Most: 10},
	},
	Look: func(h *History, l []float64, out *Looks) {
		ratio := l[0]
		t := h.Table
		least, most := h.Timings()
		for s := range h.Sets {
			if q := h.Ranges[s].Quotient; out.Skip(q.Lo/most >= 1/ratio && q.Hi/least <= ratio) {
				continue // whatever the slack
			}
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				r, rom, dur := h.Rows[i], h.Travel[i], h.Time[i]
				if !out.In(i) || h.Missed[i] || h.Mark[i] != history.Whole || !h.BothGiven(int(i)) {
					continue
				}
				// What half a digit of each value can do to the quotient.
				slack := (1 + t.MeanStep(r)/h.Speed[i]/2) * (1 + t.ROMStep(r)/rom/2) * (1 + 0.05/dur)
				q := h.Speed[i] * dur / rom / h.Timing(int(i))
				out.At(i, q > ratio*slack || q < 1/(ratio*slack), h.Speed[i]*dur, rom)
			}
		}
	},
	Unit: TravelText,
	Say: func(h *History, i int, f Finding) string {
		return fmt.Sprintf("mean speed × duration gives %s, but the travel is %s", TravelText(f.Measured), TravelText(f.Limit))
	},
}
