package clean_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// plan is the sets of one day, as "load x reps", an @ giving an RPE.
func (b *batch) day(lift string, day rep.Day, plan ...string) {
	for s, p := range plan {
		var load, rpe float64
		var reps int
		fmt.Sscanf(strings.Replace(p, "@", " ", 1), "%fx%d %f", &load, &reps, &rpe)
		for _, r := range b.set(lift, day, int32(s+1), load, 1.1-0.005*load, 0.55, reps) {
			if rpe > 0 {
				b.reps.RPE.Put(r, rep.Some(rpe))
				b.reps.SetRPEFrom(r, rep.RPEExport)
			}
		}
	}
}

// TestRoles: the documented rule.
func TestRoles(t *testing.T) {
	for _, c := range []struct {
		plan []string
		want string
	}{
		{[]string{"60x5", "100x3", "140x1@8", "120x5", "120x5"}, "warm-up warm-up top back-off back-off"},
		{[]string{"60x5", "100x3", "120x5", "120x5", "120x5"}, "warm-up warm-up work work work"},
		{[]string{"60x5", "120x3@7.5", "140x1@8"}, "warm-up work top"},
		{[]string{"60x5", "110x3", "110x3", "110x3", "140x1"}, "warm-up work work work top"},
		{[]string{"140x1"}, "top"},
	} {
		var b batch
		b.day(rep.Squat, day0, c.plan...)
		var got []string
		for _, s := range b.run(t, nil).Sets.All() {
			got = append(got, s.Role.String())
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%v: %v, want %s", c.plan, got, c.want)
		}
	}
}

// TestRoleOfFailedAttempt: the top set is one that was lifted.
func TestRoleOfFailedAttempt(t *testing.T) {
	var b batch
	b.day(rep.Deadlift, day0, "60x5", "140x1", "180x1", "190x1")
	b.reps.SetMissed(int32(b.reps.Len()-1), true)
	sets := b.run(t, nil).Sets.At
	if sets(2).Role != rep.Top || sets(3).Role != rep.Work || sets(3).First.OK {
		t.Errorf("%s, %s, first %v", sets(2).Role, sets(3).Role, sets(3).First)
	}
}

// TestNumbering: sessions per lifter by date over all lifts; sets per session
// and lift, variants together; reps among the kept ones; a set with no kept
// rep has no number.
func TestNumbering(t *testing.T) {
	var b batch
	b.season(rep.Squat, 4, 0.55)
	b.season(rep.BenchPress, 2, 0.3)
	paused := b.set(rep.BenchPress, day0, 6, 80, 0.5, 0.3, 2)
	for _, r := range paused {
		b.reps.Variant.Put(r, b.reps.Text.Intern("paused"))
	}
	rack := b.set(rep.Squat, day0, 2, 100, 0.3, 0.04, 1)[0]
	b.reps.SetMark.Put(rack, rep.Some[int32](0)) // a set of its own, before the first
	b.day(rep.Deadlift, day0+2, "100x2")
	res := b.run(t, nil)
	wantAside(t, res, rack, rep.ShortTravel)
	if s := res.Reps.Session.At(0); s != 1 {
		t.Errorf("session %d", s)
	}
	if s := res.Reps.Session.At(int32(b.reps.Len() - 1)); s != 2 {
		t.Errorf("deadlift day: session %d, want 2", s)
	}
	if s := res.Reps.Session.At(15); s != 3 {
		t.Errorf("second squat day: session %d, want 3", s)
	}
	if s, n := res.Reps.Set.At(paused[1]), res.Reps.Number.At(paused[1]); s != 6 || n != 2 {
		t.Errorf("paused bench: set %d, rep %d", s, n)
	}
	if s := res.Reps.Set.At(0); s != 1 {
		t.Errorf("the first squat is in set %d", s)
	}
	unnumbered := 0
	for i, s := range res.Sets.All() {
		if s.Lift == rep.Squat && s.Date == day0 && !s.Number.OK {
			unnumbered++
			if s.Reps != 0 || s.SetAside != 1 || s.First.OK || s.Rows != nil {
				t.Errorf("%+v", s)
			}
			if next := res.Sets.At(i + 1); next.Date == day0 {
				t.Error("an unnumbered set stands before numbered ones")
			}
		}
	}
	if unnumbered != 1 {
		t.Errorf("%d unnumbered sets", unnumbered)
	}
	checkOrder(t, res)
}

// checkOrder fails the test unless kept rows are sorted as documented.
func checkOrder(t *testing.T, res *clean.Result) {
	t.Helper()
	last := ""
	for _, row := range res.Kept {
		r := res.Reps.Rep(row)
		key := fmt.Sprintf("%s|%s|%s|%05d|%05d", r.Lifter, r.Lift, r.Date, r.Set, r.Rep)
		if key <= last {
			t.Fatalf("%s after %s", key, last)
		}
		last = key
	}
}

// TestSplitting: sets are told without set marks by load, rep number and time;
// newest-first files are turned round.
func TestSplitting(t *testing.T) {
	want := "5 5 3 2"
	for name, change := range map[string]func(b *batch){
		"marks":       func(b *batch) {},
		"rep numbers": func(b *batch) { b.unmark(true) },
		"times":       func(b *batch) { b.timed(2); b.unmark(false) },
		"newest first": func(b *batch) {
			b.unmark(true)
			for i := range b.reps.Row {
				b.reps.Row[i] = int32(1000 - i)
			}
		},
	} {
		var b batch
		b.day(rep.Squat, day0, "60x5", "60x5", "100x3", "120x2")
		change(&b)
		var got []string
		for _, s := range b.run(t, nil).Sets.All() {
			got = append(got, fmt.Sprint(s.Reps))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: sets of %v, want %s", name, got, want)
		}
	}
}

// unmark takes set marks away, and rep numbers too unless they are kept.
func (b *batch) unmark(numbers bool) {
	for i := range b.reps.Len() {
		b.reps.SetMark.Put(int32(i), rep.Null[int32]{})
		if !numbers {
			b.reps.RepRecorded.Put(int32(i), rep.Null[int32]{})
		}
	}
}

// TestSetOfSpeeds: first, fastest, last, slowest and loss.
func TestSetOfSpeeds(t *testing.T) {
	var b batch
	rows := b.set(rep.Squat, day0, 1, 100, 0.6, 0.55, 4)
	for k, v := range []float64{0.50, 0.60, 0.40, 0.45} {
		b.reps.MeanVelocity.Set(rows[k], v)
		b.reps.Concentric.Put(rows[k], rep.Null[float64]{})
	}
	s := b.run(t, nil).Sets.At(0)
	if s.First.V != 0.5 || s.Fastest.V != 0.6 || s.Last.V != 0.45 || s.Slowest.V != 0.4 || math.Abs(s.Loss.V-0.25) > 1e-12 {
		t.Errorf("%+v", s)
	}
}
