package clean

import (
	"cmp"
	"slices"
	"sort"

	"repsift/ingest/rep"
)

// morePasses bounds how often limits are learnt again. Two or three suffice;
// the bound only ends a rep's wavering between two limits.
const morePasses = 8

// judge lets the filters look at every rep. Limits are learnt from the reps
// that the defaults leave standing, and again from what then stands, until no
// rep changes sides; then what was declared decides with the same limits.
func (h *history) judge(c *compiled, notes []rep.SetNote) {
	h.readRPE()
	h.marked = slices.Clone(h.missed)
	missed := make([]bool, len(h.missed))
	for range morePasses {
		copy(missed, h.missed)
		h.learn()
		h.look(c.core, notes, false)
		if slices.Equal(h.basic, h.failed) && slices.Equal(missed, h.missed) {
			break
		}
		copy(h.basic, h.failed)
	}
	if c.declared {
		h.look(c.filters, notes, false)
	}
}

// look runs filters over the history, from reps as read, and notes what each
// rep failed.
func (h *history) look(filters []*filter, notes []rep.SetNote, every bool) {
	h.found, h.undecided = h.found[:0], h.undecided[:0]
	clear(h.failed)
	clear(h.flags)
	h.undo()
	copy(h.missed, h.marked)
	if f := h.running(filters, rep.SplitRep); f != nil {
		h.rejoin(f.values(h.lift))
		if f.flag {
			h.apart()
		}
	}
	h.recognise()
	if f := h.running(filters, rep.FusedRep); f != nil {
		h.fuse(f.values(h.lift))
	}
	for at := range steps {
		switch at {
		case paired:
			h.pairUnits(h.acting(filters, rep.SecondDevice))
		case logged:
			h.joinLogs(notes)
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
			f.look(h, f.values(h.lift), &out)
			h.note(f, out.found[len(h.found):])
			h.found = out.found
		}
	}
	slices.SortStableFunc(h.found, func(a, b finding) int {
		return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.filter, b.filter))
	})
}

// note enters what a filter found.
func (h *history) note(f *filter, found []finding) {
	for _, x := range found {
		switch {
		case !x.failed:
		case f.flag:
			h.flags[x.i] = h.flags[x.i].With(f.Kind)
		default:
			h.failed[x.i] = h.failed[x.i].With(f.Kind)
		}
	}
}

// running returns the first filter of a kind that runs on the history's lift.
func (h *history) running(filters []*filter, k rep.Kind) *filter {
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
func (h *history) acting(filters []*filter, k rep.Kind) *filter {
	if f := h.running(filters, k); f != nil && !f.flag {
		return f
	}
	return nil
}

// setAt returns the set that holds position i.
func (h *history) setAt(i int32) int {
	return sort.Search(len(h.sets), func(s int) bool { return h.sets[s].hi > i })
}

// asides returns the reps of the history that were set aside, with reasons.
func (h *history) asides(filters []*filter) []Aside {
	var out []Aside
	twins := slices.IndexFunc(filters, func(f *filter) bool { return f.Kind == rep.Duplicate && !f.flag })
	for _, c := range h.copies {
		reason, measured, limit := h.sayCopy(c)
		out = append(out, Aside{Row: c.row, Filter: rep.Duplicate, Reason: reason, Measured: number(measured), Limit: number(limit), filter: twins})
	}
	for _, f := range h.found {
		k := filters[f.filter]
		if !f.failed || k.flag {
			continue
		}
		row := h.rows[f.i]
		if n := len(out); n > 0 && out[n-1].Row == row {
			if also := &out[n-1].Also; out[n-1].Filter != k.Kind && !slices.Contains(*also, k.Kind) {
				*also = append(*also, k.Kind)
			}
			continue
		}
		out = append(out, Aside{Row: row, Filter: k.Kind, Reason: k.say(h, int(f.i), f),
			Measured: number(f.measured), Limit: number(f.limit), filter: int(f.filter)})
	}
	slices.SortFunc(out, func(a, b Aside) int {
		return cmp.Or(cmp.Compare(h.t.Date[a.Row], h.t.Date[b.Row]), comparePlaces(h.t, h.rank, a.Row, b.Row))
	})
	return out
}
