// Package judge lets the filters look at the reps of a history.
//
//  1. What the season file declares and the defaults of package kinds are compiled
//     into filters, in running order (compile.go, filter.go).
//  2. Filters run, what is usual is learnt from what they leave, and they run
//     again, until no rep changes sides (here).
//  3. What they found becomes verdicts with a reason, corrections of the table,
//     what the coach should look at, and the story of one row (verdict.go,
//     correct.go, doubts.go, story.go).
package judge

import (
	"slices"

	"repsift/clean/beside"
	"repsift/clean/history"
	"repsift/clean/kinds"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// History is a history before the filters, and what they found.
type History struct {
	*kinds.History

	found   []kinds.Finding
	missed  []bool // as the pass before has it
	endings []ending
	settled bool // what is learnt will not change any more
}

// Of returns a history before the filters.
func Of(h *history.History) *History {
	return &History{History: &kinds.History{History: &beside.History{History: h}}}
}

// Reuse makes the history, before it is judged, work in the memory of one that
// nobody will look at again.
func (h *History) Reuse(done *History) {
	h.History.History.Reuse(done.History.History)
	h.Counted, h.found, h.missed, h.endings = done.Counted[:0], done.found[:0], done.missed[:0], done.endings[:0]
}

// morePasses bounds how often limits are learnt again. Two or three suffice;
// the bound only ends a rep's wavering between two limits.
const morePasses = 8

// Judge puts the rows in order and lets the filters look at every rep. Limits
// are learnt from the reps that the defaults leave standing, and again from what
// then stands, until no rep changes sides; then what was declared decides with
// the same limits.
func (h *History) Judge(c *Filters) {
	if len(h.Rows) == 0 {
		return
	}
	var opt sets.Options
	if f := h.acting(c.list, rep.Duplicate); f != nil {
		opt = sets.Options{Copies: true, Slack: int64(60_000 * f.values(h.Lift)[0])}
	}
	h.Arrange(opt)
	h.Counted = append(h.Counted[:0], make([]bool, len(h.Rows))...)
	h.ReadRPE()
	for range morePasses {
		h.missed = append(h.missed[:0], h.Missed...)
		h.Learn()
		h.look(c.core, false)
		if slices.Equal(h.Basic, h.Failed) && slices.Equal(h.missed, h.Missed) {
			break
		}
		copy(h.Basic, h.Failed)
	}
	h.settled = true
	if c.declared {
		h.look(c.list, false)
	}
}

// look runs filters over the history, from reps as read, and notes what each
// rep failed.
func (h *History) look(filters []*Filter, every bool) {
	h.Begin()
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
	for at := range kinds.Steps {
		switch at {
		case kinds.Paired:
			h.StartCounted(h.acting(filters, rep.LogCount) != nil)
			if f := h.acting(filters, rep.SecondDevice); f == nil || h.settled {
				h.KeepTwins(f != nil)
			} else {
				h.PairUnits(f.prefer)
			}
		case kinds.Logged:
			h.JoinLogs()
		}
		for k, f := range filters {
			if f.Look == nil || f.Step != at {
				continue
			}
			mask, any := f.scope(h)
			if !any {
				continue
			}
			out := kinds.Looks{Mask: mask, Filter: uint8(k), Every: every, Found: h.found}
			f.Look(h.History, f.values(h.Lift), &out)
			h.note(f, out.Found[len(h.found):])
			h.found = out.Found
		}
	}
}

// note enters what a filter found.
func (h *History) note(f *Filter, found []kinds.Finding) {
	for _, x := range found {
		switch {
		case !x.Failed:
		case f.flag:
			h.Flags[x.I] = h.Flags[x.I].With(f.Kind)
		default:
			h.Failed[x.I] = h.Failed[x.I].With(f.Kind)
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
