package clean_test

import (
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// TestGreedyFilter: a declared floor that takes half of a lift is suspected, and
// named with what it takes; the same floor where it takes a rep or two is not.
func TestGreedyFilter(t *testing.T) {
	for _, short := range []int{12, 2} {
		var b batch
		for i := range 24 {
			rom := 0.60
			if i < short {
				rom = 0.40
			}
			b.add(rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day0 + rep.Day(i/6), LoadKg: 100, SetMark: rep.Some(int32(i/3 + 1)),
				RepRecorded: rep.Some(int32(i%3 + 1)), MeanVelocity: 0.5, ROM: rep.Some(rom), Source: "unit.csv", Row: int32(i + 2)})
		}
		res := b.run(t, &season.Season{Filters: []season.Filter{{Kind: rep.ShortTravel, Limits: map[string]float64{"floor_m": 0.5}}}})
		var said []string
		for _, d := range res.Doubts {
			if d.Topic == clean.FilterGreedy {
				said = append(said, d.Text)
			}
		}
		if short == 2 {
			if said != nil {
				t.Errorf("two reps of 24: %q", said)
			}
			continue
		}
		if len(said) != 1 || !strings.HasPrefix(said[0], "short travel takes 12 of 24 reps, 50 %, where more than 40 %") {
			t.Errorf("%q", said)
		}
		if len(res.Taken) != 1 || res.Taken[0].Reps != 24 || res.Taken[0].Kept != 12 {
			t.Errorf("%+v", res.Taken)
		}
	}
}
