package shape

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// Pool is what a source, or several of one unit, say about what a single cell
// does not settle.
type Pool struct {
	Mark  number.Evidence
	Dates date.Evidence
	Habit shorthand.Habit
	Loads []float64 // distinct loads in columns without a unit, sorted
}

// Merge takes the evidence of another source into account.
func (p *Pool) Merge(q *Pool) {
	p.Mark.Merge(q.Mark)
	p.Dates.Merge(&q.Dates)
	p.Habit.Merge(q.Habit)
	p.Loads = append(p.Loads, q.Loads...)
	slices.Sort(p.Loads)
	p.Loads = slices.Compact(p.Loads)
}

// pool gathers the evidence of the source's own columns.
func (s *Source) pool() Pool {
	var p Pool
	for _, k := range s.kinds {
		if k.shape == nil {
			continue
		}
		for _, c := range k.columns {
			switch {
			case c.Field == Date, c.Field == Clock:
				p.Dates.Merge(&c.stats.dates)
			case c.Field == Work, c.Field == Reps:
				for _, t := range c.stats.distinct {
					p.Habit.Add(t.text, shorthand.Options{HasLoad: k.has(Load)})
				}
			case fields[c.Field].quantity != unit.Any, c.Field == RPE:
				p.Mark.Merge(c.stats.mark)
			}
			if _, ok := c.unitOf(Load); c.Field == Load && !ok && s.declaredUnit(Load).Name == "" {
				p.Merge(&Pool{Loads: bareLoads(c)})
			}
		}
	}
	for _, part := range s.Parts {
		for _, b := range part.base {
			if b.field == Date {
				p.Dates.Add(b.text)
			}
		}
	}
	return p
}

// settle decides decimal mark, date order, habit and units, from the source's
// own evidence, else from that of its sisters; what neither settles is asked.
func (s *Source) settle(sisters *Pool) error {
	own := s.pool()
	if err := s.settleMark(&own, sisters); err != nil {
		return err
	}
	for _, k := range s.kinds {
		for _, c := range k.columns {
			c.stats.settle(s.mark)
		}
	}
	if err := s.settleDates(&own, sisters); err != nil {
		return err
	}
	if err := s.settleHabit(&own, sisters); err != nil {
		return err
	}
	return s.settleUnits(sisters)
}

// settleHabit decides whether sets or reps are written first.
func (s *Source) settleHabit(own, sisters *Pool) error {
	for _, o := range []shorthand.Order{shorthand.SetsReps, shorthand.RepsSets} {
		if s.declared.Shorthand == o.String() {
			s.habit.Order, s.habit.LoadFirst = o, o
			return nil
		}
	}
	s.habit = sisters.Habit.Settle(own.Habit.Settle(s.habit))
	open := func(t shorthand.Tally, o shorthand.Order) bool { return o == shorthand.Undecided && t.Either > 0 }
	if open(own.Habit.Tally, s.habit.Order) || open(own.Habit.LoadFirst, s.habit.LoadFirst) {
		return s.ask(Work, "5x3 can be five sets of three or three sets of five, and nothing in the log tells",
			`shorthand = "sets x reps"`, `shorthand = "reps x sets"`)
	}
	return nil
}

// ask returns the question about a field's column.
func (s *Source) ask(f Field, problem string, lines ...string) *Ask {
	a := &Ask{Place: rep.Place{Source: s.Name}, Problem: problem, Lines: lines}
	for _, k := range s.kinds {
		if c := k.column(f); c != nil && k.shape != nil {
			a.Column = c.Heading
			if s.sheets > 1 {
				a.Sheet = k.parts[0].Sheet
			}
			break
		}
	}
	return a
}

func (s *Source) settleMark(own, sisters *Pool) error {
	switch s.declared.Decimal {
	case ".":
		s.mark = number.Point
		return nil
	case ",":
		s.mark = number.Comma
		return nil
	}
	mark, sure := own.Mark.Mark()
	if !sure {
		mark, sure = s.markByRange()
	}
	if !sure {
		mark, sure = sisters.Mark.Mark()
	}
	if !sure {
		f := Load
		for _, k := range s.kinds {
			for _, c := range k.columns {
				if len(c.stats.either) > 0 && fields[c.Field].quantity != unit.Any {
					f = c.Field
				}
			}
		}
		return s.ask(f, "numbers such as 1.234 can have a fraction or a thousands mark", `decimal = "."`, `decimal = ","`)
	}
	s.mark = mark
	return nil
}

// markByRange settles numbers with two readings by what the measure can be.
func (s *Source) markByRange() (number.DecimalMark, bool) {
	points, commas := 0, 0
	for _, k := range s.kinds {
		for _, c := range k.columns {
			if len(c.stats.either) == 0 || fields[c.Field].quantity == unit.Any {
				continue
			}
			u, ok := c.unitOf(c.Field)
			if !ok {
				continue
			}
			for _, i := range c.stats.either {
				v := c.stats.values[i]
				asPoint := v
				asComma := v * 1000
				if v == math.Trunc(v) && math.Abs(v) >= 1000 {
					asComma = v / 1000
				}
				in := func(x float64) bool {
					si := u.SI(x)
					return si >= fields[c.Field].lo && si <= fields[c.Field].hi
				}
				switch {
				case in(asPoint) && !in(asComma):
					points++
				case in(asComma) && !in(asPoint):
					commas++
				}
			}
		}
	}
	switch {
	case points > 0 && commas == 0:
		return number.Point, true
	case commas > 0 && points == 0:
		return number.Comma, true
	}
	return number.AnyMark, false
}

func (s *Source) settleDates(own, sisters *Pool) error {
	if o := date.Order(s.declared.DateOrder); o != date.AnyOrder {
		s.order = o
		return nil
	}
	orders := own.Dates.Orders()
	if len(orders) > 1 {
		shared := sisters.Dates.Orders()
		common := slices.DeleteFunc(slices.Clone(orders), func(o date.Order) bool { return !slices.Contains(shared, o) })
		if len(common) == 1 {
			s.say("dates are read as %s, as in the other files of this unit", common[0])
			orders = common
		}
	}
	switch len(orders) {
	case 0:
	case 1:
		s.order = orders[0]
	default:
		var lines, readings []string
		for _, o := range orders {
			lines = append(lines, fmt.Sprintf("date_order = %s", quote(o.String())))
			readings = append(readings, o.String())
		}
		return s.ask(Date, fmt.Sprintf("dates such as %s can be read as %s", s.dateSample(orders), strings.Join(readings, " or ")), lines...)
	}
	return nil
}

// dateSample returns a date that the orders read differently.
func (s *Source) dateSample(orders []date.Order) string {
	for _, k := range s.kinds {
		c := k.column(Date)
		if c == nil {
			continue
		}
		for _, t := range c.stats.distinct {
			a, errA := date.Parse(t.text, orders[0])
			b, errB := date.Parse(t.text, orders[1])
			if errA == nil && errB == nil && a.Day != b.Day {
				return t.text
			}
		}
	}
	for _, p := range s.Parts {
		for _, b := range p.base {
			if b.field == Date {
				return b.text
			}
		}
	}
	return "3/4/2026"
}

// settleUnits gives every measured column its unit: from the heading, else the
// season file, else the cells, else the values where they leave one.
func (s *Source) settleUnits(sisters *Pool) error {
	for _, k := range s.kinds {
		if k.shape == nil {
			continue
		}
		for _, c := range k.columns {
			if q := fields[c.Field].quantity; q != unit.Any && c.Field != Position && c.Field != SampleTime {
				if err := s.settleUnit(k, c, q, sisters); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (s *Source) settleUnit(k *kind, c *Column, q unit.Quantity, sisters *Pool) error {
	said := s.declaredUnit(c.Field)
	if _, u, ok := unit.FromHeadingFor(q, c.Heading); ok && c.named {
		c.Unit, c.UnitFrom = u, "heading"
		if said.Name != "" && said != u {
			s.warn("column %q: its heading says %s, the season file %s; the heading stands", c.Heading, u.Name, said.Name)
		}
		return nil
	}
	if u, ok := unit.ParseFor(q, c.unitsRow); ok && c.unitsRow != "" {
		c.Unit, c.UnitFrom = u, "line of units"
		return nil
	}
	if said.Name != "" {
		c.Unit, c.UnitFrom = said, "season file"
		return nil
	}
	st := c.stats
	if c.Field == Speeds {
		st = speedStats(st)
	}
	if len(st.units) > 0 {
		if u, ok := unit.ParseFor(q, st.units[0].unit); ok {
			bare := st.numbers
			for _, n := range st.units {
				bare -= n.n
			}
			c.Unit, c.UnitFrom = u, "cells"
			if bare > 0 {
				s.say("column %q: %d of %d numbers have no unit; read in %s like the others", c.Heading, bare, st.numbers, u.Name)
			}
			return nil
		}
	}
	if same := k.unitLike(c); same != nil {
		c.Unit, c.UnitFrom = same.Unit, fmt.Sprintf("column %q", same.Heading)
		return nil
	}
	var found inferred
	var ok bool
	if c.Field == Load {
		if found, ok = inferLoad(bareLoads(c)); !ok {
			if found, ok = inferLoad(sisters.Loads); ok {
				found.why = "in the files of this unit " + found.why
			}
		}
	} else {
		found, ok = inferUnit(c.Field, st)
	}
	if !ok {
		return s.askUnit(c, q)
	}
	c.Unit, c.UnitFrom = found.unit, "values"
	s.say("column %q: no unit given; read in %s, because %s", c.Heading, found.unit.Name, found.why)
	return nil
}

func (s *Source) askUnit(c *Column, q unit.Quantity) error {
	var lines []string
	for _, n := range unit.Names(q) {
		lines = append(lines, fmt.Sprintf("units = { %s = %s }", c.Field, quote(n)))
		if q == unit.Length && n == "mm" {
			lines = append(lines, fmt.Sprintf("units = { %s = \"in\" }", c.Field))
			break
		}
		if n == "mm/s" || n == "ms" {
			break
		}
	}
	sorted := slices.Clone(c.stats.values)
	slices.Sort(sorted)
	problem := "has no unit"
	if len(sorted) > 0 {
		problem = fmt.Sprintf("numbers from %g to %g without a unit can be more than one thing", sorted[0], sorted[len(sorted)-1])
	}
	a := s.ask(c.Field, problem, lines...)
	a.Column = c.Heading
	return a
}

// declaredUnit returns the unit that the season file gives a field; the zero
// Unit for none. A column of one rep takes that of the mean velocity.
func (s *Source) declaredUnit(f Field) unit.Unit {
	names := []string{f.String()}
	switch f {
	case FirstVelocity, FastestVelocity, LastVelocity, SlowestVelocity, Speeds, PeakVelocity:
		names = append(names, MeanVelocity.String())
	}
	for _, n := range names {
		if u, ok := unit.ParseFor(fields[f].quantity, s.declared.Units[n]); ok {
			return u
		}
	}
	return unit.Unit{}
}

// bareLoads returns the distinct loads of a column, sorted.
func bareLoads(c *Column) []float64 {
	loads := slices.Clone(c.stats.values)
	slices.Sort(loads)
	loads = slices.Compact(loads)
	return slices.DeleteFunc(loads, func(v float64) bool { return v <= 0 })
}

// unitLike returns another column of the same quantity whose unit stands in its
// heading: peak velocity beside mean velocity, the speeds of other reps.
func (k *kind) unitLike(c *Column) *Column {
	if fields[c.Field].quantity != unit.Velocity {
		return nil
	}
	for _, o := range k.columns {
		if o == c || fields[o.Field].quantity != unit.Velocity {
			continue
		}
		if _, u, ok := unit.FromHeadingFor(unit.Velocity, o.Heading); ok && o.named && o.alike(c, u) {
			o.Unit = u
			return o
		}
	}
	return nil
}

// alike reports whether the values of both columns are speeds in a unit.
func (c *Column) alike(o *Column, u unit.Unit) bool {
	return c.inRange(c.Field, u) > 0.8 && (o.Field == Speeds || o.inRange(o.Field, u) > 0.8)
}

// speedStats returns the numbers inside a column of speeds in a cell.
func speedStats(s *stats) *stats {
	var out stats
	for _, t := range s.distinct {
		for _, p := range cutSpeeds(t.text) {
			bare, _ := cutMiss(p)
			out.add(&table.Cell{Text: bare, Kind: table.Text})
		}
	}
	return &out
}
