package history

import (
	"cmp"
	"slices"

	"repsift/clean/join"
	"repsift/ingest/rep"
)

// Said is one logged set: a note, or one of the equal sets a note stands for.
type Said struct {
	Note      *rep.SetNote
	RPE, High rep.Null[float64]
	Joined    bool // to a set

	of int32 // 1, 2, … of the note's sets
}

// LogDay is what the log says of one lifter's one lift on one day, in order.
type LogDay struct {
	Date rep.Day
	Said []Said
}

// Expand returns the sets that notes stand for, day by day, in the order
// logged: by time where all of a day have one, else by set number where all
// have one and it rises, else by place. One RPE for several equal sets belongs
// to the last, and so do failed reps: common practice, no source.
func Expand(notes []rep.SetNote, which []int32) []LogDay {
	slices.SortStableFunc(which, func(a, b int32) int {
		m, n := &notes[a], &notes[b]
		c := cmp.Or(cmp.Compare(m.Date, n.Date), cmp.Compare(m.Source, n.Source), cmp.Compare(m.Sheet, n.Sheet))
		return cmp.Or(c, cmp.Compare(m.Row, n.Row), cmp.Compare(m.Part, n.Part), cmp.Compare(a, b))
	})
	var days []LogDay
	for lo := 0; lo < len(which); {
		hi := lo
		timed := true
		for hi < len(which) && notes[which[hi]].Date == notes[which[lo]].Date {
			timed = timed && notes[which[hi]].PerformedAt.OK
			hi++
		}
		day := which[lo:hi]
		if timed {
			slices.SortStableFunc(day, func(a, b int32) int {
				return cmp.Compare(notes[a].PerformedAt.V, notes[b].PerformedAt.V)
			})
		}
		d := LogDay{Date: notes[which[lo]].Date}
		for _, k := range day {
			n := &notes[k]
			for of := int32(1); of <= max(1, n.Sets); of++ {
				s := Said{Note: n, of: of}
				if s.last() {
					s.RPE, s.High = n.RPE, n.RPEHigh
				}
				d.Said = append(d.Said, s)
			}
		}
		days = append(days, d)
		lo = hi
	}
	return days
}

// Counted returns how many reps the hand log counts in the set, and whether it
// is known which logged set it is.
func (s *Set) Counted() (reps rep.Null[int32], sure bool) {
	if s.Log == nil && s.Either > 0 {
		return rep.Some(s.Either), false
	}
	if s.Log == nil {
		return reps, false
	}
	return s.Log.Reps, true
}

// LoggedSet describes a logged set to the alignment. Of several equal sets,
// speeds are taken for those of the last.
func LoggedSet(s *Said) join.Set {
	n := s.Note
	l := join.Set{Load: n.LoadKg, LoadStep: n.LoadStep, Reps: n.Reps, At: n.PerformedAt, RPE: s.RPE}
	if s.last() {
		l.First, l.Fastest, l.Last, l.Slowest, l.Mean = n.First, n.Fastest, n.Last, n.Slowest, n.Mean
	}
	return l
}

// last reports whether s is the last of the equal sets its note stands for.
func (s *Said) last() bool { return s.of == max(1, s.Note.Sets) }

// Account is what the note says of this one set.
func (s *Said) Account() rep.Logged {
	n := s.Note
	l := rep.Logged{LoadKg: n.LoadKg, Reps: n.Reps, RPE: s.RPE, RPEHigh: s.High, Text: n.Text,
		Source: n.Source, Sheet: n.Sheet, Row: n.Row, Part: n.Part}
	if s.last() {
		l.First, l.Fastest, l.Last, l.Slowest, l.Mean = n.First, n.Fastest, n.Last, n.Slowest, n.Mean
	}
	return l
}

// ReadRPE finds the RPE that the export gives each set: on any of its rows,
// false ones and copies too; the last where they differ.
func (h *History) ReadRPE() {
	copies := make(map[int32]rep.Null[float64])
	for _, c := range h.Copies {
		if v := h.Table.RPE.At(c.Row); v.OK {
			copies[c.Of] = v
		}
	}
	said := h.samples(len(h.Rows))[:len(h.Rows)]
	h.Table.RPE.Gather(said, h.Rows)
	for s := range h.Sets {
		set := &h.Sets[s]
		for i := set.Lo; i < set.Hi; i++ {
			if v := said[i]; v == v {
				set.RPE, set.RPEFrom = rep.Some(v), h.Table.RPEFrom(h.Rows[i])
			} else if len(copies) > 0 && !set.RPE.OK && copies[h.Rows[i]].OK {
				set.RPE, set.RPEFrom = copies[h.Rows[i]], rep.RPEExport
			}
		}
	}
}
