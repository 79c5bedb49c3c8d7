package season

import (
	"fmt"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"repsift/ingest/rep"
	"repsift/ingest/unit"
)

// read reads a season file that has to be right.
func read(t *testing.T, text string) *Season {
	t.Helper()
	s, err := Read("season.toml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The season file of the brief, every table and key of it.
func TestReadWhole(t *testing.T) {
	f, err := os.Open("testdata/season.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	got, err := Read("season.toml", f)
	if err != nil {
		t.Fatal(err)
	}
	lisbon, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		t.Fatal(err)
	}
	want := &Season{
		File: "season.toml", Name: "Winter block, harbour gym", Location: lisbon,
		Sources: []Source{
			{
				Files: []string{"exports/north/*.csv"}, Device: "north unit", Bar: "deadlift", Tether: "centre", Lifter: "Ines Duarte",
				Lift: "squat", Variant: "low bar", Date: rep.Some(rep.DayOf(2026, 3, 1)), LoadKg: rep.Some(100 * 0.45359237), Set: rep.Some(int32(2)),
				DateOrder: DayMonthYear, Shape: "rep rows", Shorthand: "sets x reps", Encoding: "windows-1252", Delimiter: ";", Decimal: ",",
				Units:     map[string]string{"load": "lb", "mean_velocity": "cm/s", "rom": "cm"},
				Columns:   map[string]string{"mean_velocity": "Tempo", "load": "Gewicht"},
				NameParts: "{date}_{lifter}_{lift}_{load}kg_set{set}", Line: 4,
			},
			{Files: []string{"traces/**"}, Samples: &Samples{Time: "t", Position: "p", Velocity: "v", MetresPerCount: 0.000125, Up: "positive", CutoffHz: 10}, Line: 25},
		},
		Setups: []Setup{{Lifts: []string{"deadlift"}, Lifters: []string{"Ines Duarte"}, Devices: []string{"north unit"},
			From: rep.Some(rep.DayOf(2026, 1, 5)), To: rep.Some(rep.DayOf(2026, 2, 15)), Bar: "deadlift", Tether: "sleeve end", Line: 29}},
		Lifters: []Lifter{{Name: "Ines Duarte", Spelled: []string{"I. Duarte", "ines d"}, Line: 38}},
		Lifts:   []Lift{{Name: "squat", Variant: "low bar", Spelled: []string{"comp squat", "LB squat"}, Line: 42}},
		Filters: []Filter{
			{Kind: rep.ShortTravel, Lifts: []string{"deadlift"}, Lifters: []string{"Ines Duarte"}, Devices: []string{"north unit"}, Bars: []string{"stiff"},
				Tethers: []string{"centre"}, Limits: map[string]float64{"floor_m": 0.2}, Line: 47},
			{Kind: rep.SecondDevice, Flag: true, Prefer: []string{"north unit", "south unit"}, Line: 56},
			{Kind: rep.LoadCheck, Flag: true, Line: 61},
			{Kind: rep.Rack, Off: true, Line: 64},
		},
		Blocks: []Block{{Name: "volume", From: rep.DayOf(2026, 1, 5), To: rep.DayOf(2026, 2, 15), Line: 68}},
		Maxima: []Maximum{{Lifter: "Ines Duarte", Lift: "squat", Variant: "low bar", LoadKg: 142.5, Date: rep.DayOf(2026, 3, 1), Line: 73}},
		Corrections: []Correction{{Source: "exports/north/may.csv", Sheet: "May", Row: 214, Rep: rep.Some(int32(3)), Field: "load", Value: "120",
			Why: "12O typed for 120", Line: 80}},
		Devices: []DeviceCorrection{{Device: "slate unit", As: "north unit", Slope: 0.97, Intercept: -0.02, Sets: 24, Scatter: 0.02, Error: 0.006, Line: 89}},
	}
	got.spellings = nil
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
}

func TestReadNothing(t *testing.T) {
	for _, text := range []string{"", "\n\n", "# nothing\n", "\ufeff"} {
		got := read(t, text)
		got.spellings = nil
		if !reflect.DeepEqual(got, &Season{File: "season.toml"}) {
			t.Errorf("%q: %+v", text, got)
		}
	}
}

// Line ends, a byte order mark and a last line without an end change nothing.
func TestReadAsSaved(t *testing.T) {
	text, err := os.ReadFile("testdata/season.toml")
	if err != nil {
		t.Fatal(err)
	}
	want := read(t, string(text))
	for name, saved := range map[string]string{
		"CRLF":        strings.ReplaceAll(string(text), "\n", "\r\n"),
		"mark":        "\ufeff" + string(text),
		"no last end": strings.TrimRight(string(text), "\n"),
	} {
		if got := read(t, saved); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: another season", name)
		}
	}
}

// Every declarable kind has an entry, in running order; every limit can be
// declared at both ends of its range and not beyond.
func TestLimits(t *testing.T) {
	var names []string
	for _, k := range kinds {
		names = append(names, k.kind.String())
		for _, l := range k.limits {
			declare := func(v float64) error {
				_, err := Read("season.toml", strings.NewReader(fmt.Sprintf("[[filter]]\nkind = %q\n%s = %s\n", k.kind, l.Name, short(v))))
				return err
			}
			if l.Meaning == "" || l.Hi <= l.Lo {
				t.Errorf("%s, %s: no meaning or no range", k.kind, l.Name)
			}
			for _, v := range []float64{l.Lo, l.Hi} {
				if err := declare(v); err != nil {
					t.Error(err)
				}
			}
			for _, v := range []float64{l.Lo - 1, l.Hi + 1} {
				if declare(v) == nil {
					t.Errorf("%s: %s = %g is accepted", k.kind, l.Name, v)
				}
			}
		}
	}
	if !slices.Equal(names, rep.KindNames()) {
		t.Errorf("got %q, want %q", names, rep.KindNames())
	}
	if l := Limits(rep.ShortTravel); len(l) != 1 || l[0].Name != "floor_m" {
		t.Errorf("got %+v", l)
	}
	if Limits(rep.LogCount) != nil || Limits(rep.Correction) != nil || !OnlyFlags(rep.LoadCheck) || OnlyFlags(rep.Rack) {
		t.Error("wrong table")
	}
}

// Each form that the reference shows is accepted where it stands.
func TestSectionsShowWhatReadAccepts(t *testing.T) {
	for _, sec := range Sections() {
		needed := ""
		for _, k := range sec.Keys {
			if k.Needed {
				needed += k.Name + " = " + k.Form + "\n"
			}
			if k.Meaning == "" || k.Form == "" {
				t.Errorf("%s.%s: no form or meaning", sec.Name, k.Name)
			}
		}
		if sec.Name == "setup" {
			needed = "bar = \"stiff\"\n"
		}
		for _, k := range sec.Keys {
			text := needed
			if !k.Needed && !(sec.Name == "setup" && k.Name == "bar") {
				text += k.Name + " = " + k.Form + "\n"
			}
			if k.Name == "prefer" {
				text = strings.Replace(text, "short travel", "second device", 1)
			}
			if sec.Name != "" {
				text = "[[" + sec.Name + "]]\n" + text
			}
			if _, err := Read("season.toml", strings.NewReader(text)); err != nil {
				t.Error(err)
			}
		}
	}
}

// The value of a correction may stand in quotes or not; a wrong one is told.
func TestCorrectionValues(t *testing.T) {
	for _, c := range []struct{ field, value, want string }{
		{"load", "140", "140"}, {"load", `"140"`, "140"}, {"load", `" 142.5 "`, "142.5"}, {"load", `"140 kg"`, ""},
		{"set", "2", "2"}, {"set", "0", ""}, {"rpe", "0.5", ""}, {"rpe", "8.5", "8.5"},
		{"date", "2026-03-01", "2026-03-01"}, {"date", `"2026-03-01"`, "2026-03-01"}, {"date", `"1.3.2026"`, ""},
		{"missed", "true", "true"}, {"missed", `"false"`, "false"}, {"missed", `"no"`, ""}, {"missed", "0", ""},
		{"lifter", `"Ines Duarte"`, "Ines Duarte"}, {"lifter", "3", ""}, {"lift", `"squat"`, "squat"},
	} {
		s, err := Read("season.toml", strings.NewReader(fmt.Sprintf("[[correction]]\nsource = \"a.csv\"\nrow = 1\nfield = %q\nvalue = %s\nwhy = \"seen\"\n", c.field, c.value)))
		switch {
		case (err == nil) != (c.want != ""):
			t.Errorf("%s = %s: %v", c.field, c.value, err)
		case err == nil && s.Corrections[0].Value != c.want:
			t.Errorf("%s = %s became %q", c.field, c.value, s.Corrections[0].Value)
		}
	}
}

// Each unit of each field can be declared.
func TestUnitsOfFields(t *testing.T) {
	for _, f := range Fields() {
		for _, u := range unit.Names(f.Quantity) {
			s := read(t, fmt.Sprintf("[[source]]\nfiles = [\"a.csv\"]\nunits = { %s = %q }\n", f.Name, u))
			if got := s.Sources[0].Units; !maps.Equal(got, map[string]string{f.Name: u}) {
				t.Errorf("%s, %s: %v", f.Name, u, got)
			}
		}
	}
}

// Usual spellings in the season file itself become the season's names.
func TestReadPutsNamesRight(t *testing.T) {
	s := read(t, `
[[filter]]
kind    = "Short  Travel"
lifts   = ["Kreuzheben", "front squat", "Deadlift"]
lifters = ["INES D"]
bars    = ["Stiff bar"]
tethers = ["center"]

[[maximum]]
lifter  = "ines d"
lift    = "sumo deadlift"
load_kg = 150
date    = 2026-03-01

[[lift]]
name    = "Kreuzheben"
variant = "klassisch"
spelled = ["comp dl"]

[[lifter]]
name    = "Ines Duarte"
spelled = ["ines d"]
`)
	f := s.Filters[0]
	if !slices.Equal(f.Lifts, []string{"deadlift", "front squat"}) || f.Lifters[0] != "Ines Duarte" || f.Bars[0] != "stiff" || f.Tethers[0] != "centre" {
		t.Errorf("got %+v", f)
	}
	if m := s.Maxima[0]; m.Lifter != "Ines Duarte" || m.Lift != "deadlift" || m.Variant != "sumo" {
		t.Errorf("got %+v", m)
	}
	if l := s.Lifts[0]; l.Name != "deadlift" || l.Variant != "conventional" {
		t.Errorf("got %+v", l)
	}
}

// A Season that was not read but made answers the same.
func TestMadeByHand(t *testing.T) {
	s := &Season{Lifters: []Lifter{{Name: "Ines Duarte", Spelled: []string{"ines d"}}}, Lifts: []Lift{{Name: "squat", Variant: "low bar", Spelled: []string{"comp squat"}}}}
	if l, v := s.Lift("Comp Squat"); l != "squat" || v != "low bar" || s.Lifter("INES D") != "Ines Duarte" || s.Names([]string{"Ines D"})["Ines D"] != "Ines Duarte" {
		t.Errorf("got %s, %s, %s", l, v, s.Lifter("INES D"))
	}
}
