package clean

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// Run cleans a batch. It fills the numbering, RPE, miss and flag columns of
// batch.Reps in place; a nil season declares nothing. The error is about what
// the season file declares.
func Run(batch *rep.Batch, s *season.Season) (*Result, error) {
	c, err := compile(s)
	if err != nil {
		return nil, err
	}
	t := batch.Reps
	hs := withNotes(histories(t, newRanks(&t.Text)), batch.Notes, t)
	each(hs, func(h *history) {
		if len(h.rows) > 0 {
			h.arrange(c)
			h.judge(c, batch.Notes)
			h.number()
			h.report(batch.Notes)
		}
	})
	numberSessions(hs)
	each(hs, func(h *history) { h.settle(c.filters, batch.Notes) })

	res := &Result{Reps: t, Unread: batch.Unread, compiled: c}
	for _, h := range hs {
		res.Kept = append(res.Kept, h.keptRows...)
		res.Aside = append(res.Aside, h.aside...)
		res.Sets = append(res.Sets, h.records...)
		res.Doubts = append(res.Doubts, h.doubts...)
		for _, c := range h.changed {
			t.SetRecorded(c.row, c.recorded)
		}
	}
	res.Filters = c.inForce()
	res.count(c)
	if res.Ledger, err = complete(batch, res, hs); err != nil {
		return nil, err
	}
	return res, nil
}

// each calls do for every history, on as many goroutines as there are cores.
// Histories share nothing that do may write.
func each(hs []*history, do func(h *history)) {
	next := make(chan *history)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for h := range next {
				do(h)
			}
		})
	}
	for _, h := range hs {
		next <- h
	}
	close(next)
	wg.Wait()
}

// withNotes gives each history the notes of its lifter and lift, and adds
// histories without reps for the others.
func withNotes(hs []*history, notes []rep.SetNote, t *rep.Table) []*history {
	type key struct{ lifter, lift string }
	of := make(map[key]*history, len(hs))
	for _, h := range hs {
		of[key{h.lifter, h.lift}] = h
	}
	which := make(map[*history][]int32)
	for i := range notes {
		k := key{notes[i].Lifter, notes[i].Lift}
		h := of[k]
		if h == nil {
			h = &history{t: t, lifter: k.lifter, lift: k.lift}
			of[k] = h
			hs = append(hs, h)
		}
		which[h] = append(which[h], int32(i))
	}
	for h, w := range which {
		h.logs = expand(notes, w)
	}
	slices.SortFunc(hs, func(a, b *history) int {
		return cmp.Or(cmp.Compare(a.lifter, b.lifter), cmp.Compare(a.lift, b.lift))
	})
	return hs
}

// numberSessions numbers each lifter's days on which a set was recorded or
// logged, over all lifts. Histories are sorted by lifter.
func numberSessions(hs []*history) {
	for lo := 0; lo < len(hs); {
		hi := lo
		var days []rep.Day
		for hi < len(hs) && hs[hi].lifter == hs[lo].lifter {
			for _, d := range hs[hi].days {
				days = append(days, hs[hi].sets[d.lo].date)
			}
			for _, l := range hs[hi].logs {
				days = append(days, l.date)
			}
			hi++
		}
		slices.Sort(days)
		days = slices.Compact(days)
		for _, h := range hs[lo:hi] {
			h.sessions = days
		}
		lo = hi
	}
}

// session returns the number of the session on a day that has one.
func (h *history) session(d rep.Day) int32 {
	i, _ := slices.BinarySearch(h.sessions, d)
	return int32(i + 1)
}

// recordSets returns the rows of sets: day by day the numbered sets, then those
// without a kept rep, then logged sets that stand alone.
func (h *history) recordSets(notes []rep.SetNote) []rep.Set {
	var out []rep.Set
	day, log := 0, 0
	for day < len(h.days) || log < len(h.logs) {
		var date rep.Day
		if day < len(h.days) {
			date = h.sets[h.days[day].lo].date
		}
		if log < len(h.logs) && (day == len(h.days) || h.logs[log].date < date) {
			date = h.logs[log].date
		}
		first := len(out)
		if day < len(h.days) && h.sets[h.days[day].lo].date == date {
			for _, numbered := range []bool{true, false} {
				for s := h.days[day].lo; s < h.days[day].hi; s++ {
					if numbered == (h.sets[s].number > 0) {
						out = append(out, h.record(int(s)))
					}
				}
			}
			day++
		}
		if log < len(h.logs) && h.logs[log].date == date {
			for _, s := range h.logs[log].said {
				if !s.joined {
					out = append(out, h.loggedAlone(&notes[s.note], s))
				}
			}
			log++
		}
		for i := first; i < len(out); i++ {
			out[i].Session = h.session(date)
		}
	}
	return out
}

// loggedAlone is a logged set that stands alone as a row of sets.
func (h *history) loggedAlone(n *rep.SetNote, s said) rep.Set {
	log := account(n, s)
	out := rep.Set{Lifter: h.lifter, Date: n.Date, PerformedAt: n.PerformedAt, Lift: h.lift, Variant: n.Variant,
		Bar: n.Bar, Tether: n.Tether, LoadKg: n.LoadKg, RPE: s.rpe, Log: &log, Source: n.Source, Sheet: n.Sheet, Row: n.Row}
	if s.rpe.OK {
		out.RPEFrom = rep.RPEHandLog
	}
	return out
}

// count tells each filter in force how many reps it set aside and flagged.
func (r *Result) count(c *compiled) {
	for _, a := range r.Aside {
		r.Filters[a.filter].SetAside++
	}
	for i, f := range c.filters {
		if f.flag {
			for _, row := range r.Kept {
				if r.Reps.Flags[row].Has(f.Kind) {
					r.Filters[i].Flagged++
				}
			}
		}
	}
}

// complete fills cleaning's part of the ledger.
func complete(batch *rep.Batch, res *Result, hs []*history) ([]rep.Ledger, error) {
	ledger := slices.Clone(batch.Ledger)
	t := batch.Reps
	of := make(map[rep.Sym]*rep.Ledger, len(ledger))
	bySource := make(map[string]*rep.Ledger, len(ledger))
	for i := range ledger {
		l := &ledger[i]
		bySource[l.Source] = l
		if s, ok := t.Text.Lookup(l.Source); ok {
			of[s] = l
		}
		l.Kept, l.SetAside, l.Joined, l.Alone = 0, 0, 0, 0
	}
	for _, row := range res.Kept {
		if l := of[t.Source[row]]; l != nil {
			l.Kept++
		}
	}
	for i := range res.Aside {
		if l := of[t.Source[res.Aside[i].Row]]; l != nil {
			l.SetAside++
		}
	}
	joined := make(map[rep.Place]bool) // rows of notes
	for _, h := range hs {
		for _, d := range h.logs {
			for _, s := range d.said {
				p := batch.Notes[s.note].Place()
				joined[p] = joined[p] || s.joined
			}
		}
	}
	for p, yes := range joined {
		if l := bySource[p.Source]; l != nil {
			if yes {
				l.Joined++
			} else {
				l.Alone++
			}
		}
	}
	for _, l := range ledger {
		if err := l.Balance(); err != nil {
			return nil, fmt.Errorf("cleaning: %w", err)
		}
	}
	return ledger, nil
}
