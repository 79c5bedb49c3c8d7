package clean_test

import (
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// TestLoadCheck: the decimal mark, and pounds for kilograms; the load stays as
// entered, the likely one is suggested.
func TestLoadCheck(t *testing.T) {
	for _, c := range []struct {
		entered, speed float64
		likely         string
	}{
		{16, 0.30, "160 kg would fit"},
		{286.5, 0.45, "would fit"}, // 130 kg in lb
	} {
		var b batch
		b.season(rep.Squat, 6, 0.55)
		rows := b.set(rep.Squat, day0, 9, c.entered, c.speed, 0.55, 3)
		res := b.run(t, nil)
		wantKept(t, res, rows...)
		for _, r := range rows {
			if x := res.Reps.Rep(r); !x.Flags.Has(rep.LoadCheck) || x.LoadKg != c.entered {
				t.Errorf("%v kg: flags %s, load %v", c.entered, x.Flags, x.LoadKg)
			}
		}
		told := 0
		for _, d := range res.Doubts {
			if d.Topic == clean.LoadUnlikely && strings.Contains(d.Text, c.likely) {
				told++
			}
		}
		if told != 1 {
			t.Errorf("%v kg: doubts %+v", c.entered, res.Doubts)
		}
	}
}

// TestLoadCheckBadDay: a slow day is no typing slip.
func TestLoadCheckBadDay(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	var rows []int32
	for s, load := range []float64{60, 100, 130, 150} {
		rows = append(rows, b.set(rep.Squat, day0+3, int32(s+1), load, 0.95-0.005*load, 0.55, 3)...)
	}
	res := b.run(t, nil)
	for _, r := range rows {
		if res.Reps.Flags[r].Has(rep.LoadCheck) {
			t.Errorf("%v kg flagged", res.Reps.LoadKg.Get(r))
		}
	}
}
