package kinds

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var rack = &Spec{
	Kind: rep.Rack,
	What: "Sets aside the first or last movements of a set that are no reps, unrack, walkout and re-rack: travel short of the usual, " +
		"and over in a shorter time than a rep at this load, or beside reps that all travel the same, or long after them.",
	Limits: []Limit{
		{Name: "travel_share", Value: 0.75, Source: unsourced, Most: 1},
		{Name: "time_share", Value: 0.6, Source: unsourced, Most: 1},
	},
	Look: func(h *History, l []float64, out *Looks) {
		travel, time := l[0], l[1]
		for s := range h.Sets {
			set := &h.Sets[s]
			usual, known := h.UsualTravel(s)
			if !known {
				if chances := h.strays(s); chances != nil {
					h.strayEnds(set.Span, chances, out)
				} else {
					h.crawls(s, out)
				}
				continue
			}
			if out.Skip(h.Ranges[s].Travel.Lo >= max(travel, lateTravel)*usual) {
				continue
			}
			racked := func(i int32) bool {
				if !out.In(i) || h.Missed[i] || h.Mark[i] != history.Whole || !(h.Travel[i] > 0) {
					return false
				}
				at := h.Travel[i] < travel*usual && (h.alone(s, i) || h.Time[i] < time*h.LeastTime(s, usual, i, i) || h.slump(s, i, usual)) ||
					h.Travel[i] < lateTravel*usual && i == set.Hi-1 && h.Late(set, i)
				out.At(i, at, h.Travel[i], travel*usual)
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
	Say: func(h *History, i int, f Finding) string {
		set := &h.Sets[h.SetAt(int32(i))]
		if math.IsNaN(h.Travel[i]) && f.Limit == sureStray {
			return strayText(f)
		}
		if math.IsNaN(h.Travel[i]) {
			return fmt.Sprintf("%s at the end of a set whose reps are all above %s: the bar taken out or put back",
				SpeedText(f.Measured), SpeedText(f.Limit))
		}
		if int32(i) == set.Hi-1 && h.Late(set, int32(i)) {
			return fmt.Sprintf("travel %s, long after the set's last rep: plates put on or off, or the tether touched", TravelText(f.Measured))
		}
		where := "at the end of the set: the bar put back"
		if int32(i)-set.Lo < set.Hi-1-int32(i) || int32(i) == set.Lo {
			where = "at the start of the set: the bar taken out"
		}
		return fmt.Sprintf("travel %s, under %s, in %s %s", TravelText(f.Measured), TravelText(f.Limit), DurationText(h.Time[i]), where)
	},
}

// strayEnds reports the first and last movements of a set that are strays.
func (h *History) strayEnds(set history.Span, chances []float64, out *Looks) {
	stray := func(i int32) bool {
		if !out.In(i) || h.Missed[i] {
			return false
		}
		at := chances[i-set.Lo] >= sureStray
		out.At(i, at, chances[i-set.Lo], sureStray)
		return at
	}
	lo, hi := set.Lo, set.Hi
	for lo < hi && stray(lo) {
		lo++
	}
	for lo < hi-1 && !h.gaveOut(set, hi-1) && stray(hi-1) {
		hi--
	}
}

// gaveOut reports whether the rep at i may be an attempt that failed: slower
// than all before it, near the lifter's limit.
func (h *History) gaveOut(set history.Span, i int32) bool {
	slowest := inf
	for k := set.Lo; k < i; k++ {
		if h.Standing(k) {
			slowest = min(slowest, h.Speed[k])
		}
	}
	return h.Speed[i] < slowest && h.Heavy(h.Load[i], slowest)
}

// alone reports whether the rep at i is short beside the other reps of set s,
// which all travel the same: two or more, within 12 % of each other, each at
// least a third longer.
func (h *History) alone(s int, i int32) bool {
	lo, hi, n := inf, 0.0, 0
	for k := h.Sets[s].Lo; k < h.Sets[s].Hi; k++ {
		if k != i && h.Standing(k) && !h.Missed[k] && h.Travel[k] > 1.33*h.Travel[i] {
			lo, hi = min(lo, h.Travel[k]), max(hi, h.Travel[k])
			n++
		}
	}
	return n >= 2 && hi <= 1.12*lo
}

// lateTravel is the share of the usual travel below which a last movement long
// after the others is no rep: plates that go on, somebody at the tether.
const lateTravel = 0.9

// slump reports whether the rep at i, an end of set s, is so slow beside the
// rep next to it, which is whole and far from the lifter's limit, that it is
// none.
func (h *History) slump(s int, i int32, usual float64) bool {
	beside := i + 1
	if i != h.Sets[s].Lo && (beside >= h.Sets[s].Hi || i > h.Sets[s].Lo && h.Travel[beside] < h.Travel[i]) {
		beside = i - 1
	}
	return beside >= h.Sets[s].Lo && beside < h.Sets[s].Hi && h.Travel[beside] > h.Travel[i] &&
		h.Speed[beside] >= h.VelocityAt1RM()+history.EasyMargin && h.Speed[i] < crawlShare*h.Speed[beside]
}

// crawlShare is the share of the speed of the two reps beside it below which a
// movement at the end of a set is no rep: where those two are far from the
// limit, no rep is so slow (common practice, no source). It is all that tells
// where there is no travel.
const crawlShare = 0.4

// crawls reports the first and last movements of a set without travel that are
// no reps by their speed.
func (h *History) crawls(s int, out *Looks) {
	set := &h.Sets[s]
	far := h.VelocityAt1RM() + history.EasyMargin
	crawl := func(i, a, b int32) bool { // beside the reps at a and b
		if h.Missed[i] || !out.In(i) {
			return false
		}
		slowest := min(h.Speed[a], h.Speed[b])
		at := slowest >= far && h.Speed[i] < crawlShare*slowest
		out.At(i, at, h.Speed[i], slowest)
		return at
	}
	lo, hi := set.Lo, set.Hi
	effort := set.Effort()
	for hi-lo > 2 && !(effort.OK && effort.V >= history.MissRPE) && !h.gaveOut(set.Span, hi-1) && crawl(hi-1, hi-2, hi-3) {
		hi--
	}
	for hi-lo > 2 {
		// Unrack and walkout are two: where the second is a crawl, so is the first.
		if hi-lo > 3 && h.Speed[lo] < far && crawl(lo+1, lo+2, lo+3) {
			crawl(lo, lo+2, lo+3)
			lo += 2
			continue
		}
		if !crawl(lo, lo+1, lo+2) {
			break
		}
		lo++
	}
}
