package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

func TestShortTravel(t *testing.T) {
	for lift, rom := range map[string]float64{rep.Squat: 0.11, rep.BenchPress: 0.06, rep.Deadlift: 0.08, "row": 0.04} {
		var b batch
		b.season(lift, 6, 0.5)
		low := b.set(lift, day0, 1, 60, 0.8, rom, 1)[0] // a first movement of the first set
		res := b.run(t, nil)
		a := wantAside(t, res, low, rep.ShortTravel)
		if !a.Measured.OK || a.Measured.V != rom || !(a.Limit.V > rom) || !strings.Contains(a.Reason, "below the floor") {
			t.Errorf("%s: %+v", lift, a)
		}
		if len(res.Aside) != 1 {
			t.Errorf("%s: %d set aside", lift, len(res.Aside))
		}
	}
}

// TestShortBenchIsReal: with a high arch a bench press travels 13–20 cm.
func TestShortBenchIsReal(t *testing.T) {
	for _, rom := range []float64{0.13, 0.16, 0.20} {
		var b batch
		b.season(rep.BenchPress, 6, rom)
		if res := b.run(t, nil); len(res.Aside) != 0 {
			t.Errorf("travel %v m: %+v", rom, res.Aside)
		}
	}
}

// TestDeclaredFloor: a declared filter takes the default's place where it
// applies, and only there; "flag" marks and keeps.
func TestDeclaredFloor(t *testing.T) {
	floor := map[string]float64{"floor_m": 0.52}
	for _, c := range []struct {
		name        string
		filter      season.Filter
		squat, pull bool // set aside
	}{
		{"a lift", season.Filter{Lifts: []string{rep.Squat}, Limits: floor}, true, false},
		{"a device", season.Filter{Devices: []string{"north"}, Limits: floor}, true, true},
		{"another device", season.Filter{Devices: []string{"south"}, Limits: floor}, false, false},
		{"a lifter", season.Filter{Lifters: []string{"Vera Holm"}, Limits: floor}, true, true},
		{"flag", season.Filter{Flag: true, Limits: floor}, false, false},
	} {
		var b batch
		b.season(rep.Squat, 5, 0.6)
		b.season(rep.Deadlift, 5, 0.6)
		squat := b.set(rep.Squat, day0, 9, 100, 0.6, 0.5, 1)[0]
		pull := b.set(rep.Deadlift, day0, 9, 100, 0.6, 0.5, 1)[0]
		c.filter.Kind = rep.ShortTravel
		res := b.run(t, &season.Season{File: "season.toml", Filters: []season.Filter{c.filter}})
		if _, got := aside(res, squat); got != c.squat {
			t.Errorf("%s: squat set aside: %v", c.name, got)
		}
		if _, got := aside(res, pull); got != c.pull {
			t.Errorf("%s: deadlift set aside: %v", c.name, got)
		}
		if flagged := res.Reps.Flags[squat].Has(rep.ShortTravel); flagged != c.filter.Flag {
			t.Errorf("%s: flagged: %v", c.name, flagged)
		}
	}
}

// TestOff: a filter that is off is not run where it is declared so.
func TestOff(t *testing.T) {
	var b batch
	b.season(rep.Squat, 5, 0.6)
	low := b.set(rep.Squat, day0, 9, 100, 0.6, 0.1, 1)[0]
	off := &season.Season{}
	for _, k := range []rep.Kind{rep.ShortTravel, rep.UsualTravel, rep.Rack, rep.Rebound} {
		off.Filters = append(off.Filters, season.Filter{Kind: k, Off: true, Lifts: []string{rep.Squat}})
	}
	wantKept(t, b.run(t, off), low)
}

func TestUnknownLimit(t *testing.T) {
	var b batch
	_, err := runDeclared(&b, season.Filter{Kind: rep.ShortTravel, Line: 41, Limits: map[string]float64{"flor_m": 0.2}},
		season.Filter{Kind: rep.UsualTravel, Line: 47, Limits: map[string]float64{"low_share": 3}})
	want := "season.toml:41: [[filter]] kind = \"short travel\": no limit \"flor_m\"; it has floor_m\n" +
		"season.toml:47: [[filter]] kind = \"usual travel\": low_share = 3: want a value from 0 to 1"
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}
