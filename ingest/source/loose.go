package source

import (
	"fmt"
	"slices"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shorthand"
	"repsift/ingest/unit"
)

// loadUnits returns the names of the units that headings and cells give loads.
func (s *Source) loadUnits() []string {
	var out []string
	for _, k := range s.kinds {
		if c := k.Column(column.Load); c != nil && k.shape != nil {
			if u, ok := c.UnitOf(column.Load); ok && !slices.Contains(out, u.Name) {
				out = append(out, u.Name)
			}
		}
	}
	return out
}

// settleLoose finds the unit of loads that stand in shorthand without one: that
// of the loads beside them, else by plate arithmetic, else that of all other
// sources of the season; else it asks.
func (s *Source) settleLoose(sisters *Sisters) *Ask {
	if s.declaredUnit(column.Load).Name != "" {
		return nil
	}
	var bare []float64
	named := make(map[unit.Unit]int)
	var at *Ask
	for _, k := range s.kinds {
		if c := k.Column(column.Load); k.shape == nil || c != nil && c.Unit.Name != "" {
			continue
		}
		for _, c := range k.Columns {
			if c.Field != column.Work {
				continue
			}
			for _, t := range c.Stats.Distinct {
				entries, err := shorthand.Parse(t.Text, s.habit)
				if err != nil {
					continue
				}
				for _, e := range entries {
					u, ok := unit.ParseFor(unit.Load, e.Load.Unit)
					switch {
					case e.Load.Kind != shorthand.Absolute:
					case ok:
						named[u] += t.N
					default:
						bare = append(bare, e.Load.V)
						if at == nil {
							at = &Ask{Place: rep.Place{Source: s.Name, Column: c.Heading}}
						}
					}
				}
			}
		}
	}
	if len(bare) == 0 {
		return nil
	}
	slices.Sort(bare)
	bare = slices.Compact(bare)
	most := 0
	for u, n := range named {
		if n > most || n == most && u.Name < s.loose.Name {
			s.loose, most = u, n
		}
	}
	if most > 0 {
		s.say("loads without a unit are read in %s like the others", s.loose.Name)
		return nil
	}
	found, ok := column.InferLoad(bare)
	if !ok {
		if stated := sisters.loadUnit(); stated.Name != "" {
			found, ok = column.Inferred{Unit: stated, Why: "all other loads of the season are"}, true
		}
	}
	if !ok {
		if other, known, some := sisters.loads(); some {
			found, ok = other, known
		}
	}
	if !ok {
		at.Problem = fmt.Sprintf("no unit is given, and loads from %g to %g can be in kg or lb", bare[0], bare[len(bare)-1])
		if len(bare) == 1 {
			at.Problem = fmt.Sprintf("no unit is given, and a load of %g can be in kg or lb", bare[0])
		}
		at.Lines = []string{`units = { load = "kg" }`, `units = { load = "lb" }`}
		return at
	}
	s.loose = found.Unit
	s.say("loads without a unit are read in %s, because %s", found.Unit.Name, found.Why)
	return nil
}
