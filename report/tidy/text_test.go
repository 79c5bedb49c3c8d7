package tidy

import (
	"strings"
	"testing"
)

// The first column of the printed examples of OWASP, CSV Injection, before
// quoting: `=1+2";=1+2` and `=1+2'" ;,=1+2` begin with a single quote. The
// second sign, which the page leaves, is defused too: a program that splits at
// semicolons would begin a cell there.
func TestDefuse(t *testing.T) {
	for text, want := range map[string]string{
		`=1+2";=1+2`:      `'=1+2";'=1+2`,
		`=1+2'" ;,=1+2`:   `'=1+2'" ;,'=1+2`,
		"plain":           "plain",
		"":                "",
		"5x3 @8":          "5x3 @8",
		"@8":              "'@8",
		"-":               "'-",
		"'-":              "''-",
		"\tx":             "'\tx",
		"a\r\n=b":         "a\r\n'=b",
		"'quoted'":        "'quoted'",
		"\uFF1D1":         "'\uFF1D1",
		"it's = to":       "it's = to",
		"\xff=":           "\xff=",
		"=\xff;\xfe-":     "'=\xff;\xfe-",
		"one,-two|+three": "one,'-two|'+three",
	} {
		if got := Defuse(text); got != want {
			t.Errorf("%q became %q, wants %q", text, got, want)
		}
	}
}

func FuzzDefuse(f *testing.F) {
	for _, s := range []string{"=1", "''=", "a;'=b", "\r\n'", "'\t'\t", "x|,;=", "\xff'="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cell := Defuse(text)
		if back := Restore(cell); back != text {
			t.Fatalf("%q became %q and came back as %q", text, cell, back)
		}
		for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;|\t\r\n", r) }) {
			if part != "" && strings.ContainsAny(part[:1], "=+-@") {
				t.Fatalf("%q holds a cell that begins with %q", cell, part[:1])
			}
		}
	})
}
