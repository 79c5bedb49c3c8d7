package judge

import (
	"cmp"
	"slices"

	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// Aside is a rep that was set aside, and why.
type Aside struct {
	Row      int32
	Filter   rep.Kind // the first in running order of those it failed
	Reason   string   // one sentence
	Measured rep.Null[float64]
	Limit    rep.Null[float64]
	Also     []rep.Kind // the others that would have set it aside

	By int // index of the filter in force
}

// InForce describes one filter that ran, for codebook and screen.
type InForce struct {
	Kind     rep.Kind
	Declared bool   // in the season file; else a default
	Line     int    // in the season file
	Where    string // "everywhere", "deadlift; bar deadlift; lifter Ines Duarte"
	Flag     bool   // marks, and sets nothing aside
	Limits   []Limit
	Sentence string // what it does, in plain words

	SetAside, Flagged int // reps
}

// Limit is one limit of a filter and where its value comes from.
type Limit struct {
	Name   string // as in the season file, with its unit: floor_m
	Lift   string // empty: every lift that has no value of its own
	Value  float64
	Source string // published source, "common practice, no source", or "season file"
}

// Asides returns the reps that were set aside, by date and place.
func (h *History) Asides(c *Filters) []Aside {
	list := h.ending[:0]
	for k, x := range h.Copies {
		list = append(list, ending{x.Row, int32(-1 - k)})
	}
	for k, x := range h.found {
		if !x.Failed || c.list[x.Filter].flag {
			continue
		}
		if row := h.Rows[x.I]; len(list) == 0 || list[len(list)-1].row != row {
			list = append(list, ending{row, int32(k)})
		}
	}
	h.ending = list
	slices.SortFunc(list, func(a, b ending) int {
		if h.InOrder {
			return cmp.Compare(a.row, b.row)
		}
		return cmp.Or(cmp.Compare(h.Table.Date.At(a.row), h.Table.Date.At(b.row)), sets.ComparePlaces(h.Table, h.Rank, a.row, b.row))
	})
	twice := slices.IndexFunc(c.list, func(f *Filter) bool { return f.Kind == rep.Duplicate && !f.flag })
	out := make([]Aside, len(list))
	for i, e := range list {
		if e.by >= 0 {
			out[i] = h.aside(c, int(e.by))
			continue
		}
		reason, measured, limit := h.SayCopy(h.Copies[-1-e.by])
		out[i] = Aside{Row: e.row, Filter: rep.Duplicate, Reason: reason, Measured: known(measured), Limit: known(limit), By: twice}
	}
	return out
}

// ending is a row that was set aside and what tells why: the number of the first
// finding against it or, below 0, of the copy that it is.
type ending struct{ row, by int32 }

// aside puts number k of what was found, and what else was found against the
// same rep, into a verdict.
func (h *History) aside(c *Filters, k int) Aside {
	x := h.found[k]
	by := c.list[x.Filter]
	out := Aside{Row: h.Rows[x.I], Filter: by.Kind, Reason: by.Say(h.History, int(x.I), x),
		Measured: known(x.Measured), Limit: known(x.Limit), By: int(x.Filter)}
	for _, other := range h.found[k+1:] {
		if other.I != x.I {
			break
		}
		f := c.list[other.Filter]
		if other.Failed && !f.flag && f.Kind != by.Kind && !slices.Contains(out.Also, f.Kind) {
			out.Also = append(out.Also, f.Kind)
		}
	}
	return out
}
