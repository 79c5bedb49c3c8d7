package judge

import (
	"cmp"
	"slices"

	"repsift/clean/beside"
	"repsift/clean/history"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// History is a history before the filters, and what they found.
type History struct {
	*beside.History

	found   []finding
	counted []bool // by position: taken by log count in this pass or one before
	settled bool   // what is learnt will not change any more
}

// Of returns a history before the filters.
func Of(h *history.History) *History { return &History{History: &beside.History{History: h}} }

// morePasses bounds how often limits are learnt again. Two or three suffice;
// the bound only ends a rep's wavering between two limits.
const morePasses = 8

// Judge puts the rows in order and lets the filters look at every rep. Limits are learnt from the reps
// that the defaults leave standing, and again from what then stands, until no
// rep changes sides; then what was declared decides with the same limits.
func (h *History) Judge(c *Filters) {
	if len(h.Rows) == 0 {
		return
	}
	var opt sets.Options
	if f := h.acting(c.list, rep.Duplicate); f != nil {
		opt = sets.Options{Copies: true, Slack: int64(60_000 * f.values(h.Lift)[0])}
	}
	h.Arrange(opt)
	h.counted = make([]bool, len(h.Rows))
	h.ReadRPE()
	missed := make([]bool, len(h.Missed))
	for range morePasses {
		copy(missed, h.Missed)
		h.Learn()
		h.look(c.core, false)
		if slices.Equal(h.Basic, h.Failed) && slices.Equal(missed, h.Missed) {
			break
		}
		copy(h.Basic, h.Failed)
	}
	h.settled = true
	if c.declared {
		h.look(c.list, false)
	}
}

// startCounted marks the reps that an earlier pass took on the log's word; but
// gives a set's back where the other filters now leave fewer than the log
// counts.
func (h *History) startCounted(acting bool) {
	for s := range h.Sets {
		set := &h.Sets[s]
		left, counted := int32(0), int32(0)
		for i := set.Lo; i < set.Hi; i++ {
			if h.counted[i] {
				counted++
			} else if h.Failed[i] == 0 {
				left++
			}
		}
		if counted == 0 {
			continue
		}
		reps, _ := set.Counted()
		keep := acting && reps.OK && left >= reps.V
		for i := set.Lo; i < set.Hi; i++ {
			if h.counted[i] = h.counted[i] && keep; h.counted[i] {
				h.Failed[i] = h.Failed[i].With(rep.LogCount)
			}
		}
	}
}

// look runs filters over the history, from reps as read, and notes what each
// rep failed.
func (h *History) look(filters []*Filter, every bool) {
	h.found = h.found[:0]
	clear(h.Failed)
	clear(h.Flags)
	h.Undo()
	copy(h.Missed, h.Marked)
	if f := h.running(filters, rep.SplitRep); f != nil {
		h.Rejoin(f.values(h.Lift)[0], f.values(h.Lift)[1])
		if f.flag {
			h.Apart()
		}
	}
	h.Recognise()
	if f := h.running(filters, rep.FusedRep); f != nil {
		h.Fuse(f.values(h.Lift)[0])
	}
	for at := range steps {
		switch at {
		case paired:
			h.startCounted(h.acting(filters, rep.LogCount) != nil)
			if f := h.acting(filters, rep.SecondDevice); f == nil || h.settled {
				h.KeepTwins(f != nil)
			} else {
				h.PairUnits(f.prefer)
			}
		case logged:
			h.JoinLogs()
		}
		for k, f := range filters {
			if f.look == nil || f.step != at {
				continue
			}
			mask, any := f.scope(h)
			if !any {
				continue
			}
			out := looks{mask: mask, filter: uint8(k), every: every, found: h.found}
			f.look(h, f.values(h.Lift), &out)
			h.note(f, out.found[len(h.found):])
			h.found = out.found
		}
	}
	slices.SortStableFunc(h.found, func(a, b finding) int {
		return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.filter, b.filter))
	})
}

// note enters what a filter found.
func (h *History) note(f *Filter, found []finding) {
	for _, x := range found {
		switch {
		case !x.failed:
		case f.flag:
			h.Flags[x.i] = h.Flags[x.i].With(f.Kind)
		default:
			h.Failed[x.i] = h.Failed[x.i].With(f.Kind)
		}
	}
}

// running returns the first filter of a kind that runs on the history's lift.
func (h *History) running(filters []*Filter, k rep.Kind) *Filter {
	for _, f := range filters {
		if f.Kind == k {
			if _, any := f.scope(h); any {
				return f
			}
		}
	}
	return nil
}

// acting is running for a filter that does more than flag.
func (h *History) acting(filters []*Filter, k rep.Kind) *Filter {
	if f := h.running(filters, k); f != nil && !f.flag {
		return f
	}
	return nil
}
