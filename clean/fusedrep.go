package clean

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
		{name: "travel_low_share", value: 1.7, source: unsourced, lo: 1.2, hi: 3},
		{name: "travel_high_share", value: 2.4, source: unsourced, lo: 1.2, hi: 5},
	},
	look: func(h *history, l []float64, out *looks) {
		for i, m := range h.mark {
			if m == fused && out.in(i) {
				out.at(i, true, h.rom[i], l[0]*h.learnt.band(h, h.setAt(int32(i)), bandReps).median)
			}
		}
	},
	say: func(h *history, i int, f finding) string {
		return fmt.Sprintf("travel %s is about twice the usual: two reps counted as one", travelText(f.measured))
	},
}

// fuse marks reps that hold two.
func (h *history) fuse(l []float64) {
	low, high := l[0], l[1]
	for s := range h.sets {
		b := h.learnt.band(h, s, bandReps)
		if b.n == 0 {
			continue
		}
		for i := h.sets[s].lo; i < h.sets[s].hi; i++ {
			if h.rom[i] >= low*b.median && h.rom[i] <= high*b.median && h.mark[i] == whole && !math.IsNaN(h.dur[i]) &&
				h.dur[i] >= 1.6*h.usualTime(s, b.median, i, i) {
				h.mark[i] = fused
			}
		}
	}
}
