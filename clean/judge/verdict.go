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
	var out []Aside
	twice := slices.IndexFunc(c.list, func(f *Filter) bool { return f.Kind == rep.Duplicate && !f.flag })
	for _, x := range h.Copies {
		reason, measured, limit := h.SayCopy(x)
		out = append(out, Aside{Row: x.Row, Filter: rep.Duplicate, Reason: reason, Measured: known(measured), Limit: known(limit), By: twice})
	}
	for _, x := range h.found {
		f := c.list[x.Filter]
		if !x.Failed || f.flag {
			continue
		}
		row := h.Rows[x.I]
		if n := len(out); n > 0 && out[n-1].Row == row {
			if also := &out[n-1].Also; out[n-1].Filter != f.Kind && !slices.Contains(*also, f.Kind) {
				*also = append(*also, f.Kind)
			}
			continue
		}
		out = append(out, Aside{Row: row, Filter: f.Kind, Reason: f.Say(h.History, int(x.I), x),
			Measured: known(x.Measured), Limit: known(x.Limit), By: int(x.Filter)})
	}
	slices.SortFunc(out, func(a, b Aside) int {
		return cmp.Or(cmp.Compare(h.Table.Date.At(a.Row), h.Table.Date.At(b.Row)), sets.ComparePlaces(h.Table, h.Rank, a.Row, b.Row))
	})
	return out
}
