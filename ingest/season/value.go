package season

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"repsift/ingest/rep"
	"repsift/ingest/spelling"
)

const arrayTable = unstable.ArrayTable

// what names what stands at a place where something else should.
func what(v *node) string {
	switch v.kind {
	case unstable.String:
		return "a text"
	case unstable.Integer, unstable.Float:
		return "a number"
	case unstable.Bool:
		return v.text
	case unstable.Array:
		return "a list"
	case unstable.Table, unstable.InlineTable:
		return "a table"
	case unstable.ArrayTable:
		return "a heading in two brackets"
	case unstable.LocalTime:
		return "a time"
	}
	return "a date"
}

// text returns a text in quotes, trimmed and composed.
func (d *reader) text(v *node) (string, bool) {
	if v.kind != unstable.String {
		hint := ""
		if v.kind == unstable.Integer || v.kind == unstable.Float {
			hint = `: "` + v.text + `"`
		}
		d.at(v, "a text in quotes belongs here, not %s%s", what(v), hint)
		return "", false
	}
	s := spelling.Tidy(v.text)
	switch {
	case s == "":
		d.at(v, "empty; leave the line out where there is nothing to say")
		return "", false
	case !printable(v.text):
		d.at(v, "there is a tab, line break or other sign in it that no name has")
		return "", false
	}
	return s, true
}

// texts returns a list of texts and the node of each.
func (d *reader) texts(v *node) ([]string, []*node) {
	if v.kind != unstable.Array {
		hint := ""
		if v.kind == unstable.String {
			hint = ": [" + strconv.Quote(v.text) + "]"
		}
		d.at(v, "a list belongs here, not %s%s", what(v), hint)
		return nil, nil
	}
	if len(v.items) == 0 {
		d.at(v, "an empty list says nothing; leave the line out")
	}
	var out []string
	var at []*node
	for _, item := range v.items {
		if s, ok := d.text(item); ok {
			out, at = append(out, s), append(at, item)
		}
	}
	return out, at
}

// word returns one of some words.
func (d *reader) word(v *node, known []string) (string, bool) {
	s, ok := d.text(v)
	if !ok {
		return "", false
	}
	for _, k := range known {
		if spelling.Fold(s) == spelling.Fold(k) {
			return k, true
		}
	}
	d.at(v, "%q is not known; %s", s, meant(s, known))
	return "", false
}

// number returns a number within bounds, both included.
func (d *reader) number(v *node, lo, hi float64) (float64, bool) {
	var f float64
	var err error
	plain := strings.ReplaceAll(v.text, "_", "")
	switch v.kind {
	case unstable.Float:
		f, err = strconv.ParseFloat(plain, 64)
	case unstable.Integer:
		var i int64
		i, err = strconv.ParseInt(plain, 0, 64)
		f = float64(i)
	case unstable.String:
		if _, err := strconv.ParseFloat(v.text, 64); err == nil {
			d.at(v, "numbers stand without quotes")
		} else {
			d.at(v, "%q is not a number", v.text)
		}
		return 0, false
	default:
		d.at(v, "a number belongs here, not %s", what(v))
		return 0, false
	}
	if err != nil || math.IsNaN(f) || f < lo || f > hi {
		d.at(v, "%s is not between %s and %s", v.text, short(lo), short(hi))
		return 0, false
	}
	return f, true
}

// bool returns true or false.
func (d *reader) bool(v *node) (value, ok bool) {
	if v.kind != unstable.Bool {
		d.at(v, "true or false belongs here, not %s", what(v))
		return false, false
	}
	return v.text == "true", true
}

// whole returns a whole number within bounds, both included.
func (d *reader) whole(v *node, lo, hi int32) (int32, bool) {
	f, ok := d.number(v, float64(lo), float64(hi))
	if ok && f != math.Trunc(f) {
		d.at(v, "must be a whole number")
		return 0, false
	}
	return int32(f), ok
}

func short(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// day returns a calendar day.
func (d *reader) day(v *node) (rep.Day, bool) {
	switch v.kind {
	case unstable.LocalDate:
	case unstable.String:
		d.at(v, "dates stand without quotes: 2026-01-31")
		return 0, false
	case unstable.LocalDateTime, unstable.DateTime:
		d.at(v, "a day belongs here, without a time: 2026-01-31")
		return 0, false
	default:
		d.at(v, "a date belongs here, not %s: 2026-01-31", what(v))
		return 0, false
	}
	var day rep.Day
	if err := day.UnmarshalText([]byte(v.text)); err != nil {
		d.at(v, "there is no such day")
		return 0, false
	}
	year, month, date := day.Time().Date()
	if _, ok := rep.ValidDay(year, int(month), date); !ok {
		d.at(v, "the year lies outside 1900 to 2200")
		return 0, false
	}
	return day, true
}

// table returns the entries of a table in braces.
func (d *reader) table(v *node, example string) []*entry {
	if v.kind != unstable.Table {
		d.at(v, "a table in braces belongs here, not %s: %s", what(v), example)
		return nil
	}
	return v.entries
}

// Readers of keys whose value goes as it is into one field.

func textKey[T any](field func(*T) *string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = s
		}
	}
}

func wordKey[T any](known []string, field func(*T) *string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		if s, ok := d.word(v, known); ok {
			*field(to) = s
		}
	}
}

func textsKey[T any](field func(*T) *[]string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) { *field(to), _ = d.texts(v) }
}

func dayKey[T any](field func(*T) *rep.Null[rep.Day]) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		if day, ok := d.day(v); ok {
			*field(to) = rep.Some(day)
		}
	}
}

// rigKey reads the name of a bar or tether.
func rigKey[T any](known []string, field func(*T) *string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = d.rig(v, s, known)
		}
	}
}

func rigsKey[T any](known []string, field func(*T) *[]string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
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
func (d *reader) rig(v *node, s string, known []string) string {
	for _, k := range known {
		if f := spelling.Fold(s); f == k || f == k+" bar" || k == rep.TetherCentre && f == "center" {
			return k
		}
	}
	for _, k := range known {
		if n := spelling.Slips(spelling.Fold(s), k); n <= 2 && 3*n <= len(k) {
			d.at(v, "did you mean %q?", k)
			return s
		}
	}
	return s
}

// lifterKey reads a lifter's name, by any of its spellings.
func lifterKey[T any](field func(*T) *string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		if s, ok := d.text(v); ok {
			*field(to) = d.lifter(v, s)
		}
	}
}

func liftersKey[T any](field func(*T) *[]string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
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
func (d *reader) lifter(v *node, s string) string {
	name, ok := d.s.declaredLifter(spelling.Fold(s))
	if ok {
		return name
	}
	for _, l := range d.s.Lifters[:min(len(d.s.Lifters), mostNear)] {
		if len(s) >= 5 && !spelling.HasDigit(s) && spelling.Slips(spelling.Fold(s), spelling.Fold(l.Name)) == 1 {
			d.at(v, "did you mean %q? If %q is someone else, declare both as [[lifter]]", l.Name, s)
			break
		}
	}
	return s
}

// liftsKey reads the names of lifts a filter or setup is for.
func liftsKey[T any](field func(*T) *[]string) func(*reader, *node, *T) {
	return func(d *reader, v *node, to *T) {
		names, at := d.texts(v)
		for i, s := range names {
			lift, variant := d.lift(at[i], s)
			if variant != "" {
				d.at(at[i], "%q is a variant of %s; lifts are named here without it: %q", s, lift, lift)
			}
			names[i] = lift
		}
		slices.Sort(names)
		*field(to) = slices.Compact(names)
	}
}

// lift returns lift and variant by any of their spellings. Other lifts need no
// [[lift]] table, so an unknown name stands, but one close to a known one.
func (d *reader) lift(v *node, s string) (lift, variant string) {
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
			d.at(v, "did you mean %q? If %q is another lift, declare it as [[lift]]", k, lift)
			break
		}
	}
	return lift, variant
}
