package located

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What people write into a season file that is no TOML, and what to write
// instead. The first that fits the rest of the line, from the value on, is told.
var slipsOfSyntax = []struct {
	value *regexp.Regexp
	say   string // %s is the value as matched
}{
	{regexp.MustCompile(`^[“”„«»‘’‚‹›]`), `typographic quotes; write straight ones: "…"`},
	{regexp.MustCompile(`^[+-]?\d+,\d+\b`), `decimals are written with a point: 0.20`},
	{regexp.MustCompile(`^\d{1,2}[./-]\d{1,2}[./-]\d{2,4}\b`), `dates are written year-month-day: 2026-01-31`},
	{regexp.MustCompile(`^\d{4}[./]\d{1,2}[./]\d{1,2}\b|^\d{4}-\d-|^\d{4}-\d\d-\d\b`), `dates are written with hyphens and two digits: 2026-01-05`},
	{regexp.MustCompile(`^[+-]?[\d.]+ *(?:%|[A-Za-z])`), `numbers stand without a unit; the key names it`},
	{regexp.MustCompile(`^(?i:yes|no|true|false|on|off)\b`), `yes and no are written true and false, without quotes; other words stand in quotes: "…"`},
	{regexp.MustCompile(`^\pL`), `text stands in quotes: "…"`},
	{regexp.MustCompile(`^"[^"]*$`), `the quote is not closed on this line`},
	{regexp.MustCompile(`^'[^']*$`), `the quote is not closed on this line`},
	{regexp.MustCompile(`^"(?:[^"\\]|\\.)*\\[^btnfrexuU"\\]`), `\ has a meaning of its own in quotes; write / between folders, or use '…' quotes`},
	{regexp.MustCompile(`^$|^#`), `a value is missing after =`},
	{regexp.MustCompile(`^[\[{]`), `a list or table is not closed, or has no comma between its parts`},
}

// misread notes a line that is no TOML: a usual slip in plain words, else what
// the parser says. The statement begins at from, the parser stopped at spot.
func (d *File) misread(from, spot, end int, err error) {
	line := d.Line(from)
	text := strings.TrimRight(string(d.data[from:d.below(from)]), "\r\n")
	if !utf8.ValidString(text) {
		off := from + invalidAt(text)
		d.Fault(off, off+1, "not UTF-8; save the season file as UTF-8")
		return
	}
	key, value, found := strings.Cut(text, "=")
	switch {
	case strings.HasPrefix(text, "["):
		d.Fault(from, from+len(text), "a heading is written [[source]], alone on its line")
		return
	case !found && d.Line(spot) == line:
		d.Fault(from, from+len(text), "neither a heading ([[source]]) nor a declaration (key = value)")
		return
	case found && strings.ContainsFunc(strings.TrimSpace(key), func(r rune) bool {
		return !(unicode.IsLetter(r) && r < utf8.RuneSelf || unicode.IsDigit(r) || strings.ContainsRune(`_-."'`, r))
	}):
		d.Fault(from, from+len(strings.TrimSpace(key)), "a key is one word of small letters and underscores")
		return
	}
	off := from + len(text) - len(strings.TrimLeft(value, " \t"))
	value = d.scalarAt(&off, spot, line, strings.TrimLeft(value, " \t"))
	if trailing(err) && !strings.ContainsAny(string(d.data[spot:end]), "#,") && d.Line(spot) == line && closed(value, spot-off) {
		d.Fault(spot, end, "something follows the value; a declaration is alone on its line, and a quote within quotes is written \\\"")
		return
	}
	for _, s := range slipsOfSyntax {
		if s.value.MatchString(value) {
			if start := d.starts[d.Line(spot)-1]; start > from && !looksLikeStatement(string(d.data[start:d.below(start)])) {
				d.Fault(spot, end, "%s", s.say) // within a list of several lines
				return
			}
			stop := max(off+1, off+len(strings.TrimRight(value, " \t,]}")))
			d.Fault(off, stop, "%s", s.say)
			return
		}
	}
	d.Fault(spot, end, "%s", err)
}

// scalarAt steps into a list or table to the part in which the parser stopped.
func (d *File) scalarAt(off *int, spot, line int, value string) string {
	if value == "" || value[0] != '[' && value[0] != '{' || d.Line(spot) != line || spot <= *off || spot >= *off+len(value) {
		return value
	}
	head := value[:spot-*off]
	i := strings.LastIndexAny(head, "[{,=") + 1
	for i < len(value) && (value[i] == ' ' || value[i] == '\t') {
		i++
	}
	*off += i
	return value[i:]
}

// trailing reports whether the parser met something behind a complete value.
func trailing(err error) bool { return strings.HasPrefix(err.Error(), "expected newline") }

// closed reports whether a value that is complete ends before at: one in
// quotes or brackets, so that what follows is not a part of it.
func closed(value string, at int) bool {
	value = strings.TrimRight(value[:max(0, min(at, len(value)))], " \t")
	return value != "" && strings.ContainsAny(value[len(value)-1:], "\"']}")
}

func invalidAt(s string) int {
	for i, r := range s {
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRuneInString(s[i:]); size == 1 {
				return i
			}
		}
	}
	return 0
}
