package ingest

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape"
	"repsift/ingest/source"
)

// together puts what the sources held into one reading, in order of their
// names.
func (r *reader) together() *Reading {
	out := &Reading{}
	out.Reps = &rep.Table{}
	local := false
	for _, j := range r.jobs {
		r.describe(j)
		if j.SameAs == "" {
			local = local || j.found != nil && j.found.LocalTimes()
			j.add(&out.Batch)
		}
		out.Sources = append(out.Sources, j.Source)
	}
	r.foldNames(&out.Batch)
	out.Said = append(out.Said, r.alike(&out.Batch)...)
	if n := midnight(out.Reps, r.season.Zone()); n > 0 {
		out.Said = append(out.Said, fmt.Sprintf("%d reps after midnight are of the session that began the evening before", n))
	}
	slices.SortStableFunc(out.Notes, func(a, b rep.SetNote) int {
		switch {
		case a.Place().Less(b.Place()):
			return -1
		case b.Place().Less(a.Place()):
			return 1
		}
		return int(a.Part - b.Part)
	})
	if n := midnightNotes(out.Notes, r.season.Zone()); n > 0 {
		out.Said = append(out.Said, fmt.Sprintf("%d logged sets after midnight are of the session that began the evening before", n))
	}
	slices.SortStableFunc(out.Unread, func(a, b rep.Unread) int {
		switch {
		case a.Place.Less(b.Place):
			return -1
		case b.Place.Less(a.Place):
			return 1
		}
		return strings.Compare(a.Text, b.Text)
	})
	if local && r.season.Location == nil {
		out.Said = append(out.Said, `no timezone is declared: times without a zone are counted as UTC; timezone = "Europe/Lisbon" in season.toml would say otherwise`)
	}
	return out
}

// add puts what a source held behind what is there, and frees it.
func (j *job) add(b *rep.Batch) {
	ledger := j.sink.Ledger
	ledger.Source, ledger.SHA256 = j.Name, j.SHA256
	b.Ledger = append(b.Ledger, ledger)
	b.Notes = append(b.Notes, j.sink.Notes...)
	b.Unread = append(b.Unread, j.sink.Unread...)
	switch t := j.sink.Reps; {
	case t == nil:
	case b.Reps.Len() == 0: // the usual big file is the only one: not copied
		b.Reps = t
	default:
		b.Reps.Extend(t)
	}
	j.sink = shape.Sink{}
}

// describe fills in how the source was read.
func (r *reader) describe(j *job) {
	if t := j.sink.Reps; t != nil {
		for i := range min(t.Len(), r.opt.FirstReps) {
			j.FirstReps = append(j.FirstReps, t.Rep(int32(i)))
		}
	}
	j.Traces, j.Removed = j.sink.Traces, j.sink.Removed
	if j.found == nil {
		return
	}
	j.Said = append(j.Said, j.found.Said...)
	j.Warnings = append(j.Warnings, j.found.Warnings...)
	j.asks()
	j.Device = j.found.Device
	j.Decimal, j.DateOrder = j.found.Decimal(), j.found.DateOrder()
	var names []string
	for _, p := range j.found.Parts {
		t := Table{Sheet: p.Sheet, Shape: p.Shape, Why: p.Why, Headings: p.Region.HeadingRows, From: p.Region.FirstData, To: p.Region.LastData}
		for _, c := range p.Columns {
			t.Columns = append(t.Columns, ColumnRead{Heading: c.Heading, Field: c.Field.String(), Rep: c.Nth,
				Unit: c.Unit.Name, UnitFrom: c.UnitFrom, Evidence: c.Evidence, Samples: c.Samples})
		}
		for _, b := range p.Carried() {
			t.Carried = append(t.Carried, CarriedRead{Field: b[0], Text: b[1], From: b[2]})
		}
		j.Tables = append(j.Tables, t)
		if p.Shape != "" && !slices.Contains(names, p.Shape) {
			names = append(names, p.Shape)
		}
	}
	j.Shape = strings.Join(names, ", ")
}

// asks puts the source's questions together: that which stopped it, and others,
// which are told as warnings.
func (j *job) asks() {
	var first *source.Ask
	if errors.As(j.Err, &first) {
		j.Asks = append(j.Asks, first)
	}
	for _, a := range j.found.Asks {
		if a != first {
			j.Asks = append(j.Asks, a)
			j.Warnings = append(j.Warnings, a.Text())
		}
	}
}

// foldNames gives writings of one lifter that differ only by case, blanks or
// Unicode form one name over all sources.
func (r *reader) foldNames(b *rep.Batch) {
	seen := make(map[string]bool)
	var order []string
	note := func(name string) {
		if name != "" && !seen[name] {
			seen[name] = true
			order = append(order, name)
		}
	}
	bySym := make(map[rep.Sym]bool)
	last := rep.Sym(0)
	for i := range int32(b.Reps.Len()) {
		if s := b.Reps.Lifter.At(i); (s != last || i == 0) && !bySym[s] {
			last = s
			bySym[s] = true
			note(b.Reps.Text.Text(s))
		}
	}
	for i := range b.Notes {
		note(b.Notes[i].Lifter)
	}
	names := r.season.Names(order)
	moved := make(map[rep.Sym]rep.Sym)
	for s := range bySym {
		if written := b.Reps.Text.Text(s); names[written] != "" && names[written] != written {
			moved[s] = 0
		}
	}
	for _, written := range order { // in order, so that symbols are the same on every run
		if s, ok := b.Reps.Text.Lookup(written); ok {
			if _, ok := moved[s]; ok {
				moved[s] = b.Reps.Text.Intern(names[written])
			}
		}
	}
	if len(moved) > 0 {
		for i := range int32(b.Reps.Len()) {
			if to, ok := moved[b.Reps.Lifter.At(i)]; ok {
				b.Reps.Lifter.Put(i, to)
			}
		}
	}
	for i := range b.Notes {
		if name := names[b.Notes[i].Lifter]; name != "" {
			b.Notes[i].Lifter = name
		}
	}
}
