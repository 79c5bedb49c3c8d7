package kinds

import (
	"fmt"
	"math"

	"repsift/clean/extra"
	"repsift/clean/history"
	"repsift/ingest/rep"
)

var rebound = &Spec{
	Kind: rep.Rebound,
	What: "Sets aside the bounce of a bending bar: it starts right after a lockout and is short; or, where times are not fine enough " +
		"to tell, it is short, over at once and too fast for the load; or, where there are only speeds and times of reps, these fit no rep there.",
	Limits: []Limit{
		{Name: "gap_s", Value: 0.5, Source: "no bar is lowered and turned in less: " + unsourced, Most: 10},
		{Name: "travel_m", Value: 0.2, Source: unsourced, Most: 1.5},
		{Name: "travel_share", Value: 0.75, Source: unsourced, Most: 1},
	},
	Look: func(h *History, l []float64, out *Looks) {
		least, most, share := l[0], l[1], l[2]
		for s := range h.Sets {
			set := &h.Sets[s]
			usual, known := h.UsualTravel(s)
			limit := min(share*usual, most)
			if out.Skip(h.Ranges[s].Travel.Lo >= limit) {
				continue
			}
			chances := h.strays(s)
			for i := set.Lo + 1; i < set.Hi; i++ {
				if chances != nil {
					if i < set.Hi-1 && out.In(i) && !h.Missed[i] {
						out.At(i, chances[i-set.Lo] >= sureStray, chances[i-set.Lo], sureStray)
					}
					continue
				}
				if !out.In(i) || h.Missed[i] || h.Mark[i] != history.Whole {
					continue
				}
				short := known && h.Travel[i] < limit
				if gap, ok := h.Gap(set, i); ok {
					// Without travel only the impossible counts.
					at := gap < least && short || math.IsNaN(h.Travel[i]) && gap < least/2
					out.At(i, at, gap, least)
					continue
				}
				if !known || math.IsNaN(h.Travel[i]) {
					continue
				}
				at := short && h.Travel[i] < 0.8*share*usual
				if at {
					time := h.UsualTime(s, usual, i, i)
					at = h.Time[i] < time/2 && h.Speed[i] > 1.2*usual/time
				}
				out.At(i, at, h.Travel[i], share*usual)
			}
		}
	},
	Say: func(h *History, i int, f Finding) string {
		if math.IsNaN(h.Travel[i]) && f.Limit == sureStray {
			return strayText(f)
		}
		if gap, ok := h.Gap(&h.Sets[h.SetAt(int32(i))], int32(i)); ok {
			return fmt.Sprintf("begins %s after the lockout before it, sooner than a bar can be lowered: the bar's rebound", DurationText(gap))
		}
		return fmt.Sprintf("travel %s in %s right after a rep, faster than this load is lifted: the bar's rebound",
			TravelText(f.Measured), DurationText(h.Time[i]))
	},
}

// strayText says why a movement is a stray, at any place of a set.
func strayText(f Finding) string {
	return fmt.Sprintf("its speed and its time fit none of the reps around it: no rep of its own, with a chance of %.1f %%", math.Floor(1000*f.Measured)/10)
}

// sureStray is the chance to be no rep from which a movement is set aside where
// only speeds and times are known.
const sureStray = 0.95

// strays returns the chance of each movement of set s to be no rep, where the
// source gives times of reps but neither travel nor duration; else nil.
func (h *History) strays(s int) []float64 {
	set := &h.Sets[s]
	if !set.Fine || set.Hi-set.Lo < 3 {
		return nil
	}
	if chances := h.chances[s]; chances != nil {
		return chances // two filters ask
	}
	all := make([]int32, 0, set.Hi-set.Lo)
	for i := set.Lo; i < set.Hi; i++ {
		if !math.IsNaN(h.Travel[i]) || !math.IsNaN(h.Time[i]) {
			return nil
		}
		all = append(all, i)
	}
	if h.chances == nil {
		h.chances = make(map[int][]float64)
	}
	of, moves := h.describe(s, all)
	h.chances[s] = extra.Alone(of, moves)
	return h.chances[s]
}
