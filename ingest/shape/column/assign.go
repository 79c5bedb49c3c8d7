package column

import (
	"fmt"
	"math"
	"slices"
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
			score := p.g.Score
			if (p.g.Field == MeanVelocity || p.g.Field == Load) && p.c.Words.Unknown > 0 {
				score /= unknownWord // "Speed B" is as much a speed as "Speed A"
			}
			switch {
			case other.Nth > 0: // the mean of the set beside its reps
			case other.Score <= score*1.03 && other.Score < Declared:
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
