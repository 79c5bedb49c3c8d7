package clean

import (
	"fmt"
	"slices"
	"strings"

	"repsift/clean/history"
	"repsift/clean/judge"
	"repsift/ingest/rep"
)

// Story is the story of one row: how it was read, who looked at it, and where
// it ended.
type Story struct {
	Rep   rep.Rep // as it ended
	Aside *Aside  // nil: kept
	Looks []judge.Look
	Set   *rep.Set // the set it ended in; nil for a copy
	Lines []string // all of it in plain words
}

// Find returns the rows of Reps that were read at a place, in table order. A
// place without a sheet fits any sheet; number narrows it to one rep of a row
// that holds several.
func (r *Result) Find(p rep.Place, number rep.Null[int32]) []int32 {
	t := r.Reps
	var out []int32
	source, ok := t.Text.Lookup(p.Source)
	if !ok {
		return nil
	}
	for i := range t.Len() {
		row := int32(i)
		if t.Source.At(int32(i)) == source && t.Row[i] == p.Row && (p.Sheet == "" || t.Text.Text(t.Sheet.At(int32(i))) == p.Sheet) &&
			(!number.OK || t.RepRecorded.At(row) == number) {
			out = append(out, row)
		}
	}
	return out
}

// Why tells the story of a row. It judges the row's lifter and lift anew and
// for that puts values back and forth in Reps: nothing else may use the Result
// meanwhile.
func (r *Result) Why(row int32) (Story, error) {
	t := r.Reps
	if row < 0 || int(row) >= t.Len() {
		return Story{}, fmt.Errorf("no rep %d: there are %d", row, t.Len())
	}
	out := Story{Rep: t.Rep(row)}
	var p *part
	for _, q := range r.parts {
		if q.Lifter == out.Rep.Lifter && q.Lift == out.Rep.Lift {
			p = q
		}
	}
	for i := range p.corrected {
		p.corrected[i].Swap(t)
	}
	h := history.Of(t, out.Rep.Lifter, out.Rep.Lift, p.Logs)
	h.Known = p.Known
	story, err := judge.Of(h).Tell(r.filters, row)
	for i := range p.corrected {
		p.corrected[i].Swap(t)
	}
	if err != nil {
		return Story{}, err
	}
	out.Looks = story.Looks
	for i := range r.Aside {
		if r.Aside[i].Row == row {
			out.Aside = &r.Aside[i]
		}
	}
	for i := range r.Sets.Len() {
		if slices.Contains(r.Sets.Rows(i), row) {
			set := r.Sets.At(i)
			out.Set = &set
		}
	}
	out.tell(story)
	return out, nil
}

// tell puts the story into words.
func (s *Story) tell(j judge.Story) {
	say := func(format string, args ...any) { s.Lines = append(s.Lines, fmt.Sprintf(format, args...)) }
	x := &s.Rep
	at := rep.Place{Source: x.Source, Sheet: x.Sheet, Row: x.Row}
	read := fmt.Sprintf("%s: %s, %s, %s %s", at, x.Lifter, x.Date, words(x.Variant, x.Lift), kg(x.LoadKg))
	if x.RepRecorded.OK {
		read += fmt.Sprintf(", rep %d as recorded", x.RepRecorded.V)
	}
	say("%s: mean %.3f m/s%s%s%s", read, x.MeanVelocity, given(", peak %.3f m/s", x.PeakVelocity, 1),
		given(", travel %.1f cm", x.ROM, 100), given(", in %.2f s", x.Concentric, 1))
	if k := x.Recorded; k != (rep.Recorded{}) {
		say("read as%s%s%s%s", given(" %g kg", k.LoadKg, 1), given(" mean %.3f m/s", k.MeanVelocity, 1), given(" travel %.1f cm", k.ROM, 100),
			given(" in %.2f s", k.Concentric, 1))
	}
	for _, l := range j.Looks {
		origin := "default"
		if l.Declared {
			origin = "season file"
		}
		say("%s (%s): %s", l.Filter, origin, l.Text)
	}
	for _, n := range j.Notes {
		say("%s", n)
	}
	switch {
	case s.Aside != nil:
		line := fmt.Sprintf("set aside by %s: %s", s.Aside.Filter, s.Aside.Reason)
		if len(s.Aside.Also) > 0 {
			var also []string
			for _, k := range s.Aside.Also {
				also = append(also, k.String())
			}
			line += "; also by " + strings.Join(also, ", ")
		}
		say("%s", line)
	default:
		say("kept: session %d, set %d, rep %d, %s set", x.Session, x.Set, x.Rep, x.Role)
	}
	if s.Set != nil && s.Set.Log != nil {
		l := s.Set.Log
		say("the hand log's set %q at %s was joined to this set", l.Text, rep.Place{Source: l.Source, Sheet: l.Sheet, Row: l.Row})
	}
}

// given writes a value that may be missing, scaled.
func given(format string, v rep.Null[float64], scale float64) string {
	if !v.OK {
		return ""
	}
	return fmt.Sprintf(format, scale*v.V)
}

// words joins texts by blanks and leaves out empty ones.
func words(texts ...string) string {
	return strings.Join(strings.Fields(strings.Join(texts, " ")), " ")
}

func kg(load float64) string { return fmt.Sprintf("%.6g kg", load) }
