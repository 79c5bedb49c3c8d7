package season

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/unicode/norm"

	"repsift/ingest/rep"
)

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		pattern, file string
		want          bool
	}{
		{"may.csv", "may.csv", true},
		{"may.csv", "May.csv", false},
		{"*.csv", "may.csv", true},
		{"*.csv", "exports/may.csv", false},
		{"exports/*/*.csv", "exports/north/may.csv", true},
		{"exports/*/*.csv", "exports/may.csv", false},
		{"**/log.xlsx", "log.xlsx", true},
		{"**/log.xlsx", "a/b/log.xlsx", true},
		{"**/log.xlsx", "a/b/blog.xlsx", false},
		{"exports/**", "exports/a/b.csv", true},
		{"exports/**", "exports", false},
		{"exports/**/*.csv", "exports/b.csv", true},
		{"exports/**/x/**/*.csv", "exports/a/x/y/z/b.csv", true},
		{"**", "a/b", true},
		{"north.zip/**", "north.zip/may.csv", true},
		{"[mn]ay.csv", "may.csv", true},
		{"ma?.csv", "mai.csv", true},
		{"log [[]2].csv", "log [2].csv", true},
		{norm.NFC.String("häfen/*.csv"), norm.NFD.String("häfen/mai.csv"), true},
		{norm.NFD.String("häfen/*.csv"), norm.NFC.String("häfen/mai.csv"), true},
	} {
		if got := Matches(c.pattern, c.file); got != c.want {
			t.Errorf("%q, %q: %v", c.pattern, c.file, got)
		}
	}
	if long := strings.Repeat("**/", 200) + "x"; Matches(long, strings.Repeat("a/", 200)+"y") {
		t.Error("matched") // and ends soon
	}
}

func TestSourceLaysTables(t *testing.T) {
	s := read(t, `
[[source]]
files   = ["**"]
bar     = "stiff"
lift    = "low bar squat"
units   = { load = "lb", rom = "cm" }
samples = { time = "t", position = "p" }

[[source]]
files   = ["exports/*.csv", "exports/**"]
device  = "north unit"
lift    = "bench press"
units   = { load = "kg" }
samples = { position = "pos" }
`)
	got := s.Source("exports/may.csv")
	want := Source{Files: []string{"**", "exports/*.csv"}, Bar: "stiff", Device: "north unit", Lift: "bench press",
		Units: map[string]string{"load": "kg", "rom": "cm"}, Samples: &Samples{Time: "t", Position: "pos"}, Line: 9}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
	if got := s.Source("log.csv"); got.Device != "" || got.Lift != "squat" || got.Variant != "low bar" || got.Units["load"] != "lb" || got.Samples.Position != "p" {
		t.Errorf("the later table reached a file it does not match: %+v", got)
	}
	var none *Season
	if got := none.Source("x"); !reflect.DeepEqual(got, Source{}) {
		t.Errorf("got %+v", got)
	}
}

func TestSetup(t *testing.T) {
	s := read(t, `
[[setup]]
bar    = "stiff"
tether = "centre"
[[setup]]
lifts = ["Kreuzheben"]
bar   = "deadlift bar"
[[setup]]
lifts   = ["deadlift"]
lifters = ["Ines Duarte"]
tether  = "sleeve end"
[[setup]]
from   = 2026-03-01
to     = 2026-03-31
tether = "inside sleeve"
[[setup]]
from   = 2026-01-01
tether = "wall"
[[setup]]
devices = ["north unit"]
bar     = "squat bar"
[[setup]]
devices = ["north unit"]
bar     = "other squat bar"
`)
	day := func(month time.Month, d int) rep.Day { return rep.DayOf(2026, month, d) }
	for _, c := range []struct {
		lifter, lift, device string
		day                  rep.Day
		bar, tether          string
	}{
		{"Joss Alder", "squat", "", rep.DayOf(2025, 5, 1), "stiff", "centre"},
		{"Joss Alder", "deadlift", "", rep.DayOf(2025, 5, 1), "deadlift", "centre"},
		{"Ines Duarte", "deadlift", "", day(5, 1), "deadlift", "sleeve end"},         // two conditions before one
		{"Joss Alder", "deadlift", "", day(3, 31), "deadlift", "inside sleeve"},      // fewer days, though the other is later
		{"Joss Alder", "squat", "", day(4, 1), "stiff", "wall"},                      // past the last day
		{"Joss Alder", "squat", "North  Unit", day(2, 1), "other squat bar", "wall"}, // the later of two
	} {
		bar, tether := s.Setup(c.lifter, c.lift, c.device, c.day)
		if bar != c.bar || tether != c.tether {
			t.Errorf("%s, %s, %s, %s: %s, %s; want %s, %s", c.lifter, c.lift, c.device, c.day, bar, tether, c.bar, c.tether)
		}
	}
}

func TestLifter(t *testing.T) {
	s := read(t, "[[lifter]]\nname = \"Inês Duarte\"\nspelled = [\"I. Duarte\", \"ines d\"]\n")
	for written, want := range map[string]string{
		"Inês Duarte":                  "Inês Duarte",
		" INÊS\u00a0 duarte ":          "Inês Duarte",
		norm.NFD.String("inês duarte"): "Inês Duarte",
		"I.  DUARTE":                   "Inês Duarte",
		"Ines D":                       "Inês Duarte",
		"Ines Duarte":                  "Ines Duarte", // not declared: accents tell people apart
		"Duarte, Inês":                 "Duarte, Inês",
		" Joss \t Alder\u200b ":        "Joss Alder",
		norm.NFD.String("Jörg Straße"): "Jörg Straße",
		"":                             "",
	} {
		if got := s.Lifter(written); got != want {
			t.Errorf("%q: %q, want %q", written, got, want)
		}
	}
}

// One name for writings that differ by case, blanks and Unicode form, whatever
// their order.
func TestNamesOrderDoesNotMatter(t *testing.T) {
	s := read(t, "[[lifter]]\nname = \"ines DUARTE\"\n")
	groups := map[string][]string{
		"ines DUARTE": {"Ines Duarte", "INES DUARTE", "ines  duarte"}, // as declared
		"Joss Alder":  {"JOSS ALDER", "joss alder", "Joss Alder", "joss Alder", "Joss  alder"},
		"McKay Ó'Dea": {"MCKAY Ó'DEA", "mckay ó'dea", norm.NFD.String("McKay Ó'Dea")},
		"mia berg":    {"mia berg", "MIA BERG"},
		"Duarte I":    {"Duarte I"},
	}
	var seen []string
	for _, g := range groups {
		seen = append(seen, g...)
	}
	r := rand.New(rand.NewPCG(1, 1))
	for range 50 {
		r.Shuffle(len(seen), func(i, j int) { seen[i], seen[j] = seen[j], seen[i] })
		got := s.Names(seen)
		for want, writings := range groups {
			for _, w := range writings {
				if got[w] != want {
					t.Fatalf("%q became %q, want %q", w, got[w], want)
				}
			}
		}
	}
}

func TestZones(t *testing.T) {
	for _, name := range strings.Fields(zoneNames) {
		s := read(t, "timezone = \""+name+"\"")
		if s.Zone().String() != name {
			t.Errorf("%s became %s", name, s.Zone())
		}
	}
	if z := (&Season{}).Zone(); z != time.UTC {
		t.Errorf("without a zone: %s", z)
	}
}

// A unit is found by its name however it is written; a speed stays one.
func TestDevice(t *testing.T) {
	s := read(t, "[[device_correction]]\ndevice = \"slate unit\"\nas = \"north unit\"\nintercept_m_s = -0.05\n")
	c := s.Device("Slate  Unit")
	if c == nil || s.Device("north unit") != nil || s.Device("") != nil || (*Season)(nil).Device("slate unit") != nil {
		t.Fatalf("found %+v", c)
	}
	odd := DeviceCorrection{Device: `the "red" unit, C:\red`, As: "north unit", Slope: 0.9732, Intercept: -0.0123, Sets: 24, Scatter: 0.021, Error: 0.0061, Line: 1}
	if back := read(t, odd.TOML()).Devices[0]; back != odd {
		t.Errorf("written\n%sread %+v", odd.TOML(), back)
	}
	if back := read(t, c.TOML()).Devices[0]; back != *c {
		t.Errorf("written\n%sread %+v", c.TOML(), back)
	}
	if got := c.Read(0.40); math.Abs(got-0.35) > 1e-12 {
		t.Errorf("0.40 m/s is read as %v", got)
	}
	if got := c.Shown(c.Read(0.4567)); got != 0.4567 {
		t.Errorf("0.4567 m/s was shown as %v", got)
	}
	if got := c.Read(0.03); got != 0.01 {
		t.Errorf("0.03 m/s is read as %v", got)
	}
}
