package sets_test

import (
	"fmt"
	"strings"
	"testing"

	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// The rows of these tests are invented.

var day = rep.DayOf(2026, 1, 5)

// line adds a rep; text is "source row load mark rep v at", "-" where a field
// is missing, at in seconds.
func line(t *rep.Table, text string) {
	f := strings.Fields(text)
	r := rep.Rep{Lifter: "Vera Holm", Lift: rep.Squat, Date: day, Source: f[0], MeanStep: 0.001, LoadStep: 0.5}
	fmt.Sscan(f[1], &r.Row)
	fmt.Sscan(f[2], &r.LoadKg)
	if f[3] != "-" {
		r.SetMark.OK = true
		fmt.Sscan(f[3], &r.SetMark.V)
	}
	if f[4] != "-" {
		r.RepRecorded.OK = true
		fmt.Sscan(f[4], &r.RepRecorded.V)
	}
	fmt.Sscan(f[5], &r.MeanVelocity)
	if f[6] != "-" {
		var s float64
		fmt.Sscan(f[6], &s)
		r.PerformedAt = rep.Some(rep.Instant(int64(day)*86_400_000 + int64(1000*s)))
	}
	t.Append(&r)
}

// arrange returns the sets of some lines, each as the rows of its reps, and
// the copies as "copy=of".
func arrange(opt sets.Options, lines ...string) string {
	t := new(rep.Table)
	rows := make([]int32, len(lines))
	for i, l := range lines {
		line(t, l)
		rows[i] = int32(i)
	}
	var a sets.Arranger
	o := a.Arrange(t, sets.NewRanks(&t.Text), rows, opt)
	var out []string
	for _, s := range o.Sets {
		out = append(out, strings.Trim(fmt.Sprint(s.Rows), "[]"))
	}
	text := strings.Join(out, " | ")
	for _, c := range o.Copies {
		text += fmt.Sprintf(" ; %d=%d", c.Row, c.Of)
	}
	return text
}

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		name, want string
		lines      []string
	}{
		{"by mark, whatever the order of lines", "2 0 | 1 3", []string{"a 2 60 1 2 .8 -", "a 3 60 2 1 .8 -", "a 4 60 1 1 .8 -", "a 5 60 2 2 .8 -"}},
		{"by load", "0 1 | 2", []string{"a 2 60 - 1 .8 -", "a 3 60 - 2 .8 -", "a 4 80 - 3 .7 -"}},
		{"by rep number", "0 1 | 2 3", []string{"a 2 60 - 1 .8 -", "a 3 60 - 2 .8 -", "a 4 60 - 1 .8 -", "a 5 60 - 2 .8 -"}},
		{"by a pause", "0 1 | 2", []string{"a 2 60 - - .8 100", "a 3 60 - - .8 104", "a 4 60 - - .8 300"}},
		{"rep numbers outlast a breath", "0 1 2", []string{"a 2 60 - 1 .8 100", "a 3 60 - 2 .8 104", "a 4 60 - 3 .8 175"}},
		{"by time, whatever the order of lines", "1 0 | 2", []string{"a 2 60 - - .8 104", "a 3 60 - - .8 100", "a 4 60 - - .8 300"}},
		{"newest first", "3 2 | 1 0", []string{"a 2 60 - 2 .8 -", "a 3 60 - 1 .8 -", "a 4 60 - 2 .8 -", "a 5 60 - 1 .8 -"}},
		{"marks that begin anew with each load", "0 1 | 2 3", []string{"a 2 60 1 1 .8 -", "a 3 60 1 2 .8 -", "a 4 80 1 1 .7 -", "a 5 80 1 2 .7 -"}},
		{"marks that begin anew with each load, reps not numbered", "0 1 | 2 | 3 | 4",
			[]string{"a 2 60 1 - .8 -", "a 3 60 1 - .8 -", "a 4 80 1 - .7 -", "a 5 80 2 - .7 -", "a 6 60 2 - .8 -"}},
		{"the same, newest first", "4 3 | 2 | 1 0",
			[]string{"a 2 60 2 2 .8 -", "a 3 60 2 1 .8 -", "a 4 80 1 1 .7 -", "a 5 60 1 2 .8 -", "a 6 60 1 1 .8 -"}},
		{"one mark for two sets, newest first", "3 2 | 1 0", []string{"a 2 60 1 2 .8 -", "a 3 60 1 1 .81 -", "a 4 60 1 2 .82 -", "a 5 60 1 1 .83 -"}},
		{"numbers that run through the day say nothing of a pause", "0 1 | 2 | 3 4",
			[]string{"a 2 40 - 1 .9 100", "a 3 40 - 2 .9 104", "a 4 60 - 3 .8 300", "a 5 60 - 4 .8 390", "a 6 60 - 5 .8 394"}},
		{"a count that begins anew within a set", "0 1 2 3 | 4 5 | 6 7 | 8",
			[]string{"a 2 60 - 1 .8 100", "a 3 60 - 2 .8 104", "a 4 60 - 1 .8 108", "a 5 60 - 2 .8 112", "a 6 60 - 1 .8 300", "a 7 60 - 2 .8 304",
				"a 8 60 - 1 .8 500", "a 9 60 - 2 .8 504", "a 10 60 - 1 .8 700"}},
		{"a mark that begins anew within a set", "0 1 2 | 3 | 4 | 5",
			[]string{"a 2 60 1 1 .8 100", "a 3 60 1 2 .8 104", "a 4 60 2 1 .8 108", "a 5 60 3 1 .8 300", "a 6 60 4 1 .8 500", "a 7 60 5 1 .8 700"}},
		{"a count that begins anew within a set that has one time", "0 1 | 2 3 | 4",
			[]string{"a 2 60 - 1 .8 100", "a 3 60 - 2 .8 100", "a 4 60 - 1 .8 100", "a 5 60 - 2 .8 100", "a 6 60 - 1 .8 300"}},
		{"times that are no times of reps", "0 | 1 | 2 | 3", []string{"a 2 60 - 1 .8 100", "a 3 60 - 1 .8 101", "a 4 60 - 1 .8 102", "a 5 60 - 1 .8 103"}},
		{"sheets that continue one another", "0 | 2 | 1", []string{"a 2 60 1 1 .8 -", "a 3 60 3 1 .8 -", "b 2 60 2 1 .8 -"}},
		{"timed sheets by the clock", "1 | 0", []string{"a 2 60 1 1 .8 500", "b 2 60 1 1 .7 100"}},
	} {
		if got := arrange(sets.Options{}, c.lines...); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestCopies(t *testing.T) {
	all := sets.Options{Copies: true, Slack: 90_000}
	first := []string{"a 2 60 1 1 .812 100", "a 3 60 1 2 .793 104", "a 4 60 1 3 .771 108"}
	for _, c := range []struct {
		name, want string
		lines      []string
	}{
		{"another zone", "0 1 2 ; 3=0 ; 4=1 ; 5=2", []string{"b 2 60 7 1 .812 3700", "b 3 60 7 2 .793 3704", "b 4 60 7 3 .771 3708"}},
		{"a clock that disagrees", "0 1 2 | 3 4 5", []string{"b 2 60 7 1 .812 2200", "b 3 60 7 2 .793 2204", "b 4 60 7 3 .771 2208"}},
		{"a row lost", "0 1 2 ; 3=0 ; 4=2", []string{"b 2 60 7 1 .812 -", "b 3 60 7 2 .771 -"}},
		{"a row more", "0 1 2 6 ; 3=0 ; 4=1 ; 5=2", []string{"b 2 60 7 1 .812 -", "b 3 60 7 2 .793 -", "b 4 60 7 3 .771 -", "b 5 60 7 4 .744 -"}},
		{"cut in two", "0 1 2 ; 3=0 ; 4=1 ; 5=2", []string{"b 2 60 7 1 .812 -", "b 3 60 7 2 .793 -", "b 4 60 8 1 .771 -"}},
		{"another load", "0 1 2 | 3 4 5", []string{"b 2 61 7 1 .812 -", "b 3 61 7 2 .793 -", "b 4 61 7 3 .771 -"}},
		{"one rep alike says nothing", "0 1 2 | 3", []string{"b 2 60 7 1 .812 -"}},
	} {
		if got := arrange(all, append(append([]string(nil), first...), c.lines...)...); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
