package judge

import (
	"fmt"

	"repsift/ingest/rep"
)

var rack = &kind{
	Kind: rep.Rack,
	what: "Sets aside the first or last movements of a set that are no reps, unrack, walkout and re-rack: travel short of the usual, " +
		"and over in a shorter time than a rep at this load, or beside reps that all travel the same.",
	limits: []limit{
		{name: "travel_share", value: 0.75, source: unsourced, most: 1},
		{name: "time_share", value: 0.6, source: unsourced, most: 1},
	},
	look: func(h *History, l []float64, out *looks) {
		travel, time := l[0], l[1]
		for s, set := range h.Sets {
			usual, known := h.usualTravelOf(s)
			if !known || h.ownTravel(s, usual) {
				continue
			}
			racked := func(i int32) bool {
				if !out.in(int(i)) || h.Missed[i] || h.mark[i] != whole || !(h.rom[i] > 0) {
					return false
				}
				at := h.rom[i] < travel*usual && (h.alone(s, i) || h.dur[i] < time*h.leastTime(s, usual, i, i))
				out.at(int(i), at, h.rom[i], travel*usual)
				return at
			}
			lo, hi := set.Lo, set.Hi
			for lo < hi && racked(lo) {
				lo++
			}
			for lo < hi && racked(hi-1) {
				hi--
			}
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		set := h.Sets[h.setAt(int32(i))]
		where := "at the end of the set: the bar put back"
		if int32(i)-set.Lo < set.Hi-1-int32(i) || int32(i) == set.Lo {
			where = "at the start of the set: the bar taken out"
		}
		return fmt.Sprintf("travel %s, under %s, in %s %s", travelText(f.measured), travelText(f.limit), durationText(h.dur[i]), where)
	},
}

// alone reports whether the rep at i is short beside the other reps of set s,
// which all travel the same: two or more, within 12 % of each other, each at
// least a third longer.
func (h *History) alone(s int, i int32) bool {
	lo, hi, n := inf, 0.0, 0
	for k := h.Sets[s].Lo; k < h.Sets[s].Hi; k++ {
		if k != i && h.standing(k) && !h.Missed[k] && h.rom[k] > 1.33*h.rom[i] {
			lo, hi = min(lo, h.rom[k]), max(hi, h.rom[k])
			n++
		}
	}
	return n >= 2 && hi <= 1.12*lo
}
