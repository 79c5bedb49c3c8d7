// Package sets puts the rows of one lifter's one lift in the order done: it
// splits each day into sets and tells the sets that stand in more than one
// export.
//
//  1. What ordering asks of rows is read once (columns.go). Rows of one day and
//     one sheet are ordered and cut into sets by set mark, else by load, rig,
//     rep number and time (split.go).
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
	at   rep.Instant // first time of a rep; rep.NoInstant: no rep has one

	sheet int32 // which of the sheets
}

// Copy is a rep that stands elsewhere too.
type Copy struct{ Row, Of int32 } // table rows: the copy, the rep that stands

// Order is what Arrange makes of rows.
type Order struct {
	Sets   []Set // by day, on a day in the order done
	Copies []Copy

	Alike   []Alike // sheets that have sets alike
	InOrder bool    // rows came in the order of days and places
	Placed  bool    // they came in the order of places
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

// Arranger puts the rows of one history after the other into sets, in the same
// memory. The zero value is ready.
type Arranger struct {
	columns
	t      *rep.Table
	rank   *Ranks
	rows   []int32 // positions in the columns, in the order done as far as is known
	copies []Copy
	tell   bool // copies are told
	runOn  bool // rep numbers of the sheet at hand run through the day

	inOrder bool // all rows stand by day and place, also in the table
	placed  bool // by place

	known map[Overlap]bool
	alike []Alike

	cells   []float64  // for the moment
	shared  [][2]int32 // of all pairs
	sheetOf []int32    // for the moment

	days      []sheet
	cuts, all []Set
}

// Arrange puts rows, all of one lifter and lift, into sets, which are valid
// until the next history is arranged. The result does not depend on the order
// of rows, except where the source says nothing of the order done but the order
// of its lines.
func (o *Arranger) Arrange(t *rep.Table, rank *Ranks, rows []int32, opt Options) Order {
	o.t, o.rank, o.tell, o.known = t, rank, opt.Copies, opt.Known
	o.copies, o.alike, o.cuts, o.shared = nil, nil, o.cuts[:0], o.shared[:0]
	o.read(t, rank, rows)
	o.rows = room(o.rows, len(rows))
	for i := range o.rows {
		o.rows[i] = int32(i)
	}
	sheets := o.sheets()
	out := o.flatten(sheets)
	if opt.Copies && len(sheets) > 1 {
		out = o.takeCopies(sheets, out, opt.Slack)
	}
	o.sortDays(sheets, out)
	for s := range out {
		for k, at := range out[s].Rows {
			out[s].Rows[k] = o.row[at]
		}
	}
	for i, c := range o.copies {
		o.copies[i] = Copy{o.row[c.Row], o.row[c.Of]}
	}
	return Order{Sets: out, Copies: o.copies, Alike: o.alike, InOrder: o.inOrder, Placed: o.placed}
}

// flatten numbers the sheets of sets and returns all sets.
func (o *Arranger) flatten(sheets []sheet) []Set {
	all := o.all[:0]
	for i := range sheets {
		for k := range sheets[i].sets {
			sheets[i].sets[k].sheet = int32(i)
			all = append(all, sheets[i].sets[k])
		}
	}
	o.all = all
	return all
}

// sortDays puts sets in the order done: by day; on a day by time where all have
// one; else by set mark where all have one and no two the same, as sheets that
// continue one another have; else sheet by sheet in the order of their names,
// those that are timed first, each in its own order (time, else set mark, else
// row).
func (o *Arranger) sortDays(sheets []sheet, sets []Set) {
	for lo := 0; lo < len(sets); {
		hi := lo + 1
		date := sheets[sets[lo].sheet].date
		timed := sheets[sets[lo].sheet].timed
		for hi < len(sets) && sheets[sets[hi].sheet].date == date {
			timed = timed && sheets[sets[hi].sheet].timed
			hi++
		}
		if day := sets[lo:hi]; !timed && o.oneNumbering(day) {
			slices.SortFunc(day, func(a, b Set) int { return cmp.Compare(o.markOf(a), o.markOf(b)) })
		} else {
			slices.SortStableFunc(day, func(a, b Set) int {
				sa, sb := &sheets[a.sheet], &sheets[b.sheet]
				switch {
				case sa.timed && sb.timed:
					return cmp.Compare(a.at, b.at)
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

func (o *Arranger) markOf(s Set) int32 { return o.mark[s.Rows[0]] }

// oneNumbering reports whether the sets of a day bear set marks that are all
// different.
func (o *Arranger) oneNumbering(day []Set) bool {
	seen := make(map[int32]bool, len(day))
	for _, s := range day {
		m := o.markOf(s)
		if m == rep.NoInt || seen[m] {
			return false
		}
		seen[m] = true
	}
	return true
}
