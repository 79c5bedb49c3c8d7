package season

import (
	"maps"
	"strings"
	"testing"
)

func TestNameParts(t *testing.T) {
	s := read(t, `
[[lifter]]
name    = "Ines Duarte"
spelled = ["Duarte I"]
[[lifter]]
name = "Jo Pin"
[[lift]]
name    = "good morning"
spelled = ["GM wide"]
[[source]]
files  = ["x.csv"]
device = "north unit"
`)
	type fields = map[string]string
	for _, c := range []struct {
		pattern, name string
		want          fields
	}{
		{"{date}_{lifter}_{lift}_{load}kg_set{set}", "2026-03-01_Ines Duarte_squat_140kg_set3", fields{"date": "2026-03-01", "lifter": "Ines Duarte", "lift": "squat", "load": "140kg", "set": "3"}},
		{"{date}_{lifter}_{lift}_{load}kg_set{set}", "20260301 Ines_Duarte Sumo_DL 142,5 KG SET 03", nil}, // no blank where the pattern has none
		{"{date}_{lifter}_{lift}_{load} kg_set {set}", "20260301 Ines_Duarte Sumo_DL 142,5 KG SET__03", fields{"date": "20260301", "lifter": "Ines Duarte", "lift": "Sumo DL", "load": "142,5kg", "set": "03"}},
		{"{date} {lifter} {lift}", "01_03_2026_joss_alder_low_bar_squat", fields{"date": "01-03-2026", "lifter": "joss alder", "lift": "low bar squat"}},
		{"{date} {lifter}", "1. März 2026 Ines", fields{"date": "1. März 2026", "lifter": "Ines"}},
		{"{date}-{time} {lift}", "2026-03-01-18.05 Kniebeuge", fields{"date": "2026-03-01", "time": "18.05", "lift": "Kniebeuge"}},
		{"{lifter}_{lift}", "Duarte_I_GM_wide", fields{"lifter": "Duarte I", "lift": "GM wide"}},
		{"{lifter}_{lift}", "Jo_Pin_squat", fields{"lifter": "Jo Pin", "lift": "squat"}}, // declared, though there are pin squats
		{"{lifter}_{lift}", "Mia_pin_squat", fields{"lifter": "Mia", "lift": "pin squat"}},
		{"{lifter}_{lift}", "Mia Berg_good thing", fields{"lifter": "Mia Berg", "lift": "good thing"}}, // the separator as in the pattern
		{"{lift}_{variant}", "squat_low_bar", fields{"lift": "squat", "variant": "low bar"}},
		{"{lift} {load}", "bench 225lb", fields{"lift": "bench", "load": "225lb"}},
		{"{lift} {load}", "bench 100", fields{"lift": "bench", "load": "100"}},
		{"{lift} {load}lb", "bench 225LB", fields{"lift": "bench", "load": "225lb"}},
		{"{lift} {load}kg", "bench 225lb", nil},
		{"{device} {any} {lift}", "north unit export 7 squat", fields{"device": "north unit", "lift": "squat"}},
		{"Session {set} ({lifter})", "session_12_(Ines)", fields{"set": "12", "lifter": "Ines"}},
		{"{lifter} – {lift}", "Søren Åberg – Knebøy", fields{"lifter": "Søren Åberg", "lift": "Knebøy"}},
		{"{lifter}", "Ines", fields{"lifter": "Ines"}},
		{"{lifter}", "", nil},
		{"{set}", "12a", nil},
		{"{date}_{lift}", "2026-03_squat", nil},
	} {
		n, err := ParseNameParts(c.pattern)
		if err != nil {
			t.Fatal(err)
		}
		got, err := n.Match(c.name, s)
		if (err == nil) != (c.want != nil) || err == nil && !maps.Equal(got, c.want) {
			t.Errorf("%q, %q: got %q, %v; want %q", c.pattern, c.name, got, err, c.want)
		}
	}
}

func TestNamePartsSayWhyNot(t *testing.T) {
	n, err := ParseNameParts("{lifter}_{lift}")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"squat":                  `"squat" does not fit name_parts = "{lifter}_{lift}"`,
		"Mia_Berg_good_thing":    `"Mia_Berg_good_thing" fits name_parts = "{lifter}_{lift}" in two ways: lifter "Mia" and lift "Berg_good_thing", or lifter "Mia_Berg" and lift "good_thing"; declare the lifter as [[lifter]] or the lift as [[lift]]`,
		strings.Repeat("a", 300): `"` + strings.Repeat("a", 40) + `"… is too long a name for name_parts`,
	} {
		if _, err := n.Match(name, nil); err == nil || err.Error() != want {
			t.Errorf("%.50q: got %v\nwant %s", name, err, want)
		}
	}
}
