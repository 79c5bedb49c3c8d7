// Package shape turns rows of cells into reps and logged sets.
//
// What one line of a table is, a rep, a set with a column for each rep, a set
// with its speeds in one cell, a set as a hand log has it, a moment of a trace,
// is a [Shape]; list.go is the table of them. [Of] recognises one from the
// columns of a table. A [Plan] says for one table which cell is which field, in
// which unit, and what its surroundings give; a [Decoder] reads rows by it into
// a [Sink]. The plan holds no state, so blocks of a large text are decoded side
// by side.
//
// Every row comes to one [Outcome]: it gave reps, it gave notes of sets, it was
// lost, with a line that says why, or it is no data. A cell that cannot be read
// is a null and a line of its own; the row stays, unless the cell is one that a
// rep cannot be filed without: lifter, date, lift, load, speed.
//
// To add a shape: write its file, with what fits it and what finishes a row,
// and add it to list.go.
//
// The package does not find tables, name columns or settle units: package
// source does, and compiles the plans.
package shape

import (
	"repsift/ingest/shape/column"
)

// Shape is one way in which a table holds reps: what one line of it is.
type Shape struct {
	Name string // as the season file's shape key has it

	// fits returns how well the columns of a table make this shape, 0 for not
	// at all, and why.
	fits func(t *Table) (score float64, why string)

	// finish files a row whose cells have been read.
	finish func(d *Decoder) Outcome

	// end, where there is one, is called behind the last row of a table: for
	// shapes whose reps are not made of single rows.
	end func(d *Decoder)
}

// shapes is the table of shapes. Blocks, and a sheet per lifter, lift or day,
// are no shapes of their own here: they are where fields come from ([Carried]),
// and hold rows of one of these.
var shapes = []*Shape{&repRows, &repsAcross, &repsInCell, &setRows, &samples}

// Table is what a shape is recognised by.
type Table struct {
	Columns []*column.Column
	Rows    int // looked at

	// Of samples without a column of plain times: Stamped says that dates or
	// times of day tell when each was, Paced that a rate does.
	Stamped, Paced bool
}

// Column returns the column that holds a field, nil for none.
func (t *Table) Column(f column.Field) *column.Column {
	for _, c := range t.Columns {
		if c.Field == f {
			return c
		}
	}
	return nil
}

// Has reports whether a column holds a field.
func (t *Table) Has(f column.Field) bool { return t.Column(f) != nil }

// Of returns the shape of a table, and why; nil for none. A declared name
// overrules what is recognised.
func Of(t *Table, declared string) (*Shape, string) {
	var best *Shape
	why, most := "", 0.0
	for _, s := range shapes {
		if s.Name == declared {
			return s, "declared in the season file"
		}
		if score, reason := s.fits(t); score > most {
			best, why, most = s, reason, score
		}
	}
	return best, why
}

// OfSets reports whether a line of the shape is a set: one whose lines are
// filled in downwards by hand.
func (s *Shape) OfSets() bool { return s == &setRows || s == &repsInCell || s == &repsAcross }

// ByHand reports whether the shape is that of logs kept by hand.
func (s *Shape) ByHand() bool { return s == &setRows || s == &repsInCell }

// CountsSets reports whether a line of the shape may stand for several sets.
func (s *Shape) CountsSets() bool { return s == &setRows }

// NeedsLoad reports whether no row of the shape can be filed without a load.
func (s *Shape) NeedsLoad() bool { return s != &setRows }

// Recount settles by the shape what "Sets" and "Reps" count: in rep rows they
// say which set and rep a line is, in set rows how many it stands for.
func (s *Shape) Recount(t *Table) {
	move := func(from, to column.Field, when bool) {
		if c := t.Column(from); c != nil && when && !t.Has(to) && c.Score < column.Declared {
			c.Field = to
		}
	}
	counts := func(f column.Field, share float64) bool {
		c := t.Column(f)
		return c != nil && c.Stats.Share(c.Stats.Runs()) > share
	}
	switch s {
	case &repRows:
		move(column.Sets, column.SetNumber, true)
		move(column.Reps, column.RepNumber, counts(column.Reps, 0.6))
	case &setRows:
		move(column.RepNumber, column.Reps, true)
		// One, two or three sets of each look like a count for a while.
		c := t.Column(column.SetNumber)
		move(column.SetNumber, column.Sets, c != nil && c.Words.Plural && t.Has(column.Reps) && !(counts(column.SetNumber, 0.9) && c.Stats.Quantile(1) > 1 && c.Stats.Ones == 0))
	}
}
