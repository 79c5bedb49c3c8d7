package judge

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var usualTravel = &kind{
	Kind: rep.UsualTravel,
	what: "Sets aside a rep whose travel is outside the lifter's own band for the lift, learnt as median and median absolute " +
		"deviation per variant, bar, tether and unit. With too few reps there is no band and only the floor holds. Missed reps are " +
		"exempt. Where the reps of a set or of a day share another travel, the band is brought there: that is another variant, not a false rep.",
	limits: []limit{
		// 3.5 scaled deviations mark an outlier (Iglewicz & Hoaglin 1993); the
		// shares keep the band wide for a lifter who never varies.
		{name: "deviations", value: 5, source: "wider than the 3.5 of Iglewicz & Hoaglin 1993: " + unsourced, least: 1, most: 100},
		{name: "low_share", value: 0.6, source: unsourced, most: 1},
		{name: "high_share", value: 1.5, source: unsourced, least: 1, most: 10},
		{name: "learn_reps", value: 10, source: unsourced, least: 3, most: 1000},
	},
	look: func(h *History, l []float64, out *looks) {
		deviations, low, high, least := l[0], l[1], l[2], l[3]
		for s := range h.Sets {
			b := h.Band(s, int(least))
			if b.N == 0 {
				continue
			}
			lo, hi := b.Limits(deviations, low, high)
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				rom := h.Travel[i]
				if !out.in(int(i)) || h.Missed[i] || h.Mark[i] != history.Whole || math.IsNaN(rom) {
					continue
				}
				if rom > hi {
					out.at(int(i), true, rom, hi)
				} else {
					out.at(int(i), rom < lo, rom, lo)
				}
			}
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		b := h.Band(h.SetAt(int32(i)), 1)
		side := "below"
		if f.measured > f.limit {
			side = "above"
		}
		return fmt.Sprintf("travel %s is %s %s: the lifter's own is %s, learnt from %d reps",
			travelText(f.measured), side, travelText(f.limit), travelText(b.Median), b.N)
	},
}
