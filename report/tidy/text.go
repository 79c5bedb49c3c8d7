package tidy

import (
	"strings"
	"unicode/utf8"
)

// Text is a text that people wrote: a name, a file, a note. Parquet holds it
// as it is, CSV defused.
type Text string

// MarshalCSV returns the text as it stands in a CSV cell.
func (t Text) MarshalCSV() (string, error) { return Defuse(valid(string(t))), nil }

// valid returns a text that is valid UTF-8, which both formats ask for.
func valid(s string) string { return strings.ToValidUTF8(s, "\uFFFD") }

// List is a list of names. Parquet holds it as a list, CSV joined by "; ".
type List []string

// MarshalCSV returns the list as it stands in a CSV cell.
func (l List) MarshalCSV() (string, error) { return strings.Join(l, "; "), nil }

// Defuse returns text such that no spreadsheet takes it for a formula: a
// single quote is put before a leading = + - @, full-width or not, tab,
// carriage return or line feed (OWASP, CSV Injection), and before a sign
// behind a separator or line end inside the text, where a program that splits
// on another separator than the comma would begin a cell. Numbers are not
// texts and keep their minus. [Restore] is the inverse.
func Defuse(text string) string {
	if !strings.ContainsAny(text, signs+blanks) {
		return text
	}
	var b strings.Builder
	risky := signs + blanks // what may not stand here
	for i, r := range text {
		if begins(text[i:], risky) {
			b.WriteByte('\'')
		}
		b.WriteString(text[i : i+runeLen(text[i:])])
		risky = after(r)
	}
	return b.String()
}

// Restore returns the text that [Defuse] made harmless: of the single quotes
// before a sign that could start a formula, it takes one away.
func Restore(cell string) string {
	if !strings.ContainsRune(cell, '\'') {
		return cell
	}
	var b strings.Builder
	risky := signs + blanks
	for i, r := range cell {
		if r == '\'' && begins(cell[i:], risky) {
			risky = ""
			continue
		}
		b.WriteString(cell[i : i+runeLen(cell[i:])])
		risky = after(r)
	}
	return b.String()
}

const (
	signs      = "=+-@\uFF1D\uFF0B\uFF0D\uFF20"
	blanks     = "\t\r\n"
	separators = ",;|\t\r\n"
)

// after returns the signs that may not follow r.
func after(r rune) string {
	if strings.ContainsRune(separators, r) {
		return signs
	}
	return ""
}

// begins reports whether one of the risky signs stands at the beginning,
// behind any number of single quotes: a text that has such quotes of its own
// gets one more, so that Restore knows which was ours.
func begins(s, risky string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, "'"))
	return r != utf8.RuneError && strings.ContainsRune(risky, r)
}

// runeLen is the number of bytes of the first rune, 1 where it is broken.
func runeLen(s string) int {
	_, n := utf8.DecodeRuneInString(s)
	return n
}
