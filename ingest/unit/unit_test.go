package unit

import (
	"fmt"
	"math"
	"testing"
)

func TestParse(t *testing.T) {
	for want, texts := range map[string][]string{
		"kg": {"kg", "KG", "kgs", "Kg.", "kilo", "kilos", "Kilogramm", "kilograms", "(kg)", "[ kg ]", "кг", "quilos", "chili", "kilogramów"},
		"lb": {"lb", "lbs", "Lbs", "LB.", "pounds", "#", "Pfund", "libras", "livres", "funty"},
		"m/s": {"m/s", "M/S", "m / s", "m·s⁻¹", "m⋅s−1", "m s-1", "m s^-1", "m s⁻¹", "m.s-1", "ms-1", "ms⁻¹", "m*s-1", "m/sec", "m/sek", "m/seg",
			"mps", "m_s", "Meter pro Sekunde", "metros por segundo", "mètres par seconde", "metri al secondo", "meter i sekundet", "metrów na sekundę", "метров в секунду", "m.s", "metres per second", "meters/second", "м/с", "m∕s", "\u200bm/s"},
		"cm/s": {"cm/s", "cm·s⁻¹", "cm s-1", "cms-1", "cm/sec", "CM/S", "см/с", "centimetres per second"},
		"mm/s": {"mm/s", "mm s-1", "мм/с", "mm/sec"},
		"ft/s": {"ft/s", "feet per second", "fps", "ft/sec"},
		"in/s": {"in/s", "inches/second", "ips"},
		"km/h": {"km/h", "kmh"},
		"m":    {"m", "metres", "Meter", "metros", "м"},
		"cm":   {"cm", "CM", "centimeters", "Zentimeter", "см"},
		"mm":   {"mm", "millimetres", "мм"},
		"in":   {"in", "inch", "inches", `"`, "″", "''", "”", "Zoll", "pulgadas", "pouces", "cali"},
		"ft":   {"ft", "feet", "'", "′"},
		"s":    {"s", "S", "sec", "sec.", "secs", "seconds", "Sek.", "seg", "с", "сек."},
		"ms":   {"ms", "msec", "milliseconds", "мс"},
		"µs":   {"µs", "μs", "us"},
		"min":  {"min", "mins", "minutes", "мин"},
		"m/s²": {"m/s²", "m/s2", "m/s^2", "m s-2", "m·s⁻²"},
		"W":    {"W", "watts"}, "kW": {"kW"}, "N": {"N", "newtons"}, "Hz": {"Hz", "hz"},
		"%":   {"%", "percent", "Prozent"},
		"rep": {"reps", "Wdh", "Wdh.", "répétitions", "повторений"}, "set": {"sets", "Sätze", "séries", "подхода"},
		"": {"", "x", "kg/lb", "kgm", "m/kg", "s/m", "lb/s", "n", "w", "kilometre", "m/s/s/s", "meters per second per second", "velocity", "()",
			"(", "RPE", "-1", "m-1", "0", "metres per second and a long tail of words that no unit has"},
	} {
		for _, text := range texts {
			u, ok := Parse(text)
			if u.Name != want || ok != (want != "") {
				t.Errorf("Parse(%q) = %q, %v; want %q", text, u.Name, ok, want)
			}
		}
	}
}

func TestParseFor(t *testing.T) {
	for _, tt := range []struct {
		q          Quantity
		text, want string
	}{
		{Velocity, "ms", "m/s"}, {Time, "ms", "ms"}, {Any, "ms", "ms"},
		{Velocity, "cms", "cm/s"}, {Velocity, "мс", "m/s"},
		{Time, "m", "min"}, {Length, "m", "m"}, {Time, "'", "min"}, {Length, "'", "ft"},
		{Load, "m/s", ""}, {Velocity, "kg", ""}, {Length, "s", ""}, {Time, "kg", ""}, {Load, "k", "kg"}, {Any, "k", ""},
	} {
		if u, ok := ParseFor(tt.q, tt.text); u.Name != tt.want || ok != (tt.want != "") {
			t.Errorf("ParseFor(%v, %q) = %q, %v; want %q", tt.q, tt.text, u.Name, ok, tt.want)
		}
	}
}

func TestFromHeading(t *testing.T) {
	tests := []struct{ idea, heading, bare, unit string }{
		{"brackets", "Load (lb)", "Load", "lb"},
		{"square brackets", "Speed [cm/s]", "Speed", "cm/s"},
		{"no blank", "Gewicht(kg)", "Gewicht", "kg"},
		{"physics notation", "v/(m/s)", "v", "m/s"},
		{"two pairs, unit last", "Load (bar + plates) [kg]", "Load (bar + plates)", "kg"},
		{"two pairs, unit first", "Load [kg] (total)", "Load (total)", "kg"},
		{"words within", "ROM (in cm)", "ROM", "cm"},
		{"colon within", "Load (unit: kg)", "Load", "kg"},
		{"comma within", "Load (bar + plates, kg)", "Load", "kg"},
		{"brackets without a unit", "Speed (mean)", "Speed (mean)", ""},
		{"unclosed bracket", "Load (kg", "Load (kg", ""},
		{"snake", "load_kg", "load", "kg"},
		{"snake, two parts", "mean_velocity_m_s", "mean_velocity", "m/s"},
		{"snake, per", "mean_velocity_m_per_s", "mean_velocity", "m/s"},
		{"snake, milliseconds", "concentric_ms", "concentric", "ms"},
		{"camel", "loadKg", "load", "kg"},
		{"in front of the unit: in", "ROM in cm", "ROM", "cm"},
		{"inches and not the preposition", "ROM in", "ROM", "in"},
		{"German preposition", "Weg in cm", "Weg", "cm"},
		{"comma", "v, m·s⁻¹", "v", "m/s"},
		{"slash", "Zeit/ms", "Zeit", "ms"},
		{"slash, speed", "v/m/s", "v", "m/s"},
		{"blank", "Gewicht kg", "Gewicht", "kg"},
		{"exponent", "v m s^-1", "v", "m/s"},
		{"dash", "Load - lbs", "Load", "lb"},
		{"made safe for R", "Load..kg.", "Load", "kg"},
		{"made safe for R, speed", "Mean.velocity..m.s.", "Mean.velocity", "m/s"},
		{"capitals", "LOAD KG", "LOAD", "kg"},
		{"Cyrillic", "Вес, кг", "Вес", "кг→kg"},
		{"Cyrillic speed", "Скорость (м/с)", "Скорость", "m/s"},
		{"line break", "Mean velocity\n(m/s)", "Mean velocity", "m/s"},
		{"nothing but a unit", "kg", "", "kg"},
		{"nothing but a unit in brackets", "(m/s)", "", "m/s"},
		{"in front", "kg lifted", "lifted", "kg"},
		{"watts are no speed", "Mean power (W)", "Mean power", "W"},
		{"percent", "Velocity loss (%)", "Velocity loss", "%"},
		{"percent at the end", "Loss %", "Loss", "%"},
		{"percent in front is part of the word", "%1RM", "%1RM", ""},
		{"min is the smallest too", "Velocity min", "Velocity min", ""},
		{"a time of day", "Hora", "Hora", ""},
		{"a time of day, Dutch", "Uur", "Uur", ""},
		{"seconds by symbol", "s", "", "s"},
		{"standard deviation", "Velocity std", "Velocity std", ""},
		{"min in brackets", "Rest (min)", "Rest", "min"},
		{"number sign in brackets", "Set (#)", "Set (#)", ""},
		{"number sign", "Set #", "Set #", ""},
		{"number sign in front", "# reps", "# reps", ""},
		{"reps are counted, not measured", "Sets x Reps", "Sets x Reps", ""},
		{"reps in brackets", "Number (reps)", "Number (reps)", ""},
		{"capital letters are groups", "Sex M", "Sex M", ""},
		{"group", "Group S", "Group S", ""},
		{"a word that ends like a unit", "Program", "Program", ""},
		{"apostrophe", "Lifter's", "Lifter's", ""},
		{"plain", "Velocity", "Velocity", ""},
		{"initials", "v1", "v1", ""},
		{"empty", "", "", ""},
		{"blanks", "  Load (kg)  ", "Load", "kg"},
	}
	for _, tt := range tests {
		bare, u, ok := FromHeading(tt.heading)
		want := tt.unit
		if want == "кг→kg" {
			want = "kg"
		}
		if bare != tt.bare || u.Name != want || ok != (want != "") {
			t.Errorf("%s: FromHeading(%q) = %q, %q, %v; want %q, %q", tt.idea, tt.heading, bare, u.Name, ok, tt.bare, want)
		}
	}
}

func TestFromHeadingFor(t *testing.T) {
	for _, tt := range []struct {
		q                   Quantity
		heading, bare, unit string
	}{
		{Velocity, "velocity_ms", "velocity", "m/s"},
		{Velocity, "Mean velocity (ms)", "Mean velocity", "m/s"},
		{Load, "Load #", "Load", "lb"},
		{Load, "Load (#)", "Load", "lb"},
		{Time, "Zeit min", "Zeit", "min"},
		{Load, "Mean velocity (m/s)", "Mean velocity (m/s)", ""},
		{Length, "Time in s", "Time in s", ""},
	} {
		bare, u, ok := FromHeadingFor(tt.q, tt.heading)
		if bare != tt.bare || u.Name != tt.unit || ok != (tt.unit != "") {
			t.Errorf("FromHeadingFor(%v, %q) = %q, %q, %v; want %q, %q", tt.q, tt.heading, bare, u.Name, ok, tt.bare, tt.unit)
		}
	}
}

// Factors against the international yard and pound agreement of 1959 as
// printed in NIST SP 811 (2008), Appendix B, and SI prefixes.
func TestFactors(t *testing.T) {
	for text, want := range map[string]float64{
		"kg": 1, "lb": 0.45359237, "stone": 6.35029318, "m/s": 1, "cm/s": 0.01, "mm/s": 0.001, "ft/s": 0.3048, "in/s": 0.0254, "m": 1, "cm": 0.01,
		"mm": 0.001, "in": 0.0254, "ft": 0.3048, "s": 1, "ms": 0.001, "us": 1e-6, "min": 60, "h": 3600, "km/h": 1 / 3.6, "%": 0.01,
	} {
		u, ok := Parse(text)
		if !ok || math.Abs(u.Factor-want) > 1e-16*want {
			t.Errorf("%s: %v, want %v", text, u.Factor, want)
		}
	}
}

func TestSI(t *testing.T) {
	for _, tt := range []struct {
		text    string
		v, want float64
	}{
		{"lb", 225, 102.05828325}, // NIST SP 811 factor × 225, exact
		{"lb", 135, 61.23496995},  // likewise
		{"cm/s", 35, 0.35},        // 35 × 0.01 is 0.35000000000000003
		{"mm", 457, 0.457},        //
		{"ms", 1234, 1.234},       //
		{"in", 18, 0.4572},        // 18 × 0.0254, exact
		{"lb", 2.5, 1.133980925},  //
		{"min", 1.5, 90},          //
		{"ft/s", 1, 0.3048},       //
		{"kg", 102.058, 102.058},  //
		{"st", 10, 63.5029318},    // 10 × 14 × 0.45359237
	} {
		u, _ := Parse(tt.text)
		if got := u.SI(tt.v); got != tt.want {
			t.Errorf("%v %s = %v, want %v", tt.v, tt.text, got, tt.want)
		}
	}
	if got := (Unit{}).SI(7); got != 7 {
		t.Errorf("no unit: %v", got)
	}
}

// Every decimal of a power-of-ten unit comes out as the decimal a person would
// write, which is how it prints.
func TestConvertKeepsDecimals(t *testing.T) {
	for _, name := range []string{"cm/s", "mm/s", "cm", "mm", "ms", "m/s", "kg"} {
		u, _ := Parse(name)
		for i := 1; i < 3000; i++ {
			v, step := float64(i)/10, 0.1
			got, gotStep := u.Convert(v, step)
			want, wantStep := float64(i)/(10*u.div), 1/(10*u.div)
			if got != want || gotStep != wantStep {
				t.Fatalf("%v %s = %v (step %v), want %v (step %v)", v, name, got, gotStep, want, wantStep)
			}
		}
	}
	lb, _ := Parse("lb")
	if v, step := lb.Convert(225, 1); v != 102.05828325 || step != 0.45359237 {
		t.Errorf("225 lb = %v, step %v", v, step)
	}
	cm, _ := Parse("cm")
	if v, step := cm.Convert(45, 0); v != 0.45 || step != 0 {
		t.Errorf("45 cm of unknown step = %v, %v", v, step)
	}
}

// What a season file may name is read, in its own quantity, SI first.
func TestNames(t *testing.T) {
	for _, q := range []Quantity{Load, Velocity, Length, Time} {
		for i, name := range Names(q) {
			u, ok := ParseFor(q, name)
			if !ok || u.Quantity != q || u.Name != name || i == 0 && (u.Factor != 1 || u != SIOf(q)) {
				t.Errorf("%v: %q is %+v", q, name, u)
			}
		}
	}
	if Names(Any) != nil || SIOf(Percent) != (Unit{}) {
		t.Error("names for what no season file declares")
	}
}

func ExampleFromHeading() {
	for _, h := range []string{"Load (lb)", "mean_velocity_m_s", "ROM in cm", "v, m·s⁻¹", "Zeit/ms"} {
		bare, u, _ := FromHeading(h)
		fmt.Printf("%s: %s, %v\n", bare, u.Name, u.SI(100))
	}
	// Output:
	// Load: lb, 45.359237
	// mean_velocity: m/s, 100
	// ROM: cm, 1
	// v: m/s, 100
	// Zeit: ms, 0.1
}

func FuzzFromHeading(f *testing.F) {
	for _, s := range []string{"Load (lb)", "v/(m/s)", "mean_velocity_m_s", "ROM in cm", "v, m·s⁻¹", "(((", ")(", "m/s)", "%", "kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, heading string) {
		for q := Any; q <= Count; q++ {
			bare, u, ok := FromHeadingFor(q, heading)
			if ok != (u != Unit{}) || q != Any && ok && u.Quantity != q || len(bare) > len(heading)+1 || ok && u.Factor <= 0 {
				t.Fatalf("FromHeadingFor(%v, %q) = %q, %+v, %v", q, heading, bare, u, ok)
			}
		}
	})
}

// TestDigits: no word of a unit has more digits than leave room for another word
// and an exponent.
func TestDigits(t *testing.T) {
	for word := range words {
		if digits(word) > maxDigits/3 {
			t.Errorf("%q has %d digits", word, digits(word))
		}
	}
	for word := range onlyFor {
		if digits(word.text) > maxDigits {
			t.Errorf("%q has %d digits", word.text, digits(word.text))
		}
	}
}
