package number

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// FuzzParse holds what Parse returns to its doc: a finite value with a step, or
// an error that quotes the text; the same under a known mark where the text has
// one reading; and what strconv says where the text is plain.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"180", "0.41", "0,41 m/s", "1.234,5", "1 234,5", "1'234.5", "−5", "85 %", "225 lb", "1:05.2", "1:00:05", "NaN", "1e999",
		"1e-5", "12O", "1.234", "1,234,567", "#DIV/0!", "82.5kg", "\u00a01\u202f234", ".", "-", "1e", "5.", ".5", "0x1F", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var e Evidence
		e.Add(text)
		any, err := Parse(text, AnyMark)
		for _, mark := range []DecimalMark{AnyMark, Point, Comma} {
			v, err2 := Parse(text, mark)
			if err2 != nil {
				if e, ok := err2.(*Error); !ok || e.Text != text || e.Problem == "" || v != (Value{}) {
					t.Fatalf("Parse(%q, %q) = %+v, %#v", text, mark, v, err2)
				}
				continue
			}
			if math.IsNaN(v.V) || math.IsInf(v.V, 0) || !(v.Step > 0) || math.IsInf(v.Step, 0) || v.Percent && v.Unit != "" {
				t.Fatalf("Parse(%q, %q) = %+v", text, mark, v)
			}
			if err == nil && v != any {
				t.Fatalf("%q is %+v alone, %+v with mark %q", text, any, v, mark)
			}
			if IsNull(text) {
				t.Fatalf("%q is null and the number %v", text, v)
			}
		}
		if std, err2 := strconv.ParseFloat(text, 64); err2 == nil && isPlain(text) {
			if std == 0 && strings.ContainsAny(text, "123456789") {
				if err == nil {
					t.Fatalf("%q is too small for a number, and is read as 0", text)
				}
				return
			}
			if v, err := Parse(text, Point); err != nil || v.V != std {
				t.Fatalf("%q = %+v, %v; strconv says %v", text, v, err, std)
			}
		}
	})
}

// isPlain reports whether a text is digits, points and a leading sign only.
func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; !digit(c) && c != '.' && !(i == 0 && (c == '-' || c == '+')) {
			return false
		}
	}
	return true
}
