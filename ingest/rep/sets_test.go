package rep

import (
	"reflect"
	"testing"
)

// TestSets: a set that its rows tell and one that is held whole read the same
// in a list made of two, and in a view of it.
func TestSets(t *testing.T) {
	table := new(Table)
	var kept []int32
	for i, v := range []float64{0.5, 0.75, 0.375, 0.25, 0.9} {
		r := Rep{Lifter: "Ines", Date: 20500, Lift: Squat, Device: "north", LoadKg: 100, MeanVelocity: v, Source: "a.csv", Row: int32(i + 2),
			Session: 3, Set: int32(1 + i/4), Rep: int32(1 + i%4), Role: Work, RPE: Some(8.0), RPEFrom: RPEExport, Missed: i == 3}
		kept = append(kept, table.Append(&r))
	}
	log := &Logged{Text: "100x4 @8"}
	one, two := SetsOf(table, kept[:4]), SetsOf(table, kept[4:])
	one.AddKept(0, 4, 2, log)
	alone := *one.Add(Set{Lifter: "Ines", Lift: Deadlift, Date: 20501, Log: log, SetAside: 7})
	two.Add(Set{Lifter: "Zoe", Date: 20502})
	two.AddKept(0, 1, 0, nil)
	all := SetsOf(table, kept)
	all.Extend(&one, 0)
	all.Extend(&two, 4)
	if all.Len() != 4 {
		t.Fatalf("%d sets", all.Len())
	}
	want := Set{Lifter: "Ines", Date: 20500, Session: 3, Lift: Squat, Device: "north", LoadKg: Some(100.0), Number: Some[int32](1), Role: Work,
		Reps: 4, Missed: 1, SetAside: 2, First: Some(0.5), Fastest: Some(0.75), Last: Some(0.375), Slowest: Some(0.375), Loss: Some(0.5),
		RPE: Some(8.0), RPEFrom: RPEExport, Log: log, Rows: kept[:4], Source: "a.csv", Row: 2}
	if got := all.At(0); !reflect.DeepEqual(got, want) {
		t.Errorf("read from its rows: %+v\nwant %+v", got, want)
	}
	if got := all.At(1); !reflect.DeepEqual(got, alone) {
		t.Errorf("held whole: %+v, want %+v", got, alone)
	}
	view := all.Slice(1, 4)
	if s := view.At(2); view.Len() != 3 || view.Lifter(1) != "Zoe" || s.Fastest.V != 0.9 || s.Loss.OK || len(s.Rows) != 1 || s.Log != nil {
		t.Errorf("the view has %d, last %+v", view.Len(), s)
	}
	if view.Aside(0) != 7 || view.Log(0) != log || all.Log(0) != log || all.Reps(3) != 1 {
		t.Error("counts or logs differ")
	}
}
