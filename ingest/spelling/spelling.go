// Package spelling compares how people write names of lifters and lifts.
//
// [Fold] puts case, blanks and Unicode form aside: writings equal by it are one
// name. [Similar] finds names that may be one person's, to be suggested, never
// merged. [KnownLift] knows what the lifts and their variants are called in the
// usual words of the trade. [Nearest] finds the word that was meant by a slip.
package spelling

import (
	"cmp"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"repsift/ingest/letter"
)

// Tidy trims a text, makes each run of blanks one blank, and composes
// characters (NFC). Zero-width marks go.
func Tidy(s string) string {
	if plainASCII(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		if r == '\u200b' || r == '\ufeff' {
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(norm.NFC.String(s)), " ")
}

// plainASCII reports whether Tidy has nothing to do, the usual case.
func plainASCII(s string) bool {
	gap := true
	for i := range len(s) {
		if c := s[i]; c > '~' || c < ' ' || c == ' ' && gap {
			return false
		}
		gap = s[i] == ' '
	}
	return s == "" || !gap
}

// Fold returns what two writings of one name have in common: case, blanks and
// Unicode form put aside (canonical caseless matching, Unicode 3.13, D145).
func Fold(s string) string {
	s = Tidy(s)
	for i := range len(s) {
		if s[i] > '~' {
			// A Caser may hold state, so each call has its own.
			return norm.NFC.String(cases.Fold().String(norm.NFD.String(s)))
		}
	}
	return strings.ToLower(s)
}

// Better reports whether a is the better writing of a name than b.
func Better(a, b string) bool {
	return cmp.Or(cmp.Compare(Style(a), Style(b)), cmp.Compare(a, b)) < 0
}

// Style ranks how a name is written: 0 each word with one capital, 1 mixed,
// 2 small letters, 3 capitals.
func Style(s string) int {
	upper, lower, title := false, false, true
	start := true
	for _, r := range s {
		switch {
		case !unicode.IsLetter(r):
			start = !unicode.Is(unicode.Mn, r) && r != '\'' && r != '’'
			continue
		case unicode.IsUpper(r):
			upper = true
			title = title && start
		default:
			lower = true
			title = title && !start
		}
		start = false
	}
	switch {
	case upper && lower && title:
		return 0
	case upper && lower:
		return 1
	case lower:
		return 2
	}
	return 3
}

// Unmarked drops accents and writes letters that have no plain form with
// plain ones: "knebøy" is "kneboy".
func Unmarked(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteString(letter.Plain(r))
		}
	}
	return b.String()
}
