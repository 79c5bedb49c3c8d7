package kinds

import (
	"math"
	"strconv"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var usualTravel = &Spec{
	Kind: rep.UsualTravel,
	What: "Sets aside a rep whose travel is outside the lifter's own band for the lift, learnt as median and median absolute " +
		"deviation per variant, bar, tether and unit. With too few reps there is no band and only the floor holds. Missed reps are " +
		"exempt. Where the reps of a set or of a day share another travel, the band is brought there: that is another variant, not a false rep.",
	Limits: []Limit{
		// 3.5 scaled deviations mark an outlier (Iglewicz & Hoaglin 1993); the
		// shares keep the band wide for a lifter who never varies.
		{Name: "deviations", Value: 5, Source: "wider than the 3.5 of Iglewicz & Hoaglin 1993: " + unsourced, Least: 1, Most: 100},
		{Name: "low_share", Value: 0.6, Source: unsourced, Most: 1},
		{Name: "high_share", Value: 1.5, Source: unsourced, Least: 1, Most: 10},
		{Name: "learn_reps", Value: 10, Source: unsourced, Least: 3, Most: 1000},
	},
	Look: func(h *History, l []float64, out *Looks) {
		deviations, low, high, least := l[0], l[1], l[2], l[3]
		for s := range h.Sets {
			b := h.Band(s, int(least))
			if b.N == 0 {
				continue
			}
			lo, hi := b.Limits(deviations, low, high)
			if out.Skip(h.Ranges[s].Travel.Within(lo, hi)) {
				continue
			}
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				rom := h.Travel[i]
				if !out.In(i) || h.Missed[i] || h.Mark[i] != history.Whole || math.IsNaN(rom) {
					continue
				}
				if rom > hi {
					out.At(i, true, rom, hi)
				} else {
					out.At(i, rom < lo, rom, lo)
				}
			}
		}
	},
	Unit: TravelText,
	Say: func(h *History, i int, f Finding) string {
		b := h.Band(h.SetAt(int32(i)), 1)
		side := "below"
		if f.Measured > f.Limit {
			side = "above"
		}
		return "travel " + TravelText(f.Measured) + " is " + side + " " + TravelText(f.Limit) + ": the lifter's own is " +
			TravelText(b.Median) + ", learnt from " + strconv.Itoa(b.N) + " reps"
	},
}
