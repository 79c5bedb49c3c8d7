package season

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// what names what stands at a place where something else should.
func what(v *located.Node) string {
	switch v.Kind {
	case located.String:
		return "a text"
	case located.Integer, located.Float:
		return "a number"
	case located.Bool:
		return v.Text
	case located.Array:
		return "a list"
	case located.Table, located.InlineTable:
		return "a table"
	case located.ArrayTable:
		return "a heading in two brackets"
	case located.LocalTime:
		return "a time"
	}
	return "a date"
}

// text returns a text in quotes, trimmed and composed.
func (d *reader) text(v *located.Node) (string, bool) {
	if v.Kind != located.String {
		hint := ""
		if v.Kind == located.Integer || v.Kind == located.Float {
			hint = `: "` + v.Text + `"`
		}
		d.At(v, "a text in quotes belongs here, not %s%s", what(v), hint)
		return "", false
	}
	s := spelling.Tidy(v.Text)
	switch {
	case s == "":
		d.At(v, "empty; leave the line out where there is nothing to say")
		return "", false
	case !printable(v.Text):
		d.At(v, "there is a tab, line break or other sign in it that no name has")
		return "", false
	}
	return s, true
}

// texts returns a list of texts and the node of each.
func (d *reader) texts(v *located.Node) ([]string, []*located.Node) {
	if v.Kind != located.Array {
		hint := ""
		if v.Kind == located.String {
			hint = ": [" + strconv.Quote(v.Text) + "]"
		}
		d.At(v, "a list belongs here, not %s%s", what(v), hint)
		return nil, nil
	}
	if len(v.Items) == 0 {
		d.At(v, "an empty list says nothing; leave the line out")
	}
	var out []string
	var at []*located.Node
	for _, item := range v.Items {
		if s, ok := d.text(item); ok {
			out, at = append(out, s), append(at, item)
		}
	}
	return out, at
}

// word returns one of some words.
func (d *reader) word(v *located.Node, known []string) (string, bool) {
	s, ok := d.text(v)
	if !ok {
		return "", false
	}
	for _, k := range known {
		if spelling.Fold(s) == spelling.Fold(k) {
			return k, true
		}
	}
	d.At(v, "%q is not known; %s", s, meant(s, known))
	return "", false
}

// number returns a number within bounds, both included.
func (d *reader) number(v *located.Node, lo, hi float64) (float64, bool) {
	var f float64
	var err error
	plain := strings.ReplaceAll(v.Text, "_", "")
	switch v.Kind {
	case located.Float:
		f, err = strconv.ParseFloat(plain, 64)
	case located.Integer:
		var i int64
		i, err = strconv.ParseInt(plain, 0, 64)
		f = float64(i)
	case located.String:
		if _, err := strconv.ParseFloat(v.Text, 64); err == nil {
			d.At(v, "numbers stand without quotes")
		} else {
			d.At(v, "%q is not a number", v.Text)
		}
		return 0, false
	default:
		d.At(v, "a number belongs here, not %s", what(v))
		return 0, false
	}
	if err != nil || math.IsNaN(f) || f < lo || f > hi {
		d.At(v, "%s is not between %s and %s", v.Text, short(lo), short(hi))
		return 0, false
	}
	return f, true
}

// bool returns true or false.
func (d *reader) bool(v *located.Node) (value, ok bool) {
	if v.Kind != located.Bool {
		d.At(v, "true or false belongs here, not %s", what(v))
		return false, false
	}
	return v.Text == "true", true
}

// whole returns a whole number within bounds, both included.
func (d *reader) whole(v *located.Node, lo, hi int32) (int32, bool) {
	f, ok := d.number(v, float64(lo), float64(hi))
	if ok && f != math.Trunc(f) {
		d.At(v, "must be a whole number")
		return 0, false
	}
	return int32(f), ok
}

func short(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// day returns a calendar day.
func (d *reader) day(v *located.Node) (rep.Day, bool) {
	switch v.Kind {
	case located.LocalDate:
	case located.String:
		d.At(v, "dates stand without quotes: 2026-01-31")
		return 0, false
	case located.LocalDateTime, located.DateTime:
		d.At(v, "a day belongs here, without a time: 2026-01-31")
		return 0, false
	default:
		d.At(v, "a date belongs here, not %s: 2026-01-31", what(v))
		return 0, false
	}
	var day rep.Day
	if err := day.UnmarshalText([]byte(v.Text)); err != nil {
		d.At(v, "there is no such day")
		return 0, false
	}
	year, month, date := day.Time().Date()
	if _, ok := rep.ValidDay(year, int(month), date); !ok {
		d.At(v, "the year lies outside 1900 to 2200")
		return 0, false
	}
	return day, true
}

// table returns the entries of a table in braces.
func (d *reader) table(v *located.Node, example string) []*located.Entry {
	if v.Kind != located.Table {
		d.At(v, "a table in braces belongs here, not %s: %s", what(v), example)
		return nil
	}
	return v.Entries
}

// Readers of keys whose value goes as it is into one field.

func textKey[T any](field func(*T) *string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = s
		}
	}
}

func wordKey[T any](known []string, field func(*T) *string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		if s, ok := d.word(v, known); ok {
			*field(to) = s
		}
	}
}

func textsKey[T any](field func(*T) *[]string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) { *field(to), _ = d.texts(v) }
}

func dayKey[T any](field func(*T) *rep.Null[rep.Day]) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		if day, ok := d.day(v); ok {
			*field(to) = rep.Some(day)
		}
	}
}

// rigKey reads the name of a bar or tether.
func rigKey[T any](known []string, field func(*T) *string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = d.rig(v, s, known)
		}
	}
}

func rigsKey[T any](known []string, field func(*T) *[]string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		names, at := d.texts(v)
		for i, s := range names {
			names[i] = d.rig(at[i], s, known)
		}
		*field(to) = names
	}
}

// The usual bars and tethers; others may be named.
var (
	bars    = []string{rep.StiffBar, rep.DeadliftBar}
	tethers = []string{rep.TetherCentre, rep.TetherInsideSleeve, rep.TetherSleeveEnd}
)

// rig returns the name of a bar or tether in its usual writing. A name close
// to a usual one is taken for a slip.
func (d *reader) rig(v *located.Node, s string, known []string) string {
	for _, k := range known {
		if f := spelling.Fold(s); f == k || f == k+" bar" || k == rep.TetherCentre && f == "center" {
			return k
		}
	}
	for _, k := range known {
		if n := spelling.Slips(spelling.Fold(s), k); n <= 2 && 3*n <= len(k) {
			d.At(v, "did you mean %q?", k)
			return s
		}
	}
	return s
}

// lifterKey reads a lifter's name, by any of its spellings.
func lifterKey[T any](field func(*T) *string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = d.lifter(v, s)
		}
	}
}

func liftersKey[T any](field func(*T) *[]string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		names, at := d.texts(v)
		for i, s := range names {
			names[i] = d.lifter(at[i], s)
		}
		*field(to) = names
	}
}

// mostNear is how many declared names are searched for one near a written one.
const mostNear = 500

// lifter returns the season's name for a lifter. Lifters need no [[lifter]]
// table, so an undeclared name stands, but one slip away from a declared one.
func (d *reader) lifter(v *located.Node, s string) string {
	name, ok := d.s.declaredLifter(spelling.Fold(s))
	if ok {
		return name
	}
	for _, l := range d.s.Lifters[:min(len(d.s.Lifters), mostNear)] {
		if len(s) >= 5 && !spelling.HasDigit(s) && spelling.Slips(spelling.Fold(s), spelling.Fold(l.Name)) == 1 {
			d.At(v, "did you mean %q? If %q is someone else, declare both as [[lifter]]", l.Name, s)
			break
		}
	}
	return s
}

// liftsKey reads the names of lifts a filter or setup is for.
func liftsKey[T any](field func(*T) *[]string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		names, at := d.texts(v)
		for i, s := range names {
			lift, variant := d.lift(at[i], s)
			if variant != "" {
				d.At(at[i], "%q is a variant of %s; lifts are named here without it: %q", s, lift, lift)
			}
			names[i] = lift
		}
		slices.Sort(names)
		*field(to) = slices.Compact(names)
	}
}

// lift returns lift and variant by any of their spellings. Other lifts need no
// [[lift]] table, so an unknown name stands, but one close to a known one.
func (d *reader) lift(v *located.Node, s string) (lift, variant string) {
	lift, variant = d.s.Lift(s)
	known := []string{rep.Squat, rep.BenchPress, rep.Deadlift}
	if _, _, ok := d.s.declaredLift(s); ok {
		return lift, variant
	}
	for _, l := range d.s.Lifts[:min(len(d.s.Lifts), mostNear)] {
		known = append(known, l.Name)
	}
	if slices.Contains(known, lift) {
		return lift, variant
	}
	for _, k := range known {
		if n := spelling.Slips(spelling.Fold(lift), spelling.Fold(k)); n <= 2 && 3*n <= len(k) && !spelling.HasDigit(lift) {
			d.At(v, "did you mean %q? If %q is another lift, declare it as [[lift]]", k, lift)
			break
		}
	}
	return lift, variant
}
