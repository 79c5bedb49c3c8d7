package judge

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/clean/robust"
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
			usual, known := h.UsualTravel(s)
			for i := set.Lo + 1; i < set.Hi; i++ {
				if !out.in(int(i)) || h.Missed[i] || h.Mark[i] != history.Whole {
					continue
				}
				short := known && h.Travel[i] < min(share*usual, most)
				if share, ok := h.hurried(set, i); ok {
					out.at(int(i), true, share, least)
					continue
				}
				if gap, ok := h.Gap(set, i); ok {
					// Without travel only the impossible counts.
					at := gap < least && short || math.IsNaN(h.Travel[i]) && gap < least/2
					out.at(int(i), at, gap, least)
					continue
				}
				if !known || math.IsNaN(h.Travel[i]) {
					continue
				}
				time := h.UsualTime(s, usual, i, i)
				at := short && h.Travel[i] < 0.8*share*usual && h.Time[i] < time/2 && h.Speed[i] > 1.2*usual/time
				out.at(int(i), at, h.Travel[i], share*usual)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		if start, ok := h.hurried(h.Sets[h.SetAt(int32(i))], int32(i)); ok {
			return fmt.Sprintf("begins %s after the start of the movement before it, where reps of this set take more than twice as long: no rep of its own",
				durationText(start))
		}
		if gap, ok := h.Gap(h.Sets[h.SetAt(int32(i))], int32(i)); ok {
			return fmt.Sprintf("begins %s after the lockout before it, sooner than a bar can be lowered: the bar's rebound", durationText(gap))
		}
		return fmt.Sprintf("travel %s in %s right after a rep, faster than this load is lifted: the bar's rebound",
			travelText(f.measured), durationText(h.Time[i]))
	},
}

// hurried reports whether, where neither travel nor duration is known, the rep
// at i begins sooner after the start of the one before than any rep can be
// done: within 1.2 s, and in less than 0.45 of the time that the other reps of
// the set take from start to start (common practice, no source). It returns
// that time.
func (h *History) hurried(set history.Set, i int32) (s float64, ok bool) {
	if !set.Fine || !math.IsNaN(h.Travel[i]) || !math.IsNaN(h.Time[i]) {
		return 0, false
	}
	var others []float64
	for k := set.Lo + 1; k < set.Hi; k++ {
		if k != i {
			others = append(others, float64(h.At[k]-h.At[k-1])/1000)
		}
	}
	s = float64(h.At[i]-h.At[i-1]) / 1000
	usual, known := robust.MedianInPlace(others)
	return s, known && len(others) >= 2 && s < 1.2 && s < 0.45*usual
}
