package source

import (
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/source/around"
	"repsift/ingest/table"
)

// recognise finds the fields of a kind's columns and its shape.
func (s *Source) recognise(k *kind) error {
	for _, c := range k.Columns {
		c.Samples = c.Stats.Samples()
		c.Guess()
	}
	s.declare(k)
	if c := k.Columns[0]; k.lines && c.Field == column.Nothing {
		c.Field, c.Score, c.Evidence = column.Work, column.Declared, "lines of a log: days, lifts, sets"
	}
	column.Across(k.Columns)
	k.rivals = column.Assign(k.Columns)
	k.fullName()
	if c := k.Column(column.Clock); c != nil && !k.Has(column.Date) && c.Score < column.Declared && c.Stats.Share(c.Stats.Dated()) > 0.9 {
		c.Field, c.Evidence = column.Date, "values: dates and times" // "Start time"
	}
	s.clocked(k)
	if ask := s.position(k); ask != nil {
		return ask
	}
	k.shape, k.why = shape.Of(&k.Table, s.declared.Shape)
	if k.shape != nil {
		k.shape.Recount(&k.Table)
	}
	for _, p := range k.parts {
		if k.shape != nil {
			p.Shape, p.Why = k.shape.Name, k.why
		}
	}
	if k.shape == nil {
		return nil
	}
	var idle []string
	for _, c := range k.Columns {
		if c.Field == column.Nothing && c.Named && c.Stats.Filled() > 0 {
			idle = append(idle, quote(c.Heading))
		}
	}
	if len(idle) > 0 {
		s.say("not read, because nothing tells what it is: %s", strings.Join(idle, ", "))
	}
	return s.resolve(k)
}

// declare gives columns the fields that the season file declares for their
// headings.
func (s *Source) declare(k *kind) {
	for f := column.Lifter; f < column.Known; f++ {
		heading, ok := s.declared.Columns[f.String()]
		if !ok {
			continue
		}
		for _, c := range k.Columns {
			if !s.names(heading, c) {
				continue
			}
			if other := k.Column(f); other != nil {
				s.warn("two columns are called %s; the first, %s, is read as the %s", quote(heading), letters(other.Index), f.Word())
				break
			}
			c.Field, c.Score, c.Evidence = f, column.Declared, "declared in the season file"
		}
	}
}

// names reports whether a declared heading names a column: as its heading, or
// by a spreadsheet's letters where no column has these for a heading.
func (s *Source) names(heading string, c *column.Column) bool {
	if c.Named && words.Fold(heading) == words.Fold(c.Heading) {
		return true
	}
	if heading != letters(c.Index) {
		return false
	}
	for _, k := range s.kinds {
		for _, other := range k.Columns {
			if other.Named && words.Fold(heading) == words.Fold(other.Heading) {
				return false
			}
		}
	}
	return true
}

// resolve settles columns that compete for a field, or asks.
func (s *Source) resolve(k *kind) error {
	for _, r := range k.rivals {
		a, b := r.First, r.Second
		if a.Field == r.Field && b.Field == r.Field {
			continue // read together
		}
		if r.Field == column.Known || r.Field == column.Note || r.Field == column.Clock || r.Field.Further() {
			continue
		}
		switch {
		case b.Stats.Filled() == 0:
		case a.Stats.Filled() == 0:
			a.Field, b.Field = column.Nothing, r.Field
			b.Score, b.Evidence = a.Score, fmt.Sprintf("column %q is empty", a.Heading)
		case same(a, b):
			s.say("columns %q and %q both hold the %s and say the same; %q is read", a.Heading, b.Heading, r.Field.Word(), a.Heading)
		case a.Heading == b.Heading:
			return &Ask{
				Place:   rep.Place{Source: s.Name, Column: a.Heading},
				Problem: fmt.Sprintf("columns %s and %s both have this heading, look like the %s, and differ", letters(a.Index), letters(b.Index), r.Field.Word()),
				Lines:   []string{fmt.Sprintf("columns = { %s = %q }", r.Field, letters(a.Index)), fmt.Sprintf("columns = { %s = %q }", r.Field, letters(b.Index))},
			}
		default:
			return &Ask{
				Place:   rep.Place{Source: s.Name, Column: a.Heading},
				Problem: fmt.Sprintf("this column and %q both look like the %s and differ", b.Heading, r.Field.Word()),
				Lines: []string{fmt.Sprintf("columns = { %s = %s }", r.Field, quote(a.Heading)),
					fmt.Sprintf("columns = { %s = %s }", r.Field, quote(b.Heading))},
			}
		}
	}
	return nil
}

// fullName reads a column of given names and one of family names together.
func (k *kind) fullName() {
	var given, family *column.Column
	for _, c := range k.Columns {
		switch h := c.Words.Has; {
		case c.Score >= column.Declared || !h.Has(words.Name):
		case h.Has(words.Given):
			given = c
		case h.Has(words.Family), family == nil && c.Field == column.Lifter && !h.Has(words.Lifter):
			family = c
		}
	}
	if given == nil || family == nil {
		return
	}
	for _, c := range k.Columns {
		if c.Field == column.Lifter && c != given && c != family {
			return // a column of whole names
		}
	}
	given.Field, given.Nth, given.Score = column.Lifter, 0, 1
	family.Field, family.Nth, family.Score = column.Lifter, 2, 1
	given.Evidence = "given names"
	family.Evidence = fmt.Sprintf("the family names behind column %q", given.Heading)
}

// same reports whether two columns say the same, each in its own unit.
func same(a, b *column.Column) bool {
	x, y := a.Stats.Values, b.Stats.Values
	if len(x) == 0 && len(y) == 0 {
		if len(a.Stats.Distinct) != len(b.Stats.Distinct) {
			return false
		}
		for i := range a.Stats.Distinct {
			if a.Stats.Distinct[i].Text != b.Stats.Distinct[i].Text {
				return false
			}
		}
		return true
	}
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		u, v := a.Unit.SI(x[i]), b.Unit.SI(y[i])
		if d := u - v; d > 0.006*u || -d > 0.006*u {
			return false
		}
	}
	return true
}

// checkDeclared asks where a heading that the season file names is nowhere.
func (s *Source) checkDeclared() error {
	for f := column.Lifter; f < column.Known; f++ {
		heading, ok := s.declared.Columns[f.String()]
		if !ok {
			continue
		}
		found := false
		var all []string
		for _, k := range s.kinds {
			for _, c := range k.Columns {
				found = found || s.names(heading, c)
				if c.Named {
					all = append(all, quote(c.Heading))
				}
			}
		}
		switch {
		case found:
		case s.recognised(f) != nil:
			s.warn("%s:%d declares columns = { %s = %s }, but there is no such heading; column %q is read as the %s: correct the line, or take it out",
				s.season.File, s.declared.Line, f, quote(heading), s.recognised(f).Heading, f.Word())
		default:
			return &Ask{Place: rep.Place{Source: s.Name}, Problem: fmt.Sprintf(
				"%s:%d declares columns = { %s = %s }, but there is no such heading; correct the line: the headings are %s",
				s.season.File, s.declared.Line, f, quote(heading), strings.Join(all, ", "))}
		}
	}
	return nil
}

// recognised returns the column of a table of reps or sets that holds a field;
// nil for none.
func (s *Source) recognised(f column.Field) *column.Column {
	for _, k := range s.kinds {
		if c := k.Column(f); c != nil && k.shape != nil {
			return c
		}
	}
	return nil
}

// Whole reports whether no table lacks what it cannot be filed without.
func (s *Source) Whole() bool {
	if s.Complete() != nil {
		return false
	}
	for _, p := range s.Parts {
		if p.ask != nil {
			return false
		}
	}
	return true
}

// Log reports whether the source is a log as plain text, a line a lift or a day.
func (s *Source) Log() bool {
	return slices.ContainsFunc(s.kinds, func(k *kind) bool { return k.lines && k.Rows > 1 })
}

// MayBeLog reports whether a file whose lines have one cell each may be a log as
// plain text; [Source.Log] tells for sure, once all of it was surveyed.
func MayBeLog(file *table.File, s *season.Season) bool {
	return slices.ContainsFunc(file.Sheets, func(sheet *table.Sheet) bool {
		log, err := around.Lines(sheet, []table.Region{{}}, s)
		return log != nil || err != nil
	})
}

// ofSamples reports whether the source is a raw trace.
func (s *Source) ofSamples() bool {
	return slices.ContainsFunc(s.kinds, func(k *kind) bool { return k.shape != nil && k.shape.Name == "samples" })
}

// Clear reports whether the source is whole and two or more headings of a table
// were understood: whether it was surely opened the right way.
func (s *Source) Clear() bool {
	if !s.Whole() {
		return false
	}
	for _, k := range s.kinds {
		n := 0
		for _, c := range k.Columns {
			if c.Named && c.Words.Has != 0 {
				n++
			}
		}
		if k.shape != nil && n >= 2 {
			return true
		}
	}
	return false
}
