package report

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{
		"Ines Duarte":       "Ines-Duarte",
		"  O'Brien, Zoë  ":  "O-Brien-Zoë",
		"../../etc/passwd":  "etc-passwd",
		`..\x`:              "x",
		"CON":               "CON-lifter",
		"com1":              "com1-lifter",
		"LPT\u00b9":         "LPT", // a superscript is no digit here
		"COM10":             "COM10",
		"nul":               "nul-lifter",
		"":                  "lifter",
		"...":               "lifter",
		"\U0001F3CB":        "lifter",
		"李娜":                "李娜",
		"Ada\u202Elmth.exe": "Ada-lmth-exe", // right-to-left mark
		"a\x00b\xffc":       "a-b-c",
		"E\u0301va":         "\u00C9va", // composed
		"=1+2":              "1-2",
	} {
		if got := FileNames([]string{name})[0]; got != want {
			t.Errorf("%q is filed as %q, wants %q", name, got, want)
		}
	}
}

// Names that fall together get names of their own, the same whoever else is
// there and in whatever order.
func TestFileNamesUnique(t *testing.T) {
	names := []string{"Ada Lund", "ada lund", "ADA  LUND", "Ada/Lund", "Straße", "STRASSE", "E\u0301va", "\u00c9VA",
		strings.Repeat("é", 300), strings.Repeat("é", 301), "CON", "con", "\U0001F3CB", "\U0001F600", "Bo"}
	files := FileNames(names)
	seen := map[string]string{}
	for i, f := range files {
		if other, taken := seen[fold(f)]; taken {
			t.Errorf("%q and %q are both filed as %q", names[i], other, f)
		}
		seen[fold(f)] = names[i]
		if len(f) > 80 || !utf8.ValidString(f) || f != filepath.Base(f) {
			t.Errorf("%q is filed as %q", names[i], f)
		}
	}
	if files[len(files)-1] != "Bo" {
		t.Errorf("a name without a double became %q", files[len(files)-1])
	}
	backwards := slices.Clone(names)
	slices.Reverse(backwards)
	again := FileNames(backwards)
	slices.Reverse(again)
	if !slices.Equal(files, again) {
		t.Errorf("the order changed names:\n%q\n%q", files, again)
	}
}

func FuzzFileNames(f *testing.F) {
	f.Add("../x", "CON")
	f.Add("\U0001F3CB", "a\u0301")
	f.Fuzz(func(t *testing.T, a, b string) {
		names := FileNames([]string{a, b})
		for _, n := range names {
			if n == "" || len(n) > 80 || !utf8.ValidString(n) || strings.ContainsAny(n, "./\\:*?\"<>|\x00 ") || reserved(n) {
				t.Fatalf("%q, %q are filed as %q", a, b, names)
			}
		}
		if fold(names[0]) == fold(names[1]) {
			t.Fatalf("%q, %q are both filed as %q", a, b, names)
		}
	})
}
