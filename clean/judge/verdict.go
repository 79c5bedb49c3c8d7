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
	list := h.endings[:0]
	for k, x := range h.Copies {
		list = append(list, ending{row: x.Row, at: int32(k), copied: true})
	}
	for k, x := range h.found {
		if x.Failed && !c.list[x.Filter].flag {
			list = append(list, ending{row: h.Rows[x.I], at: int32(k), by: x.Filter})
		}
	}
	h.endings = list
	for i := 0; i < len(list) && !h.InOrder; i++ {
		list[i].date = h.Table.Date.At(list[i].row)
		if !h.Placed {
			list[i].place = sets.PlaceOf(h.Table, h.Rank, list[i].row)
		}
	}
	slices.SortFunc(list, func(a, b ending) int {
		if a.row == b.row {
			return cmp.Compare(a.by, b.by)
		}
		if a.date != b.date {
			return cmp.Compare(a.date, b.date)
		}
		if c := a.place.Compare(b.place); c != 0 {
			return c
		}
		return cmp.Compare(a.row, b.row)
	})
	rows := 0
	for i := range list {
		if i == 0 || list[i].row != list[i-1].row {
			rows++
		}
	}
	twice := slices.IndexFunc(c.list, func(f *Filter) bool { return f.Kind == rep.Duplicate && !f.flag })
	out := make([]Aside, 0, rows)
	for i, e := range list {
		switch {
		case e.copied:
			reason, measured, limit := h.SayCopy(h.Copies[e.at])
			out = append(out, Aside{Row: e.row, Filter: rep.Duplicate, Reason: reason, Measured: known(measured), Limit: known(limit), By: twice})
		case i == 0 || list[i-1].row != e.row:
			x, f := h.found[e.at], c.list[e.by]
			out = append(out, Aside{Row: e.row, Filter: f.Kind, Reason: f.Say(h.History, int(x.I), x),
				Measured: known(x.Measured), Limit: known(x.Limit), By: int(e.by)})
		default:
			a, k := &out[len(out)-1], c.list[e.by].Kind
			if k != a.Filter && !slices.Contains(a.Also, k) {
				a.Also = append(a.Also, k)
			}
		}
	}
	return out
}

// ending is a row that was set aside and what tells why: the number of the copy
// that it is, or of what filter by found. Date and place order them where their
// rows do not.
type ending struct {
	row, at int32
	by      uint8
	copied  bool
	date    rep.Day
	place   sets.Place
}
