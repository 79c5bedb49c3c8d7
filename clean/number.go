package clean

import (
	"slices"

	"repsift/clean/history"
	"repsift/clean/judge"
	"repsift/ingest/rep"
)

// numbered is what numbering makes of a set.
type numbered struct {
	judge.Tally
	number int32 // 0: no rep kept
	role   rep.Role
	load   float64
	rpe    rep.Null[float64]
}

// number numbers the sets that have a kept rep, per day, and gives each its
// role.
func (p *part) number() {
	p.sets = append(p.sets[:0], make([]numbered, len(p.Sets))...)
	for _, d := range p.Days {
		n := int32(0)
		for _, s := range p.Order[d.Lo:d.Hi] {
			set := &p.sets[s]
			*set = numbered{Tally: p.Tally(int(s)), load: p.t.LoadKg.Get(p.Rows[p.Sets[s].Lo]), rpe: p.Sets[s].RPE}
			if set.Kept > 0 {
				n++
				set.number = n
			}
		}
		p.roles(d)
	}
}

// An RPE from which a set before the heaviest is work, not warm-up.
const workRPE = 7

// roles says what each numbered set of a day was for, variants apart, by load
// and order (common practice, no source):
//
//   - the heaviest load of the day is the top set; where it was done in more
//     than one set, those are work sets;
//   - what comes after it and is lighter is a back-off;
//   - what comes before it is a warm-up; but a set logged at RPE 7 or more, and
//     each of three or more sets at one load, is work.
//
// The heaviest load is one that was lifted: a set in which every rep was
// missed counts only where there is no other.
func (p *part) roles(d history.Span) {
	variant := func(s int32) rep.Sym { return p.t.Variant.At(p.Rows[p.Sets[s].Lo]) }
	sets := p.Order[d.Lo:d.Hi]
	for i, first := range sets {
		if p.sets[first].number == 0 || p.sets[first].role != rep.RoleUnknown {
			continue
		}
		day := p.day[:0]
		for _, s := range sets[i:] {
			if p.sets[s].number > 0 && variant(s) == variant(first) {
				day = append(day, &p.sets[s])
			}
		}
		p.day = day
		roles(day)
	}
}

// roles gives the sets of one day and variant their roles.
func roles(day []*numbered) {
	top := -1.0
	for _, lifted := range []bool{true, false} {
		for _, s := range day {
			if lifted == (s.Kept > s.Missed) && s.load > top {
				top = s.load
			}
		}
		if top >= 0 {
			break
		}
	}
	tops, first := 0, 0
	for i, s := range day {
		if same(s.load, top) {
			if tops == 0 {
				first = i
			}
			tops++
		}
	}
	for i, s := range day {
		alike := 0
		for _, o := range day {
			if same(o.load, s.load) {
				alike++
			}
		}
		switch {
		case same(s.load, top) && tops == 1:
			s.role = rep.Top
		case s.load > top, same(s.load, top):
			s.role = rep.Work // an attempt above the top that failed, or one of several
		case i > first:
			s.role = rep.BackOff
		case alike >= 3 || s.rpe.OK && s.rpe.V >= workRPE:
			s.role = rep.Work
		default:
			s.role = rep.WarmUp
		}
	}
}

// same reports whether two loads are one: closer than the smallest plates.
func same(a, b float64) bool { return a-b < 0.3 && b-a < 0.3 }

// numberSessions numbers a lifter's days on which a set was recorded or logged,
// over all lifts.
func numberSessions(lifter []*part) {
	var days []rep.Day
	for _, p := range lifter {
		for _, d := range p.Days {
			days = append(days, p.Sets[d.Lo].Date)
		}
		for _, l := range p.Logs {
			days = append(days, l.Date)
		}
	}
	slices.Sort(days)
	days = slices.Compact(days)
	for _, p := range lifter {
		p.sessions = days
	}
}

// session returns the number of the session on a day that has one.
func (p *part) session(d rep.Day) int32 {
	i, _ := slices.BinarySearch(p.sessions, d)
	return int32(i + 1)
}
