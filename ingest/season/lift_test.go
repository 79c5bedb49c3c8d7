package season

import "testing"

func TestLift(t *testing.T) {
	s := read(t, `
[[lift]]
name    = "squat"
variant = "low bar"
spelled = ["comp squat", "Wettkampf"]
[[lift]]
name    = "safety bar squat"
spelled = ["SSB"]
[[lift]]
name    = "deadlift"
spelled = ["bench"]
`)
	for written, want := range map[string][2]string{
		"Comp  Squat":      {"squat", "low bar"}, // before the usual words
		"wettkampf":        {"squat", "low bar"},
		"squat":            {"squat", ""},
		"ssb":              {"safety bar squat", ""},
		"Safety Bar Squat": {"safety bar squat", ""},
		"bench":            {"deadlift", ""}, // odd, but declared
		"Bench press":      {"bench press", ""},
		"  Front   Squat ": {"front squat", ""},
		"":                 {"", ""},
	} {
		if l, v := s.Lift(written); l != want[0] || v != want[1] {
			t.Errorf("%q: %q, %q", written, l, v)
		}
	}
	var none *Season
	if l, v := none.Lift("Sumo DL"); l != "deadlift" || v != "sumo" {
		t.Errorf("without a season: %q, %q", l, v)
	}
}
