package around

import (
	"fmt"
	"strings"
	"testing"

	"repsift/ingest/season"
)

func TestName(t *testing.T) {
	s := &season.Season{Lifters: []season.Lifter{{Name: "Ines Duarte", Spelled: []string{"Ines"}}}}
	for name, want := range map[string]string{
		"2026-03-14_Ines Duarte_squat_107.5kg_set7": "date=2026-03-14 lifter=Ines Duarte lift=squat load=107.5kg set=set7",
		"paused bench 2026-03-18":                   "date=2026-03-18 lift=paused bench",
		"Kniebeuge":                                 "lift=Kniebeuge",
		"Ines":                                      "lifter=Ines",
		"14.03.2026":                                "date=14.03.2026",
		"export may":                                ", export may",
		"Käthe, Saturday pulls":                     ", Käthe Saturday pulls",
	} {
		n := Name(name, "file name", s)
		var got []string
		for _, f := range n.Fields {
			got = append(got, fmt.Sprintf("%s=%s", f.Field, f.Text))
		}
		g := strings.Join(got, " ")
		if n.Rest != "" {
			g += ", " + n.Rest
		}
		if g != want {
			t.Errorf("%q: %q, want %q", name, g, want)
		}
	}
}

func TestStem(t *testing.T) {
	for name, want := range map[string]string{"a/b.csv": "b", "a/b.csv.gz": "b", "2026_107.5kg_set7.csv": "2026_107.5kg_set7", "noending": "noending"} {
		if got := Stem(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
