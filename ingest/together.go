package ingest

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape"
	"repsift/ingest/shelf"
	"repsift/ingest/source"
)

// together puts what the sources held into one reading, in order of their
// names. The error is of the disk that reps go to.
func (r *reader) together() (*Reading, error) {
	out := &Reading{}
	out.Reps = &rep.Table{}
	local, notes, unread := false, 0, 0
	for _, j := range r.jobs {
		notes, unread = notes+len(j.sink.Notes), unread+len(j.sink.Unread)
	}
	out.Notes, out.Unread = slices.Grow(out.Notes, notes), slices.Grow(out.Unread, unread)
	for _, j := range r.jobs {
		r.describe(j)
		if j.SameAs == "" {
			local = local || j.local
			if err := r.put(j, &out.Batch); err != nil {
				return nil, err
			}
		}
		out.Sources = append(out.Sources, j.Source)
	}
	who := r.who(out.Reps)
	named := r.foldNames(who, &out.Batch)
	out.Said = append(out.Said, r.alike(who, &out.Batch)...)
	slices.SortStableFunc(out.Notes, func(a, b rep.SetNote) int {
		switch {
		case a.Place().Less(b.Place()):
			return -1
		case b.Place().Less(a.Place()):
			return 1
		}
		return int(a.Part - b.Part)
	})
	moved := 0
	if r.shelving.disk == nil {
		moved = midnight(out.Reps, r.season.Zone())
	} else {
		var err error
		if out.Shelved, moved, err = r.shelved(who, named); err != nil {
			return nil, err
		}
	}
	if moved > 0 {
		out.Said = append(out.Said, fmt.Sprintf("%d reps after midnight are of the session that began the evening before", moved))
	}
	if n := midnightNotes(out.Notes, r.season.Zone()); n > 0 {
		out.Said = append(out.Said, fmt.Sprintf("%d logged sets after midnight are of the session that began the evening before", n))
	}
	if out.Shelved != nil {
		out.Shelved.file(out.Notes)
		out.Notes = nil
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
	return out, nil
}

// put puts what a source held behind what is there, and frees it.
func (r *reader) put(j *job, b *rep.Batch) error {
	ledger := j.sink.Ledger
	ledger.Source, ledger.SHA256 = j.Name, j.SHA256
	b.Ledger = append(b.Ledger, ledger)
	b.Notes = append(b.Notes, j.sink.Notes...)
	b.Unread = append(b.Unread, j.sink.Unread...)
	var err error
	switch t := j.sink.Reps; {
	case t == nil:
	case r.shelving.disk != nil:
		err = r.shelve(j)
		r.shelving.pages = append(r.shelving.pages, j.pages...)
	case b.Reps.Len() == 0: // the usual big file is the only one: not copied
		b.Reps = t
	default:
		b.Reps.Extend(t)
	}
	j.sink = shape.Sink{}
	return err
}

// describe fills in how the source was read.
func (r *reader) describe(j *job) {
	if t := j.sink.Reps; t != nil {
		for i := range min(t.Len(), r.opt.FirstReps) {
			j.FirstReps = append(j.FirstReps, t.Rep(int32(i)))
		}
	}
	j.Traces = j.sink.Traces
	if j.how == nil && j.found != nil {
		j.tell()
	}
	if j.how != nil {
		j.How = *j.how
	}
	if j.found != nil {
		j.asks()
	}
}

// tell tells how the source was read.
func (j *job) tell() {
	h := j.How
	h.Said = append(slices.Clone(h.Said), j.found.Said...)
	h.Warnings = append(slices.Clone(h.Warnings), j.found.Warnings...)
	h.Device = j.found.Device
	h.Decimal, h.DateOrder = j.found.Decimal(), j.found.DateOrder()
	h.Removed = j.sink.Removed
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
		h.Tables = append(h.Tables, t)
		if p.Shape != "" && !slices.Contains(names, p.Shape) {
			names = append(names, p.Shape)
		}
	}
	h.Shape = strings.Join(names, ", ")
	j.how, j.local = &h, j.found.LocalTimes()
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

// who returns whose reps each source has, in order of the first.
func (r *reader) who(t *rep.Table) []shelf.Who {
	if r.shelving.disk != nil {
		return r.shelving.who()
	}
	type pair struct{ lifter, source rep.Sym }
	var all []shelf.Who
	known := make(map[pair]bool)
	for i := int32(0); i < int32(t.Len()); i = min(t.Lifter.Same(i), t.Source.Same(i)) {
		p := pair{t.Lifter.At(i), t.Source.At(i)}
		if known[p] {
			continue
		}
		known[p] = true
		all = append(all, shelf.Who{Lifter: t.Text.Text(p.lifter), Source: t.Text.Text(p.source)})
	}
	return all
}

// foldNames gives writings of one lifter that differ only by case, blanks or
// Unicode form one name over all sources, and returns the names by writing.
func (r *reader) foldNames(who []shelf.Who, b *rep.Batch) map[string]string {
	seen := make(map[string]bool)
	var order []string
	note := func(name string) {
		if name != "" && !seen[name] {
			seen[name] = true
			order = append(order, name)
		}
	}
	for i := range who {
		note(who[i].Lifter)
	}
	written := len(order) // with reps
	for i := range b.Notes {
		note(b.Notes[i].Lifter)
	}
	names := r.season.Names(order)
	moved := make(map[rep.Sym]rep.Sym)
	for _, written := range order[:written] { // in order, so that symbols are the same on every run
		if name := names[written]; name != "" && name != written {
			if s, ok := b.Reps.Text.Lookup(written); ok {
				moved[s] = b.Reps.Text.Intern(name)
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
	for i := range who {
		if name := names[who[i].Lifter]; name != "" {
			who[i].Lifter = name
		}
	}
	for i := range b.Notes {
		if name := names[b.Notes[i].Lifter]; name != "" {
			b.Notes[i].Lifter = name
		}
	}
	return names
}
