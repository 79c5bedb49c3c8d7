package clean

import (
	"cmp"
	"context"
	"math/bits"
	"runtime"
	"slices"
	"sync"

	"repsift/clean/history"
	"repsift/clean/judge"
	"repsift/clean/sets"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// part is one lifter's one lift: its judged reps and its share of the result.
type part struct {
	*judge.History
	t *rep.Table

	sets     []numbered  // beside History.Sets
	day      []*numbered // for the moment
	sessions []rep.Day   // the lifter's, over all lifts

	kept      []int32
	aside     []Aside
	records   rep.Sets
	doubts    []Doubt
	corrected []judge.Corrected
	taken     Taken
	twins     []Twin
}

// Run cleans a batch. It fills the numbering, RPE, miss and flag columns of
// batch.Reps in place, and corrects the values that filters correct; a nil
// season declares nothing. The error is about what the season file declares.
func Run(batch *rep.Batch, s *season.Season) (*Result, error) {
	return RunContext(context.Background(), batch, s)
}

// RunContext is [Run], which ends early with the context's error: no lifter is
// begun any more. The batch is of no use then.
func RunContext(ctx context.Context, batch *rep.Batch, s *season.Season) (*Result, error) {
	sum, err := Begin(s)
	if err != nil {
		return nil, err
	}
	res, err := sum.Clean(ctx, batch)
	if err != nil {
		return nil, err
	}
	all, err := sum.All(batch)
	if err != nil {
		return nil, err
	}
	res.Unread, res.Ledger = all.Unread, all.Ledger
	return res, nil
}

// Clean cleans the batch of some lifters, who are in no other, as [Run] does. Of
// the result, Unread and Ledger are missing: they are of all lifters.
func (sum *Sum) Clean(ctx context.Context, batch *rep.Batch) (*Result, error) {
	t, filters := batch.Reps, sum.filters
	t.Open(len(batch.Notes) > 0)
	parts := split(t, batch.Notes)
	each(ctx, byLifter(parts), func(lifter []*part, m *memory) {
		var alike []sets.Alike
		for _, p := range lifter {
			m.take(p)
			p.Judge(filters)
			alike = append(alike, p.Alike...)
		}
		for _, p := range lifter {
			if h := p.Fresh(alike); h != nil {
				fresh := judge.Of(h)
				fresh.Reuse(p.History)
				p.History = fresh
				p.Judge(filters)
			}
			p.doubts = p.SettleRPE(filters)
			p.number()
		}
		numberSessions(lifter)
		doubtLifts(lifter)
		for _, p := range lifter {
			p.settle(filters, m)
			m.give(p)
		}
	})

	if err := ctx.Err(); err != nil {
		return nil, err
	}
	res := &Result{Reps: t, Devices: sum.all.Devices, Units: sum.Units, parts: parts, filters: filters}
	kept, aside, sets := 0, 0, 0
	for _, p := range parts {
		kept, aside, sets = kept+len(p.kept), aside+len(p.aside), sets+p.records.Len()
	}
	res.Kept, res.Aside = make([]int32, 0, kept), make([]Aside, 0, aside)
	res.Sets = rep.SetsOf(t, res.Kept[:kept])
	res.Sets.Grow(sets)
	for _, p := range parts {
		res.Sets.Extend(&p.records, int32(len(res.Kept)))
		res.Kept = append(res.Kept, p.kept...)
		res.Aside = append(res.Aside, p.aside...)
		res.Doubts = append(res.Doubts, p.doubts...)
		res.Twins = append(res.Twins, p.twins...)
		if p.taken.Reps > 0 {
			res.Taken = append(res.Taken, p.taken)
		}
		for i := range p.corrected {
			if c := &p.corrected[i]; c.Recorded != t.Recorded(c.Row) {
				t.SetRecorded(c.Row, c.Recorded)
			}
		}
		p.kept, p.aside, p.records, p.doubts, p.twins = nil, nil, rep.Sets{}, nil, nil
	}
	res.Filters = filters.InForce()
	res.count()
	sum.add(res)
	return res, nil
}

// byLifter groups parts, which are sorted, by lifter.
func byLifter(parts []*part) [][]*part {
	var out [][]*part
	for lo := 0; lo < len(parts); {
		hi := lo
		for hi < len(parts) && parts[hi].Lifter == parts[lo].Lifter {
			hi++
		}
		out = append(out, parts[lo:hi])
		lo = hi
	}
	return out
}

// each calls do for every lifter, on as many goroutines as there are cores.
// Lifters share nothing that do may write.
// None is begun once the context has ended.
func each(ctx context.Context, lifters [][]*part, do func(lifter []*part, m *memory)) {
	next := make(chan []*part)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			var m memory
			for lifter := range next {
				do(lifter, &m)
			}
		})
	}
	for _, l := range lifters {
		if ctx.Err() != nil {
			break
		}
		next <- l
	}
	close(next)
	wg.Wait()
}

// memory is what one lifter after the other is cleaned in, so that
// it follows the lifters at work and not the season.
type memory struct {
	kept      []int32
	histories []*judge.History
	sets      [][]numbered
}

// take gives a part of which nothing is known yet the memory of one that is
// settled.
func (m *memory) take(p *part) {
	if n := len(m.histories); n > 0 {
		p.Reuse(m.histories[n-1])
		p.sets = m.sets[n-1]
		m.histories, m.sets = m.histories[:n-1], m.sets[:n-1]
	}
}

// give takes the memory back from a part that is settled.
func (m *memory) give(p *part) {
	m.histories, m.sets = append(m.histories, p.History), append(m.sets, p.sets)
	p.History = judge.Of(&history.History{Lifter: p.Lifter, Lift: p.Lift, Logs: p.Logs, Known: p.Known})
	p.sets = nil
}

// settle writes what was decided into the table and makes the part's share of
// the result.
func (p *part) settle(filters *judge.Filters, m *memory) {
	t := p.t
	p.kept = m.kept[:0]
	p.corrected = p.Correct(filters)
	var day rep.Day
	session := int32(0) // of the day
	for _, s := range p.Order {
		set, numbered := &p.Sets[s], &p.sets[s]
		if session == 0 || set.Date != day {
			session, day = p.session(set.Date), set.Date
		}
		n := int32(0)
		for i := set.Lo; i < set.Hi; i++ {
			r := p.Rows[i]
			if p.Failed[i] != 0 {
				continue
			}
			n++
			t.Session.Put(r, session)
			t.Set.Put(r, numbered.number)
			t.Number.Put(r, n)
			t.SetRole(r, numbered.role)
			if set.RPE.OK { // else no rep has one
				t.RPE.Put(r, set.RPE)
			}
			t.SetRPEFrom(r, set.RPEFrom)
			p.kept = append(p.kept, r)
		}
	}
	p.twins = p.twinSets()
	p.aside = p.Asides(filters)
	p.tally()
	slices.SortStableFunc(p.doubts, func(a, b Doubt) int {
		c := cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(len(a.Places), len(b.Places)))
		for i := 0; i < len(a.Places) && c == 0; i++ {
			switch {
			case a.Places[i].Less(b.Places[i]):
				c = -1
			case b.Places[i].Less(a.Places[i]):
				c = 1
			}
		}
		return cmp.Or(c, cmp.Compare(a.Topic, b.Topic), cmp.Compare(a.Text, b.Text))
	})
	p.records = p.recordSets()
	m.kept = p.kept
	p.kept = append(p.Rows[:0], p.kept...) // nothing else is asked of the rows any more
}

// count tells each filter in force how many reps it set aside, and how many
// kept ones bear its kind as a flag.
func (r *Result) count() {
	for i := range r.Aside {
		r.Filters[r.Aside[i].By].SetAside++
	}
	var flagged [32]int // by kind
	for _, row := range r.Kept {
		for k := r.Reps.Flags[row]; k != 0; k &= k - 1 {
			flagged[bits.TrailingZeros32(uint32(k))]++
		}
	}
	for i := range r.Filters {
		r.Filters[i].Flagged = flagged[r.Filters[i].Kind]
	}
}
