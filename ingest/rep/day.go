package rep

import (
	"fmt"
	"time"
)

// Day is a calendar day without a zone: days since 1970-01-01, the form of
// Parquet's DATE.
type Day int32

// DayOf returns the day of a calendar date. Values out of range roll over as
// in [time.Date]; use [ValidDay] to check a written date.
func DayOf(year int, month time.Month, day int) Day {
	return Day(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ValidDay returns the day of a written date, and false where there is no such
// day (31 April) or the year is outside 1900…2200.
func ValidDay(year, month, day int) (Day, bool) {
	if year < 1900 || year > 2200 || month < 1 || month > 12 || day < 1 || day > 31 {
		return 0, false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return Day(t.Unix() / 86400), t.Day() == day
}

// Time returns midnight UTC of the day.
func (d Day) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String returns the day as 2006-01-02.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

// MarshalText writes the day as 2006-01-02.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads 2006-01-02.
func (d *Day) UnmarshalText(b []byte) error {
	t, err := time.Parse(time.DateOnly, string(b))
	if err != nil {
		return fmt.Errorf("%q is not a date of the form 2026-01-31", b)
	}
	*d = Day(t.Unix() / 86400)
	return nil
}

// Instant is a moment: milliseconds since 1970-01-01T00:00:00Z, the form of
// Parquet's TIMESTAMP(MILLIS, UTC).
type Instant int64

// InstantOf returns the moment of t, cut to the millisecond.
func InstantOf(t time.Time) Instant { return Instant(t.UnixMilli()) }

// Time returns the moment in UTC.
func (i Instant) Time() time.Time { return time.UnixMilli(int64(i)).UTC() }

// String returns the moment in RFC 3339 with milliseconds.
func (i Instant) String() string { return i.Time().Format("2006-01-02T15:04:05.000Z") }
