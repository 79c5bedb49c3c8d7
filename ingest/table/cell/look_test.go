package cell

import (
	"strings"
	"testing"
)

// TestOfText: what texts look like.
func TestOfText(t *testing.T) {
	for look, texts := range map[Look][]string{
		Nothing:  {"", " ", "\u00a0", "\t "},
		Null:     {"--", "n/a", "NA", "#DIV/0!", "?", "-", "—"},
		Numeric:  {"1", "-2.5", "1,234.50", "1.234,5", "12 %", "0,41 m/s", "82.5kg", "$1,200", "(300)", "1e-5", "5.", ".5", "1 234 567", "1'000", "+3", "04.03.2026"},
		Temporal: {"2026-03-04", "04/03/2026", "18:05", "18:05:10", "2026-03-04 18:05:10", "2026-03-04T18:05:10", "2026-03-04T18:05:10Z", "4 Mar 2026", "3/4/26", "12. März 2026", "1:05.2", "9:30 am"},
		Words:    {"squat", "Größe", "a;b"},
		Mixed:    {"A1", "180x5 @8", "v2", "+49 30 123456 789"},
		Prose:    {strings.Repeat("word ", 13)},
		Odd:      {`"half`, "1;2", "1|2"},
	} {
		for _, s := range texts {
			if got := OfText(s); got != look {
				t.Errorf("%q looks %d, want %d", s, got, look)
			}
		}
	}
}

// TestPlainForms: what is told at once is told the same way letter by letter.
func TestPlainForms(t *testing.T) {
	for _, s := range []string{"18:05", "18:05:10", "2026-03-04", "04/03/2026", "2026-03-04 18:05:10", "2026-03-04T18:05:10", "99:99", "0000-00-00"} {
		if !plainMoment(s) || isNumeric(s) || !isTemporal(s) {
			t.Errorf("%q: %v, a number %v, a date or time %v", s, plainMoment(s), isNumeric(s), isTemporal(s))
		}
	}
	for _, s := range []string{"12345", "1,234", "18-05", "2026.03.04", "18:0510", "2026-03-04x18:05:10", "12345678", "ab:cd"} {
		if plainMoment(s) {
			t.Errorf("%q is taken for a date or time", s)
		}
	}
}
