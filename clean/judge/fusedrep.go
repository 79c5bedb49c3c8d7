package judge

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var fusedRep = &kind{
	Kind:  rep.FusedRep,
	what:  "Marks two reps that were counted as one: about twice the usual travel, in at least twice the time. Kept out of profiles.",
	flags: true,
	limits: []limit{
		{name: "share", value: 0.35, source: unsourced, most: 1},
	},
	look: func(h *History, l []float64, out *looks) {
		for i, m := range h.Mark {
			if m == history.Fused && out.in(i) {
				out.at(i, true, h.Travel[i], (2-l[0])*h.Band(h.SetAt(int32(i)), history.BandReps).Median)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("travel %s is about twice the usual: two reps counted as one", travelText(f.measured))
	},
}
