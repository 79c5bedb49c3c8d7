package kinds

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var fusedRep = &Spec{
	Kind:  rep.FusedRep,
	What:  "Marks two reps that were counted as one: about twice the usual travel, in at least twice the time. Kept out of profiles.",
	Flags: true,
	Limits: []Limit{
		{Name: "share", Value: 0.35, Source: unsourced, Most: 1},
	},
	Look: func(h *History, l []float64, out *Looks) {
		for i, m := range h.Mark {
			if m == history.Fused && out.In(int32(i)) {
				out.At(int32(i), true, h.Travel[i], (2-l[0])*h.Band(h.SetAt(int32(i)), history.BandReps).Median)
			}
		}
	},
	Say: func(h *History, i int, f Finding) string {
		return fmt.Sprintf("travel %s is about twice the usual: two reps counted as one", TravelText(f.Measured))
	},
}
