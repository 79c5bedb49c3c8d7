package date

import (
	_ "embed"
	"strings"
	"testing"
	"time"
)

//go:embed testdata/cldr48.tsv
var cldr string

// Dates in twenty locales and seven styles as Unicode CLDR writes them, not as
// our own lists of words have them: all are read, and those with a month name
// or a year in front need no order.
func TestCLDR(t *testing.T) {
	lines := 0
	for line := range strings.Lines(cldr) {
		if line[0] == '#' {
			continue
		}
		lines++
		parts := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		locale, style, want, text := parts[0], parts[1], parts[2], parts[3]
		order := DayMonthYear
		if locale == "en-US" {
			order = MonthDayYear
		}
		if !strings.HasPrefix(style, "short") && locale != "pt-PT" { // its medium style is 07/03/2026
			order = AnyOrder
		}
		s, err := Parse(text, order)
		got := s.Day.String()
		if s.Clock.OK {
			got += " " + time.UnixMilli(int64(s.Clock.V)).UTC().Format(time.TimeOnly)
		}
		if err != nil || got != want {
			t.Errorf("%s %s: Parse(%q, %q) = %s, %v; want %s", locale, style, text, order, got, err, want)
		}
	}
	if lines != 20*7*12 {
		t.Errorf("%d lines, want %d", lines, 20*7*12)
	}
}
