package date

import (
	"fmt"
	"testing"

	"repsift/ingest/rep"
)

// FuzzParse holds what Parse returns to its doc: a day within 1900…2200, a clock
// within it, and the same day again when it is written out; an error that
// quotes the text; and Evidence that agrees with Parse.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"2026-04-05", "2026-04-05T10:15:00Z", "1996-12-19T16:39:57-08:00", "20260405T101500Z", "2024-W04-5", "3/4/2026",
		"25.04.26 18.05", "Sun Apr 05 2026 10:15:00 GMT+0200 (Central European Summer Time)", "mardi 3 février 2026 à 18h05", "5 IV 2026",
		"5 апреля 2026 г.", "1767600000.25", "2026-04-05_10-15-00", "4/25/26, 6:05\u202fPM", "31.4.2026", "24:00", "46117", "5. Jänner", "10:15",
		"den 5. maj 2026 kl. 18.05", "26-04-05", "mar. 3 févr. 2026"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		first, last := rep.DayOf(1900, 1, 1), rep.DayOf(2200, 12, 31)
		readings := 0
		for o := AnyOrder; o <= YearMonthDay; o++ {
			s, err := Parse(text, o)
			if err != nil {
				if e, ok := err.(*Error); !ok || e.Text != text || e.Problem == "" || s != (Stamp{}) || o != AnyOrder && len(e.Orders) > 0 &&
					o != YearMonthDay {
					t.Fatalf("Parse(%q, %q) = %v, %#v", text, o, s, err)
				}
				continue
			}
			readings++
			if s.Day < first || s.Day > last || s.Clock.OK && (s.Clock.V < 0 || s.Clock.V >= dayMs) || s.Instant.OK && !s.Clock.OK {
				t.Fatalf("Parse(%q, %q) = %+v", text, o, s)
			}
			y, m, d := s.Day.Time().Date()
			for again, order := range map[string]Order{
				s.Day.String():                              AnyOrder,
				fmt.Sprintf("%d.%d.%d", d, m, y):            DayMonthYear,
				fmt.Sprintf("%d/%d/%d", m, d, y):            MonthDayYear,
				fmt.Sprintf("%d %.3s %d", d, m, y):          AnyOrder,
				fmt.Sprintf("%04d%02d%02d", y, m, d):        AnyOrder,
				fmt.Sprintf("%s %d, %d", m, d, y):           AnyOrder,
				fmt.Sprintf("%d-%02d-%02dT00:00Z", y, m, d): AnyOrder,
			} {
				if b, err := Parse(again, order); err != nil || b.Day != s.Day {
					t.Fatalf("%q is %v; %q gives %v, %v", text, s.Day, again, b.Day, err)
				}
			}
		}
		var e Evidence
		e.Add(text)
		if total := e.Dates + e.Unix; (readings > 0) != (total > 0) && len(e.Orders()) == 0 {
			t.Fatalf("%q: %d readings, evidence %+v", text, readings, e)
		}
		for _, o := range e.Orders() {
			if _, err := Parse(text, o); err != nil {
				t.Fatalf("%q: order %q is possible, but %v", text, o, err)
			}
		}
		var quick form
		if quick.fast(text) {
			if slow, problem := scanTokens(text); problem != "" || slow != quick {
				t.Fatalf("%q: the fast path says %+v, the other %+v, %s", text, quick, slow, problem)
			}
		}
		_, _ = ParseUnix(text)
		if ms, err := ParseClock(text); err == nil && (ms < 0 || ms >= dayMs) {
			t.Fatalf("ParseClock(%q) = %d", text, ms)
		}
	})
}
