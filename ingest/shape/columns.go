package shape

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// Column is a column of a table and what it was understood to hold.
type Column struct {
	Index    int    // position in the row, from 0
	Heading  string // as written; where there is none, a spreadsheet's letters
	Field    Field
	Nth      int // of reps across: the rep, from 1; else 0
	Unit     unit.Unit
	UnitFrom string // "heading", "season file", "cells", "values", …
	Evidence string // why the column is the field, one phrase
	Samples  []string

	score    float64
	named    bool   // there is a heading
	unitsRow string // the unit under the heading
	bare     string
	words    words.Heading
	stats    *stats
	guesses  []guess
}

// guess fills the candidates of a column from its heading, tempered by its
// values.
func (c *Column) guess() {
	c.bare, c.Unit, _ = unit.FromHeading(c.Heading)
	c.words = words.Parse(c.bare)
	if !c.named {
		c.words = words.Heading{}
	}
	c.guesses = guesses(c.words)
	if c.words.Words == c.words.Unknown { // nothing understood: the values alone
		c.guesses = append(c.guesses, c.byValues()...)
	}
	for i := range c.guesses {
		g := &c.guesses[i]
		g.score *= c.unitFits(g.field)
		factor, why := c.valuesFit(g.field)
		g.score *= factor
		g.why = why
	}
	slices.SortStableFunc(c.guesses, func(a, b guess) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return int(a.field) - int(b.field)
	})
}

// byValues returns what a column without a heading, or with one that says
// nothing, may hold.
func (c *Column) byValues() []guess {
	s := c.stats
	var out []guess
	add := func(f Field, score float64) { out = append(out, guess{field: f, score: score}) }
	if s.share(s.dated()) > 0.9 {
		add(Date, 0.5)
	}
	if s.share(s.lifts) > 0.5 {
		add(Lift, 0.55)
	}
	if s.share(s.multi) > 0.3 {
		add(Speeds, 0.5)
	}
	if s.share(s.work) > 0.4 {
		add(Work, 0.5)
	}
	q := c.Unit.Quantity
	if q == unit.Any && len(s.units) > 0 {
		if u, ok := unit.Parse(s.units[0].unit); ok && s.share(s.units[0].n) > 0.3 {
			q = u.Quantity
		}
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

// unitFits returns a factor for the unit in a heading.
func (c *Column) unitFits(f Field) float64 {
	if c.Unit.Quantity == unit.Any {
		return 1
	}
	want := fields[f].quantity
	if want == unit.Any {
		switch f {
		case Known, Note, Work:
			return 1
		case Sets, Reps, SetNumber, RepNumber, Date, Clock:
			return 0.5 // "min", "s" may be words
		}
		return 0.2
	}
	if _, u, ok := unit.FromHeadingFor(want, c.Heading); ok && u.Quantity == want {
		return 1.1
	}
	return 0.05
}

// valuesFit returns a factor for the values of a column, and in a phrase what
// they are like.
func (c *Column) valuesFit(f Field) (factor float64, why string) {
	s := c.stats
	if s.filled() == 0 {
		return 0.3, "empty"
	}
	whole := s.share(s.whole)
	switch f {
	case Lifter, Bar, Tether, Device, Variant:
		words := s.share(s.texts + s.lifts + s.marks + s.rpe + s.multiWhole + s.work)
		if f == Variant || f == Bar || f == Tether {
			words = s.share(s.filled() - s.numbers)
		}
		return 0.15 + 0.85*words, "words"
	case Lift:
		if s.lifts > 0 {
			return 0.7 + 0.3*s.share(s.lifts), "names of lifts"
		}
		return 0.1 + 0.6*s.share(s.texts+s.work), "words"
	case Date:
		dated := s.share(s.dated())
		if dated < 0.5 && s.share(s.dates.Serials) > 0.9 {
			return 0.7, "serial numbers of days"
		}
		return 0.05 + 0.95*dated, "dates"
	case Clock:
		return 0.05 + 0.95*s.share(s.dates.Clocks+s.dated()), "times of day"
	case RepNumber:
		if s.share(s.runs) > 0.6 && whole > 0.9 {
			return 1, "counts 1, 2, 3, …"
		}
		return 0.4 * whole, "whole numbers"
	case Reps:
		switch {
		case c.words.Plural:
			return whole, "whole numbers"
		case s.share(s.runs) > 0.6 && s.quantile(1) > 1:
			return 0.5 * whole, "counts 1, 2, 3, …"
		}
		return whole, "whole numbers"
	case SetNumber:
		return 0.3 + 0.7*whole, "whole numbers"
	case Sets:
		return 0.9 * whole, "whole numbers"
	case RPE, RIR:
		return 0.1 + 0.9*s.share(s.rpe+c.within(f)), "an effort"
	case Missed, Success:
		return 0.2 + 0.8*s.share(s.marks+c.within(Missed)), "marks"
	case Speeds:
		if c.words.Has.Has(words.Velocity) {
			return min(1, 1.5*s.share(s.multi+s.multiWhole)), "several numbers in a cell"
		}
		return min(1, 1.5*s.share(s.multi)), "several numbers with fractions in a cell"
	case Work:
		return min(1, 1.5*s.share(s.work+s.multiWhole)), "sets in shorthand"
	case Note, Known:
		return 1, "not needed"
	case SampleTime:
		return s.share(s.rising()), "rising steadily"
	case Position:
		return s.share(s.numbers), "numbers"
	}
	numbers := s.share(s.numbers)
	u, ok := c.unitOf(f)
	if ok { // said, not guessed: odd values are the cells' fault
		return max(0.3, numbers*(0.5+0.5*c.inRange(f, u))), "numbers in " + u.Name
	}
	best, name := 0.0, ""
	for _, n := range unit.Names(fields[f].quantity) {
		u, _ := unit.ParseFor(fields[f].quantity, n)
		if in := c.inRange(f, u); in > best {
			best, name = in, u.Name
		}
	}
	return numbers * (0.2 + 0.8*best), "numbers as of " + name
}

// unitOf returns the unit that heading or cells give a column.
func (c *Column) unitOf(f Field) (unit.Unit, bool) {
	if _, u, ok := unit.FromHeadingFor(fields[f].quantity, c.Heading); ok && c.named {
		return u, true
	}
	for _, n := range c.stats.units {
		if u, ok := unit.ParseFor(fields[f].quantity, n.unit); ok {
			return u, true
		}
	}
	return unit.Unit{}, false
}

// inRange returns the share of a column's numbers that the field can have in a
// unit.
func (c *Column) inRange(f Field, u unit.Unit) float64 {
	if len(c.stats.values) == 0 {
		return 0
	}
	in := 0
	for _, v := range c.stats.values {
		if si := u.SI(v); si >= fields[f].lo && si <= fields[f].hi {
			in++
		}
	}
	return float64(in) / float64(len(c.stats.values))
}

// within returns how many numbers lie in the range of a field without a unit.
func (c *Column) within(f Field) int {
	lo, hi := fields[f].lo, fields[f].hi
	if f == Missed {
		hi = 1
	}
	n := 0
	for _, v := range c.stats.values {
		if v >= lo && v <= hi {
			n++
		}
	}
	return n
}

// rising returns how many numbers are above the one before, all of them by
// about the same.
func (s *stats) rising() int {
	if len(s.values) < 20 {
		return 0
	}
	steps := make([]float64, len(s.values)-1)
	n := 0
	for i := range steps {
		steps[i] = s.values[i+1] - s.values[i]
		if steps[i] > 0 {
			n++
		}
	}
	slices.Sort(steps)
	if mid := steps[len(steps)/2]; mid <= 0 || steps[len(steps)*9/10] > 3*mid {
		return 0
	}
	return n
}

// assign gives each column at most one field and each field at most one column,
// the best first. Columns that lose a field to one that is no surer come back as
// rivals.
func assign(columns []*Column) (rivals []rivalry) {
	type pair struct {
		c *Column
		g guess
	}
	var pairs []pair
	for _, c := range columns {
		if c.Field != Nothing {
			continue // declared, or part of a group
		}
		for _, g := range c.guesses {
			if g.score >= 0.25 {
				pairs = append(pairs, pair{c, g})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		switch {
		case math.Abs(a.g.score-b.g.score) < 1e-9:
			return 0
		case a.g.score > b.g.score:
			return -1
		}
		return 1
	})
	holder := make(map[Field]*Column)
	for _, c := range columns {
		if c.Field != Nothing && c.Nth <= 1 {
			holder[c.Field] = c
		}
	}
	for _, p := range pairs {
		if p.c.Field != Nothing {
			continue
		}
		if other := holder[p.g.field]; other != nil && p.g.field != Known && p.g.field != Note {
			if other.score <= p.g.score*1.03 && other.score < declared {
				rivals = append(rivals, rivalry{p.g.field, other, p.c})
			}
			continue
		}
		p.c.take(p.g)
		holder[p.g.field] = p.c
	}
	return slices.DeleteFunc(rivals, func(r rivalry) bool { return r.second.Field != Nothing && r.second.Field != Known })
}

// declared is the score of a column that the season file names.
const declared = 10

// rivalry is two columns that may both hold a field.
type rivalry struct {
	field         Field
	first, second *Column
}

func (c *Column) take(g guess) {
	c.Field, c.score = g.field, g.score
	how := "heading and values"
	if c.words.Words == c.words.Unknown {
		how = "values"
	}
	c.Evidence = fmt.Sprintf("%s: %s (%.0f %% sure)", how, g.why, 100*min(1, g.score))
}

// across finds columns that differ only in a number, "Rep 1", "Rep 2", …: the
// reps of a set side by side. The columns of each group get its field and their
// numbers.
func across(columns []*Column) {
	groups := make(map[string][]*Column)
	var keys []string
	for _, c := range columns {
		h := c.words
		if c.Field != Nothing || !c.named || h.Number == 0 || h.Unknown > 0 || h.Has.Any(words.OneRM, words.Percent) {
			continue
		}
		key := strings.Map(func(r rune) rune {
			if isDigit(r) {
				return -1
			}
			return r
		}, words.Fold(c.bare))
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], c)
	}
	for _, key := range keys {
		g := groups[key]
		if len(g) < 2 || !consecutive(g) {
			continue
		}
		f := groupField(g)
		if f == Nothing {
			continue
		}
		for _, c := range g {
			c.Field, c.Nth, c.score = f, c.words.Number, 1
			c.Evidence = fmt.Sprintf("one of %d columns numbered by rep", len(g))
		}
	}
}

func consecutive(g []*Column) bool {
	for i, c := range g {
		if c.words.Number != g[0].words.Number+i {
			return false
		}
	}
	return g[0].words.Number == 1
}

// groupField returns what numbered columns hold.
func groupField(g []*Column) Field {
	first := g[0]
	h := first.words.Has
	switch {
	case h.Any(words.Eccentric, words.Power, words.Force, words.RPE, words.RIR, words.Load, words.Weight, words.Target):
		return Nothing
	case h.Any(words.Peak, words.Max):
		return PeakVelocity
	case h.Has(words.Travel):
		return ROM
	case h.Any(words.Duration, words.Concentric, words.Time) && !h.Has(words.Velocity):
		return Concentric
	case h.Has(words.Velocity), h.Has(words.Rep), h == 0, h == all(words.Mean):
		fit := 0.0
		for _, c := range g {
			factor, _ := c.valuesFit(MeanVelocity)
			fit = max(fit, factor)
		}
		if fit > 0.6 && (h.Has(words.Velocity) || first.fractions()) {
			return MeanVelocity
		}
	}
	return Nothing
}

// fractions reports whether the values look like speeds rather than counts.
func (c *Column) fractions() bool {
	return c.stats.share(c.stats.whole) < 0.5 || c.stats.quantile(0.5) > 15 || c.Unit.Quantity == unit.Velocity
}
