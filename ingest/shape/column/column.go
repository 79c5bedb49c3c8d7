// Package column tells what a column of a table holds: from its heading and its
// values together.
//
//  1. [Stats] are gathered of its cells: how many are numbers, dates, names of
//     lifts, sets in shorthand, whether numbers count 1, 2, 3.
//  2. [Column.Guess] lists the fields that the heading can mean ([Guesses], by
//     the words that package words knows), each with a score, and tempers the
//     scores by the unit and by what the values can be.
//  3. [Across] finds columns that differ only in a number: the reps of a set.
//  4. [Assign] gives each column at most one field and each field at most one
//     column, the surest first, and reports rivals.
//
// [InferUnit] and [InferLoad] tell units from values where the trade leaves one
// reading. Scores are not probabilities: they order guesses, nothing else.
package column

import (
	"slices"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// Column is a column of a table and what it was understood to hold.
type Column struct {
	Index    int    // position in the row, from 0
	Heading  string // as written; where there is none, a spreadsheet's letters
	Field    Field
	Nth      int // of reps across: the rep, from 1; else 0
	Set      int // of several sets across: which, from 1; Nth then counts through them
	Unit     unit.Unit
	UnitFrom string // "heading", "season file", "cells", "values", …
	Evidence string // why the column is the field, one phrase
	Samples  []string

	Score    float64
	Named    bool   // there is a heading
	UnitsRow string // the unit under the heading
	bare     string
	Words    words.Heading
	Stats    *Stats
	guesses  []Guess
}

// Guess fills the candidates of a column from its heading, tempered by its
// values.
func (c *Column) Guess() {
	c.bare, c.Unit, _ = unit.FromHeading(c.Heading)
	if u, ok := unit.Parse(c.UnitsRow); ok && c.Unit.Quantity == unit.Any {
		c.Unit = u
	}
	c.Words = words.Parse(c.bare)
	if !c.Named {
		c.Words = words.Heading{}
	}
	c.guesses = Guesses(c.Words)
	if h := c.Words.Has &^ all(words.Time); h == all(words.Velocity) && c.Unit.Quantity == unit.Any && c.Stats.Paced() { // "Tempo"
		c.guesses = []Guess{{Field: Known, Score: 1}}
	}
	if c.Words.Has == all(words.Count) && c.Unit.Quantity == unit.Load { // "Total (kg)"
		c.guesses = append(c.guesses, Guess{Field: Load, Score: 0.85})
	}
	if c.Words.Words == c.Words.Unknown { // nothing understood: the values alone
		c.guesses = append(c.guesses, c.byValues()...)
	}
	for i := range c.guesses {
		g := &c.guesses[i]
		g.Score *= c.unitFits(g.Field)
		if c.Words.Number > 0 && c.Words.Words > 0 && (g.Field == SetNumber || g.Field == Sets || g.Field == RepNumber || g.Field == Reps) {
			g.Score *= 0.2 // "Set 2" is one of several columns
		}
		if g.Field == Load && c.Words.Has.Has(words.Bar) && c.emptyBar() {
			g.Score *= 0.4 // "Bar weight" beside the load
		}
		factor, why := c.valuesFit(g.Field)
		g.Score *= factor
		g.why = why
	}
	slices.SortStableFunc(c.guesses, func(a, b Guess) int {
		switch {
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return int(a.Field) - int(b.Field)
	})
}

// emptyBar reports whether all numbers of a column are what bars weigh: up to 25
// kg, or 55 lb.
func (c *Column) emptyBar() bool {
	most := 25.0
	if u, ok := c.UnitOf(Load); ok && u.Name == "lb" {
		most = 55
	}
	return c.Stats.Quantile(1) <= most
}

// byValues returns what a column without a heading, or with one that says
// nothing, may hold.
func (c *Column) byValues() []Guess {
	s := c.Stats
	var out []Guess
	add := func(f Field, score float64) { out = append(out, Guess{Field: f, Score: score}) }
	if s.Share(s.Dated()) > 0.9 {
		add(Date, 0.5)
	}
	if s.Share(s.Lifts) > 0.5 {
		add(Lift, 0.55)
	}
	if s.Share(s.Multi) > 0.3 {
		add(Speeds, 0.5)
	}
	if s.Share(s.Work) > 0.4 {
		add(Work, 0.5)
	}
	q := c.Unit.Quantity
	if q == unit.Any && len(s.Units) > 0 {
		if u, ok := unit.Parse(s.Units[0].Unit); ok && s.Share(s.Units[0].N) > 0.3 {
			q = u.Quantity
		}
	}
	if t := c.Named && (words.Fold(c.bare) == "t" || q == unit.Time); t && len(s.Values) >= 50 && s.Share(s.Rising()) > 0.95 {
		add(SampleTime, 0.7)
	}
	switch q {
	case unit.Velocity:
		add(MeanVelocity, 0.6)
	case unit.Load:
		add(Load, 0.6)
	case unit.Length:
		add(ROM, 0.5)
	case unit.Time:
		add(Concentric, 0.4)
	}
	return out
}
