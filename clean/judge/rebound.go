package judge

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
)

var rebound = &kind{
	Kind: rep.Rebound,
	what: "Sets aside the bounce of a bending bar: it starts right after a lockout and is short; or, where times are not fine enough " +
		"to tell, it is short, over at once and too fast for the load.",
	limits: []limit{
		{name: "gap_s", value: 0.5, source: "no bar is lowered and turned in less: " + unsourced, most: 10},
		{name: "travel_m", value: 0.2, source: unsourced, most: 1.5},
		{name: "travel_share", value: 0.75, source: unsourced, most: 1},
	},
	look: func(h *History, l []float64, out *looks) {
		least, most, share := l[0], l[1], l[2]
		for s, set := range h.Sets {
			usual, known := h.usualTravelOf(s)
			for i := set.Lo + 1; i < set.Hi; i++ {
				if !out.in(int(i)) || h.Missed[i] || h.mark[i] != whole {
					continue
				}
				short := known && h.rom[i] < min(share*usual, most)
				if gap, ok := h.gap(set, i); ok {
					// Without travel only the impossible counts.
					at := gap < least && short || math.IsNaN(h.rom[i]) && gap < least/2
					out.at(int(i), at, gap, least)
					continue
				}
				if !known || math.IsNaN(h.rom[i]) {
					continue
				}
				time := h.usualTime(s, usual, i, i)
				at := short && h.rom[i] < 0.8*share*usual && h.dur[i] < time/2 && h.v[i] > 1.2*usual/time
				out.at(int(i), at, h.rom[i], share*usual)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		if gap, ok := h.gap(h.Sets[h.setAt(int32(i))], int32(i)); ok {
			return fmt.Sprintf("begins %s after the lockout before it, sooner than a bar can be lowered: the bar's rebound", durationText(gap))
		}
		return fmt.Sprintf("travel %s in %s right after a rep, faster than this load is lifted: the bar's rebound",
			travelText(f.measured), durationText(h.dur[i]))
	},
}
