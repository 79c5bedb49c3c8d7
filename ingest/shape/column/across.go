package column

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// Across finds columns that differ only in numbers: "Rep 1", "Rep 2", …, the
// reps of a set side by side; or "S1R1", "S1R2", …, those of several sets. The
// columns of each group get its field and their numbers. Where the season file
// declares the first of a group, the others go with it.
func Across(columns []*Column) {
	groups := make(map[string][]*Column)
	var keys []string
	for _, c := range columns {
		h := c.Words
		long := h.Words > 3 && (h.Words > 6 || !h.Has.Has(words.Velocity))
		declared := c.Score >= Declared && h.Number == 1
		if c.Field != Nothing && !declared || !c.Named || h.Number == 0 || long || h.Has.Any(words.OneRM, words.Percent) {
			continue
		}
		key := words.Unnumbered(c.bare)
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], c)
	}
	for _, key := range keys {
		g := groups[key]
		f := Nothing
		if len(g) > 1 {
			f = groupField(g)
		}
		switch first := g[0]; {
		case f == Nothing:
		case first.Score >= Declared && f != MeanVelocity && f != MeanPropulsive:
		case consecutive(g):
			for _, c := range g {
				c.belong(f, first, fmt.Sprintf("one of %d columns numbered by rep", len(g)))
				c.Nth = c.Words.Number
				if f == Work {
					c.Evidence = fmt.Sprintf("one of %d columns with a set each", len(g))
				}
			}
		default:
			ofSets(f, g)
		}
	}
}

// belong makes a column one of a group; a declaration of the first holds for all.
func (c *Column) belong(f Field, first *Column, evidence string) {
	if first.Score >= Declared {
		f = first.Field
	}
	if c.Score < Declared {
		c.Evidence = evidence
	}
	c.Field, c.Score = f, max(1, first.Score)
}

func consecutive(g []*Column) bool {
	for i, c := range g {
		if c.Words.Number != g[0].Words.Number+i {
			return false
		}
	}
	return g[0].Words.Number == 1
}

// ofSets gives columns named by set and rep their field and numbers, where every
// set has its reps from 1 on.
func ofSets(f Field, g []*Column) {
	type place struct{ set, rep int32 }
	at := make(map[*Column]place)
	reps := make(map[int32]int32) // of each set
	for _, c := range g {
		set, rep, ok := SetAndRep(numbered(c.bare))
		if !ok {
			return
		}
		at[c] = place{set, rep}
		reps[set]++
	}
	seen := make(map[place]bool)
	for _, p := range at {
		if seen[p] || p.rep > reps[p.set] || int(p.set) > len(reps) {
			return
		}
		seen[p] = true
	}
	if len(reps) > 30 || len(reps) < 2 && g[0].Words.Words == 0 {
		return // 1.1, 1.2, 1.3 may be anything
	}
	order := slices.SortedFunc(slices.Values(g), func(a, b *Column) int {
		return cmp.Or(cmp.Compare(at[a].set, at[b].set), cmp.Compare(at[a].rep, at[b].rep))
	})
	for i, c := range order {
		c.belong(f, g[0], fmt.Sprintf("rep %d of set %d, one of %d columns named by set and rep", at[c].rep, at[c].set, len(g)))
		c.Nth, c.Set = i+1, int(at[c].set)
	}
}

// numbered returns the words of a heading that number it: "Set 1 Rep 2" of
// "mean velocity Set 1 Rep 2".
func numbered(heading string) string {
	var out []string
	for _, w := range strings.FieldsFunc(heading, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("_()[]:,", r) }) {
		if h := words.Parse(w); strings.ContainsFunc(w, isDigit) || h.Has.Any(words.Set, words.Rep) || len(w) == 1 && strings.ContainsAny(w, "sSrR") {
			out = append(out, w)
		}
	}
	return strings.Join(out, " ")
}

// groupField returns what numbered columns hold.
func groupField(g []*Column) Field {
	first := g[0]
	h := first.Words.Has &^ all(words.Ordinal) // "Rep #1"
	switch {
	case (h == 0 || h.Any(words.Set, words.Work)) && !h.Has(words.Rep) && first.Stats.Share(first.Stats.Work) > 0.6:
		return Work
	case h.Any(words.Eccentric, words.Power, words.Force, words.RPE, words.RIR, words.Load, words.Weight, words.Target,
		words.Loss, words.Sticking, words.Deviation, words.Acceleration, words.Tonnage, words.Rest, words.Body):
		return Nothing
	case h.Has(words.Propulsive) && !h.Any(words.Peak, words.Max, words.Duration, words.Time):
		return MeanPropulsive
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
