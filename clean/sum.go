package clean

import (
	"fmt"
	"slices"

	"repsift/clean/judge"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// Sum is what cleaning says of all lifters, where they are cleaned some at a
// time because not all of their reps find room in memory. Lifters do not depend
// on one another: cleaned in groups, in order of their names, they end as if they
// had been cleaned at once.
type Sum struct {
	Units []string // of the reps of all lifters

	filters *judge.Filters
	all     Result
	counts  map[string]count   // by source
	joined  map[rep.Place]bool // rows of notes
}

// count is what became of the reps of one source.
type count struct{ kept, aside int }

// Begin returns the sum of nobody yet; a nil season declares nothing. The error
// is about what the season file declares.
func Begin(s *season.Season) (*Sum, error) {
	filters, err := judge.Compile(s)
	if err != nil {
		return nil, err
	}
	sum := &Sum{filters: filters, counts: make(map[string]count), joined: make(map[rep.Place]bool)}
	sum.all.Filters = filters.InForce()
	if s != nil {
		sum.all.Devices = s.Devices
	}
	return sum, nil
}

// add takes over what a result says of its lifters.
func (sum *Sum) add(res *Result) {
	all := &sum.all
	all.Taken = append(all.Taken, res.Taken...)
	all.Doubts = append(all.Doubts, res.Doubts...)
	for i := range res.Filters {
		all.Filters[i].SetAside += res.Filters[i].SetAside
		all.Filters[i].Flagged += res.Filters[i].Flagged
	}
	t := res.Reps
	by := make([]count, t.Text.Len()) // source
	for _, row := range res.Kept {
		by[t.Source.At(row)].kept++
	}
	for i := range res.Aside {
		by[t.Source.At(res.Aside[i].Row)].aside++
	}
	for s, n := range by {
		if n == (count{}) {
			continue
		}
		name := t.Text.Text(rep.Sym(s))
		c := sum.counts[name]
		c.kept, c.aside = c.kept+n.kept, c.aside+n.aside
		sum.counts[name] = c
	}
	for _, p := range res.parts {
		for _, d := range p.Logs {
			for _, s := range d.Said {
				at := s.Note.Place()
				sum.joined[at] = sum.joined[at] || s.Joined
			}
		}
	}
}

// All returns what the lifters cleaned so far come to: filters, taken, doubts,
// and the ledger of whole, whose Reps and Notes are not looked at. Reps, Kept,
// Aside, Sets and Twins are empty. The error is of a ledger that does not balance.
func (sum *Sum) All(whole *rep.Batch) (*Result, error) {
	res := sum.all
	res.Reps, res.Unread, res.Ledger = &rep.Table{}, whole.Unread, slices.Clone(whole.Ledger)
	of := make(map[string]*rep.Ledger, len(res.Ledger))
	for i := range res.Ledger {
		l := &res.Ledger[i]
		of[l.Source] = l
		n := sum.counts[l.Source]
		l.Kept, l.SetAside, l.Joined, l.Alone = n.kept, n.aside, 0, 0
	}
	for p, yes := range sum.joined {
		if l := of[p.Source]; l != nil {
			if yes {
				l.Joined++
			} else {
				l.Alone++
			}
		}
	}
	for _, l := range res.Ledger {
		if err := l.Balance(); err != nil {
			return nil, fmt.Errorf("cleaning: %w", err)
		}
	}
	return &res, nil
}
