package ingest

import (
	"slices"
	"sort"
	"strings"
	"time"

	"repsift/ingest/rep"
	"repsift/ingest/shelf"
)

// Shelved are reps on disk, which are read back some lifters at a time. Nothing
// that cleaning does looks from one lifter to another.
type Shelved struct {
	disk    *shelf.Shelf
	pages   []shelf.Page      // in the order of the sources
	named   map[string]string // lifters by their writings
	sources []content
	devices []string
	lifters []Some        // one each, by name
	notes   []rep.SetNote // by lifter, of one by place
	twice   bool          // a lifter is in several sources
	zone    *time.Location
	reps    int
}

// content is that of a source.
type content struct {
	source string
	sum    [32]byte
}

// Some are lifters who are neighbours by name.
type Some struct {
	From, To string // names, both included
	Reps     int
}

// Len returns the number of reps.
func (s *Shelved) Len() int { return s.reps }

// Notes returns the number of notes, which stay in memory.
func (s *Shelved) Notes() int { return len(s.notes) }

// Rich reports whether much may be told twice: by several sources of one lifter,
// or by a hand log.
func (s *Shelved) Rich() bool { return s.twice || len(s.notes) > 0 }

// Largest returns the lifter with most reps.
func (s *Shelved) Largest() Some {
	return slices.MaxFunc(s.lifters, func(a, b Some) int { return a.Reps - b.Reps })
}

// Devices returns the units that reps are of, by name.
func (s *Shelved) Devices() []string { return s.devices }

// Groups returns all lifters in groups, by name: of as many as have most reps
// together, or of one who has more alone.
func (s *Shelved) Groups(most int) []Some {
	var groups []Some
	for _, l := range s.lifters {
		if n := len(groups); n > 0 && groups[n-1].Reps+l.Reps <= most {
			groups[n-1].To = l.To
			groups[n-1].Reps += l.Reps
			continue
		}
		groups = append(groups, l)
	}
	return groups
}

// Read returns reps and notes of some lifters, as they stand in the batch of a
// reading that holds all of them. Unread and Ledger are left to that.
func (s *Shelved) Read(some Some) (*rep.Batch, error) {
	b, _, err := s.read(some)
	return b, err
}

// read returns also how many reps after midnight were given the day before.
func (s *Shelved) read(some Some) (b *rep.Batch, moved int, err error) {
	b = &rep.Batch{Reps: &rep.Table{}}
	b.Reps.Grow(some.Reps)
	named := func(written string) (string, bool) {
		name := written
		if n := s.named[written]; n != "" {
			name = n
		}
		return name, some.From <= name && name <= some.To
	}
	for _, p := range s.pages {
		if err := s.disk.Add(b.Reps, p, named); err != nil {
			return nil, 0, err
		}
	}
	for i := range s.sources {
		b.Reps.SetContent(s.sources[i].source, s.sources[i].sum)
	}
	moved = midnight(b.Reps, s.zone)
	lo, hi := s.notesFrom(some.From, false), s.notesFrom(some.To, true)
	b.Notes = s.notes[lo:max(lo, hi):max(lo, hi)]
	return b, moved, nil
}

// shelved returns what went to disk, and how many reps after midnight will be
// given the day before.
func (r *reader) shelved(who []shelf.Who, named map[string]string) (*Shelved, int, error) {
	s := &Shelved{disk: r.shelving.disk, pages: r.shelving.pages, named: named, zone: r.season.Zone()}
	for _, j := range r.jobs {
		if j.pages != nil {
			s.sources = append(s.sources, content{j.Name, j.sum})
		}
	}
	for _, w := range who {
		s.twice = s.add(w.Lifter, w.Reps) || s.twice
	}
	for i := range s.pages {
		s.devices = append(s.devices, s.pages[i].Devices...)
	}
	slices.Sort(s.devices)
	s.devices = slices.Compact(s.devices)
	if !r.shelving.late {
		return s, 0, nil
	}
	moved := 0
	for _, some := range s.Groups(r.opt.Most) {
		if err := r.ctx.Err(); err != nil {
			return nil, 0, err
		}
		_, n, err := s.read(some)
		if err != nil {
			return nil, 0, err
		}
		moved += n
	}
	return s, moved, nil
}

// add counts reps of a lifter, and reports whether there were any before.
func (s *Shelved) add(name string, reps int) (more bool) {
	i, ok := slices.BinarySearchFunc(s.lifters, name, func(l Some, name string) int { return strings.Compare(l.From, name) })
	if !ok {
		s.lifters = slices.Insert(s.lifters, i, Some{From: name, To: name})
	}
	more = s.lifters[i].Reps > 0
	s.lifters[i].Reps += reps
	s.reps += reps
	return more
}

// file takes the notes, in their order. They are large and clubs log by days, so
// that they are moved once, to their lifters.
func (s *Shelved) file(notes []rep.SetNote) {
	if len(notes) == 0 {
		return
	}
	at := make(map[string]int) // of each lifter: first how many, then where the next goes
	var names []string
	for i := range notes {
		if at[notes[i].Lifter]++; at[notes[i].Lifter] == 1 {
			names = append(names, notes[i].Lifter)
		}
	}
	slices.Sort(names)
	sum := 0
	for _, name := range names {
		s.add(name, 0)
		at[name], sum = sum, sum+at[name]
	}
	s.notes = make([]rep.SetNote, len(notes))
	for i := range notes {
		s.notes[at[notes[i].Lifter]] = notes[i]
		at[notes[i].Lifter]++
	}
}

// notesFrom returns where the notes of a lifter begin, or where they are over.
func (s *Shelved) notesFrom(lifter string, over bool) int {
	return sort.Search(len(s.notes), func(i int) bool {
		return s.notes[i].Lifter > lifter || !over && s.notes[i].Lifter == lifter
	})
}
