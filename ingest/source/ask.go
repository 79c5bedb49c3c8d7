package source

import (
	"fmt"
	"strings"
	"unicode"

	"repsift/ingest/rep"
)

// Ask is what a source does not settle: reading it stops, and the coach is
// told which line to add to the season file.
type Ask struct {
	rep.Place
	Problem string   // what is ambiguous or missing, one phrase
	Lines   []string // lines under [[source]], one of which to add
	All     bool     // … or all of them
}

// Error names the file, the column, what is ambiguous and the line to add.
func (a *Ask) Error() string { return a.Place.String() + ": " + a.problem(a.Source) }

// Text is the question as it stands beside the source's name.
func (a *Ask) Text() string {
	at := a.Place
	at.Source, at.Row = "", 0
	text := a.problem(a.Source)
	if a.Row > 0 {
		text = fmt.Sprintf("row %d: %s", a.Row, text)
	}
	return strings.TrimLeft(at.String()+": "+text, ": ")
}

func (a *Ask) problem(source string) string {
	if len(a.Lines) == 0 {
		return a.Problem
	}
	join := " or "
	if a.All {
		join = " and "
	}
	return fmt.Sprintf("%s; add to season.toml under [[source]] files = [%s]: %s", a.Problem, quote(pattern(source)), strings.Join(a.Lines, join))
}

// pattern returns the pattern that matches a name and nothing else.
func pattern(name string) string {
	return strings.NewReplacer("[", "[[]", "*", "[*]", "?", "[?]").Replace(name)
}

// either writes choices: a, b or c.
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// quote returns a text as a TOML string.
func quote(text string) string {
	if !strings.ContainsFunc(text, unseen) && !strings.ContainsAny(text, `'`) && strings.ContainsAny(text, `"\`) {
		return "'" + text + "'"
	}
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unseen(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return `"` + b.String() + `"`
}

// unseen reports whether a rune is a control character or turns the direction
// of writing: such runes are escaped, so that what is shown can be copied.
func unseen(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }
