package clean

import (
	"repsift/ingest/rep"
)

// number counts kept reps, numbers the sets that have any, per day, and gives
// each its role.
func (h *history) number() {
	for _, d := range h.days {
		n := int32(0)
		for s := d.lo; s < d.hi; s++ {
			set := &h.sets[s]
			for i := set.lo; i < set.hi; i++ {
				if h.failed[i] == 0 {
					set.kept++
					if h.missed[i] {
						set.missed++
					}
				}
			}
			if set.kept > 0 {
				n++
				set.number = n
			}
		}
		h.roles(d)
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
func (h *history) roles(d span) {
	t := h.t
	for first := d.lo; first < d.hi; first++ {
		if h.sets[first].number == 0 || h.sets[first].role != rep.RoleUnknown {
			continue
		}
		variant := t.Variant[h.rows[h.sets[first].lo]]
		var day []*set
		for s := first; s < d.hi; s++ {
			if set := &h.sets[s]; set.number > 0 && t.Variant[h.rows[set.lo]] == variant {
				day = append(day, set)
			}
		}
		h.rolesOf(day)
	}
}

func (h *history) rolesOf(day []*set) {
	load := func(s *set) float64 { return h.load[s.lo] }
	top := -1.0
	for _, lifted := range []bool{true, false} {
		for _, s := range day {
			if top < 0 || load(s) > top {
				if lifted == (s.kept > s.missed) {
					top = load(s)
				}
			}
		}
		if top >= 0 {
			break
		}
	}
	tops, first := 0, 0
	for i, s := range day {
		if same(load(s), top) {
			if tops == 0 {
				first = i
			}
			tops++
		}
	}
	for i, s := range day {
		alike := 0
		for _, o := range day {
			if same(load(o), load(s)) {
				alike++
			}
		}
		switch {
		case same(load(s), top) && tops == 1:
			s.role = rep.Top
		case load(s) > top, same(load(s), top):
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

// record returns set s as a row of sets. The session is filled in by the
// caller.
func (h *history) record(s int) rep.Set {
	set, t := &h.sets[s], h.t
	r := h.rows[set.lo]
	for i := set.lo; i < set.hi; i++ {
		if h.failed[i] == 0 {
			r = h.rows[i]
			break
		}
	}
	text := t.Text.Text
	out := rep.Set{Lifter: h.lifter, Date: set.date, PerformedAt: t.PerformedAt.At(r), Lift: h.lift, Variant: text(t.Variant[r]),
		Bar: text(t.Bar[r]), Tether: text(t.Tether[r]), Device: text(t.Device[r]), LoadKg: rep.Some(t.LoadKg[r]),
		Role: set.role, Reps: set.kept, Missed: set.missed, SetAside: set.hi - set.lo - set.kept,
		RPE: set.rpe, RPEFrom: set.rpeFrom, Log: set.log,
		Source: text(t.Source[r]), Sheet: text(t.Sheet[r]), Row: t.Row[r]}
	if set.number > 0 {
		out.Number = rep.Some(set.number)
	}
	for i := set.lo; i < set.hi; i++ {
		if h.failed[i] != 0 {
			continue
		}
		out.Rows = append(out.Rows, h.rows[i])
		if h.missed[i] {
			continue
		}
		v := rep.Some(h.v[i])
		if !out.First.OK {
			out.First = v
		}
		if !out.Fastest.OK || v.V > out.Fastest.V {
			out.Fastest = v
		}
		if !out.Slowest.OK || v.V < out.Slowest.V {
			out.Slowest = v
		}
		out.Last = v
	}
	if set.kept-set.missed > 1 {
		out.Loss = rep.Some((out.Fastest.V - out.Last.V) / out.Fastest.V)
	}
	return out
}
