// Package sets puts the rows of one lifter's one lift in the order done: it
// splits each day into sets and tells the sets that stand in more than one
// export.
//
//  1. Rows of one day and one sheet are ordered and cut into sets by set mark,
//     else by load, rig, rep number and time (split.go).
//  2. Sets of different sheets that agree are copies (copies.go); one copy of
//     each rep stands (twice.go).
//  3. The sets of a day are put in order: by time, else by place (here).
//
// It looks at what was read only, never at whether a rep is plausible.
package sets

import (
	"cmp"
	"slices"

	"repsift/ingest/rep"
)

// Set is one set as recorded.
type Set struct {
	Rows []int32 // table rows in the order done
	Date rep.Day
	at   rep.Null[rep.Instant]

	sheet int32 // which of the sheets
}

// Copy is a rep that stands elsewhere too.
type Copy struct{ Row, Of int32 } // table rows: the copy, the rep that stands

// Order is what Arrange makes of rows.
type Order struct {
	Sets   []Set // by day, on a day in the order done
	Copies []Copy

	Alike []Alike // sheets that have sets alike
}

// Overlap is two sheets, each a source and a sheet, in the order of their
// sources' names.
type Overlap struct{ A, B [2]rep.Sym }

// Options say whether copies are told, and how far apart the clocks of two
// copies may be once a shift by whole quarters of an hour is taken off, in ms.
type Options struct {
	Copies bool
	Slack  int64
	Known  map[Overlap]bool // sheets known to hold the same sets, from other lifts
}

// Arrange puts rows, all of one lifter and lift, into sets. It reorders rows.
// The result does not depend on their order, except where the source says
// nothing of the order done but the order of its lines.
func Arrange(t *rep.Table, rank *Ranks, rows []int32, opt Options) Order {
	o := &arranger{t: t, rank: rank, rows: rows, tell: opt.Copies, known: opt.Known}
	sheets := o.sheets()
	var out []Set
	if opt.Copies {
		out = o.takeCopies(sheets, opt.Slack)
	} else {
		out = flatten(sheets)
	}
	o.sortDays(sheets, out)
	return Order{Sets: out, Copies: o.copies, Alike: o.alike}
}

// arranger holds what the steps share.
type arranger struct {
	t      *rep.Table
	rank   *Ranks
	rows   []int32
	copies []Copy
	tell   bool // copies are told
	runOn  bool // rep numbers of the sheet at hand run through the day

	known map[Overlap]bool
	alike []Alike
}

// flatten numbers the sheets of sets and returns all sets.
func flatten(sheets []sheet) []Set {
	n := 0
	for i := range sheets {
		n += len(sheets[i].sets)
	}
	all := make([]Set, 0, n)
	for i := range sheets {
		for k := range sheets[i].sets {
			sheets[i].sets[k].sheet = int32(i)
			all = append(all, sheets[i].sets[k])
		}
	}
	return all
}

// sortDays puts sets in the order done: by day; on a day by time where all have
// one; else by set mark where all have one and no two the same, as sheets that
// continue one another have; else sheet by sheet in the order of their names,
// those that are timed first, each in its own order (time, else set mark, else
// row).
func (o *arranger) sortDays(sheets []sheet, sets []Set) {
	for lo := 0; lo < len(sets); {
		hi := lo + 1
		date := sheets[sets[lo].sheet].date
		timed := sheets[sets[lo].sheet].timed
		for hi < len(sets) && sheets[sets[hi].sheet].date == date {
			timed = timed && sheets[sets[hi].sheet].timed
			hi++
		}
		if day := sets[lo:hi]; !timed && o.oneNumbering(day) {
			slices.SortFunc(day, func(a, b Set) int { return cmp.Compare(o.mark(a).V, o.mark(b).V) })
		} else {
			slices.SortStableFunc(day, func(a, b Set) int {
				sa, sb := &sheets[a.sheet], &sheets[b.sheet]
				switch {
				case sa.timed && sb.timed:
					return cmp.Compare(a.at.V, b.at.V)
				case sa.timed:
					return -1
				case sb.timed:
					return 1
				}
				return cmp.Compare(a.sheet, b.sheet)
			})
		}
		lo = hi
	}
}

func (o *arranger) mark(s Set) rep.Null[int32] { return o.t.SetMark.At(s.Rows[0]) }

// oneNumbering reports whether the sets of a day bear set marks that are all
// different.
func (o *arranger) oneNumbering(day []Set) bool {
	seen := make(map[int32]bool, len(day))
	for _, s := range day {
		m := o.mark(s)
		if !m.OK || seen[m.V] {
			return false
		}
		seen[m.V] = true
	}
	return true
}
