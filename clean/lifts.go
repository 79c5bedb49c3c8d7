package clean

import (
	"fmt"

	"repsift/clean/history"
	"repsift/clean/join"
	"repsift/ingest/rep"
)

// doubtLifts reports, for one lifter, logged sets of a lift that no unit
// recorded that day beside recorded sets of a lift that the log does not have
// that day: as many, with the same loads and reps, they are likely the same sets
// under two names. They are left apart.
func doubtLifts(lifter []*part) {
	for _, a := range lifter {
		for _, l := range a.Logs {
			if a.dayOf(l.Date) >= 0 {
				continue
			}
			for _, b := range lifter {
				d := b.dayOf(l.Date)
				if b == a || d < 0 || b.logged(l.Date) {
					continue
				}
				if at, ok := b.alike(d, l.Said); ok {
					first := l.Said[0].Note
					a.doubts = append(a.doubts, Doubt{Topic: LogDisagrees, Lifter: a.Lifter, Lift: a.Lift, Date: l.Date,
						Text:   fmt.Sprintf("the hand log calls this %s, the unit %s: loads and reps agree", a.Lift, b.Lift),
						Places: []rep.Place{first.Place(), at}})
				}
			}
		}
	}
}

// dayOf returns the number of the part's day of a date, -1 where it has none.
func (p *part) dayOf(date rep.Day) int {
	for i, d := range p.Days {
		if p.Sets[d.Lo].Date == date {
			return i
		}
	}
	return -1
}

// logged reports whether the hand log has sets of the part on a date.
func (p *part) logged(date rep.Day) bool {
	for _, l := range p.Logs {
		if l.Date == date {
			return true
		}
	}
	return false
}

// alike reports whether every logged set of a day has its own recorded set of
// the part's day d, in order, with the same load and reps; two or more.
func (p *part) alike(d int, said []history.Said) (at rep.Place, ok bool) {
	if len(said) < 2 {
		return at, false
	}
	k := 0
	for _, s := range p.Order[p.Days[d].Lo:p.Days[d].Hi] {
		if k == len(said) {
			break
		}
		n, set := said[k].Note, &p.sets[s]
		row := p.Rows[p.Sets[s].Lo]
		if join.CompareLoads(n.LoadKg, n.LoadStep, rep.Some(set.load), p.t.LoadStep(row)) == join.SameLoad && n.Reps.OK && n.Reps.V == set.Kept {
			if k == 0 {
				at = p.Place(p.Sets[s].Lo)
			}
			k++
		}
	}
	return at, k == len(said)
}
