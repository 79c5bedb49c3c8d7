package judge

import (
	"fmt"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var splitRep = &kind{
	Kind: rep.SplitRep,
	what: "Rejoins one rep that was counted as two: each half short of the usual travel, both together about the usual, one right " +
		"after the other. Travel and time add up, mean speed is travel / time; the values as read are kept beside. Where the " +
		"season file only flags here, both halves stay as read and out of profiles.",
	limits: []limit{
		{name: "gap_s", value: 2, source: unsourced, most: 10},
		{name: "share", value: 0.15, source: unsourced, most: 1},
	},
	look: func(h *History, l []float64, out *looks) {
		for _, r := range h.Rejoined {
			if out.in(int(r.Second)) {
				out.at(int(r.Second), true, r.Travel[1], r.Usual)
			}
			if h.Mark[r.First] == history.Whole && out.in(int(r.First)) { // only flagged
				out.at(int(r.First), true, r.Travel[0], r.Usual)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("second half of the rep before it: %s more, which together make the usual %s",
			travelText(f.measured), travelText(f.limit))
	},
}
