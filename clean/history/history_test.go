package history_test

import (
	"math"
	"testing"

	"repsift/clean/history"
	"repsift/clean/sets"
	"repsift/clean/usual"
	"repsift/ingest/rep"
)

// The reps of these tests are invented.

var day0 = rep.DayOf(2026, 1, 5)

// squat appends a set of n squats.
func squat(t *rep.Table, day, mark int, load, v, rom float64, n int) {
	for k := range n {
		t.Append(&rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day0 + rep.Day(day), LoadKg: load, SetMark: rep.Some(int32(mark)),
			RepRecorded: rep.Some(int32(k + 1)), MeanVelocity: v - 0.02*float64(k), ROM: rep.Some(rom), Device: "north",
			Source: "unit.csv", Row: int32(t.Len() + 2)})
	}
}

// learnt arranges and learns the only history of a table.
func learnt(t *rep.Table) *history.History {
	h := history.Of(t, t.Text.Text(t.Lifter.At(0)), t.Text.Text(t.Lift.At(0)), nil)
	h.Arrange(sets.Options{})
	h.Learn()
	return h
}

// TestLine: the usual speed over load is not moved by mistyped loads.
func TestLine(t *testing.T) {
	line := func(slips bool) usual.Line {
		table := new(rep.Table)
		for day := range 10 {
			for s, load := range []float64{60, 100, 130, 150, 160} {
				v := 1.1 - 0.005*load + 0.01*float64(day%3-1)
				if slips && day%4 == 0 && s == 3 {
					load = 15
				}
				squat(table, 7*day, s+1, load, v, 0.55, 3)
			}
		}
		return learnt(table).Learnt.Line
	}
	for _, slips := range []bool{false, true} {
		l := line(slips)
		if math.Abs(l.Slope+0.005) > 0.0004 || math.Abs(l.Intercept-1.1) > 0.04 || l.Sets != 50 || l.Deviation > 0.05 {
			t.Errorf("slips %v: %+v", slips, l)
		}
		if v := l.At(1000, 0.23); math.Abs(v-0.23/3) > 1e-12 {
			t.Errorf("speed at 1000 kg %v", v)
		}
		if m := l.Maximum(0.23); math.Abs(m-174) > 8 {
			t.Errorf("0.23 m/s at %v kg", m)
		}
	}
}

// TestManyLoads: a line is the same where every set has a load of its own.
func TestManyLoads(t *testing.T) {
	table := new(rep.Table)
	for day := range 60 {
		for s := range 10 {
			load := 60 + float64((10*day+s)*7919%600)/6
			squat(table, day, s+1, load, 1.1-0.005*load, 0.55, 3)
		}
	}
	l := learnt(table).Learnt.Line
	if l.Sets != 600 || l.Reps != 1800 || math.Abs(l.Slope+0.005) > 1e-9 || math.Abs(l.Intercept-1.1) > 1e-6 {
		t.Errorf("%+v", l)
	}
}

// TestNoLine: with few sets or one load there is none.
func TestNoLine(t *testing.T) {
	few, one := new(rep.Table), new(rep.Table)
	squat(few, 0, 1, 60, 0.8, 0.55, 3)
	squat(few, 0, 2, 100, 0.6, 0.55, 3)
	for day := range 10 {
		squat(one, day, 1, 100, 0.6, 0.55, 3)
	}
	for _, table := range []*rep.Table{few, one} {
		if l := learnt(table).Learnt.Line; l.Sets != 0 {
			t.Errorf("%+v", l)
		}
	}
}

// TestBand: the median and the scaled deviation of a rig; the variant's where
// the rig has few reps.
func TestBand(t *testing.T) {
	table := new(rep.Table)
	for day := range 8 {
		squat(table, day, 1, 100, 0.6, 0.55+0.01*float64(day%3), 3)
	}
	squat(table, 9, 1, 100, 0.6, 0.57, 2)
	for i := table.Len() - 2; i < table.Len(); i++ {
		table.Device.Put(int32(i), table.Text.Intern("red"))
	}
	h := learnt(table)
	own, pooled := h.Band(0, 10), h.Band(len(h.Sets)-1, 10)
	if own.N != 24 || own.Median != 0.56 || math.Abs(own.Deviation-0.01*1.4826) > 1e-4 {
		t.Errorf("own band %+v", own)
	}
	if pooled.N != 26 {
		t.Errorf("pooled band %+v", pooled)
	}
	if b := h.Band(0, 100); b.N != 0 {
		t.Errorf("a band from too few reps: %+v", b)
	}
	lo, hi := own.Limits(5, 0.6, 1.5)
	if math.Abs(lo-0.6*0.56) > 1e-12 || math.Abs(hi-1.5*0.56) > 1e-12 {
		t.Errorf("band from %v to %v", lo, hi)
	}
}

// TestGap: from the end of one rep to the start of the next, whether a unit
// stamps starts or ends, and only where times are fine enough.
func TestGap(t *testing.T) {
	for _, stamp := range []float64{0, 1} {
		table := new(rep.Table)
		squat(table, 0, 1, 100, 0.6, 0.55, 2)
		second := 2.5
		for i, start := range []float64{0.25, 0.25 + second} {
			d := table.ROM.Get(int32(i)) / table.MeanVelocity.Get(int32(i))
			table.PerformedAt.Put(int32(i), rep.Some(rep.Instant(int64(day0)*86_400_000+int64(math.Round(1000*(start+stamp*d))))))
		}
		h := learnt(table)
		gap, ok := h.Gap(&h.Sets[0], 1)
		want := second - table.ROM.Get(0)/table.MeanVelocity.Get(0)
		if !ok || math.Abs(gap-want) > 0.04 {
			t.Errorf("stamped at %v: gap %v, %v; want %v", stamp, gap, ok, want)
		}
	}
	table := new(rep.Table)
	squat(table, 0, 1, 100, 0.6, 0.55, 2)
	h := learnt(table)
	if _, ok := h.Gap(&h.Sets[0], 1); ok {
		t.Error("a gap without times")
	}
}

// TestOwnTravel: a day of a partial lift under the name of the full one has a
// travel of its own, also where no set has three reps; movements in the rack
// beside full reps make none.
func TestOwnTravel(t *testing.T) {
	tab := new(rep.Table)
	for day := range 6 {
		squat(tab, day, 1, 100, 0.5, 0.60, 3)
		squat(tab, day, 2, 120, 0.4, 0.61, 3)
	}
	for mark := range 3 {
		squat(tab, 6, mark+1, 140, 0.35, 0.40, 1)
	}
	for mark := range 3 {
		squat(tab, 7, mark+1, 140, 0.35, 0.60, 1)
		tab.Append(&rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day0 + 7, LoadKg: 140, SetMark: rep.Some(int32(mark + 1)),
			RepRecorded: rep.Some(int32(2)), MeanVelocity: 0.3, ROM: rep.Some(0.25), Device: "north", Source: "unit.csv", Row: int32(tab.Len() + 2)})
	}
	h := learnt(tab)
	for s := range h.Sets {
		want := 0.60
		if h.Sets[s].Date == day0+6 {
			want = 0.40
		}
		if got := h.Band(s, history.BandReps).Median; math.Abs(got-want) > 0.011 {
			t.Errorf("set %d of %s: usual travel %.2f, want %.2f", s, h.Sets[s].Date, got, want)
		}
	}
}
