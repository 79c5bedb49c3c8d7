package shorthand

import (
	"math"
	"testing"
)

// FuzzParse holds every entry to what its doc says, and reads it again from the
// form that String gives it.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"180x5 @8", "5x3@140", "3 x 5 x 102.5kg RPE 8.5", "140/5/5/4", "@7,5", "180x5 2RIR", "+20", "180x5 @8-8.5",
		"bw+10 x 8", "180x5(4)", "180x1x", "180x1 miss", "60, 100, 140x3", "180x5 0.31 last", "0.41 / 0.38 / 0.35",
		"180x3+1F", "3x5 @ 100, 110, 120kg @8", "bar x 10", "80% x 3", "-10% x 5", "3 Sätze à 5 Wdh mit 140 kg",
		"180×5 41/38/35 cm/s", "1) 180x5; 2) 185x3 @9", "140xAMRAP 8", "82½x5", "405# x 3", "3x5 (5,5,4)", "0,41,0,38",
	} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(5))
	}
	f.Fuzz(func(t *testing.T, text string, known uint8) {
		opt := Options{Order: Order(known % 3), LoadFirst: Order(known / 3 % 3), HasLoad: known >= 9 && known < 18}
		entries, err := Parse(text, opt)
		if err != nil {
			if e := err.(*Error); entries != nil || e.Text != text || e.Pos < 0 || e.Pos > len(text) || e.Problem == "" {
				t.Fatalf("%q: entries %v, error %+v", text, entries, e)
			}
			return
		}
		for _, e := range entries {
			check(t, text, e)
		}
		opt.HasLoad = false
		for _, e := range entries {
			again, err := Parse(e.String(), opt)
			if err != nil || len(again) != 1 {
				t.Fatalf("%q gives %q, which gives %v, %v", text, e.String(), again, err)
			}
			if got, want := plain(again[0]), plain(e); got != want {
				t.Fatalf("%q gives %q:\n%s\nread again\n%s", text, e.String(), want, got)
			}
		}
	})
}

// plain shows an entry without what String leaves out.
func plain(e Entry) string {
	e.Comment = ""
	return show([]Entry{e})
}

func check(t *testing.T, text string, e Entry) {
	t.Helper()
	finite := func(v float64) bool { return !math.IsNaN(v) && math.Abs(v) <= maxLoadV }
	ok := finite(e.Load.V) && e.Load.Step >= 0 && (e.Load.Kind != Absolute || e.Load.V > 0)
	ok = ok && e.Sets >= 0 && e.Sets <= maxEntries && e.Reps >= 0 && e.Missed >= 0
	last := e.Reps
	for _, r := range e.RepsList {
		ok = ok && r > 0 && e.Reps == 0
		last = r
	}
	ok = ok && e.Missed <= last && (e.RepsList == nil || e.Sets == len(e.RepsList))
	ok = ok && (e.RPE == 0 || e.RPE >= 1 && e.RPE <= 10) && (e.RPEHigh == 0 || e.RPEHigh > e.RPE && e.RPEHigh <= 10)
	ok = ok && (e.RPEList == nil || len(e.RPEList) == e.Sets && e.RPEList[len(e.RPEList)-1] == e.RPE)
	ok = ok && (!e.Ambiguous || e.Sets > 0 && e.Reps > 0 && e.Sets != e.Reps)
	for _, s := range e.Speeds {
		ok = ok && s.V > 0 && finite(s.V)
	}
	if !ok {
		t.Fatalf("%q gives %+v", text, e)
	}
}
