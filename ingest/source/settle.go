package source

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/unit"
)

// pool gathers the evidence of the source's own columns.
func (s *Source) pool() Pool {
	var p Pool
	for _, k := range s.kinds {
		if k.shape == nil {
			continue
		}
		p.Dates.Merge(&k.dates)
		for _, c := range k.Columns {
			switch {
			case c.Field == column.Date, c.Field == column.Clock:
				p.Dates.Merge(&c.Stats.Dates)
			case c.Field == column.Work, c.Field == column.Reps:
				for _, t := range c.Stats.Distinct {
					p.Habit.Add(t.Text, shorthand.Options{HasLoad: k.Has(column.Load)})
				}
			case c.Field == column.Speeds:
				p.Mark.Merge(c.Stats.Speeds().Mark)
			case c.Field.Quantity() != unit.Any, c.Field == column.RPE:
				p.Mark.Merge(c.Stats.Mark)
			}
			if _, ok := c.UnitOf(column.Load); c.Field == column.Load && !ok && s.declaredUnit(column.Load).Name == "" {
				p.Merge(&Pool{Loads: bareLoads(c)})
			}
		}
	}
	for _, part := range s.Parts {
		for b := range part.around {
			if b.Field == column.Date {
				p.Dates.Add(b.Text)
			}
		}
	}
	if s.declaredUnit(column.Load).Name == "" {
		p.Merge(&Pool{Loads: s.carriedLoads()})
	}
	return p
}

// settle decides decimal mark, date order, habit and units, from the source's
// own evidence, else from that of its sisters. It returns every question that
// neither settles, so that the coach can answer them at once.
func (s *Source) settle(sisters *Sisters) (asks []*Ask) {
	own := s.pool()
	if ask := s.settleMark(&own, sisters); ask != nil {
		return []*Ask{ask} // no number can be judged before
	}
	for _, k := range s.kinds {
		for _, c := range k.Columns {
			c.Stats.Settle(s.mark)
		}
	}
	for _, ask := range []*Ask{s.settleDates(&own, sisters), s.settleHabit(&own, sisters), s.settleSets()} {
		if ask != nil {
			asks = append(asks, ask)
		}
	}
	return append(asks, s.settleUnits(sisters)...)
}

// settleHabit decides whether sets or reps are written first.
func (s *Source) settleHabit(own *Pool, sisters *Sisters) *Ask {
	for _, o := range []shorthand.Order{shorthand.SetsReps, shorthand.RepsSets} {
		if s.declared.Shorthand == o.String() {
			s.habit.Order, s.habit.LoadFirst = o, o
			return nil
		}
	}
	if own.Habit.Told() {
		s.habit = own.Habit.Settle(s.habit)
	}
	s.habitByHeading()
	s.habit = own.Habit.Settle(s.habit)
	s.habit = sisters.habit().Settle(s.habit)
	open := func(t shorthand.Tally, o shorthand.Order) bool { return o == shorthand.Undecided && t.Either > 0 }
	if open(own.Habit.Tally, s.habit.Order) || open(own.Habit.LoadFirst, s.habit.LoadFirst) {
		f, text := s.habitSample()
		return s.ask(f, fmt.Sprintf("%q can be sets x reps or reps x sets, and nothing in the log tells which", text),
			`shorthand = "sets x reps"`, `shorthand = "reps x sets"`)
	}
	return nil
}

// habitSample returns a text in which sets and reps cannot be told apart, and
// the field of its column.
func (s *Source) habitSample() (column.Field, string) {
	for _, k := range s.kinds {
		for _, f := range []column.Field{column.Work, column.Reps} {
			c := k.Column(f)
			if c == nil || k.shape == nil {
				continue
			}
			opt := s.habit
			opt.HasLoad = k.Has(column.Load)
			for _, t := range c.Stats.Distinct {
				entries, err := shorthand.Parse(t.Text, opt)
				if err == nil && slices.ContainsFunc(entries, func(e shorthand.Entry) bool { return e.Ambiguous }) {
					return f, t.Text
				}
			}
		}
	}
	return column.Work, "5x3"
}

// habitByHeading takes the order from a heading that says it: "Sets x reps".
func (s *Source) habitByHeading() {
	for _, k := range s.kinds {
		c := k.Column(column.Work)
		if k.shape == nil || c == nil || !c.Named {
			continue
		}
		order := shorthand.Undecided
		for _, between := range []string{"x", "×", "*", "/", "&", "by", "and", "und", "y", "e", "et", "och", "og", "en", "i", "и"} {
			first, second, found := strings.Cut(" "+strings.ToLower(c.Heading)+" ", " "+between+" ")
			if !found {
				continue
			}
			a, b := words.Parse(first).Has, words.Parse(second).Has
			switch {
			case a.Has(words.Set) && b.Has(words.Rep) && !a.Has(words.Rep):
				order = shorthand.SetsReps
			case a.Has(words.Rep) && b.Has(words.Set) && !a.Has(words.Set):
				order = shorthand.RepsSets
			}
			break
		}
		if order == shorthand.Undecided {
			continue
		}
		s.say("column %q: its heading says %s", c.Heading, order)
		if s.habit.Order == shorthand.Undecided {
			s.habit.Order = order
		}
		if s.habit.LoadFirst == shorthand.Undecided {
			s.habit.LoadFirst = order
		}
	}
}

// settleSets asks where a column that is headed "Set" beside a number of reps
// does not count 1, 2, 3: it may say how many sets there were, as "set" does in
// Swedish.
func (s *Source) settleSets() *Ask {
	for _, k := range s.kinds {
		c := k.Column(column.SetNumber)
		if k.shape == nil || !k.shape.CountsSets() || c == nil || c.Score >= column.Declared || !k.Has(column.Reps) {
			continue
		}
		st := c.Stats
		counts := st.Share(st.Runs()) >= 0.8
		if st.Filled() < 12 { // few numbers count on by chance
			counts = st.Up == st.Whole
		}
		if (!counts || st.Share(st.Ones) > 0.1 || c.Words.Plural && st.Whole < 4) && st.Whole > 0 && st.Quantile(1) <= 10 {
			return s.ask(column.SetNumber, "its numbers can say which set it was or how many sets there were",
				fmt.Sprintf("columns = { set = %s }", quote(c.Heading)), fmt.Sprintf("columns = { sets = %s }", quote(c.Heading)))
		}
	}
	return nil
}

// ask returns the question about a field's column.
func (s *Source) ask(f column.Field, problem string, lines ...string) *Ask {
	a := &Ask{Place: rep.Place{Source: s.Name}, Problem: problem, Lines: lines}
	for _, k := range s.kinds {
		if c := k.Column(f); c != nil && k.shape != nil {
			a.Column = c.Heading
			if s.sheets > 1 {
				a.Sheet = k.parts[0].Sheet
			}
			break
		}
	}
	return a
}

func (s *Source) settleMark(own *Pool, sisters *Sisters) *Ask {
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
		mark, sure = sisters.mark()
	}
	if !sure {
		f := column.Load
		for _, k := range s.kinds {
			for _, c := range k.Columns {
				if len(c.Stats.Either) > 0 && c.Field.Quantity() != unit.Any {
					f = c.Field
				}
			}
		}
		return s.ask(f, fmt.Sprintf("%q can be a number with a fraction or one with a thousands mark", s.eitherSample()), `decimal = "."`, `decimal = ","`)
	}
	s.mark = mark
	return nil
}

// eitherSample returns a number with two readings.
func (s *Source) eitherSample() string {
	for _, k := range s.kinds {
		for _, c := range k.Columns {
			if len(c.Stats.Either) == 0 || c.Field.Quantity() == unit.Any {
				continue
			}
			for _, t := range c.Stats.Distinct {
				two := (*number.Error)(nil)
				if _, err := number.Parse(t.Text, number.AnyMark); errors.As(err, &two) && two.Ambiguous {
					return t.Text
				}
			}
		}
	}
	return "1.234"
}

// markByRange settles numbers with two readings by what the measure can be.
func (s *Source) markByRange() (number.DecimalMark, bool) {
	points, commas := 0, 0
	for _, k := range s.kinds {
		for _, c := range k.Columns {
			if len(c.Stats.Either) == 0 || c.Field.Quantity() == unit.Any {
				continue
			}
			u, ok := c.UnitOf(c.Field)
			if !ok {
				continue
			}
			for _, i := range c.Stats.Either {
				v := c.Stats.Values[i]
				asPoint := v
				asComma := v * 1000
				if v == math.Trunc(v) && math.Abs(v) >= 1000 {
					asComma = v / 1000
				}
				in := func(x float64) bool { return c.Field.Can(u.SI(x)) }
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

func (s *Source) settleDates(own *Pool, sisters *Sisters) *Ask {
	if o := date.Order(s.declared.DateOrder); o != date.AnyOrder {
		s.order = o
		return nil
	}
	orders := own.Dates.Orders()
	if len(orders) > 1 {
		with := own.Dates
		with.Merge(&s.hints)
		if o := with.Orders(); len(o) == 1 {
			s.say("dates are read as %s, as in the lines above the table", o[0])
			orders = o
		}
	}
	if len(orders) > 1 {
		shared := sisters.orders()
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
		return s.ask(column.Date, fmt.Sprintf("dates such as %s can be read as %s", s.dateSample(orders), strings.Join(readings, " or ")), lines...)
	}
	return nil
}

// dateSample returns a date that the orders read differently.
func (s *Source) dateSample(orders []date.Order) string {
	for _, k := range s.kinds {
		c := k.Column(column.Date)
		if c == nil {
			continue
		}
		for _, t := range c.Stats.Distinct {
			a, errA := date.Parse(t.Text, orders[0])
			b, errB := date.Parse(t.Text, orders[1])
			if errA == nil && errB == nil && a.Day != b.Day {
				return t.Text
			}
		}
	}
	for _, p := range s.Parts {
		for b := range p.around {
			if b.Field == column.Date {
				return b.Text
			}
		}
	}
	return "3/4/2026"
}
