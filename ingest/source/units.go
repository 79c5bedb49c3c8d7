package source

import (
	"fmt"
	"slices"

	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/unit"
)

// settleUnits gives every measured column its unit: from the heading, else the
// season file, else the cells, else the values where they leave one.
func (s *Source) settleUnits(sisters *Sisters) (asks []*Ask) {
	for _, k := range s.kinds {
		if k.shape == nil {
			continue
		}
		// Mean velocity first: a peak without a unit takes that of the mean.
		columns := slices.Clone(k.Columns)
		slices.SortStableFunc(columns, func(a, b *column.Column) int { return int(a.Field) - int(b.Field) })
		for _, c := range columns {
			q := c.Field.Quantity()
			if q == unit.Any {
				continue
			}
			done, ask := s.sampleUnit(k, c)
			if !done {
				ask = s.settleUnit(k, c, q, sisters)
			}
			if ask != nil && !slices.ContainsFunc(asks, func(a *Ask) bool { return slices.Equal(a.Lines, ask.Lines) }) {
				asks = append(asks, ask)
			}
		}
	}
	for _, settle := range []func(*Sisters) *Ask{s.settleCarried, s.settleLoose} {
		if ask := settle(sisters); ask != nil && len(asks) == 0 {
			asks = append(asks, ask)
		}
	}
	return asks
}

// carriedLoads returns the distinct loads without a unit that the surroundings
// of tables give, sorted.
func (s *Source) carriedLoads() []float64 {
	var loads []float64
	for _, p := range s.Parts {
		for b := range p.around {
			if v, ok := bareLoad(b); ok && v > 0 {
				loads = append(loads, v)
			}
		}
	}
	slices.Sort(loads)
	return slices.Compact(loads)
}

// bareLoad returns the number of a load without a unit.
func bareLoad(b *shape.Carried) (float64, bool) {
	if b.Field != column.Load || b.Unit.Name != "" {
		return 0, false
	}
	v, err := number.Parse(b.Text, number.Point)
	return v.V, err == nil && v.Unit == ""
}

// settleCarried gives loads of a table's surroundings their unit.
func (s *Source) settleCarried(sisters *Sisters) *Ask {
	loads := s.carriedLoads()
	if len(loads) == 0 {
		return nil
	}
	u := s.declaredUnit(column.Load)
	for _, k := range s.kinds {
		if c := k.Column(column.Load); u.Name == "" && c != nil {
			u = c.Unit
		}
	}
	if u.Name == "" {
		found, ok := column.InferLoad(loads)
		if !ok {
			found, ok, _ = sisters.loads()
		}
		if !ok {
			what := fmt.Sprintf("loads from %g to %g stand", loads[0], loads[len(loads)-1])
			if len(loads) == 1 {
				what = fmt.Sprintf("a load of %g stands", loads[0])
			}
			return &Ask{Place: rep.Place{Source: s.Name},
				Problem: what + " above tables or in names without a unit, and can be in kg or lb",
				Lines:   []string{`units = { load = "kg" }`, `units = { load = "lb" }`}}
		}
		u = found.Unit
		s.say("loads without a unit are read in %s, because %s", u.Name, found.Why)
	}
	for _, p := range s.Parts {
		for b := range p.around {
			if _, ok := bareLoad(b); ok {
				b.Unit = u
			}
		}
	}
	return nil
}

func (s *Source) settleUnit(k *kind, c *column.Column, q unit.Quantity, sisters *Sisters) *Ask {
	said := s.declaredUnit(c.Field)
	if _, u, ok := unit.FromHeadingFor(q, c.Heading); ok && c.Named {
		c.Unit, c.UnitFrom = u, "heading"
		if said.Name != "" && said != u {
			s.warn("column %q: its heading says %s, the season file %s; the heading stands", c.Heading, u.Name, said.Name)
		}
		return nil
	}
	if beside := k.Column(column.LoadUnit); c.Field == column.Load && beside != nil {
		c.Unit, c.UnitFrom = unit.Unit{}, fmt.Sprintf("column %q", beside.Heading)
		if len(beside.Stats.Distinct) == 1 {
			c.Unit, _ = unit.ParseFor(q, beside.Stats.Distinct[0].Text)
			if beside.Stats.Blanks > 0 {
				s.say("column %q is %s throughout; where it is blank, %s too", beside.Heading, c.Unit.Name, c.Unit.Name)
			}
		}
		return nil
	}
	if u, ok := unit.ParseFor(q, c.UnitsRow); ok && c.UnitsRow != "" {
		c.Unit, c.UnitFrom = u, "line of units"
		return nil
	}
	if said.Name != "" {
		c.Unit, c.UnitFrom = said, "season file"
		return nil
	}
	st := c.Stats
	if c.Field == column.Speeds {
		st = st.Speeds()
		st.Settle(s.mark)
	}
	if len(st.Units) > 0 {
		if u, ok := unit.ParseFor(q, st.Units[0].Unit); ok {
			bare := st.Numbers
			for _, n := range st.Units {
				bare -= n.N
			}
			c.Unit, c.UnitFrom = u, "cells"
			if bare > 0 {
				s.say("column %q: %d of %d numbers have no unit; read in %s like the others", c.Heading, bare, st.Numbers, u.Name)
			}
			return nil
		}
	}
	if same := k.unitLike(c); same != nil {
		c.Unit, c.UnitFrom = same.Unit, fmt.Sprintf("column %q", same.Heading)
		return nil
	}
	var found column.Inferred
	var ok bool
	if c.Field == column.Load {
		if found, ok = column.InferLoad(bareLoads(c)); !ok {
			if found, ok, _ = sisters.loads(); ok {
				found.Why = "in the files of this unit " + found.Why
			}
		}
	} else {
		found, ok = column.InferUnit(c.Field, st)
	}
	if !ok && c.Field.Further() {
		s.say("column %q may be the %s, but its unit is not clear: it is not read; a line units = { %s = … } says it", c.Heading, c.Field.Word(), c.Field)
		c.Field = column.Known
		return nil
	}
	if !ok {
		return s.askUnit(c, q)
	}
	c.Unit, c.UnitFrom = found.Unit, "values"
	s.say("column %q: no unit given; read in %s, because %s", c.Heading, found.Unit.Name, found.Why)
	return nil
}

func (s *Source) askUnit(c *column.Column, q unit.Quantity) *Ask {
	var lines, names []string
	for _, u := range column.Plausible(c.Field, c.Stats) {
		names = append(names, u.Name)
		lines = append(lines, fmt.Sprintf("units = { %s = %s }", c.Field, quote(u.Name)))
	}
	sorted := slices.Sorted(slices.Values(c.Stats.Values))
	if len(sorted) == 0 {
		sorted = []float64{0}
	}
	what := "numbers"
	if q == unit.Load {
		what = "loads"
	}
	problem := fmt.Sprintf("no unit is given, and %s from %g to %g can be in %s", what, sorted[0], sorted[len(sorted)-1], either(names))
	if sorted[0] == sorted[len(sorted)-1] {
		problem = fmt.Sprintf("no unit is given, and %g can be in %s", sorted[0], either(names))
	}
	a := s.ask(c.Field, problem, lines...)
	a.Column = c.Heading
	return a
}

// declaredUnit returns the unit that the season file gives a field; the zero
// Unit for none. A column of one rep takes that of the mean velocity.
func (s *Source) declaredUnit(f column.Field) unit.Unit {
	names := []string{f.String()}
	switch f {
	case column.FirstVelocity, column.FastestVelocity, column.LastVelocity, column.SlowestVelocity, column.Speeds, column.PeakVelocity:
		names = append(names, column.MeanVelocity.String())
	}
	for _, n := range names {
		if u, ok := unit.ParseFor(f.Quantity(), s.declared.Units[n]); ok {
			return u
		}
	}
	return unit.Unit{}
}

// bareLoads returns the distinct loads of a column, sorted.
func bareLoads(c *column.Column) []float64 {
	loads := slices.Clone(c.Stats.Values)
	slices.Sort(loads)
	loads = slices.Compact(loads)
	return slices.DeleteFunc(loads, func(v float64) bool { return v <= 0 })
}

// unitLike returns another column of the same quantity whose unit stands in its
// heading: peak velocity beside mean velocity, the speeds of other reps.
func (k *kind) unitLike(c *column.Column) *column.Column {
	if c.Field.Quantity() != unit.Velocity {
		return nil
	}
	for _, o := range k.Columns {
		if o == c || o.Field.Quantity() != unit.Velocity {
			continue
		}
		u := o.Unit
		if o.UnitFrom == "" { // not settled yet
			var ok bool
			if _, u, ok = unit.FromHeadingFor(unit.Velocity, o.Heading); !ok || !o.Named {
				continue
			}
		}
		if alike(o, c, u) {
			o.Unit = u
			return o
		}
	}
	return nil
}

// alike reports whether the values of both columns are speeds in a unit.
func alike(c, o *column.Column, u unit.Unit) bool {
	return c.InRange(c.Field, u) > 0.8 && (o.Field == column.Speeds || o.InRange(o.Field, u) > 0.8)
}
