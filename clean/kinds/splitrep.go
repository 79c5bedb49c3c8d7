package kinds

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var splitRep = &Spec{
	Kind: rep.SplitRep,
	What: "Rejoins one rep that was counted as two: each half short of the usual travel, both together about the usual, one right " +
		"after the other. Travel and time add up, mean speed is travel / time; the values as read are kept beside. Where the " +
		"season file only flags here, both halves stay as read and out of profiles.",
	Limits: []Limit{
		{Name: "gap_s", Value: 2, Source: unsourced, Most: 10},
		{Name: "share", Value: 0.15, Source: unsourced, Most: 1},
	},
	Look: func(h *History, l []float64, out *Looks) {
		for _, r := range h.Rejoined {
			if out.In(r.Second) {
				out.At(r.Second, true, r.Travel[1], r.Usual)
			}
			if h.Mark[r.First] == history.Whole && out.In(r.First) { // only flagged
				out.At(r.First, true, r.Travel[0], r.Usual)
			}
		}
	},
	Say: func(h *History, i int, f Finding) string {
		return fmt.Sprintf("second half of the rep before it: %s more, which together make the usual %s",
			TravelText(f.Measured), TravelText(f.Limit))
	},
}
