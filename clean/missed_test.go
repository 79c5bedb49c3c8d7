package clean_test

import (
	"testing"

	"repsift/ingest/rep"
)

// fail turns a rep into a miss: it stops short after a struggle.
func (b *batch) fail(r int32, rom, v float64) {
	b.reps.ROM.Put(r, rep.Some(rom))
	b.reps.MeanVelocity.Set(r, v)
	b.reps.PeakVelocity.Put(r, rep.Some(3*v))
	b.reps.Concentric.Put(r, rep.Some(round(rom/v, 0.01)))
}

// TestMissed: a heavy set's last, slow, short rep is missed, and kept.
func TestMissed(t *testing.T) {
	for _, rom := range []float64{0.13, 0.2, 0.3, 0.44} {
		var b batch
		b.season(rep.Squat, 6, 0.55)
		rows := b.set(rep.Squat, day0+2, 1, 165, 0.30, 0.55, 3)
		b.fail(rows[2], rom, 0.12)
		res := b.run(t, nil)
		wantKept(t, res, rows...)
		if !res.Reps.Missed(rows[2]) || res.Reps.Missed(rows[1]) {
			t.Errorf("travel %v m: missed %v, the one before %v", rom, res.Reps.Missed(rows[2]), res.Reps.Missed(rows[1]))
		}
		for _, s := range res.Sets.All() {
			if s.Date == day0+2 && (s.Reps != 3 || s.Missed != 1 || s.Last.V != b.reps.MeanVelocity.Get(rows[1])) {
				t.Errorf("its set %+v", s)
			}
		}
	}
}

// TestMissedSingle: alone in its set.
func TestMissedSingle(t *testing.T) {
	var b batch
	b.season(rep.Deadlift, 6, 0.55)
	row := b.set(rep.Deadlift, day0+2, 1, 185, 0.2, 0.55, 1)[0]
	b.fail(row, 0.25, 0.1)
	res := b.run(t, nil)
	wantKept(t, res, row)
	if !res.Reps.Missed(row) {
		t.Error("not missed")
	}
}

// TestNoMiss: a re-rack after easy reps is none, nor is a full grinder, nor
// what the export calls an easy set.
func TestNoMiss(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	light := b.set(rep.Squat, day0+2, 1, 60, 0.8, 0.55, 4)
	b.fail(light[3], 0.12, 0.2)
	grind := b.set(rep.Squat, day0+2, 2, 165, 0.3, 0.55, 3)
	b.fail(grind[2], 0.54, 0.12)
	easy := b.set(rep.Squat, day0+2, 3, 165, 0.3, 0.55, 3)
	b.fail(easy[2], 0.14, 0.12)
	for _, r := range easy {
		b.reps.RPE.Put(r, rep.Some(7.0))
	}
	res := b.run(t, nil)
	wantKept(t, res, grind...)
	for _, r := range []int32{light[3], easy[2]} {
		if _, ok := aside(res, r); !ok || res.Reps.Missed(r) {
			t.Errorf("row %d: set aside %v, missed %v", r, ok, res.Reps.Missed(r))
		}
	}
	if res.Reps.Missed(grind[2]) {
		t.Error("a grinder was called a miss")
	}
}

// TestPutBackSlowly: however long it takes, the bar put back after easy reps is
// no miss; nor is it after hard ones, where this lifter puts it back so.
func TestPutBackSlowly(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	var back []int32
	for n := range int32(6) {
		rows := b.set(rep.Squat, day0+2, n+1, 60, 0.8, 0.55, 4)
		b.fail(rows[3], 0.13, 0.1)
		back = append(back, rows[3])
	}
	hard := b.set(rep.Squat, day0+2, 7, 165, 0.30, 0.55, 3)
	b.fail(hard[2], 0.13, 0.1)
	res := b.run(t, nil)
	for _, r := range append(back, hard[2]) {
		if _, ok := aside(res, r); !ok || res.Reps.Missed(r) {
			t.Errorf("row %d: set aside %v, missed %v", r, ok, res.Reps.Missed(r))
		}
	}
}

// TestMarkedMiss: what a source marks stays, however short.
func TestMarkedMiss(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	row := b.set(rep.Squat, day0+2, 1, 60, 0.8, 0.02, 1)[0]
	b.reps.SetMissed(row, true)
	res := b.run(t, nil)
	wantKept(t, res, row)
	if res.Sets.Len() == 0 || !res.Reps.Missed(row) {
		t.Error("the mark is gone")
	}
}
