package date

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"repsift/ingest/rep"
)

// show writes a stamp so that a table can hold it: day, clock, instant.
func show(s Stamp) string {
	out := s.Day.String()
	if s.Clock.OK {
		out += " " + time.UnixMilli(int64(s.Clock.V)).UTC().Format("15:04:05.000")
	}
	if s.Instant.OK {
		out += " = " + s.Instant.V.String()
	}
	return out
}

func TestParse(t *testing.T) {
	tests := []struct {
		idea  string
		text  string
		order Order
		want  string
	}{
		{"ISO 8601 day", "2026-04-05", AnyOrder, "2026-04-05"},
		{"ISO 8601 is not asked for an order", "2026-04-05", MonthDayYear, "2026-04-05"},
		{"a year in front also with slashes", "2026/4/5", DayMonthYear, "2026-04-05"},
		{"and with points, closing point too", "2026. 04. 05.", AnyOrder, "2026-04-05"},
		{"compact ISO 8601", "20260405", AnyOrder, "2026-04-05"},
		{"compact, day first: no such year in front", "25042026", AnyOrder, "2026-04-25"},
		{"week date, ISO 8601 (2024-W04-5 is the 26 January of RFC 3339's example day)", "2024-W04-5", AnyOrder, "2024-01-26"},
		{"week 53 exists in 2026", "2026-W53-7", AnyOrder, "2027-01-03"},

		{"RFC 3339 in UTC", "2024-01-26T15:00:00Z", AnyOrder, "2024-01-26 15:00:00.000 = 2024-01-26T15:00:00.000Z"},
		{"RFC 3339 with an offset: the day is the local one", "2024-01-26T22:30:00-05:00", AnyOrder, "2024-01-26 22:30:00.000 = 2024-01-27T03:30:00.000Z"},
		{"RFC 3339 section 5.8, fraction", "1985-04-12T23:20:50.52Z", AnyOrder, "1985-04-12 23:20:50.520 = 1985-04-12T23:20:50.520Z"},
		{"RFC 3339 section 5.8, offset", "1996-12-19T16:39:57-08:00", AnyOrder, "1996-12-19 16:39:57.000 = 1996-12-20T00:39:57.000Z"},
		{"RFC 3339 section 5.8, odd offset", "1937-01-01T12:00:27.87+00:20", AnyOrder, "1937-01-01 12:00:27.870 = 1937-01-01T11:40:27.870Z"},
		{"blank for T, offset without colon", "2026-04-05 18:05:07 +0200", AnyOrder, "2026-04-05 18:05:07.000 = 2026-04-05T16:05:07.000Z"},
		{"Unicode minus in the offset", "2026-04-05T18:05−05:00", AnyOrder, "2026-04-05 18:05:00.000 = 2026-04-05T23:05:00.000Z"},
		{"compact with clock and zone", "20260405T101500Z", AnyOrder, "2026-04-05 10:15:00.000 = 2026-04-05T10:15:00.000Z"},
		{"digits only", "20260405101500", AnyOrder, "2026-04-05 10:15:00.000"},
		{"as file names have it", "2026-04-05_18-05-07", AnyOrder, "2026-04-05 18:05:07.000"},
		{"compact file name", "20260405_1805", AnyOrder, "2026-04-05 18:05:00.000"},
		{"comma before the fraction, nine digits", "2026-04-05 18:05:07,123456789", AnyOrder, "2026-04-05 18:05:07.123"},
		{"no seconds", "2026-04-05 18:05", AnyOrder, "2026-04-05 18:05:00.000"},

		{"points: day first", "03.04.2026", AnyOrder, "2026-04-03"},
		{"points and blanks", "3. 4. 2026", AnyOrder, "2026-04-03"},
		{"points, clock with a point", "3.4.2026 18.05", AnyOrder, "2026-04-03 18:05:00.000"},
		{"points, but only month first fits", "04.25.2026", AnyOrder, "2026-04-25"},
		{"points, declared month first", "03.04.2026", MonthDayYear, "2026-03-04"},
		{"slashes, day over 12", "25/4/2026", AnyOrder, "2026-04-25"},
		{"slashes, day over 12 in the middle", "4/25/2026", AnyOrder, "2026-04-25"},
		{"slashes, day first declared", "3/4/2026", DayMonthYear, "2026-04-03"},
		{"slashes, month first declared", "3/4/2026", MonthDayYear, "2026-03-04"},
		{"both readings are the same day", "4/4/2026", AnyOrder, "2026-04-04"},
		{"blanks between", "05 04 2026", DayMonthYear, "2026-04-05"},
		{"a year at the end overrules year first", "25-04-2026", YearMonthDay, "2026-04-25"},
		{"12-hour clock", "4/25/2026 6:05:07 PM", AnyOrder, "2026-04-25 18:05:07.000"},
		{"noon", "4/25/2026 12:05 p.m.", AnyOrder, "2026-04-25 12:05:00.000"},
		{"midnight", "4/25/2026 12:05 a. m.", AnyOrder, "2026-04-25 00:05:00.000"},
		{"narrow blank before PM", "4/25/26, 6:05\u202fPM", AnyOrder, "2026-04-25 18:05:00.000"},
		{"hour alone", "25/4/2026 6pm", AnyOrder, "2026-04-25 18:00:00.000"},
		{"clock in front", "18:05 25.04.2026", AnyOrder, "2026-04-25 18:05:00.000"},

		{"two-digit year", "25.04.26", AnyOrder, "2026-04-25"},
		{"pivot: 68 is 2068", "25.04.68", AnyOrder, "2068-04-25"},
		{"pivot: 69 is 1969", "25.04.69", AnyOrder, "1969-04-25"},
		{"two-digit year in front, declared", "26-04-05", YearMonthDay, "2026-04-05"},
		{"two-digit year at the end, declared", "26-04-05", DayMonthYear, "2005-04-26"},

		{"English", "April 5, 2026", AnyOrder, "2026-04-05"},
		{"English, short, ordinal, weekday", "Sun, 5th Apr 2026", AnyOrder, "2026-04-05"},
		{"day-Mon-yy as spreadsheets show it", "05-Apr-26", MonthDayYear, "2026-04-05"},
		{"year, month name, day", "2026 Apr 5", AnyOrder, "2026-04-05"},
		{"RFC 1123", "Sun, 05 Apr 2026 18:05:07 GMT", AnyOrder, "2026-04-05 18:05:07.000 = 2026-04-05T18:05:07.000Z"},
		{"C's ctime: year behind the clock", "Sun Apr  5 18:05:07 2026", AnyOrder, "2026-04-05 18:05:07.000"},
		{"a browser's own form", "Sun Apr 05 2026 18:05:07 GMT+0200 (Central European Summer Time)", AnyOrder,
			"2026-04-05 18:05:07.000 = 2026-04-05T16:05:07.000Z"},
		{"RFC 2822 zone name", "5 Apr 2026 18:05 EST", AnyOrder, "2026-04-05 18:05:00.000 = 2026-04-05T23:05:00.000Z"},
		{"German", "Sonntag, 5. April 2026, 18:05 Uhr", AnyOrder, "2026-04-05 18:05:00.000"},
		{"German, short", "So 1. Mär. 26", AnyOrder, "2026-03-01"},
		{"German, clock with a point", "5. Dez. 2026 18.05 Uhr", AnyOrder, "2026-12-05 18:05:00.000"},
		{"Austrian", "5. Jänner 2026", AnyOrder, "2026-01-05"},
		{"Spanish", "lunes, 5 de enero de 2026 a las 18:05", AnyOrder, "error: is not a date"},
		{"Spanish without a las", "lun. 5 ene. 2026 6:05 p. m.", AnyOrder, "2026-01-05 18:05:00.000"},
		{"Portuguese", "segunda-feira, 2 de março de 2026 às 18:05", AnyOrder, "2026-03-02 18:05:00.000"},
		{"Portuguese, cedilla as a combining mark", "2 de marc\u0327o de 2026", AnyOrder, "2026-03-02"},
		{"French", "mardi 3 février 2026 à 18h05", AnyOrder, "2026-02-03 18:05:00.000"},
		{"French: mar is Tuesday here", "mar. 3 févr. 2026", AnyOrder, "2026-02-03"},
		{"French: mar before numbers", "mar. 03/02/2026", DayMonthYear, "2026-02-03"},
		{"English: Mar is March", "Mar 3, 2026 18.05", AnyOrder, "2026-03-03 18:05:00.000"},
		{"French, first of the month", "1er août 2026", AnyOrder, "2026-08-01"},
		{"Italian", "lunedì 5 gennaio 2026 ore 18:05", AnyOrder, "2026-01-05 18:05:00.000"},
		{"Italian, short", "5-mag-26", AnyOrder, "2026-05-05"},
		{"Dutch", "maandag 2 maart 2026", AnyOrder, "2026-03-02"},
		{"Dutch, short", "2 mrt 2026", AnyOrder, "2026-03-02"},
		{"Danish", "den 5. maj 2026 kl. 18.05", AnyOrder, "2026-05-05 18:05:00.000"},
		{"Norwegian", "lørdag 5. desember 2026", AnyOrder, "2026-12-05"},
		{"Swedish", "söndag 5 juli 2026 kl. 18:05", AnyOrder, "2026-07-05 18:05:00.000"},
		{"Finnish", "su 5. huhtikuuta 2026 klo 18.05", AnyOrder, "2026-04-05 18:05:00.000"},
		{"Polish", "niedziela, 5 kwietnia 2026 r.", AnyOrder, "2026-04-05"},
		{"Polish, short", "5 paź 2026", AnyOrder, "2026-10-05"},
		{"Polish, Roman month", "5 IV 2026", AnyOrder, "2026-04-05"},
		{"Russian", "воскресенье, 5 апреля 2026 г., 18:05", AnyOrder, "2026-04-05 18:05:00.000"},
		{"Russian, short", "5 сент. 2026 г.", AnyOrder, "2026-09-05"},

		{"Unix seconds", "1767600000", AnyOrder, "2026-01-05 08:00:00.000 = 2026-01-05T08:00:00.000Z"},
		{"Unix milliseconds", "1767600000250", AnyOrder, "2026-01-05 08:00:00.250 = 2026-01-05T08:00:00.250Z"},
		{"Unix seconds with a fraction", "1767600000.25", AnyOrder, "2026-01-05 08:00:00.250 = 2026-01-05T08:00:00.250Z"},
		{"Unix nanoseconds", "1767600000250000000", AnyOrder, "2026-01-05 08:00:00.250 = 2026-01-05T08:00:00.250Z"},
		{"ten digits that may be YYYYMMDDHH", "2026040510", AnyOrder, "error: is not a date"},

		{"two readings are not guessed", "3/4/2026", AnyOrder,
			"error: is 3 April 2026 (day month year) or 4 March 2026 (month day year); declare date_order"},
		{"three readings", "01-02-03", AnyOrder, "error: is 1 February 2003 (day month year) or 2 January 2003 (month day year)" +
			" or 3 February 2001 (year month day); declare date_order"},
		{"against the declared order", "25/4/2026", MonthDayYear,
			`error: is no day of the calendar as "month day year", only as "day month year"`},
		{"31 April", "31.04.2026", AnyOrder, "error: is no day of the calendar"},
		{"29 February of no leap year", "29.2.2026", AnyOrder, "error: is no day of the calendar"},
		{"29 February", "29.2.2028", AnyOrder, "2028-02-29"},
		{"month 13", "2026-13-01", AnyOrder, "error: is no day of the calendar"},
		{"a year in front is never followed by the day", "2026-25-04", AnyOrder, "error: is no day of the calendar"},
		{"week 53 of a year with 52", "2025-W53-1", AnyOrder, "error: is no day of the calendar"},
		{"year 1026: a slip", "05.04.1026", AnyOrder, "error: is no day of the calendar"},
		{"25 o'clock", "2026-04-05 25:00", AnyOrder, "error: has a time of day that no clock shows"},
		{"13 pm", "2026-04-05 13:00 pm", AnyOrder, "error: has a time of day that no clock shows"},
		{"no year", "5. April", AnyOrder, "error: has no year"},
		{"no year, numbers only", "5.4.", AnyOrder, "error: has no year"},
		{"no year, slash", "13/4", AnyOrder, "error: has no year"},
		{"no day", "April 2026", AnyOrder, "error: has no day"},
		{"a clock alone", "18:05", AnyOrder, "error: is a time of day without a date"},
		{"empty", " \u00a0", AnyOrder, "error: is empty, where a date should stand"},
		{"a number", "82.5", AnyOrder, "error: is not a date"},
		{"a serial is the caller's to recognise", "46117", AnyOrder, "error: is not a date"},
		{"a set", "3x5", AnyOrder, "error: is not a date"},
		{"an address", "10.0.0.1", AnyOrder, "error: is not a date"},
		{"mixed signs", "05.04/2026", AnyOrder, "error: is not a date"},
		{"decimals", "5,4,2026", AnyOrder, "error: is not a date"},
		{"a name in front", "Ines 5.4.2026", AnyOrder, "error: is not a date"},
		{"three-digit year", "5.4.026", AnyOrder, "error: is not a date"},
		{"endless digits", strings.Repeat("9", 100), AnyOrder, "error: is not a date"},
		{"endless text", strings.Repeat("5.4.2026 ", 100), AnyOrder, "error: is not a date"},
	}
	for _, tt := range tests {
		s, err := Parse(tt.text, tt.order)
		got := show(s)
		if err != nil {
			got = "error: " + err.(*Error).Problem
		}
		if got != tt.want {
			t.Errorf("%s: Parse(%q, %q)\n got %s\nwant %s", tt.idea, tt.text, tt.order, got, tt.want)
		}
	}
}

// Every month name of every language is read as its month, alone in its
// language or shared with another.
func TestMonthNames(t *testing.T) {
	owner := map[string]int{}
	for _, names := range monthNames {
		months := strings.Fields(names)
		if len(months) != 12 {
			t.Fatalf("%d months in %q", len(months), names)
		}
		for i, forms := range months {
			for _, f := range strings.Split(forms, "/") {
				if m, ok := owner[f]; ok && m != i+1 {
					t.Errorf("%q is month %d and month %d", f, m, i+1)
				}
				owner[f] = i + 1
				text := "7 " + f + " 2026"
				if names == monthNames[len(monthNames)-1] {
					text = strings.ToUpper(text)
				}
				s, err := Parse(text, AnyOrder)
				if want := rep.DayOf(2026, time.Month(i+1), 7); err != nil || s.Day != want {
					t.Errorf("%q: %v, %v; want %v", text, s.Day, err, want)
				}
			}
		}
	}
}

func TestParseAmbiguousTellsOrders(t *testing.T) {
	_, err := Parse("3/4/2026", AnyOrder)
	var e *Error
	if !errors.As(err, &e) || !slices.Equal(e.Orders, []Order{DayMonthYear, MonthDayYear}) {
		t.Errorf("%v: orders %v", err, e)
	}
}

func TestParseClock(t *testing.T) {
	tests := []struct {
		text string
		want int32 // ms; -1: error
	}{
		{"18:05", (18*60 + 5) * 60000},
		{"18:05:07.25", ((18*60+5)*60+7)*1000 + 250},
		{"18:05:07,2504", ((18*60+5)*60+7)*1000 + 250},
		{"6:05 pm", (18*60 + 5) * 60000},
		{"12:00 AM", 0},
		{"12 pm", 12 * 3600000},
		{"18h05", (18*60 + 5) * 60000},
		{"18h", 18 * 3600000},
		{"18 Uhr", 18 * 3600000},
		{"18.05 Uhr", (18*60 + 5) * 60000},
		{"kl. 18.05", (18*60 + 5) * 60000},
		{"klo 18.05", (18*60 + 5) * 60000},
		{"18:05:00Z", (18*60 + 5) * 60000},
		{"24:00", -1}, {"18:60", -1}, {"18:05:60", -1}, {"0:30 pm", -1}, {"18.05", -1}, {"18", -1}, {"", -1},
		{"2026-04-05 18:05", -1}, {"18:05 18:06", -1}, {"1:2", -1}, {"red 18:05", -1},
	}
	for _, tt := range tests {
		ms, err := ParseClock(tt.text)
		if err != nil {
			ms = -1
		}
		if ms != tt.want {
			t.Errorf("ParseClock(%q) = %d, %v; want %d", tt.text, ms, err, tt.want)
		}
	}
}

func TestParseUnix(t *testing.T) {
	for text, want := range map[string]string{
		"0":                   "1970-01-01T00:00:00.000Z",
		"86399.999":           "1970-01-01T23:59:59.999Z",
		"86399,5":             "1970-01-01T23:59:59.500Z",
		"1767600000":          "2026-01-05T08:00:00.000Z",
		"1767600000123":       "2026-01-05T08:00:00.123Z",
		"1767600000123456":    "2026-01-05T08:00:00.123Z",
		"1767600000123456789": "2026-01-05T08:00:00.123Z",
		"-1":                  "",
		"soon":                "",
		"1767600000.x":        "",
		"":                    "",
	} {
		s, err := ParseUnix(text)
		if want == "" {
			if err == nil {
				t.Errorf("ParseUnix(%q) = %v, want an error", text, show(s))
			}
			continue
		}
		if err != nil || s.Instant.V.String() != want || !s.UTC {
			t.Errorf("ParseUnix(%q) = %v, %v; want %s", text, show(s), err, want)
		}
	}
}

func TestStampIn(t *testing.T) {
	lisbon, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		t.Skip(err)
	}
	tests := []struct{ idea, text, want string }{
		{"a local clock gets its instant, winter", "2026-01-05 23:30", "2026-01-05 23:30:00.000 = 2026-01-05T23:30:00.000Z"},
		{"summer", "2026-07-05 23:30", "2026-07-05 23:30:00.000 = 2026-07-05T22:30:00.000Z"},
		{"UTC moves to the zone, past midnight", "2026-07-05T23:30Z", "2026-07-06 00:30:00.000 = 2026-07-05T23:30:00.000Z"},
		{"another offset keeps day and clock as written", "2026-07-05T23:30+02:00", "2026-07-05 23:30:00.000 = 2026-07-05T21:30:00.000Z"},
		{"a day has no instant", "2026-07-05", "2026-07-05"},
	}
	for _, tt := range tests {
		s, err := Parse(tt.text, AnyOrder)
		if err != nil {
			t.Fatal(err)
		}
		if got := show(s.In(lisbon)); got != tt.want {
			t.Errorf("%s: %q in Lisbon is %s, want %s", tt.idea, tt.text, got, tt.want)
		}
	}
}

func TestNoAllocations(t *testing.T) {
	for _, text := range []string{"2026-04-05", "05.04.2026 18:05:07", "2026-04-05T18:05:07.250Z", "5 Apr 2026"} {
		if n := testing.AllocsPerRun(100, func() { _, _ = Parse(text, DayMonthYear) }); n != 0 {
			t.Errorf("Parse(%q) allocates %v times", text, n)
		}
	}
}

// BenchmarkParse reads the dates of exports; text=std is the standard library
// reading RFC 3339.
func BenchmarkParse(b *testing.B) {
	for name, text := range map[string]string{"iso": "2026-04-05", "rfc3339": "2026-04-05T18:05:07.250Z", "points": "05.04.2026 18:05:07",
		"name": "5 April 2026"} {
		b.Run("text="+name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(text, DayMonthYear); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("text=std", func(b *testing.B) {
		for b.Loop() {
			if _, err := time.Parse(time.RFC3339, "2026-04-05T18:05:07.250Z"); err != nil {
				b.Fatal(err)
			}
		}
	})
}
