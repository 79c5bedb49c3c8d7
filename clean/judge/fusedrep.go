package judge

import (
	"fmt"
	"math"

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
		for i, m := range h.mark {
			if m == fused && out.in(i) {
				out.at(i, true, h.rom[i], (2-l[0])*h.learnt.band(h, h.setAt(int32(i)), bandReps).median)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("travel %s is about twice the usual: two reps counted as one", travelText(f.measured))
	},
}

// fuse marks reps that hold two.
func (h *History) fuse(l []float64) {
	low, high := 2-l[0], 2+l[0]
	for s := range h.Sets {
		b := h.learnt.band(h, s, bandReps)
		if b.n == 0 {
			continue
		}
		for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
			if h.rom[i] >= low*b.median && h.rom[i] <= high*b.median && h.mark[i] == whole && !math.IsNaN(h.dur[i]) &&
				h.dur[i] >= 1.6*h.usualTime(s, b.median, i, i) {
				h.mark[i] = fused
			}
		}
	}
}
