package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/season/draft"
	"repsift/ingest/source"
)

// asked is what has to be settled, by source.
type asked map[string][]draft.Ask

// maxRounds is how often a folder is read for further questions behind the
// first of each source.
const maxRounds = 5

// readAsking reads the sources with nothing declared. Where one stops with a
// question, an answer is assumed and all is read again, so that the draft holds
// every question at once and the names of all lifters; the assumption goes no
// further than that. It returns the first reading, in which nothing is assumed,
// and the last.
func readAsking(ctx context.Context, in inputs, p *progress) (first, last *ingest.Reading, asks asked, err error) {
	s := &season.Season{AsWritten: true}
	asks = make(asked)
	for round := 1; ; round++ {
		reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{
			Progress: func(done, total int64) { p.bar("reading", share(done, total)) },
		})
		if err != nil {
			return nil, nil, nil, err
		}
		if first == nil {
			first = reading
		}
		further := false
		for i := range reading.Sources {
			src := &reading.Sources[i]
			var ask *source.Ask
			if !errors.As(src.Err, &ask) || !asks.add(src.Name, ask) {
				continue
			}
			if assumed := assume(src.Name, ask); assumed != nil {
				s.Sources = append(s.Sources, *assumed)
				further = true
			}
		}
		if !further || round == maxRounds {
			return first, reading, asks, nil
		}
	}
}

// add notes a question; false where it was asked before: then no answer that
// is assumed leads on.
func (a asked) add(name string, ask *source.Ask) bool {
	problem := ask.Problem
	if ask.Column != "" {
		problem = fmt.Sprintf("column %q: %s", ask.Column, problem)
	}
	for _, old := range a[name] {
		if slices.Equal(old.Lines, ask.Lines) {
			return false
		}
	}
	a[name] = append(a[name], draft.Ask{Problem: problem, Lines: ask.Lines, All: ask.All})
	return true
}

// assume returns a declaration with the first answer to a question; nil where
// the answer is something only the coach knows.
func assume(name string, ask *source.Ask) *season.Source {
	lines := ask.Lines
	if !ask.All {
		lines = lines[:min(1, len(lines))]
	}
	text := "[[source]]\nfiles = [\"*\"]\n" + strings.Join(lines, "\n")
	if len(lines) == 0 || strings.Contains(text, "its heading") {
		return nil
	}
	s, err := season.Read("assumed", strings.NewReader(text))
	if err != nil {
		return nil
	}
	s.Sources[0].Files = draft.Patterns([]string{name}, nil)
	return &s.Sources[0]
}

// unnamed is the lifter of the answer that is assumed where nothing names one.
const unnamed = "…"

// quiet is how many days without a session are told: two weeks.
const quiet = 14

// draftFacts gathers what a season file can say of what was read.
func draftFacts(first, last *ingest.Reading, asks asked) draft.Facts {
	facts := draft.Facts{Groups: groups(first, asks)}
	lifters, lifts := map[string]int{}, map[string]int{}
	days := map[rep.Day]bool{}
	sure := func(name string) bool { return len(asks[name]) == 0 }
	t := last.Reps
	for i := range t.Len() {
		lifters[t.Text.Text(t.Lifter.At(int32(i)))]++
		lifts[t.Text.Text(t.Lift.At(int32(i)))]++
		if sure(t.Text.Text(t.Source.At(int32(i)))) {
			days[t.Date.At(int32(i))] = true
		}
	}
	for i := range last.Notes {
		n := &last.Notes[i]
		reps := int(max(1, n.Sets))
		if n.Reps.OK {
			reps *= int(n.Reps.V)
		}
		lifters[n.Lifter] += reps
		lifts[n.Lift] += reps
		if sure(n.Source) {
			days[n.Date] = true
		}
	}
	delete(lifters, unnamed)
	facts.Lifters, facts.Lifts = counted(lifters), counted(lifts)
	sorted := slices.Sorted(maps.Keys(days))
	for i, d := range sorted {
		if i == 0 {
			facts.First, facts.Last = rep.Some(d), rep.Some(sorted[len(sorted)-1])
		} else if before := sorted[i-1]; d-before > quiet {
			facts.Gaps = append(facts.Gaps, draft.Gap{From: before + 1, To: d - 1})
		}
	}
	return facts
}

func counted(names map[string]int) []draft.Name {
	var out []draft.Name
	for _, n := range slices.Sorted(maps.Keys(names)) {
		out = append(out, draft.Name{Written: n, Reps: names[n]})
	}
	return out
}

// groups puts sources together that are alike: of one unit, with the same
// headings. Sources that could not be opened are in none.
func groups(reading *ingest.Reading, asks asked) []draft.Group {
	var order []string
	byKey := make(map[string]*draft.Group)
	keys := make(map[string]string) // of sources
	for i := range reading.Sources {
		src := &reading.Sources[i]
		key := keys[src.SameAs]
		if key == "" {
			if len(src.Tables) == 0 {
				continue
			}
			key = likeness(src)
		}
		keys[src.Name] = key
		g := byKey[key]
		if g == nil {
			g = &draft.Group{Device: src.Device, Shape: src.Shape, Reading: asRead(src), Columns: columnsOf(src)}
			byKey[key] = g
			order = append(order, key)
		}
		g.Files = append(g.Files, src.Name)
		for _, ask := range asks[src.Name] {
			if !slices.ContainsFunc(g.Asks, func(a draft.Ask) bool { return slices.Equal(a.Lines, ask.Lines) }) {
				g.Asks = append(g.Asks, ask)
			}
		}
		for _, w := range src.Warnings {
			g.Asks = append(g.Asks, draft.Ask{Problem: w})
		}
	}
	var out []draft.Group
	for _, key := range order {
		out = append(out, *byKey[key])
	}
	return out
}

// likeness is the same for sources of one unit with the same headings.
func likeness(src *ingest.Source) string {
	t := mainTable(src)
	key := []string{src.Device, src.Format, t.Shape}
	for _, c := range t.Columns {
		key = append(key, strings.ToLower(c.Heading))
	}
	return strings.Join(key, "\x00")
}

// mainTable returns the first table that is read, else the first.
func mainTable(src *ingest.Source) *ingest.Table {
	for i := range src.Tables {
		if src.Tables[i].Shape != "" {
			return &src.Tables[i]
		}
	}
	return &src.Tables[0]
}

// columnsOf returns the columns of the main table, and of others that are read
// those with another heading.
func columnsOf(src *ingest.Source) []draft.Column {
	var out []draft.Column
	seen := make(map[string]bool)
	add := func(t *ingest.Table) {
		for _, c := range t.Columns {
			if seen[c.Heading] {
				continue
			}
			seen[c.Heading] = true
			field := c.Field
			if c.Rep > 0 {
				field = fmt.Sprintf("%s, rep %d", field, c.Rep)
			}
			why := c.Evidence
			if c.Unit != "" && c.UnitFrom != "" && c.UnitFrom != "heading" {
				why = "unit from " + c.UnitFrom + "; " + why
			}
			out = append(out, draft.Column{Heading: c.Heading, Field: field, Unit: c.Unit, Why: why, Samples: c.Samples})
		}
	}
	add(mainTable(src))
	for i := range src.Tables {
		if src.Tables[i].Shape != "" {
			add(&src.Tables[i])
		}
	}
	return out
}

// asRead says in a line how a source is read as a table.
func asRead(src *ingest.Source) string {
	var out []string
	for _, s := range []string{delimiterWords[src.Delimiter], src.Encoding, map[string]string{".": "decimal point", ",": "decimal comma"}[src.Decimal]} {
		if s != "" {
			out = append(out, s)
		}
	}
	if src.DateOrder != "" {
		out = append(out, "dates "+src.DateOrder)
	}
	return cmp.Or(strings.Join(out, ", "), src.Format)
}

var delimiterWords = map[string]string{",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars", ":": "colons", "blanks": "blanks"}
