package season

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"repsift/ingest/spelling"
)

// NameParts is a compiled name_parts pattern: fields in braces, anything else
// as it stands in the name. {any} is a part that says nothing.
type NameParts struct {
	pattern string
	parts   []namePart
}

type namePart struct {
	field   string // empty: literal text
	literal string // folded; blanks and underscores are one "_"
	written string // literal as written
	unit    string // of {load}: the unit that stands behind it in the pattern
}

// namePartForms says what the text of a field looks like; fields that are not
// here take any text.
var namePartForms = map[string]*regexp.Regexp{
	"date": regexp.MustCompile(`^(?:\d{1,4}[-._/ ]\d{1,2}[-._/ ]\d{1,4}|\d{6}|\d{8}|\d{1,2}[-._ ]*\pL{3,}\.?[-._ ]*\d{2,4}|\pL{3,}[-._ ]*\d{1,2},?[-._ ]*\d{4}|\d{4}[-._ ]*\pL{3,}[-._ ]*\d{1,2})$`),
	"time": regexp.MustCompile(`^\d{1,2}[-.:h_]?\d{2}(?:[-.:m_]?\d{2}s?)?$`),
	"load": regexp.MustCompile(`^\d{1,4}(?:[.,]\d{1,2})?(?i: ?(?:kgs?|lbs?))?$`),
	"set":  regexp.MustCompile(`^\d{1,3}$`),
}

// namePartFields are the fields a name can carry, as name_parts calls them.
var namePartFields = []string{"date", "time", "lifter", "lift", "variant", "bar", "tether", "device", "load", "set", "any"}

// ParseNameParts compiles a pattern such as
// {date}_{lifter}_{lift}_{load}kg_set{set}. A blank or underscore in it stands for
// any run of the two; case does not matter.
func ParseNameParts(pattern string) (*NameParts, error) {
	n := &NameParts{pattern: pattern}
	rest := pattern
	seen := make(map[string]bool)
	for rest != "" {
		open := strings.IndexAny(rest, "{}")
		if open < 0 {
			open = len(rest)
		}
		if open > 0 {
			n.parts = append(n.parts, namePart{literal: literal(rest[:open]), written: rest[:open]})
			rest = rest[open:]
			continue
		}
		shut := strings.IndexByte(rest, '}')
		if rest[0] == '}' || shut < 0 || strings.ContainsRune(rest[1:shut], '{') {
			return nil, fmt.Errorf("braces do not match in %q: a field is written {lifter}", pattern)
		}
		field := rest[1:shut]
		rest = rest[shut+1:]
		switch {
		case !slices.Contains(namePartFields, field):
			return nil, fmt.Errorf("{%s} is no field of a name; %s", field, meant(field, namePartFields))
		case seen[field] && field != "any":
			return nil, fmt.Errorf("{%s} stands there twice", field)
		case len(n.parts) > 0 && n.parts[len(n.parts)-1].field != "":
			return nil, fmt.Errorf("{%s} follows {%s} with nothing between that tells where one ends", field, n.parts[len(n.parts)-1].field)
		}
		seen[field] = true
		part := namePart{field: field}
		if behind := strings.ToLower(strings.TrimLeft(rest, " _")); field == "load" {
			for _, u := range []string{"kg", "lb"} {
				if strings.HasPrefix(behind, u) {
					part.unit = u
				}
			}
		}
		n.parts = append(n.parts, part)
	}
	if len(seen) == 0 || len(seen) == 1 && seen["any"] {
		return nil, fmt.Errorf("%q has no field in it: {lifter}, {date}, {lift} …", pattern)
	}
	return n, nil
}

// literal folds a text between fields: case, and runs of blanks and
// underscores.
func literal(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range s {
		if r == '_' || unicode.IsSpace(r) {
			if !gap {
				b.WriteByte('_')
			}
			gap = true
			continue
		}
		gap = false
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// reading is the best way found to take a name apart from some part on.
type reading struct {
	score int      // -1: none
	texts []string // of each part from here on
	other []string // another reading as good; nil for none
}

// Match takes a file's base name without extension, or a sheet's name, apart:
// field → text. Underscores in names of lifters, lifts and the like become
// blanks, in dates hyphens; load has the unit that stands in pattern or name
// ("140kg"). Where a name can be taken apart in several ways, declared lifters
// and devices, known and declared lifts, and separators written as in the
// pattern decide. It returns an error where the name does not fit, or fits in
// two ways that these do not tell apart.
func (n *NameParts) Match(name string, s *Season) (map[string]string, error) {
	name = spelling.Tidy(name)
	if len(name) > 255 {
		return nil, fmt.Errorf("%.40q… is too long a name for name_parts", name)
	}
	known := make(map[[2]int]reading)
	best := n.match(name, s, 0, 0, known)
	if best.score < 0 {
		return nil, fmt.Errorf("%q does not fit name_parts = %q", name, n.pattern)
	}
	if best.other != nil {
		return nil, fmt.Errorf("%q fits name_parts = %q in two ways: %s, or %s; declare the lifter as [[lifter]] or the lift as [[lift]]",
			name, n.pattern, n.differ(best.texts, best.other), n.differ(best.other, best.texts))
	}
	out := make(map[string]string)
	for i, p := range n.parts {
		text := best.texts[i]
		switch p.field {
		case "", "any":
			continue
		case "date":
			text = strings.ReplaceAll(text, "_", "-")
		case "load":
			if p.unit != "" {
				text += p.unit
			}
		case "time", "set":
		default:
			text = spelling.Tidy(strings.ReplaceAll(text, "_", " "))
		}
		out[p.field] = text
	}
	return out, nil
}

// match reads name[at:] by the parts from i on. known holds what was found
// before, so that the work is at most parts × length².
func (n *NameParts) match(name string, s *Season, i, at int, known map[[2]int]reading) reading {
	if i == len(n.parts) {
		if at == len(name) {
			return reading{}
		}
		return reading{score: -1}
	}
	key := [2]int{i, at}
	if r, ok := known[key]; ok {
		return r
	}
	p := n.parts[i]
	best := reading{score: -1}
	for end := at + 1; end <= len(name); end++ {
		if end < len(name) && !utf8.RuneStart(name[end]) {
			continue
		}
		text := name[at:end]
		var own int
		if p.field == "" {
			if literal(text) != p.literal {
				continue
			}
			if text == p.written {
				own = 1
			}
		} else if own = p.worth(text, s); own < 0 {
			continue
		}
		rest := n.match(name, s, i+1, end, known)
		if rest.score < 0 {
			continue
		}
		here := reading{score: own + rest.score, texts: append([]string{text}, rest.texts...)}
		if rest.other != nil {
			here.other = append([]string{text}, rest.other...)
		}
		switch {
		case here.score > best.score:
			best = here
		case here.score == best.score && best.other == nil && n.tells(best.texts, here.texts, i):
			best.other = here.texts
		}
	}
	known[key] = best
	return best
}

// worth says how well a text fits a field; -1 not at all.
func (p namePart) worth(text string, s *Season) int {
	if form := namePartForms[p.field]; form != nil {
		if !form.MatchString(text) || p.unit != "" && strings.ContainsAny(text, "kKlL") {
			return -1
		}
		return 4
	}
	if blankEnd(text) {
		return -1
	}
	plain := spelling.Tidy(strings.ReplaceAll(text, "_", " "))
	is := false
	switch p.field {
	case "lifter":
		_, is = s.declaredLifter(spelling.Fold(plain))
	case "lift":
		_, _, is = s.declaredLift(plain)
		if !is {
			_, _, is = spelling.KnownLift(plain)
		}
	case "variant":
		_, is = spelling.KnownVariant(plain)
	case "device":
		is = s != nil && slices.ContainsFunc(s.Sources, func(x Source) bool { return spelling.Fold(x.Device) == spelling.Fold(plain) })
	}
	if is {
		return 16 + strings.Count(plain, " ") // "low bar squat" before "squat"
	}
	return 0
}

// blankEnd reports whether a text begins or ends with what separates parts.
func blankEnd(s string) bool { return strings.Trim(s, " _-") != s || s == "" }

// tells reports whether two readings differ in a field that is used.
func (n *NameParts) tells(a, b []string, from int) bool {
	for j := range a {
		if f := n.parts[from+j].field; f != "" && f != "any" && a[j] != b[j] {
			return true
		}
	}
	return false
}

// differ writes the fields of a that b reads otherwise.
func (n *NameParts) differ(a, b []string) string {
	var out []string
	for i, p := range n.parts {
		if p.field != "" && p.field != "any" && a[i] != b[i] {
			out = append(out, fmt.Sprintf("%s %q", p.field, a[i]))
		}
	}
	return strings.Join(out, " and ")
}
