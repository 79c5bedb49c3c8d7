package date

import (
	"fmt"
	"slices"
	"testing"
)

func TestEvidenceOrders(t *testing.T) {
	tests := []struct {
		idea  string
		texts []string
		want  []Order
	}{
		{"one day over 12 settles it for all", []string{"3/4/2026", "5/4/2026", "25/4/2026"}, []Order{DayMonthYear}},
		{"and in the middle", []string{"3/4/2026", "4/25/2026"}, []Order{MonthDayYear}},
		{"nothing settles it", []string{"3/4/2026", "5/4/2026"}, []Order{DayMonthYear, MonthDayYear}},
		{"the same day either way settles nothing and needs nothing", []string{"4/4/2026", "5/5/2026"}, []Order{DayMonthYear}},
		{"two orders in one column", []string{"25/4/2026", "4/25/2026"}, nil},
		{"points are day first", []string{"3.4.2026", "5.4.2026"}, []Order{DayMonthYear}},
		{"points, month first by evidence", []string{"3.4.2026", "4.25.2026"}, []Order{MonthDayYear}},
		{"points with two-digit years", []string{"3.4.26", "5.4.26"}, []Order{DayMonthYear}},
		{"two-digit years in front: they do not spread", []string{"26-01-05", "26-01-07", "26-02-09", "26-02-11"}, []Order{YearMonthDay}},
		{"two-digit years at the end", []string{"05-01-26", "07-01-26", "09-01-26", "11-01-26"}, []Order{DayMonthYear, MonthDayYear}},
		{"two-digit years with slashes stand at the end", []string{"05/01/26"}, []Order{DayMonthYear, MonthDayYear}},
		{"two-digit years with dashes, few dates", []string{"05-01-26"}, []Order{DayMonthYear, MonthDayYear, YearMonthDay}},
		{"two-digit years with slashes in front by evidence", []string{"26/01/05", "26/01/06", "26/01/07", "26/02/11"}, []Order{YearMonthDay}},
		{"two-digit years, day over 12", []string{"05-01-26", "13-01-26", "17-01-26", "20-01-26"}, []Order{DayMonthYear}},
		{"ISO only", []string{"2026-04-05"}, []Order{YearMonthDay}},
		{"names only", []string{"5 Apr 2026", "6 May 2026", "May 7, 2026"}, []Order{DayMonthYear}},
		{"ISO beside day first leaves day first for the rest", []string{"2026-04-05", "25/4/2026"}, []Order{DayMonthYear}},
		{"blanks and clocks say nothing", []string{"", "18:05"}, nil},
	}
	for _, tt := range tests {
		var e Evidence
		for _, text := range tt.texts {
			e.Add(text)
		}
		if got := e.Orders(); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q: %v, want %v", tt.idea, tt.texts, got, tt.want)
		}
	}
}

func TestEvidenceCounts(t *testing.T) {
	var e Evidence
	for _, text := range []string{"2026-04-05", "5/4/2026", "18:05", "46117", "46117,5", "1767600000", "squat", "31.4.2026", "", "180"} {
		e.Add(text)
	}
	if e.Dates != 2 || e.Clocks != 1 || e.Serials != 2 || e.Unix != 1 || e.Other != 3 {
		t.Errorf("%+v", e)
	}
}

// A sister file of the same unit settles what a file leaves open.
func TestEvidenceMerge(t *testing.T) {
	var a, b Evidence
	a.Add("3/4/2026")
	b.Add("4/13/2026")
	a.Merge(&b)
	if got := a.Orders(); !slices.Equal(got, []Order{MonthDayYear}) {
		t.Error(got)
	}
}

func TestEvidenceLikely(t *testing.T) {
	sessions := []string{"2/1/2026", "5/1/2026", "5/1/2026", "9/1/2026", "12/1/2026", "1/2/2026", "4/2/2026", "8/2/2026"}
	var e Evidence
	for _, s := range sessions {
		e.Add(s)
	}
	if o, ok := e.Likely(); o != DayMonthYear || !ok {
		t.Errorf("sessions days apart: %q, %v", o, ok)
	}
	var few Evidence
	for _, s := range sessions[:4] {
		few.Add(s)
	}
	if o, ok := few.Likely(); ok {
		t.Errorf("too few dates: %q", o)
	}
	var spread Evidence
	for _, s := range []string{"1/1/2026", "3/2/2026", "2/3/2026", "5/4/2026", "4/5/2026", "7/6/2026", "6/7/2026", "8/8/2026"} {
		spread.Add(s)
	}
	if o, ok := spread.Likely(); ok {
		t.Errorf("monthly tests: %q", o)
	}
}

// TestEvidenceOfFigures: digits alone say what they say with a blank before them,
// where they are taken apart like any other text.
func TestEvidenceOfFigures(t *testing.T) {
	for _, form := range []string{"%d", "%d.", "%d,5", "%d.05", "0%d", "0.%d", "12.%d", "%d.%[1]d"} {
		for n := 0; n < 1_200_000; n += 1 + n/7 {
			var as, apart Evidence
			text := fmt.Sprintf(form, n)
			as.Add(text)
			apart.Add(" " + text)
			if as != apart {
				t.Errorf("%q: %+v, with a blank before it %+v", text, as, apart)
			}
		}
	}
}
