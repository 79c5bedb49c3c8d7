package clean_test

import (
	"math"
	"testing"

	"repsift/ingest/bar"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// whippy adds pulls on a deadlift bar with the tether at its middle.
func (b *batch) whippy() []int32 {
	b.season(rep.Deadlift, 4, 0.55)
	for i := range b.reps.Len() {
		b.reps.Bar.Put(int32(i), b.reps.Text.Intern(rep.DeadliftBar))
		b.reps.Tether.Put(int32(i), b.reps.Text.Intern(rep.TetherCentre))
	}
	return b.all()
}

// TestFlexAllowance: the deflection of the beam is taken off, flagged, and
// what was read is kept.
func TestFlexAllowance(t *testing.T) {
	var b batch
	rows := b.whippy()
	read := make([]float64, len(rows))
	for i, r := range rows {
		read[i] = b.reps.ROM.Get(r)
	}
	res := b.run(t, nil)
	wantKept(t, res, rows...)
	for i, r := range rows {
		x := res.Reps.Rep(r)
		want := read[i] - bar.Deadlift.Middle(bar.Deadlift.Force(x.LoadKg))
		if math.Abs(x.ROM.V-want) > 1e-12 || x.Recorded.ROM != rep.Some(read[i]) || !x.Flags.Has(rep.FlexAllowance) {
			t.Fatalf("%v kg: travel %v, want %v; as read %v, flags %s", x.LoadKg, x.ROM.V, want, x.Recorded.ROM, x.Flags)
		}
	}
}

func TestFlexAllowanceDeclared(t *testing.T) {
	var b batch
	rows := b.whippy()
	read := b.reps.ROM.Get(rows[0])
	res, err := runDeclared(&b, season.Filter{Kind: rep.FlexAllowance, Flag: true, Limits: map[string]float64{"allowance_m": 0.012}})
	if err != nil {
		t.Fatal(err)
	}
	if got := res.Reps.ROM.Get(rows[0]); math.Abs(got-(read-0.012)) > 1e-12 {
		t.Errorf("travel %v, read %v", got, read)
	}
}

// TestNoFlex: other lifts begin with the bar bent already; a stiff bar and a
// tether at the sleeve need no allowance.
func TestNoFlex(t *testing.T) {
	for name, change := range map[string]func(t *rep.Table, i int){
		"squat":       func(t *rep.Table, i int) { t.Lift.Put(int32(i), t.Text.Intern(rep.Squat)) },
		"stiff bar":   func(t *rep.Table, i int) { t.Bar.Put(int32(i), t.Text.Intern(rep.StiffBar)) },
		"sleeve":      func(t *rep.Table, i int) { t.Tether.Put(int32(i), t.Text.Intern(rep.TetherInsideSleeve)) },
		"unsaid":      func(t *rep.Table, i int) { t.Bar.Put(int32(i), 0) },
		"without ROM": func(t *rep.Table, i int) { t.ROM.Put(int32(i), rep.Null[float64]{}) },
	} {
		var b batch
		rows := b.whippy()
		for i := range rows {
			change(&b.reps, i)
		}
		res := b.run(t, nil)
		for _, r := range rows {
			if x := res.Reps.Rep(r); x.Flags.Has(rep.FlexAllowance) || x.Recorded.ROM.OK {
				t.Fatalf("%s: flags %s, as read %v", name, x.Flags, x.Recorded.ROM)
			}
		}
	}
}
