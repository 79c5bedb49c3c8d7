package season

import (
	"maps"
	"slices"
	"time"
	_ "time/tzdata" // a bare Windows or container has no zone files; timezone = "…" must work there too

	"repsift/ingest/rep"
	"repsift/ingest/spelling"
)

// Source returns what is declared for a file: all [[source]] tables with a
// pattern that matches its name (relative to the input root), laid over each
// other in file order, the later wins, key by key (of units and columns, entry
// by entry). Lift and variant go together: a table that names the lift says
// all of it. Files holds the patterns that matched, Line is the last table's.
// The zero Source where nothing is declared. A nil Season declares nothing.
func (s *Season) Source(file string) Source {
	var out Source
	if s == nil {
		return out
	}
	for i := range s.Sources {
		src := &s.Sources[i]
		if j := slices.IndexFunc(src.Files, func(p string) bool { return Matches(p, file) }); j >= 0 {
			out.lay(src)
			out.Files = append(out.Files, src.Files[j])
		}
	}
	return out
}

// lay puts what src declares over s.
func (s *Source) lay(src *Source) {
	over(&s.Device, src.Device)
	over(&s.Bar, src.Bar)
	over(&s.Tether, src.Tether)
	over(&s.Lifter, src.Lifter)
	if src.Lift != "" {
		s.Lift, s.Variant = src.Lift, ""
	}
	over(&s.Variant, src.Variant)
	over(&s.Date, src.Date)
	over(&s.LoadKg, src.LoadKg)
	over(&s.Set, src.Set)
	over(&s.DateOrder, src.DateOrder)
	over(&s.Shape, src.Shape)
	over(&s.Shorthand, src.Shorthand)
	over(&s.Encoding, src.Encoding)
	over(&s.Delimiter, src.Delimiter)
	over(&s.Decimal, src.Decimal)
	over(&s.NameParts, src.NameParts)
	over(&s.Skip, src.Skip)
	s.Units = merged(s.Units, src.Units)
	s.Columns = merged(s.Columns, src.Columns)
	if src.Samples != nil {
		var both Samples
		if s.Samples != nil {
			both = *s.Samples
		}
		over(&both.Time, src.Samples.Time)
		over(&both.Position, src.Samples.Position)
		over(&both.Velocity, src.Samples.Velocity)
		over(&both.MetresPerCount, src.Samples.MetresPerCount)
		over(&both.Up, src.Samples.Up)
		over(&both.CutoffHz, src.Samples.CutoffHz)
		over(&both.Hz, src.Samples.Hz)
		s.Samples = &both
	}
	s.Line = src.Line
}

func over[T comparable](to *T, v T) {
	var zero T
	if v != zero {
		*to = v
	}
}

// merged returns a map of its own: what is declared stays as it is.
func merged(under, top map[string]string) map[string]string {
	if len(top) == 0 {
		return under
	}
	out := make(map[string]string, len(under)+len(top))
	maps.Copy(out, under)
	maps.Copy(out, top)
	return out
}

// Setup returns how the bar was rigged for rows that do not say. Of the
// [[setup]] tables that fit, the narrowest holds: the one with most
// conditions (lifters, lifts, devices, days), of these the one with fewest
// days, of these the later in the file. Bar and tether are looked up apart.
// Empty where none is declared.
func (s *Season) Setup(lifter, lift, device string, day rep.Day) (bar, tether string) {
	if s == nil {
		return "", ""
	}
	var barBy, tetherBy *Setup
	for i := range s.Setups {
		u := &s.Setups[i]
		if !u.fits(lifter, lift, device, day) {
			continue
		}
		if u.Bar != "" && (barBy == nil || !barBy.narrower(u)) {
			bar, barBy = u.Bar, u
		}
		if u.Tether != "" && (tetherBy == nil || !tetherBy.narrower(u)) {
			tether, tetherBy = u.Tether, u
		}
	}
	return bar, tether
}

func (u *Setup) fits(lifter, lift, device string, day rep.Day) bool {
	return oneOf(u.Lifters, lifter) && oneOf(u.Lifts, lift) && oneOf(u.Devices, device) &&
		(!u.From.OK || day >= u.From.V) && (!u.To.OK || day <= u.To.V)
}

// oneOf reports whether a condition holds: it is empty, or has the text.
func oneOf(condition []string, text string) bool {
	if len(condition) == 0 {
		return true
	}
	text = spelling.Fold(text)
	return slices.ContainsFunc(condition, func(c string) bool { return spelling.Fold(c) == text })
}

func (u *Setup) narrower(v *Setup) bool {
	a, b := u.conditions(), v.conditions()
	return a > b || a == b && u.days() < v.days()
}

func (u *Setup) conditions() int {
	n := 0
	for _, declared := range []bool{len(u.Lifters) > 0, len(u.Lifts) > 0, len(u.Devices) > 0, u.From.OK || u.To.OK} {
		if declared {
			n++
		}
	}
	return n
}

// days returns the length of the setup; an open end is longer than any other.
func (u *Setup) days() int64 {
	const open = 1 << 32
	from, to := int64(-open), int64(open)
	if u.From.OK {
		from = int64(u.From.V)
	}
	if u.To.OK {
		to = int64(u.To.V)
	}
	return to - from
}

// Zone returns the time zone of local times: UTC where none is declared.
func (s *Season) Zone() *time.Location {
	if s == nil || s.Location == nil {
		return time.UTC
	}
	return s.Location
}
