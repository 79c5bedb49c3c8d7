package column

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// Assign gives each column at most one field and each field at most one column,
// the best first. Columns that lose a field to one that is no surer come back as
// rivals.
func Assign(columns []*Column) (rivals []Rivalry) {
	type pair struct {
		c *Column
		g Guess
	}
	var pairs []pair
	for _, c := range columns {
		if c.Field != Nothing {
			continue // Declared, or part of a group
		}
		for _, g := range c.guesses {
			if g.Score >= 0.25 {
				pairs = append(pairs, pair{c, g})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		switch {
		case math.Abs(a.g.Score-b.g.Score) < 1e-9:
			return 0
		case a.g.Score > b.g.Score:
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
		if other := holder[p.g.Field]; other != nil && p.g.Field != Known && p.g.Field != Note {
			if other.Score <= p.g.Score*1.03 && other.Score < Declared {
				rivals = append(rivals, Rivalry{p.g.Field, other, p.c})
			}
			continue
		}
		p.c.take(p.g)
		holder[p.g.Field] = p.c
	}
	return slices.DeleteFunc(rivals, func(r Rivalry) bool { return r.Second.Field != Nothing && r.Second.Field != Known })
}

// Declared is the score of a column that the season file names.
const Declared = 10

// Rivalry is two columns that may both hold a field.
type Rivalry struct {
	Field         Field
	First, Second *Column
}

func (c *Column) take(g Guess) {
	c.Field, c.Score = g.Field, g.Score
	how := "heading and values"
	if c.Words.Words == c.Words.Unknown {
		how = "values"
	}
	c.Evidence = fmt.Sprintf("%s: %s (%.0f %% sure)", how, g.why, 100*min(1, g.Score))
}

// Across finds columns that differ only in a number, "Rep 1", "Rep 2", …: the
// reps of a set side by side. The columns of each group get its field and their
// numbers.
func Across(columns []*Column) {
	groups := make(map[string][]*Column)
	var keys []string
	for _, c := range columns {
		h := c.Words
		long := h.Words > 3 && (h.Words > 6 || !h.Has.Has(words.Velocity))
		if c.Field != Nothing || !c.Named || h.Number == 0 || long || h.Has.Any(words.OneRM, words.Percent) {
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
			c.Field, c.Nth, c.Score = f, c.Words.Number, 1
			c.Evidence = fmt.Sprintf("one of %d columns numbered by rep", len(g))
			if f == Work {
				c.Evidence = fmt.Sprintf("one of %d columns with a set each", len(g))
			}
		}
	}
}

func consecutive(g []*Column) bool {
	for i, c := range g {
		if c.Words.Number != g[0].Words.Number+i {
			return false
		}
	}
	return g[0].Words.Number == 1
}

// groupField returns what numbered columns hold.
func groupField(g []*Column) Field {
	first := g[0]
	h := first.Words.Has &^ all(words.Ordinal) // "Rep #1"
	switch {
	case (h == 0 || h.Any(words.Set, words.Work)) && !h.Has(words.Rep) && first.Stats.Share(first.Stats.Work) > 0.6:
		return Work
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
	return c.Stats.Share(c.Stats.Whole) < 0.5 || c.Stats.Quantile(0.5) > 15 || c.Unit.Quantity == unit.Velocity
}
