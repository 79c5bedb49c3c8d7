// Package date reads dates and times as exports, spreadsheets and people
// write them.
//
// 3/4/2026 is the third of April to some and the fourth of March to others: a
// caller passes the [Order] it knows, or [AnyOrder], and then what has two
// readings is an [Error] that says so. [Evidence] gathers the texts of a
// column, or of a source and its sister files, and tells which orders remain
// possible.
package date

import (
	"fmt"
	"time"

	"repsift/ingest/rep"
)

// Order is the order of day, month and year. The values are those of the
// season file's date_order.
type Order uint8

// The orders.
const (
	AnyOrder Order = iota // not known
	DayMonthYear
	MonthDayYear
	YearMonthDay
)

// String returns the order as a season file declares it, "" for AnyOrder.
func (o Order) String() string {
	return [...]string{"", "day month year", "month day year", "year month day"}[o]
}

// Stamp is a date, with a time of day where one was written.
type Stamp struct {
	Day   rep.Day         // calendar day as written; of a Unix time, the day in UTC
	Clock rep.Null[int32] // ms since midnight, as written

	// Instant is the moment, where the text has a zone or offset or is a Unix
	// time. Null: the clock is local, and [Stamp.In] takes the zone.
	Instant rep.Null[rep.Instant]

	// UTC says that day and clock are those of UTC and not of the gym: a Unix
	// time, or written with Z or an offset of zero.
	UTC bool
}

// In returns the stamp in the zone of the season: Instant is filled from a
// local clock; day and clock that were UTC's become those of the zone. Day and
// clock written with another offset stay: they are what the unit's clock
// showed. A day without a clock stays as it is and has no instant.
func (s Stamp) In(loc *time.Location) Stamp {
	if s.UTC && s.Instant.OK {
		t := s.Instant.V.Time().In(loc)
		s.Day = rep.DayOf(t.Date())
		s.Clock = rep.Some(clockOf(t))
		s.UTC = false
		return s
	}
	if s.Clock.OK && !s.Instant.OK {
		if loc == time.UTC {
			s.Instant = rep.Some(rep.Instant(int64(s.Day)*86_400_000 + int64(s.Clock.V)))
			return s
		}
		y, m, d := s.Day.Time().Date()
		ms := int(s.Clock.V)
		t := time.Date(y, m, d, 0, 0, ms/1000, ms%1000*1e6, loc)
		s.Instant = rep.Some(rep.InstantOf(t))
	}
	return s
}

func clockOf(t time.Time) int32 {
	return int32(((t.Hour()*60+t.Minute())*60+t.Second())*1000 + t.Nanosecond()/1e6)
}

// Error says why a text is not a date, or not one date.
type Error struct {
	Text    string
	Problem string // `is not a date`, …

	// Orders holds the orders that fit, where there are several and they mean
	// different days.
	Orders []Order
}

// Error returns `"31.4.2026" is no day of the calendar`.
func (e *Error) Error() string { return fmt.Sprintf("%.60q %s", e.Text, e.Problem) }
