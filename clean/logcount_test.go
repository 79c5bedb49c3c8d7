package clean_test

import (
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// note logs a set.
func (b *batch) note(lift string, day rep.Day, load float64, reps int32, change func(n *rep.SetNote)) {
	n := rep.SetNote{Lifter: "Vera Holm", Date: day, Lift: lift, LoadKg: rep.Some(load), LoadStep: 0.5, Sets: 1,
		Reps: rep.Some(reps), Source: "log.csv", Row: int32(len(b.notes) + 2), Part: 1}
	if change != nil {
		change(&n)
	}
	b.notes = append(b.notes, n)
}

// bare takes travel, peak and duration from all rows: speeds alone are left.
func (b *batch) bare() {
	for i := range b.reps.Len() {
		b.reps.ROM.Put(int32(i), rep.Null[float64]{})
		b.reps.PeakVelocity.Put(int32(i), rep.Null[float64]{})
		b.reps.Concentric.Put(int32(i), rep.Null[float64]{})
	}
}

// TestLogCount: the log says five, the unit six: the odd one goes, wherever it
// stands, and nothing goes without the log.
func TestLogCount(t *testing.T) {
	for k := range 6 {
		for _, logged := range []bool{true, false} {
			var b batch
			b.season(rep.Squat, 6, 0.55)
			rows := b.set(rep.Squat, day0, 9, 110, 0.55, 0.55, 6)
			b.reps.MeanVelocity.Set(rows[k], 0.22)
			b.bare()
			if logged {
				b.note(rep.Squat, day0, 110, 5, nil)
			}
			res := b.run(t, nil)
			if k == 5 { // a slow last rep may be a grinder or a miss: the log must not take a true rep
				if len(res.Aside) > 1 {
					t.Errorf("last: %d set aside", len(res.Aside))
				}
				continue
			}
			if !logged {
				wantKept(t, res, rows...)
				continue
			}
			wantAside(t, res, rows[k], rep.LogCount)
			if len(res.Aside) != 1 {
				t.Errorf("rep %d: %d set aside", k+1, len(res.Aside))
			}
		}
	}
}

// TestLogCountUndecided: where no rep is odd, all stay and the coach is told.
func TestLogCountUndecided(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	rows := b.set(rep.Squat, day0, 9, 110, 0.55, 0.55, 6)
	b.bare()
	b.note(rep.Squat, day0, 110, 5, nil)
	res := b.run(t, nil)
	wantKept(t, res, rows...)
	if len(res.Doubts) != 1 || res.Doubts[0].Topic != clean.LogDisagrees {
		t.Errorf("doubts %+v", res.Doubts)
	}
}

// TestLogCountOfEither: of three equal sets the log forgot one, and nobody knows
// which; all that it has are of five, so an odd sixth goes.
func TestLogCountOfEither(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	var odd []int32
	for mark := range int32(3) {
		rows := b.set(rep.Squat, day0, 9+mark, 110, 0.55, 0.55, 6)
		b.reps.MeanVelocity.Set(rows[2], 0.22)
		odd = append(odd, rows[2])
	}
	b.bare()
	b.note(rep.Squat, day0, 110, 5, nil)
	b.note(rep.Squat, day0, 110, 5, nil)
	res := b.run(t, nil)
	for _, r := range odd {
		wantAside(t, res, r, rep.LogCount)
	}
	if len(res.Aside) != len(odd) {
		t.Errorf("%d set aside", len(res.Aside))
	}
}

// TestLogCountOfOneSet: two sets of three at one load, which an export with
// neither marks nor times leaves as six reps, and of which the log forgot one:
// nothing goes.
func TestLogCountOfOneSet(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	rows := append(b.set(rep.Squat, day0, 9, 110, 0.55, 0.55, 3), b.set(rep.Squat, day0, 9, 110, 0.55, 0.55, 3)...)
	for _, r := range rows {
		b.reps.SetMark.Put(r, rep.Null[int32]{})
		b.reps.RepRecorded.Put(r, rep.Null[int32]{})
		b.reps.PerformedAt.Put(r, rep.Null[rep.Instant]{})
	}
	b.note(rep.Squat, day0, 110, 3, nil)
	wantKept(t, b.run(t, nil), rows...)
}

// TestLogCountsLifted: a log that leaves out the missed rep takes none away.
func TestLogCountsLifted(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	rows := b.set(rep.Squat, day0, 9, 165, 0.3, 0.55, 3)
	b.fail(rows[2], 0.3, 0.1)
	b.note(rep.Squat, day0, 165, 2, func(n *rep.SetNote) { n.RPE = rep.Some(10.0) })
	res := b.run(t, nil)
	wantKept(t, res, rows...)
	if !res.Reps.Missed(rows[2]) || len(res.Doubts) != 0 {
		t.Errorf("missed %v, doubts %+v", res.Reps.Missed(rows[2]), res.Doubts)
	}
}
