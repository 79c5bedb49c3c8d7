package number

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	tests := []struct {
		idea string
		text string
		mark DecimalMark
		v    float64
		step float64
		unit string // "%": percent
	}{
		{"whole", "180", AnyMark, 180, 1, ""},
		{"point", "82.5", AnyMark, 82.5, 0.1, ""},
		{"comma", "82,5", AnyMark, 82.5, 0.1, ""},
		{"comma in a column of points", "0,41", Point, 0.41, 0.01, ""},
		{"point in a column of commas", "0.41", Comma, 0.41, 0.01, ""},
		{"closing zeros count", "0.40", Point, 0.4, 0.01, ""},
		{"no whole", ".41", Point, 0.41, 0.01, ""},
		{"no fraction behind the point", "41.", Point, 41, 1, ""},
		{"minus", "-0.41", Point, -0.41, 0.01, ""},
		{"plus", "+20", Point, 20, 1, ""},
		{"minus of typography", "−0,41", Comma, -0.41, 0.01, ""},
		{"en dash for a minus", "–5", AnyMark, -5, 1, ""},
		{"minus and blank", "- 5", AnyMark, -5, 1, ""},
		{"no minus zero", "-0.00", Point, 0, 0.01, ""},
		{"blanks around", "  180 \t", AnyMark, 180, 1, ""},
		{"non-breaking blanks around", "\u00a0180\u202f", AnyMark, 180, 1, ""},
		{"byte order mark", "\ufeff180", AnyMark, 180, 1, ""},
		{"closing zeros in front", "007", AnyMark, 7, 1, ""},

		{"point and comma: the last is the decimal mark", "1.234,5", AnyMark, 1234.5, 0.1, ""},
		{"the other way", "1,234.5", AnyMark, 1234.5, 0.1, ""},
		{"whatever the column says", "1.234,5", Point, 1234.5, 0.1, ""},
		{"millions", "1.234.567", AnyMark, 1234567, 1, ""},
		{"millions, comma", "1,234,567", AnyMark, 1234567, 1, ""},
		{"millions with a fraction", "1,234,567.89", AnyMark, 1234567.89, 0.01, ""},
		{"thousands, blank", "1 234", AnyMark, 1234, 1, ""},
		{"thousands, blank, fraction", "1 234,5", AnyMark, 1234.5, 0.1, ""},
		{"thousands, thin blank", "1\u2009234,5", AnyMark, 1234.5, 0.1, ""},
		{"thousands, narrow non-breaking blank", "1\u202f234,5", AnyMark, 1234.5, 0.1, ""},
		{"thousands, non-breaking blank", "1\u00a0234", AnyMark, 1234, 1, ""},
		{"thousands, apostrophe", "1'234.5", AnyMark, 1234.5, 0.1, ""},
		{"thousands, curly apostrophe", "1’234.5", AnyMark, 1234.5, 0.1, ""},
		{"three decimals, point known", "1.234", Point, 1.234, 0.001, ""},
		{"thousands, comma known", "1.234", Comma, 1234, 1, ""},
		{"three decimals, comma known", "1,234", Comma, 1.234, 0.001, ""},
		{"thousands, point known", "1,234", Point, 1234, 1, ""},
		{"a leading zero is no thousands group", "0,413", AnyMark, 0.413, 0.001, ""},
		{"nor are four digits", "1234.567", AnyMark, 1234.567, 0.001, ""},
		{"three decimals of a blank-grouped number", "1 234.567", AnyMark, 1234.567, 0.001, ""},

		{"unit", "82.5kg", AnyMark, 82.5, 0.1, "kg"},
		{"unit, blank", "0,41 m/s", AnyMark, 0.41, 0.01, "m/s"},
		{"pounds", "225 lb", AnyMark, 225, 1, "lb"},
		{"unit with dots and exponents", "0.41 m·s⁻¹", AnyMark, 0.41, 0.01, "m·s⁻¹"},
		{"inches", `18"`, AnyMark, 18, 1, `"`},
		{"counted", "5 reps", AnyMark, 5, 1, "reps"},
		{"counted, German", "5 Wdh.", AnyMark, 5, 1, "Wdh."},
		{"percent", "85 %", AnyMark, 85, 1, "%"},
		{"percent, no blank", "8,5%", AnyMark, 8.5, 0.1, "%"},

		{"exponent", "4.1e-1", Point, 0.41, 0.01, ""},
		{"exponent, capital", "1E3", AnyMark, 1000, 1000, ""},
		{"exponent, comma", "4,1E-01", AnyMark, 0.41, 0.01, ""},
		{"an exponent leaves no thousands", "1.234e0", AnyMark, 1.234, 0.001, ""},

		{"minutes and seconds", "1:05", AnyMark, 65, 1, "s"},
		{"with a fraction", "1:05.2", AnyMark, 65.2, 0.1, "s"},
		{"fraction, comma", "0:00,85", AnyMark, 0.85, 0.01, "s"},
		{"hours", "1:00:05", AnyMark, 3605, 1, "s"},
		{"minutes said", "1:05 min", AnyMark, 65, 1, "s"},

		{"sixteen digits go the long way", "0.1234567890123456", Point, 0.1234567890123456, 1e-16, ""},
		{"many digits", "123456789012345678901234567890", AnyMark, 1.2345678901234568e29, 1, ""},
		{"many zeros", "0." + strings.Repeat("0", 30) + "1", Point, 1e-31, 1e-31, ""},
	}
	for _, tt := range tests {
		got, err := Parse(tt.text, tt.mark)
		want := Value{V: tt.v, Step: tt.step, Unit: tt.unit}
		if tt.unit == "%" {
			want.Unit, want.Percent = "", true
		}
		same := got.V == want.V && math.Abs(got.Step-want.Step) <= 1e-15*want.Step && got.Unit == want.Unit && got.Percent == want.Percent
		if err != nil || !same || math.Signbit(got.V) != (tt.v < 0) {
			t.Errorf("%s: Parse(%q, %q) = %+v, %v; want %+v", tt.idea, tt.text, tt.mark, got, err, want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, tt := range []struct{ idea, text, want string }{
		{"a letter for a digit", "12O", `"12O" is not a number`},
		{"a letter in front", "O12", `"O12" is not a number`},
		{"within", "1l2", `"1l2" is not a number`},
		{"empty", "", `"" is empty, where a number should stand`},
		{"blank", " \u00a0", `" \u00a0" is empty, where a number should stand`},
		{"not a number to programs", "NaN", `"NaN" is not a number`},
		{"infinite", "Inf", `"Inf" is not a number`},
		{"infinite, signed", "-Infinity", `"-Infinity" is not a number`},
		{"too large", "1e999", `"1e999" is out of the range of numbers`},
		{"too large, no exponent to hold", "1e99999999999999999999", `"1e99999999999999999999" is out of the range of numbers`},
		{"too small", "1e-999", `"1e-999" is out of the range of numbers`},
		{"hexadecimal", "0x1F", `"0x1F" is not a number`},
		{"underscores", "1_000", `"1_000" is not a number`},
		{"two signs", "--5", `"--5" is not a number`},
		{"sign alone", "-", `"-" is not a number`},
		{"point alone", ".", `"." is not a number`},
		{"two points", "1.2.3", `"1.2.3" is not a number`},
		{"a date", "12.05.2026", `"12.05.2026" is not a number`},
		{"wrong groups", "1.23,4", `"1.23,4" is not a number`},
		{"groups of four", "1,2345,678", `"1,2345,678" is not a number`},
		{"two decimal marks", "1.234,5,6", `"1.234,5,6" is not a number`},
		{"groups and a mark of their own kind", "1 23", `"1 23" is not a number`},
		{"two numbers", "100, 120", `"100, 120" is not a number`},
		{"a set", "3x5", `"3x5" is not a number`},
		{"a range", "8-9", `"8-9" is not a number`},
		{"an unknown unit", "12 bananas", `"12 bananas" is not a number`},
		{"seconds over 59", "1:75", `"1:75" is not a number`},
		{"one digit of seconds", "1:5", `"1:5" is not a number`},
		{"four parts", "1:00:00:00", `"1:00:00:00" is not a number`},
		{"a duration with a load's unit", "1:05 kg", `"1:05 kg" is not a number`},
		{"long text is cut", strings.Repeat("x", 200), `"` + strings.Repeat("x", 60) + `" is not a number`},
	} {
		v, err := Parse(tt.text, AnyMark)
		if err == nil || err.Error() != tt.want {
			t.Errorf("%s: Parse(%.40q) = %+v, %v; want %s", tt.idea, tt.text, v, err, tt.want)
		}
		var e *Error
		if errors.As(err, &e) && e.Ambiguous {
			t.Errorf("%s: %q counts as ambiguous", tt.idea, tt.text)
		}
	}
}

func TestParseAmbiguous(t *testing.T) {
	for _, text := range []string{"1.234", "1,234", "102.058", "-12,500", "+1.000 kg"} {
		v, err := Parse(text, AnyMark)
		var e *Error
		if !errors.As(err, &e) || !e.Ambiguous {
			t.Errorf("Parse(%q) = %+v, %v; want two readings", text, v, err)
		}
		for _, mark := range []DecimalMark{Point, Comma} {
			if v, err := Parse(text, mark); err != nil {
				t.Errorf("Parse(%q, %q) = %+v, %v", text, mark, v, err)
			}
		}
	}
}

func TestIsNull(t *testing.T) {
	for _, text := range []string{"", " ", "\u00a0", "\t", "--", "-", "–", "—", "---", "n/a", "N/A", "NA", "na", "n.a.", "null", "NULL", "None",
		"NaN", "nan", "nil", "?", ".", "k.A.", "н/д", " -- ",
		"#DIV/0!", "#N/A", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!", "#GETTING_DATA", "#DIV/0",
		"#WERT!", "#BEZUG!", "#NV", "#ZAHL!", "#VALEUR!", "#NOM?", "#¡DIV/0!", "#¿NOMBRE?", "#N/D", "#VALORE!", "#RIF!", "#ADR!", "#LICZBA!",
		"#ДЕЛ/0!", "#ЗНАЧ!", "#Н/Д", "#DEEL/0!", "#WAARDE!", "#N/B", "#VÆRDI!", "#I/T", "#JAKO/0!", "#PUUTTUU", "Err:502", "#####"} {
		if !IsNull(text) {
			t.Errorf("IsNull(%q) = false", text)
		}
	}
	for _, text := range []string{"0", "-1", "0.0", "squat", "#1", "#", "##", "x", "n", "--1", "Inf", "no", "Err:5", "err: x", "#hashtag", "-5%", "zero"} {
		if IsNull(text) {
			t.Errorf("IsNull(%q) = true", text)
		}
	}
}

func TestEvidence(t *testing.T) {
	tests := []struct {
		idea  string
		texts []string
		mark  DecimalMark
		sure  bool
	}{
		{"points", []string{"0.41", "82.5", "180"}, Point, true},
		{"commas", []string{"0,41", "82,5", "180"}, Comma, true},
		{"three decimals beside a leading zero", []string{"1.023", "0.987"}, Point, true},
		{"three decimals, comma", []string{"1,023", "0,987"}, Comma, true},
		{"thousands tell the decimal mark too", []string{"1.234.567", "1.234"}, Comma, true},
		{"both marks in one number", []string{"1.234,5", "1.234"}, Comma, true},
		{"nothing but three decimals", []string{"1.023", "1.104"}, AnyMark, false},
		{"whole numbers need no mark", []string{"180", "5", "1 234"}, AnyMark, true},
		{"units behind", []string{"0,41 m/s", "1,023 m/s"}, Comma, true},
		{"a stray comma among few is not sure where it matters", []string{"0.41", "0,41", "0.42", "1.234"}, Point, false},
		{"where nothing has two readings it does not matter", []string{"0.41", "0,41", "0.42"}, Point, true},
		{"words, nulls and dates say nothing", []string{"squat", "--", "12.05.2026", "#N/A", ""}, AnyMark, true},
		{"one against one, and it matters", []string{"0.41", "0,41", "1.234"}, AnyMark, false},
	}
	for _, tt := range tests {
		var e, a, b Evidence
		for i, text := range tt.texts {
			e.Add(text)
			if i%2 == 0 {
				a.Add(text)
			} else {
				b.Add(text)
			}
		}
		mark, sure := e.Mark()
		if mark != tt.mark || sure != tt.sure {
			t.Errorf("%s: %q: %q, %v (%+v); want %q, %v", tt.idea, tt.texts, mark, sure, e, tt.mark, tt.sure)
		}
		if a.Merge(b); a != e {
			t.Errorf("%s: merged %+v, added %+v", tt.idea, a, e)
		}
	}
	var many Evidence
	for range 20 {
		many.Add("0.41")
	}
	many.Add("0,41")
	many.Add("1.234")
	if mark, sure := many.Mark(); mark != Point || !sure {
		t.Errorf("20 points against one comma: %q, %v", mark, sure)
	}
}

// Every number of up to 15 digits is read as strconv reads it: the fast path
// rounds as the long way does.
func TestFastPathRoundsRight(t *testing.T) {
	seed := uint64(1)
	for range 200_000 {
		seed = seed*6364136223846793005 + 1442695040888963407
		digits := strconv.FormatUint(seed>>14, 10)
		digits = digits[:min(len(digits), 1+int(seed>>11%15))]
		at := int(seed >> 7 % uint64(len(digits)+1))
		text := digits[:at] + "." + digits[at:]
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		var v Value
		if ok := v.plain(text, Point); !ok || v.V != want {
			t.Fatalf("%s: %v, %v; want %v", text, v.V, ok, want)
		}
	}
}

func TestNoAllocations(t *testing.T) {
	for _, text := range []string{"180", "0.41", "82,5", "-12.345"} {
		if n := testing.AllocsPerRun(100, func() { _, _ = Parse(text, Point) }); n != 0 {
			t.Errorf("Parse(%q) allocates %v times", text, n)
		}
	}
}

var benchTexts = []string{"180", "0.41", "82.5", "0.407", "1.023", "45", "0.85", "102.5"}

// BenchmarkParse reads the texts of a plain export; text=strconv is what the
// standard library takes for the same.
func BenchmarkParse(b *testing.B) {
	b.Run("text=plain", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			if _, err := Parse(benchTexts[i&7], Point); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("text=comma", func(b *testing.B) {
		for b.Loop() {
			if _, err := Parse("0,41", Comma); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("text=unit", func(b *testing.B) {
		for b.Loop() {
			if _, err := Parse("0,41 m/s", Comma); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("text=strconv", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			if _, err := strconv.ParseFloat(benchTexts[i&7], 64); err != nil {
				b.Fatal(err)
			}
		}
	})
}
