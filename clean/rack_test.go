package clean_test

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// TestRack: unrack, walkout and re-rack whose travel is above the floor, at
// the ends of a set; the same travel in the middle is no movement in the rack.
func TestRack(t *testing.T) {
	var b batch
	b.season(rep.BenchPress, 6, 0.16)
	rows := b.set(rep.BenchPress, day0, 9, 100, 0.6, 0.16, 6)
	for _, k := range []int{0, 1, 5} {
		b.reps.ROM.Put(rows[k], rep.Some(0.115))
		b.reps.MeanVelocity.Set(rows[k], 0.45)
		b.reps.Concentric.Put(rows[k], rep.Some(0.256))
	}
	res := b.run(t, nil)
	for k, where := range map[int]string{0: "taken out", 1: "taken out", 5: "put back"} {
		if a := wantAside(t, res, rows[k], rep.Rack); !strings.HasSuffix(a.Reason, where) {
			t.Errorf("rep %d: %q", k+1, a.Reason)
		}
	}
	wantKept(t, res, rows[2:5]...)
}

// TestPartialInTheMiddle: a single cut-short rep between full ones stays.
func TestPartialInTheMiddle(t *testing.T) {
	var b batch
	b.season(rep.BenchPress, 6, 0.16)
	rows := b.set(rep.BenchPress, day0, 9, 100, 0.6, 0.16, 5)
	b.reps.ROM.Put(rows[2], rep.Some(0.115))
	b.reps.Concentric.Put(rows[2], rep.Null[float64]{})
	wantKept(t, b.run(t, nil), rows...)
}

// TestLate: a short last movement half a minute after the reps is plates that go
// on, not a failed attempt; a rep after three breaths stays.
func TestLate(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	at := func(rows []int32, seconds ...float64) {
		for k, r := range rows {
			b.reps.PerformedAt.Put(r, rep.Some(rep.Instant(int64(day0+2)*86_400_000+int64(1000*seconds[k]))))
		}
	}
	plates := b.set(rep.Squat, day0+2, 1, 160, 0.32, 0.55, 4)
	at(plates, 100, 104, 108, 140)
	b.reps.ROM.Put(plates[3], rep.Some(0.17))
	b.reps.MeanVelocity.Set(plates[3], 0.15)
	b.reps.Concentric.Put(plates[3], rep.Some(1.13))
	breaths := b.set(rep.Squat, day0+2, 2, 160, 0.32, 0.55, 4)
	at(breaths, 400, 404, 408, 423)
	res := b.run(t, nil)
	if a := wantAside(t, res, plates[3], rep.UsualTravel); len(a.Also) != 1 || a.Also[0] != rep.Rack {
		t.Errorf("%+v", a)
	}
	wantKept(t, res, append(breaths, plates[:3]...)...)
}
