package judge

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean/history"
	"repsift/clean/kinds"
	"repsift/ingest/rep"
)

// Look is what one filter saw when it looked at a rep.
type Look struct {
	Filter   rep.Kind
	Declared bool // in the season file
	Failed   bool
	Flag     bool // the filter only marks
	Measured rep.Null[float64]
	Limit    rep.Null[float64]
	Text     string // one sentence
}

// Story is what happened to one row, as far as judging goes.
type Story struct {
	Copy   string // of a copy: why it is one; else empty
	Of     int32  // the row that stands for the copy
	Looks  []Look // every filter that looked at the rep, in running order
	Failed rep.Kinds
	Notes  []string // what else was found: a miss recognised, halves put together
	Set    int      // number of its set within the history; -1 for a copy
}

// Tell judges the history anew, which must be fresh, and returns the story of
// one of its rows.
func (h *History) Tell(c *Filters, row int32) (Story, error) {
	h.Judge(c)
	for _, x := range h.Copies {
		if x.Row == row {
			reason, _, _ := h.SayCopy(x)
			return Story{Copy: reason, Of: x.Of, Set: -1, Failed: rep.Kinds(0).With(rep.Duplicate)}, nil
		}
	}
	at := slices.Index(h.Rows, row)
	if at < 0 {
		return Story{}, fmt.Errorf("row %d is none of %s, %s", row, h.Lifter, h.Lift)
	}
	h.look(c.list, true)
	slices.SortStableFunc(h.found, func(a, b kinds.Finding) int { return cmp.Compare(a.Filter, b.Filter) }) // running order
	s := Story{Set: h.SetAt(int32(at)), Failed: h.Failed[at]}
	for _, x := range h.found {
		if x.I != int32(at) {
			continue
		}
		f := c.list[x.Filter]
		l := Look{Filter: f.Kind, Declared: f.declared, Failed: x.Failed, Flag: f.flag,
			Measured: known(x.Measured), Limit: known(x.Limit)}
		switch {
		case x.Failed:
			l.Text = f.Say(h.History, at, x)
		case f.Unit != nil && !math.IsNaN(x.Measured) && !math.IsNaN(x.Limit):
			l.Text = fmt.Sprintf("measured %s, held against %s: passes", f.Unit(x.Measured), f.Unit(x.Limit))
		default:
			l.Text = "passes"
		}
		s.Looks = append(s.Looks, l)
	}
	if h.Missed[at] {
		if h.Marked[at] {
			s.Notes = append(s.Notes, "marked as a missed rep: no part of speeds, losses or profiles")
		} else {
			s.Notes = append(s.Notes, "recognised as a missed rep: the last of a heavy set, slow, and short of lockout")
		}
	}
	for _, j := range h.Rejoined {
		if j.First == int32(at) && h.Mark[at] == history.FirstHalf {
			s.Notes = append(s.Notes, fmt.Sprintf("put together from %s here and %s in the next row: one rep counted as two",
				kinds.TravelText(j.Travel[0]), kinds.TravelText(j.Travel[1])))
		}
	}
	return s, nil
}
