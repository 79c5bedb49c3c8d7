package main

import (
	"fmt"
	"strings"
	"time"
)

// fault spoils one record: of a warm-up with at least three reps, the second.
type fault struct {
	lifter *lifter
	date   time.Time
	lift   string
	spoil  func(*record)
}

func spoil(records []*record, faults []fault) error {
	for _, f := range faults {
		r := pick(records, f)
		if r == nil {
			return fmt.Errorf("no rep of %s, %s, %s to spoil", f.lifter.name, f.date.Format(time.DateOnly), f.lift)
		}
		f.spoil(r)
	}
	return nil
}

func pick(records []*record, f fault) *record {
	for i, r := range records {
		s := r.of
		if s.lifter != f.lifter || !s.date.Equal(f.date) || s.lift != f.lift || s.role != warmUp || s.done() < 3 {
			continue
		}
		if i > 0 && records[i-1].of == s && records[i-1].rep() && r.rep() {
			return r
		}
	}
	return nil
}

// Slips: wrong in the unit's memory, so that every copy has them.

func meanSlip(r *record) {
	r.mean = round(r.mean*10, 3)
	r.fate, r.filter, r.why = setAside, bySpeedLimits, "speed slip"
}

func travelSlip(r *record) {
	r.travel = 1.9
	r.fate, r.filter, r.why = setAside, byUsualTravel, "travel slip"
}

func timeSlip(r *record) {
	r.seconds = round(r.seconds*10, 2)
	r.fate, r.filter, r.why = setAside, byTravelCheck, "time slip"
}

func peakSlip(r *record) {
	r.peak = round(r.mean*0.4, 3)
	r.fate, r.filter, r.why = setAside, byPeakCheck, "peak slip"
}

// Unreadable cells: in the one file only.

// letterO writes the load with the letter O for zero: the row is lost.
func letterO(r *record) {
	r.cells = map[string]string{"load": strings.ReplaceAll(loadText(r.of.kg), "0", "O")}
	r.lost, r.why = true, "load with a letter"
}

func noMean(r *record) {
	r.cells = map[string]string{"mean": "--"}
	r.lost, r.why = true, "no speed"
}

func noSuchDay(r *record) {
	r.cells = map[string]string{"date": "31.02.2026"}
	r.lost, r.why = true, "no such day"
}

// word puts text into an optional cell; heading empty: text that means null.
func word(column, text, heading string) func(*record) {
	return func(r *record) {
		r.cells = map[string]string{column: text}
		r.lostCell = heading
	}
}
