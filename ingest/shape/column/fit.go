package column

import (
	"math"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

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
	if _, _, ok := unit.FromHeadingFor(want, c.Heading); ok {
		return 1.1
	}
	if _, ok := unit.ParseFor(want, c.UnitsRow); ok {
		return 1.1
	}
	return 0.05
}

// valuesFit returns a factor for the values of a column, and in a phrase what
// they are like.
func (c *Column) valuesFit(f Field) (factor float64, why string) {
	s := c.Stats
	if s.Filled() == 0 {
		return 0.3, "empty"
	}
	whole := s.Share(s.Whole)
	switch f {
	case Lifter, Bar, Tether, Device, Variant:
		if f == Lifter && s.Share(s.Lifts) > 0.5 {
			return 0.3, "names of lifts"
		}
		words := s.Share(s.Texts + s.Lifts + s.Marks + s.RPE + s.MultiWhole + s.Work)
		if f == Variant || f == Bar || f == Tether {
			words = s.Share(s.Filled() - s.Numbers)
		}
		return 0.15 + 0.85*words, "words"
	case LoadUnit:
		n := 0
		for _, t := range s.Distinct {
			if _, ok := unit.ParseFor(unit.Load, t.Text); ok {
				n += t.N
			}
		}
		if s.Share(n) < 0.9 {
			return 0, "words"
		}
		return 1, "units of load"
	case Lift:
		if s.Lifts > 0 {
			return 0.7 + 0.3*s.Share(s.Lifts), "names of lifts"
		}
		return 0.1 + 0.6*s.Share(s.Texts+s.Work), "words"
	case Date:
		dated := s.Share(s.Dated())
		if dated < 0.5 && s.Share(s.Dates.Serials) > 0.9 {
			return 0.7, "serial numbers of days"
		}
		return 0.05 + 0.95*dated, "dates"
	case Clock:
		if s.dotted() {
			return 1, "times of day, written with a point"
		}
		return 0.05 + 0.95*s.Share(s.Dates.Clocks) + 0.5*s.Share(s.Dated()), "times of day"
	case RepNumber:
		if s.Share(s.Runs()) > 0.6 && whole > 0.9 {
			return 1, "counts 1, 2, 3, …"
		}
		if s.fewerAndFewer() {
			return 0.85, "1, 2, 3, … in another order"
		}
		return 0.4 * whole, "whole numbers"
	case SetRep:
		if s.Share(s.Paired) < 0.8 {
			return 0, "texts"
		}
		return 1.2, "numbers of set and rep"
	case Reps:
		switch {
		case c.Words.Plural:
			return whole, "whole numbers"
		case s.Share(s.Runs()) > 0.6 && s.Quantile(1) > 1:
			return 0.5 * whole, "counts 1, 2, 3, …"
		}
		return whole, "whole numbers"
	case SetNumber:
		return 0.3 + 0.7*whole, "whole numbers"
	case Sets:
		return 0.9 * whole, "whole numbers"
	case RPE, RIR:
		return 0.1 + 0.9*s.Share(s.RPE+c.within(f)), "an effort"
	case Missed, Success:
		return 0.2 + 0.8*s.Share(s.Marks+c.within(Missed)), "marks"
	case Speeds:
		several := s.Share(s.Multi)
		if c.Words.Has.Has(words.Velocity) || c.Unit.Quantity == unit.Velocity {
			several = s.Share(s.Multi + s.MultiWhole)
		}
		if several > 0.1 { // sets of one are single numbers
			several = s.Share(s.Multi + s.MultiWhole + s.Numbers)
		}
		return several, "several numbers in a cell"
	case Work:
		return min(1, 1.5*s.Share(s.Work+s.MultiWhole)), "sets in shorthand"
	case Note, Known:
		return 1, "not needed"
	case SampleTime:
		return s.Share(s.Rising()), "rising steadily"
	case Position:
		return s.Share(s.Numbers), "numbers"
	case Concentric:
		if s.Share(s.Rising()) > 0.95 {
			return 0.1, "rising steadily" // a clock: no reps last longer and longer
		}
	}
	numbers := s.Share(s.Numbers)
	if s.Share(s.Multi+s.MultiWhole) > 0.1 {
		numbers *= 0.2 // several in a cell
	}
	u, ok := c.UnitOf(f)
	if ok { // said, not guessed: odd values are the cells' fault
		return max(0.3, numbers*(0.5+0.5*c.InRange(f, u))), "numbers in " + u.Name
	}
	best, name := 0.0, ""
	for _, n := range unit.Names(fields[f].quantity) {
		u, _ := unit.ParseFor(fields[f].quantity, n)
		if in := c.InRange(f, u); in > best {
			best, name = in, u.Name
		}
	}
	return numbers * (0.2 + 0.8*best), "numbers as of " + name
}

// Looks reports whether the values of a column without a heading look like a
// field's: names, numbers that count reps, speeds, loads.
func (c *Column) Looks(f Field) bool {
	s := c.Stats
	mid := s.Quantile(0.5)
	switch f {
	case Lifter:
		return s.Share(s.Texts) > 0.8
	case RepNumber:
		return s.Share(s.Runs()) > 0.6 && s.Share(s.Whole) > 0.9 && s.Quantile(1) <= 30
	case MeanVelocity:
		return s.Share(s.Numbers) > 0.8 && s.Share(s.Whole) < 0.5 && mid > 0.1 && mid < 1.7
	case Load:
		return s.Share(s.Numbers) > 0.8 && mid >= 15 && mid < fields[Load].hi
	}
	return false
}

// UnitOf returns the unit that heading or cells give a column.
func (c *Column) UnitOf(f Field) (unit.Unit, bool) {
	if _, u, ok := unit.FromHeadingFor(fields[f].quantity, c.Heading); ok && c.Named {
		return u, true
	}
	if u, ok := unit.ParseFor(fields[f].quantity, c.UnitsRow); ok {
		return u, true
	}
	for _, n := range c.Stats.Units {
		if u, ok := unit.ParseFor(fields[f].quantity, n.Unit); ok {
			return u, true
		}
	}
	return unit.Unit{}, false
}

// InRange returns the share of a column's numbers that the field can have in a
// unit.
func (c *Column) InRange(f Field, u unit.Unit) float64 {
	if len(c.Stats.Values) == 0 {
		return 0
	}
	in := 0
	for _, v := range c.Stats.Values {
		if si := u.SI(v); si >= fields[f].lo && si <= fields[f].hi {
			in++
		}
	}
	return float64(in) / float64(len(c.Stats.Values))
}

// within returns how many numbers lie in the range of a field without a unit.
func (c *Column) within(f Field) int {
	lo, hi := fields[f].lo, fields[f].hi
	if f == Missed {
		hi = 1
	}
	n := 0
	for _, v := range c.Stats.Values {
		if v >= lo && v <= hi {
			n++
		}
	}
	return n
}

// fewerAndFewer reports whether a column holds each number from 1 to its
// greatest no more often than the one before: as reps are numbered whose sets
// end here and there, in whatever order the rows are.
func (s *Stats) fewerAndFewer() bool {
	const least, most = 30, 30 // numbers; reps of a set
	var n [most + 1]int
	top := 0
	for _, v := range s.Values {
		if v < 1 || v > most || v != math.Trunc(v) {
			return false
		}
		n[int(v)]++
		top = max(top, int(v))
	}
	if len(s.Values) < least || top < 3 {
		return false
	}
	for k := 2; k <= top; k++ {
		if n[k] == 0 || n[k] > n[k-1] {
			return false
		}
	}
	return true
}
