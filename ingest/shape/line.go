package shape

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"repsift/ingest/date"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/shorthand"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
)

// Line is what a line of a log kept as plain text says: "2026-01-05 Squat 60x5,
// 100x3". Each part may be missing. Rest are words beside a date that are no lift.
type Line struct{ Date, Lift, Work, Rest string }

// longestDate is the most words of a date at the front of a line.
const longestDate = 4

// ReadLine takes a line of a log apart. What stands before the sets is the lift,
// unless it is words that say something of a set ("top single 180 @8"): then it
// is a part of the sets. A line without a figure is a date or a lift alone, or
// says nothing.
func ReadLine(text string, s *season.Season) Line {
	var l Line
	rest := strings.TrimLeft(strings.TrimSpace(text), "-*•– \t")
	words := strings.Fields(rest)
	for n := min(longestDate, len(words)); n > 0; n-- {
		front := strings.TrimRight(strings.Join(words[:n], " "), ":,-–")
		if isDate(front) {
			l.Date, rest = front, strings.TrimLeft(strings.Join(words[n:], " "), "-–: ")
			break
		}
	}
	for n := 1; n <= min(longestDate, len(words)-1) && l.Date == ""; n++ { // "Squat 5/1/26"
		if behind := strings.Join(words[len(words)-n:], " "); isDate(behind) {
			if front := strings.Join(words[:len(words)-n], " "); strings.IndexFunc(front, unicode.IsDigit) < 0 {
				l.Date, rest = behind, front
			}
		}
	}
	i := strings.IndexFunc(rest, func(r rune) bool { return unicode.IsDigit(r) || r == '@' })
	if i < 0 {
		lead := strings.TrimRight(rest, ":-–, ")
		if isLift(lead, s) {
			l.Lift = lead
		} else if l.Date != "" {
			l.Rest = strings.TrimLeft(lead, "-–, ")
		}
		return l
	}
	lead := strings.Trim(rest[:i], " \t:-–,(")
	l.Work = rest
	switch {
	case lead == "" || saysOfSet(lead):
	case isLift(lead, s), sets(rest[i:]):
		l.Lift, l.Work = lead, rest[i:]
	}
	return l
}

// isDate reports whether a text is a date and not a list of reps: 5/1/26 names a
// year, 10/8/6 may be three sets.
func isDate(text string) bool {
	if len(text) < 6 || strings.ContainsAny(text, "@xX×*") {
		return false
	}
	var e date.Evidence
	if e.Add(text); e.Dates == 0 {
		return false
	}
	figures := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsDigit(r) })
	last, _ := strconv.Atoi(figures[len(figures)-1]) // digits, as cut
	return len(figures[0]) >= 4 || last >= 20 || strings.IndexFunc(text, unicode.IsLetter) >= 0
}

func isLift(text string, s *season.Season) bool {
	if text == "" {
		return false
	}
	if _, _, ok := spelling.KnownLift(text); ok {
		return true
	}
	return s != nil && slices.ContainsFunc(s.Lifts, func(l season.Lift) bool {
		return slices.ContainsFunc(append([]string{l.Name}, l.Spelled...), func(w string) bool { return spelling.Fold(w) == spelling.Fold(text) })
	})
}

// saysOfSet reports whether words before a set belong to it.
func saysOfSet(lead string) bool {
	for _, w := range strings.FieldsFunc(spelling.Fold(lead), func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch w {
		case "top", "single", "singles", "double", "triple", "set", "sets", "warm", "up", "warmup", "ups", "back", "off", "backoff", "backoffs", "down", "drop", "work", "working",
			"then", "plus", "and", "last", "final", "first", "opener", "paused", "easy", "heavy", "light", "bw", "bodyweight", "bar", "empty", "amrap", "max", "ramp", "to", "rpe", "rir", "x":
		default:
			return false
		}
	}
	return true
}

// sets reports whether a text is sets in shorthand.
func sets(text string) bool {
	entries, err := shorthand.Parse(text, shorthand.Options{})
	return err == nil && slices.ContainsFunc(entries, func(e shorthand.Entry) bool { return e.Reps > 0 || e.Sets > 0 || len(e.RepsList) > 0 || e.RPE > 0 })
}

// readLine reads a line of a log; a lift or date that stands there holds for the
// lines below too.
func (d *Decoder) readLine(text string) (problem string) {
	l := ReadLine(text, d.plan.Season)
	if l.Date != "" {
		c := Cell{Field: column.Date}
		if problem := parseDate(d, &c, &table.Cell{Text: l.Date, Kind: table.Text}); problem != "" {
			return problem
		}
		d.v.have = d.v.have.With(column.Date)
		d.keep(column.Date)
	}
	if l.Lift != "" {
		d.v.Variant = ""
		parseLift(d, nil, &table.Cell{Text: l.Lift, Kind: table.Text})
		d.v.have = d.v.have.With(column.Lift)
		d.keep(column.Lift)
	}
	d.v.work = l.Work
	return ""
}
