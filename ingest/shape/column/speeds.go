package column

import (
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/shape/words"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// several returns how many numbers stand in a text that holds nothing else but
// separators, and whether one of them has a fraction; 0 for other texts.
func several(text string) (n int, fraction bool) {
	for _, p := range CutSpeeds(text) {
		bare, _ := CutMiss(p)
		v, err := number.Parse(bare, number.Point)
		if err != nil {
			if words.MarkOf(p) == words.Miss || number.IsNull(p) {
				continue
			}
			return 0, false
		}
		n++
		fraction = fraction || v.Step < 1
	}
	return n, fraction
}

// inThrees reports whether blanks part nothing but groups of three digits, the
// first as full as the others: speeds in mm/s rather than one number of six
// digits or more, which nothing at a barbell measures.
func inThrees(text string) bool {
	if oneWord(text) {
		return false
	}
	parts := atBlanks(text)
	for i, p := range parts {
		if i+1 == len(parts) {
			p, _, _ = strings.Cut(p, " ") // a unit at the end
		}
		if len(p) != 3 || strings.IndexFunc(p, func(r rune) bool { return !isDigit(r) }) >= 0 {
			return false
		}
	}
	return len(parts) > 1
}

// CutSpeeds cuts a cell into the speeds of a set: at slashes, semicolons,
// bars and line ends, at commas that a blank follows, at hyphens between blanks,
// at arrows, else at blanks, at hyphens, or at commas between numbers with
// points.
func CutSpeeds(text string) []string {
	text = perSecond.Replace(strings.Trim(text, " \t\u00a0()[]{}"))
	for _, cut := range []func(string) []string{
		at("/;|\n\\"),
		func(text string) []string { return strings.Split(text, ", ") },
		func(text string) []string { return strings.Split(text, " - ") },
		func(text string) []string { return strings.Split(text, " – ") },
		at(">→"),
		atBlanks,
		at("-–"),
		func(text string) []string {
			if !strings.Contains(text, ".") {
				return nil
			}
			return strings.Split(text, ",")
		},
	} {
		parts := cut(text)
		if len(parts) < 2 {
			continue
		}
		for i := range parts {
			parts[i] = strings.Trim(parts[i], " \t\u00a0,")
		}
		if strings.IndexFunc(parts[len(parts)-1], isDigit) < 0 && len(parts) == 2 && words.MarkOf(parts[1]) == words.NoMark {
			continue // "0.41 m∕s" is one
		}
		return parts
	}
	return []string{text}
}

// at cuts at each of some signs.
func at(signs string) func(string) []string {
	return func(text string) []string {
		return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(signs, r) })
	}
}

// atBlanks cuts at blanks, but not before a unit at the end.
func atBlanks(text string) []string {
	parts := at(" \u00a0\t")(text)
	if n := len(parts); n > 2 && strings.IndexFunc(parts[n-1], isDigit) < 0 {
		if _, ok := unit.ParseFor(unit.Velocity, parts[n-1]); ok {
			parts = append(parts[:n-2], parts[n-2]+" "+parts[n-1])
		}
	}
	return parts
}

// perSecond writes the slash of m/s and cm/s as a sign that does not part
// speeds; package unit knows it.
var perSecond = strings.NewReplacer("m/sec", "m∕s", "m/s", "m∕s", "M/S", "m∕s", "м/с", "м∕с")

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// CutMiss takes a mark of a missed rep off the end of a speed: "0.12x",
// "0.12 (miss)".
func CutMiss(text string) (bare string, missed bool) {
	i := strings.LastIndexFunc(text, func(r rune) bool { return isDigit(r) || r == '/' })
	if i < 0 || text[i] == '/' {
		return text, false
	}
	behind := strings.Trim(text[i+1:], " ()[]*")
	if behind != "" && words.MarkOf(behind) == words.Miss {
		return strings.TrimSpace(text[:i+1]), true
	}
	return text, false
}

// Speeds returns what the numbers inside cells of several speeds look like.
func (s *Stats) Speeds() *Stats {
	var out Stats
	for _, t := range s.Distinct {
		for _, p := range CutSpeeds(t.Text) {
			bare, _ := CutMiss(p)
			out.Add(&table.Cell{Text: bare, Kind: table.Text})
		}
	}
	return &out
}
