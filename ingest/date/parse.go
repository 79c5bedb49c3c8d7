package date

import "repsift/ingest/rep"

// Parse reads a date, with or without a time of day. Read are ISO 8601 and RFC
// 3339 (also in compact form, as a week date, and with "_" or "-" in the clock
// as file names have it), three numbers parted by one of ". / -" or blanks, and
// month names long or short in English, German, Spanish, Portuguese, French,
// Italian, Dutch, Danish, Norwegian, Swedish, Finnish, Polish and Russian, or
// as a Roman numeral. A weekday is ignored and not checked. Clocks may be of 12
// or 24 hours, with a fraction of a second, a zone or an offset.
//
// The order decides only what is written without one: where the year has four
// digits and stands first, or the month is a word, it is not asked. With
// AnyOrder a text is read if one order fits, or if all that fit mean the same
// day; dates with points are day first unless only another order fits (no
// language of those above writes month.day.year; common practice, no source),
// a year of two digits in front needs dashes or blanks, and else it is an error whose Orders lists the readings.
//
// Years of two digits: 69…99 are 1969…1999, 00…68 are 2000…2068 (POSIX
// strptime). Years outside 1900…2200 are errors.
//
// A number alone is a date only as YYYYMMDD (with or without HHMM or HHMMSS), or
// as a Unix time from September 2001 to 2100 in seconds, milliseconds,
// microseconds or nanoseconds, which nothing else is mistaken for; see
// [ParseUnix] and [Serial] for other numbers.
func Parse(text string, order Order) (Stamp, error) {
	f, problem := scan(text)
	if problem == "" {
		var day rep.Day
		var orders []Order
		day, orders, problem = f.day(order)
		if problem == "" {
			return f.stamp(day), nil
		}
		if problem == twoReadings {
			return Stamp{}, f.ambiguous(text, orders)
		}
	}
	return Stamp{}, &Error{Text: text, Problem: problem}
}

// The problems of an Error.
const (
	notDate     = "is not a date"
	isEmpty     = "is empty, where a date should stand"
	noDay       = "is no day of the calendar"
	noYear      = "has no year"
	noClock     = "has a time of day that no clock shows"
	clockAlone  = "is a time of day without a date"
	twoReadings = "has two readings"
)

// form is a date taken apart, before an order is chosen.
type form struct {
	n     [3]int16 // the numbers as they stand
	size  [3]int8  // digits of each
	fixed Order    // the order, where the text leaves only one; n is then in that order
	sep   rune     // between the numbers; ' ' for blanks
	unix  bool     // a Unix time: day and clock are set
	day0  rep.Day

	clock  rep.Null[int32]
	zoned  bool
	offset int // minutes
}

// scan takes a text apart.
func scan(text string) (form, string) {
	var f form
	if f.fast(text) {
		return f, ""
	}
	return scanTokens(text)
}

// scanTokens takes apart what fast does not.
func scanTokens(text string) (f form, problem string) {
	var ts tokens
	if !ts.split(text) {
		return f, notDate
	}
	if ts.len == 0 {
		return f, isEmpty
	}
	if f.unixTime(&ts) {
		return f, ""
	}
	c, found, ok := ts.clock()
	if !ok {
		return f, noClock
	}
	if found {
		f.clock, f.zoned, f.offset = rep.Some(c.ms), c.zoned, c.offset
	}
	return f, f.numbers(&ts)
}

// numbers reads the tokens that are no clock.
func (f *form) numbers(ts *tokens) string {
	n := 0            // numbers so far
	month, at := 0, 0 // from a word, and how many numbers stood before it
	weekday := false
	week := false
	var sep rune // sign since the last number
	for i := 0; i < ts.len; i++ {
		t := &ts.at[i]
		switch {
		case t.used:
			continue
		case t.kind == number:
			if n == 0 && t.size >= 8 {
				if !f.compact(ts, i) {
					return notDate
				}
				n = 3
				continue
			}
			if n >= 3 || n == 2 && month > 0 {
				if problem := f.lateClock(ts, i); problem != "" {
					return problem
				}
				return f.arrange(n, month, at, week)
			}
			if t.size > 4 || t.size == 3 {
				return notDate
			}
			if n == 1 && sep == 0 {
				sep = ' '
			}
			if n == 1 && month == 0 {
				f.sep = sep
			}
			if n == 2 && month == 0 && f.sep != sep && !(sep == 0 && f.sep == ' ') && !week {
				return notDate
			}
			f.n[n], f.size[n] = int16(t.n), int8(t.size)
			n++
			sep = 0
		case t.kind == letters:
			w := ts.word(i)
			switch {
			case n == 1 && t.glued && ts.is(i, "w") && ts.digits(i+1, 2, 2):
				week = true
			case w.month > 0 && month == 0 && !(w.weekday && n == 0 && ts.weekdayFirst(i)):
				month, at = int(w.month), n
			case w.weekday && !weekday && (n == 0 || n == 3 || n == 2 && month > 0):
				weekday = true
			case w.filler, w.ordinal && t.glued && i > 0 && ts.at[i-1].kind == number:
			case n == 3 && t.glued && ts.is(i, "t"):
			default:
				return notDate
			}
		default:
			switch t.sign {
			case '.', '/', '-', '_':
				if sep == 0 {
					sep = t.sign
				}
			case ',':
				if month == 0 && (n == 1 || n == 2) {
					return notDate
				}
			case '\'', '’', '°':
			case '(': // "(Central European Summer Time)"
				if n < 2 {
					return notDate
				}
				for i < ts.len && !ts.mark(i, ')') {
					i++
				}
			default:
				return notDate
			}
		}
	}
	return f.arrange(n, month, at, week)
}

// weekdayFirst reports whether token i, which names both a weekday and a month
// ("mar": mardi, March), is the weekday: another month follows, or a date in
// numbers.
func (ts *tokens) weekdayFirst(i int) bool {
	first := -1 // number behind
	for j := i + 1; j < ts.len; j++ {
		if ts.at[j].kind == letters && ts.word(j).month > 0 {
			return true
		}
		if first < 0 && ts.at[j].kind == number {
			first = j
		}
	}
	sign := ts.mark(first+1, '.') || ts.mark(first+1, '/') || ts.mark(first+1, '-')
	return first > 0 && sign && ts.digits(first+2, 1, 2)
}

// compact reads YYYYMMDD, alone or with a clock behind: 20260405T101500Z,
// 20260405101500, 20260405_1015. The clock, where it stands apart, is read by
// lateClock.
func (f *form) compact(ts *tokens, i int) bool {
	t := ts.at[i]
	date, rest := t.n, int64(-1)
	switch t.size {
	case 8:
	case 12:
		date, rest = t.n/1e4, t.n%1e4*100
	case 14:
		date, rest = t.n/1e6, t.n%1e6
	default:
		return false
	}
	if rest >= 0 && (f.clock.OK || !f.setClock(rest/1e4, rest/100%100, rest%100)) {
		return false
	}
	if y := date / 1e4; y >= 1900 && y <= 2200 && date/100%100 >= 1 && date/100%100 <= 12 {
		f.n = [3]int16{int16(y), int16(date / 100 % 100), int16(date % 100)}
		f.size = [3]int8{4, 2, 2}
	} else { // 05042026
		f.n = [3]int16{int16(date / 1e6), int16(date / 1e4 % 100), int16(date % 1e4)}
		f.size = [3]int8{2, 2, 4}
	}
	return true
}

func (f *form) setClock(h, m, s int64) bool {
	if h > 23 || m > 59 || s > 59 {
		return false
	}
	f.clock = rep.Some(int32((h*60+m)*60+s) * 1000)
	return true
}

// lateClock reads what stands behind a whole date where no clock with colons
// was found: "10.15", "10-15-00", "101500". A zone may follow.
func (f *form) lateClock(ts *tokens, i int) string {
	if f.clock.OK {
		return notDate
	}
	var hms [3]int64
	parts := 0
	sign := rune(0)
	switch t := ts.at[i]; {
	case ts.digits(i, 6, 6):
		hms, parts = [3]int64{t.n / 1e4, t.n / 100 % 100, t.n % 100}, 3
		i++
	case ts.digits(i, 4, 4):
		hms, parts = [3]int64{t.n / 100, t.n % 100}, 2
		i++
	default:
		for parts < 3 && ts.digits(i, 1, 2) && (parts == 0 || ts.at[i].size == 2) {
			hms[parts] = ts.at[i].n
			parts++
			i++
			next := ts.mark(i, '.') || ts.mark(i, '-') || ts.mark(i, '_')
			if !next || !ts.digits(i+1, 2, 2) || sign != 0 && ts.at[i].sign != sign {
				break
			}
			sign = ts.at[i].sign
			i++
		}
	}
	if parts < 2 {
		return notDate
	}
	if !f.setClock(hms[0], hms[1], hms[2]) {
		return noClock
	}
	var c clock
	if i = ts.zone(i, &c); i < ts.len {
		return notDate
	}
	f.zoned, f.offset = c.zoned, c.offset
	return ""
}

// arrange settles the order where the text does.
func (f *form) arrange(n, month, at int, week bool) string {
	switch {
	case week:
		return f.weekDate(n)
	case f.fixed != AnyOrder:
		return ""
	case month == 0 && n == 0 && f.clock.OK:
		return clockAlone
	case month == 0 && n == 2 && f.sep != 0 && f.sep != ' ' && f.isDayMonth():
		return noYear
	case month == 0 && n != 3:
		return notDate
	case month == 0 && f.size[1] > 2:
		return notDate
	case month == 0:
		if f.size[0] == 4 {
			f.fixed = YearMonthDay
			if f.size[2] > 2 {
				return notDate
			}
		}
		return ""
	case n == 1:
		if f.size[0] == 4 {
			return "has no day"
		}
		return noYear
	case n != 2:
		return notDate
	}
	a, b := f.n[0], f.n[1]
	sa, sb := f.size[0], f.size[1]
	m := int16(month)
	switch {
	case at == 1 && sa == 4 && sb <= 2: // 2026 Apr 5
		f.fixed, f.n, f.size = YearMonthDay, [3]int16{a, m, b}, [3]int8{sa, 2, sb}
	case at == 1 && sa <= 2: // 5 Apr 2026, 05-Apr-26
		f.fixed, f.n, f.size = DayMonthYear, [3]int16{a, m, b}, [3]int8{sa, 2, sb}
	case at == 0 && sa <= 2: // Apr 5, 2026
		f.fixed, f.n, f.size = MonthDayYear, [3]int16{m, a, b}, [3]int8{2, sa, sb}
	default:
		return notDate
	}
	return ""
}

// isDayMonth reports whether the first two numbers can be day and month.
func (f *form) isDayMonth() bool {
	lo, hi := min(f.n[0], f.n[1]), max(f.n[0], f.n[1])
	return f.size[0] <= 2 && f.size[1] <= 2 && lo >= 1 && lo <= 12 && hi <= 31
}

// weekDate reads 2024-W04-5 (ISO 8601: week 1 holds the year's first Thursday,
// day 1 is Monday).
func (f *form) weekDate(n int) string {
	if n != 3 || f.size[0] != 4 || f.size[2] != 1 {
		return notDate
	}
	year, week, day := int(f.n[0]), int(f.n[1]), int(f.n[2])
	jan4, ok := rep.ValidDay(year, 1, 4)
	if !ok || week < 1 || week > 53 || day < 1 || day > 7 {
		return noDay
	}
	monday := int(jan4) - (int(jan4.Time().Weekday())+6)%7
	d := rep.Day(monday + (week-1)*7 + day - 1)
	if y, _ := d.Time().ISOWeek(); y != year {
		return noDay // week 53 of a year that has 52
	}
	y, m, dd := d.Time().Date()
	f.fixed, f.n, f.size = YearMonthDay, [3]int16{int16(y), int16(m), int16(dd)}, [3]int8{4, 2, 2}
	return ""
}
