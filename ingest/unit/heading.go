package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// FromHeading finds a unit inside a heading and returns the heading without it
// (blanks and separators at its end dropped too), the unit, and whether there
// was one. Where there is none, bare is the heading, trimmed. A heading that is
// nothing but a unit has an empty bare; words for hours, minutes and seconds by
// themselves head times of day and are none.
//
// Read are, the first that fits: a unit in brackets ("Load (lb)", "v [cm/s]",
// "v/(m/s)"); a unit at the end behind a blank or separator, the longest that
// is one ("load_kg", "mean_velocity_m_s", "ROM in cm", "Zeit/ms", "v, m·s⁻¹",
// "Load..kg."), or behind a change of case ("loadKg"); kg or lb in front
// ("kg lifted"). Outside brackets "min" (also: minimum), "#" (also: number) and
// "h" are no units, and a single letter counts only in its usual case.
func FromHeading(heading string) (bare string, u Unit, ok bool) {
	return FromHeadingFor(Any, heading)
}

// FromHeadingFor is FromHeading among units of one quantity only: "velocity_ms"
// is in m/s for Velocity, "Load #" in lb for Load, "Zeit min" in minutes for Time.
func FromHeadingFor(q Quantity, heading string) (bare string, u Unit, ok bool) {
	heading = strings.TrimFunc(heading, blank)
	if len(heading) > maxHeading {
		return heading, Unit{}, false
	}
	if u, ok := headingUnit(q, heading, true); ok {
		return "", u, true
	}
	if bare, u, ok := bracketed(q, heading); ok {
		return bare, u, true
	}
	if bare, u, ok := trailing(q, heading); ok {
		return bare, u, true
	}
	if word, rest, ok := strings.Cut(heading, " "); ok {
		if u, ok := headingUnit(q, word, false); ok && u.Quantity == Load {
			return strings.TrimLeftFunc(rest, separator), u, true
		}
	}
	return heading, Unit{}, false
}

// maxHeading is the length in bytes past which a text is taken for no heading.
const maxHeading = 300

// headingUnit is ParseFor with what holds in headings: counts are words there,
// and outside brackets some short texts are not units.
func headingUnit(q Quantity, text string, alone bool) (Unit, bool) {
	u, ok := ParseFor(q, text)
	if !ok || u.Quantity == Count {
		return Unit{}, false
	}
	if q != Any {
		return u, true
	}
	bracketed := strings.ContainsAny(text, "([")
	text = strings.Trim(text, "([{<>}]). ")
	if alone {
		// "Hora" and "Minute" head columns of times of day, not of hours.
		word := u.Quantity == Time && utf8.RuneCountInString(text) > 2 && !bracketed
		if text == "#" || word { // "Set (#)"
			return Unit{}, false
		}
		return u, true
	}
	switch text {
	case "min", "Min", "MIN", "#", "h", "H", "'", "st", "ST", "M", "S", "IN", "cal", "ora", "ore", "hora", "uur", "hr", "hrs", "hour", "pol":
		return Unit{}, false
	}
	return u, true
}

// bracketed looks into each pair of brackets, the last first.
func bracketed(q Quantity, heading string) (string, Unit, bool) {
	for end := len(heading); end > 0; {
		shut := strings.LastIndexAny(heading[:end], ")]}>")
		if shut < 0 {
			break
		}
		open := strings.LastIndexByte(heading[:shut], "([{<"[strings.IndexByte(")]}>", heading[shut])])
		if open < 0 {
			end = shut
			continue
		}
		inside := heading[open+1 : shut]
		u, ok := headingUnit(q, "("+inside+")", true)
		if !ok && strings.ContainsAny(inside, " :=,") {
			_, u, ok = trailing(q, inside) // "(in kg)", "(unit: kg)", "(bar + plates, kg)"
		}
		if ok {
			before := strings.TrimRightFunc(heading[:open], separator)
			after := strings.TrimFunc(heading[shut+1:], separator)
			return strings.TrimFunc(before+" "+after, blank), u, true
		}
		end = open
	}
	return "", Unit{}, false
}

// trailing looks for the longest unit at the end.
func trailing(q Quantity, heading string) (string, Unit, bool) {
	end := strings.TrimRightFunc(heading, func(r rune) bool { return blank(r) || r == '.' || r == ',' || r == ':' })
	if bare, ok := strings.CutSuffix(end, "%"); ok && (q == Any || q == Percent) {
		return strings.TrimRightFunc(bare, separator), percent, true
	}
	var before rune
	for i, r := range end {
		starts := i > 0 && !separator(r) && (separator(before) || unicode.IsLower(before) && unicode.IsUpper(r))
		before = r
		if !starts || len(end)-i > maxUnit {
			continue
		}
		u, ok := headingUnit(q, end[i:], false)
		if !ok {
			continue
		}
		if unicode.IsUpper(r) && len(end)-i == 1 && u.Quantity != Power && u.Quantity != Force {
			continue // "Group S", "Sex M"
		}
		bare := strings.TrimRightFunc(end[:i], separator)
		return dropPreposition(bare), u, true
	}
	return "", Unit{}, false
}

// separator reports what may stand between a heading's words and its unit.
func separator(r rune) bool {
	return blank(r) || r < utf8.RuneSelf && strings.ContainsRune("_-/|,;:.=", r) || r == '–' || r == '—' || r == '·'
}

// dropPreposition takes the "in" off "ROM in cm".
func dropPreposition(bare string) string {
	i := strings.LastIndexFunc(bare, separator)
	if i < 0 {
		return bare
	}
	_, size := utf8.DecodeRuneInString(bare[i:])
	switch strings.ToLower(bare[i+size:]) {
	case "in", "en", "em", "i", "w", "в", "unit", "einheit":
		return strings.TrimRightFunc(bare[:i], separator)
	}
	return bare
}
