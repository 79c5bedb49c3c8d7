package clean_test

import (
	"math/rand/v2"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// secondUnit records the rows so far with another unit that reads scale times
// as fast, scatters by noise m/s and loses the sets that lose says.
func (b *batch) secondUnit(name string, scale, noise float64, lose func(set int32) bool) []int32 {
	r := rand.New(rand.NewPCG(3, 4))
	return b.secondUnitOf(b.all(), name, func(x *rep.Rep) bool {
		x.MeanVelocity = round(scale*x.MeanVelocity+noise*r.NormFloat64(), 0.001)
		x.PeakVelocity = rep.Some(round(1.7*x.MeanVelocity, 0.001))
		return !lose(x.SetMark.V)
	})
}

func (b *batch) secondUnitOf(rows []int32, name string, change func(x *rep.Rep) bool) []int32 {
	var out []int32
	for _, row := range rows {
		x := b.reps.Rep(row)
		x.Device, x.Source, x.Row = name, name+".csv", int32(len(out)+2)
		x.Concentric = rep.Null[float64]{}
		if change(&x) {
			out = append(out, b.add(x))
		}
	}
	return out
}

func TestSecondDevice(t *testing.T) {
	for _, c := range []struct {
		name   string
		scale  float64
		prefer []string
		stands string
	}{
		{"the one that says more", 1, nil, "north"},
		{"proportional error", 0.94, nil, "north"},
		{"declared order", 1, []string{"red", "north"}, "red"},
	} {
		var b batch
		b.season(rep.Squat, 6, 0.55)
		first := b.all()
		second := b.secondUnit("red", c.scale, 0.01, func(int32) bool { return false })
		s := &season.Season{}
		if c.prefer != nil {
			s.Filters = []season.Filter{{Kind: rep.SecondDevice, Prefer: c.prefer}}
		}
		res := b.run(t, s)
		stay, go_ := first, second
		if c.stands == "red" {
			stay, go_ = second, first
		}
		wantKept(t, res, stay...)
		for _, r := range go_ {
			wantAside(t, res, r, rep.SecondDevice)
		}
		if len(res.Twins) != 6*5 {
			t.Errorf("%s: %d pairs of sets", c.name, len(res.Twins))
		}
		for _, w := range res.Twins {
			if len(w.Kept) != 3 || len(w.Aside) != 3 || b.reps.LoadKg.Get(w.Kept[0]) != b.reps.LoadKg.Get(w.Aside[0]) || b.reps.Date.At(w.Kept[0]) != b.reps.Date.At(w.Aside[0]) {
				t.Errorf("%s: %+v", c.name, w)
			}
		}
	}
}

// TestSecondDeviceRPE: a call that only the export of the second unit has is the
// set's; one of the unit that stands is not overruled.
func TestSecondDeviceRPE(t *testing.T) {
	var b batch
	b.season(rep.Squat, 3, 0.55)
	first := b.all()
	second := b.secondUnit("red", 1, 0.005, func(int32) bool { return false })
	for _, r := range second {
		b.reps.RPE.Put(r, rep.Some(8.5))
	}
	for _, r := range first[:3] {
		b.reps.RPE.Put(r, rep.Some(7.0))
	}
	res := b.run(t, &season.Season{Filters: []season.Filter{{Kind: rep.SecondDevice, Prefer: []string{"north", "red"}}}})
	for i, r := range first {
		if want := map[bool]float64{true: 7, false: 8.5}[i < 3]; b.reps.RPE.At(r) != rep.Some(want) {
			t.Errorf("rep %d has RPE %v, want %v", i, b.reps.RPE.At(r), want)
		}
	}
	wantKept(t, res, first...)
}

// TestSecondDeviceAlone: a set that only the second unit has is kept, where
// that unit has it in the day.
func TestSecondDeviceAlone(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	b.secondUnit("red", 1, 0.005, func(int32) bool { return false })
	// The first unit loses the third set of each day.
	var c batch
	for _, row := range b.all() {
		if x := b.reps.Rep(row); x.Device == "red" || x.SetMark.V != 3 {
			c.add(x)
		}
	}
	res := c.run(t, nil)
	for _, s := range res.Sets.All() {
		if s.LoadKg.V != 130 {
			continue
		}
		if s.Device != "red" || s.Reps != 3 || s.Number != rep.Some(int32(3)) {
			t.Errorf("%s: the set that one unit lost: %+v", s.Date, s)
		}
	}
	if len(res.Kept) != 6*15 {
		t.Errorf("%d kept", len(res.Kept))
	}
}

// TestTwoUnitsOneDay: units that recorded different sets of the day are both
// kept.
func TestTwoUnitsOneDay(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	for i := range b.reps.Len() {
		if b.reps.SetMark.Get(int32(i)) > 3 { // a battery died
			b.reps.Device.Put(int32(i), b.reps.Text.Intern("red"))
			b.reps.Source.Put(int32(i), b.reps.Text.Intern("red.csv"))
		}
	}
	if res := b.run(t, nil); len(res.Aside) != 0 {
		t.Errorf("%d set aside: %s", len(res.Aside), res.Aside[0].Reason)
	}
}

// TestFewerReps: the unit that stands is kept even with a rep fewer, and the
// coach is told; where none is declared first, the one that lost none stands.
func TestFewerReps(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	b.secondUnit("red", 1, 0.005, func(int32) bool { return false })
	var c batch
	for _, row := range b.all() {
		if x := b.reps.Rep(row); x.Device == "red" || x.Date != day0 || x.SetMark.V != 4 || x.RepRecorded.V != 2 {
			c.add(x)
		}
	}
	res := c.run(t, &season.Season{Filters: []season.Filter{{Kind: rep.SecondDevice, Prefer: []string{"north"}}}})
	told := false
	for _, d := range res.Doubts {
		told = told || d.Topic == clean.FewerReps && d.Text == `"red" has 3 reps of this set; "north", which stands, has 2 reps`
	}
	if !told || len(res.Kept) != 6*15-1 {
		t.Errorf("%d kept; doubts %+v", len(res.Kept), res.Doubts)
	}
	if res = c.run(t, nil); len(res.Kept) != 6*15 || c.reps.Rep(res.Kept[0]).Device != "red" {
		t.Errorf("%d kept of %q", len(res.Kept), c.reps.Rep(res.Kept[0]).Device)
	}
}

// TestSecondDeviceInParts: a set that the second unit counts as two is one set,
// and its reps lie beside those of the first.
func TestSecondDeviceInParts(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	first := b.all()
	second := b.secondUnitOf(first, "red", func(x *rep.Rep) bool {
		x.MeanVelocity = round(x.MeanVelocity+0.004*float64(x.Row%3-1), 0.001)
		x.PeakVelocity = rep.Some(round(1.7*x.MeanVelocity, 0.001))
		x.SetMark.V *= 2
		if x.Date == day0 && x.SetMark.V == 6 && x.RepRecorded.V > 1 {
			x.SetMark.V, x.RepRecorded.V = 7, x.RepRecorded.V-1
		}
		return true
	})
	res := b.run(t, &season.Season{Filters: []season.Filter{{Kind: rep.SecondDevice, Prefer: []string{"north"}}}})
	wantKept(t, res, first...)
	for _, r := range second {
		wantAside(t, res, r, rep.SecondDevice)
	}
	for _, w := range res.Twins {
		if len(w.Kept) != 3 || len(w.Aside) != 3 {
			t.Errorf("%+v", w)
		}
	}
}

// TestSpeedsByHand: speeds in a hand log are a second account beside a unit's,
// and give their RPE to its set.
func TestSpeedsByHand(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	first := b.all()
	hand := b.secondUnitOf(first, rep.HandLog, func(x *rep.Rep) bool {
		x.MeanVelocity, x.MeanStep = round(x.MeanVelocity, 0.01), 0.01
		x.PeakVelocity, x.ROM = rep.Null[float64]{}, rep.Null[float64]{}
		x.RPE, x.RPEFrom = rep.Some(8.5), rep.RPEHandLog
		return x.SetMark.V >= 4
	})
	res := b.run(t, nil)
	wantKept(t, res, first...)
	for _, r := range hand {
		wantAside(t, res, r, rep.SecondDevice)
	}
	for _, s := range res.Sets.All() {
		if s.Reps > 0 && s.LoadKg.V >= 150 && (s.RPE != rep.Some(8.5) || s.RPEFrom != rep.RPEHandLog || s.Log == nil) {
			t.Errorf("%s %v kg: RPE %v from %q, log %v", s.Date, s.LoadKg.V, s.RPE, s.RPEFrom, s.Log)
		}
	}
}
