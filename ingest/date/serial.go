package date

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
)

const dayMs = 86_400_000

// Serial returns the date of a spreadsheet's serial number, in the 1900 or the
// 1904 system, to the nearest millisecond. A fraction of a day is the clock; a
// whole number has none.
//
// In the 1900 system 1 is 1900-01-01, and 60 is a 29 February 1900 that never
// was: 61 is 1900-03-01, days from there on are counted from 1899-12-30. In the
// 1904 system 0 is 1904-01-01. (ECMA-376 part 1, 18.17.4.1.) Serials below 1
// (in the 1904 system: below 0), the day that never was, and days past 2200 are
// errors; [SerialClock] reads a time alone.
func Serial(serial float64, date1904 bool) (Stamp, error) {
	if math.IsNaN(serial) || serial < 0 || serial > 120_000 {
		return Stamp{}, serialError(serial)
	}
	ms := math.Round(serial * dayMs)
	whole := int(ms / dayMs)
	clock := int32(ms - float64(whole)*dayMs)
	first := -24107 // 1904-01-01
	if !date1904 {
		first = -25569 // 1899-12-30
		switch {
		case whole < 1 || whole == 60:
			return Stamp{}, serialError(serial)
		case whole < 60:
			first++
		}
	}
	day := rep.Day(first + whole)
	if y := day.Time().Year(); y > 2200 {
		return Stamp{}, serialError(serial)
	}
	s := Stamp{Day: day}
	if serial != math.Trunc(serial) {
		s.Clock = rep.Some(clock)
	}
	return s, nil
}

// SerialClock returns the time of day, in ms since midnight, of a serial from 0
// up to but not including 1: what a spreadsheet stores for a time without a
// date. The fraction of a larger serial is read the same way.
func SerialClock(serial float64) (int32, error) {
	if math.IsNaN(serial) || serial < 0 || serial > 120_000 {
		return 0, serialError(serial)
	}
	ms := math.Round((serial - math.Floor(serial)) * dayMs)
	return int32(math.Mod(ms, dayMs)), nil
}

func serialError(serial float64) error {
	return &Error{Text: fmt.Sprint(serial), Problem: "is no spreadsheet date"}
}
