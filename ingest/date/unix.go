package date

import (
	"strconv"
	"strings"
	"time"

	"repsift/ingest/rep"
)

// Unix times that Parse takes for dates without being told: those of ten digits
// up to 2100.
const (
	unixFrom = 1_000_000_000 // 2001-09-09
	unixTo   = 4_102_444_800 // 2100-01-01
)

// ParseUnix reads a Unix time: seconds since 1970 with or without a fraction,
// milliseconds, microseconds or nanoseconds, told apart by size (seconds below
// 1e11, each of the others below a thousand times that).
func ParseUnix(text string) (Stamp, error) {
	t := strings.Replace(strings.TrimFunc(text, blank), ",", ".", 1)
	whole, fraction, _ := strings.Cut(t, ".")
	n, err := strconv.ParseInt(whole, 10, 64)
	if err != nil || n < 0 || len(fraction) > 9 {
		return Stamp{}, &Error{Text: text, Problem: "is not a Unix time"}
	}
	ms := n
	switch {
	case n < 1e11:
		ms = n * 1000
		if fraction != "" {
			f, err := strconv.ParseUint(fraction, 10, 32)
			if err != nil {
				return Stamp{}, &Error{Text: text, Problem: "is not a Unix time"}
			}
			ms += milliseconds(token{n: int64(f), size: len(fraction)})
		}
	case n < 1e14:
	case n < 1e17:
		ms = n / 1e3
	default:
		ms = n / 1e6
	}
	return unixStamp(ms), nil
}

func unixStamp(ms int64) Stamp {
	t := time.UnixMilli(ms).UTC()
	return Stamp{Day: rep.DayOf(t.Date()), Clock: rep.Some(clockOf(t)), Instant: rep.Some(rep.Instant(ms)), UTC: true}
}

// unixTime recognises a text that is nothing but an unmistakable Unix time.
func (f *form) unixTime(ts *tokens) bool {
	if ts.len != 1 && !(ts.len == 3 && (ts.mark(1, '.') || ts.mark(1, ',')) && ts.digits(2, 1, 9)) {
		return false
	}
	n := ts.at[0].n
	if !ts.digits(0, 10, 19) || ts.at[0].size == 10 && hourly(n) {
		return false
	}
	for size := int64(1); size <= 1e9; size *= 1000 {
		if s := n / size; s >= unixFrom && s < unixTo {
			stamp, err := ParseUnix(ts.text)
			if err != nil {
				return false
			}
			f.unix, f.day0, f.clock, f.zoned = true, stamp.Day, stamp.Clock, true
			return true
		}
	}
	return false
}

// hourly reports whether ten digits can be YYYYMMDDHH, which makes a Unix time
// of 2033 to 2036 mistakable.
func hourly(n int64) bool {
	_, ok := rep.ValidDay(int(n/1e6), int(n/1e4%100), int(n/100%100))
	return ok && n%100 < 24
}
