package beside

import (
	"repsift/clean/history"
	"repsift/clean/join"
	"repsift/ingest/rep"
)

// Join is a logged set laid beside a set of the day; it holds where the match
// is sure.
type Join struct {
	Day, Said int // of the history's logs
	Set       int32
	join.Match
}

// JoinLogs joins logged sets to the sets of the same day. Pairs that are not
// sure are kept too, for the report.
func (h *History) JoinLogs() {
	if len(h.Logs) == 0 && h.OneUnit() || h.joined.againPaired(h) {
		return
	}
	h.Joins = h.Joins[:0]
	for s := range h.Sets {
		h.Sets[s].Log, h.Sets[s].Either = nil, 0
	}
	for s := range h.Sets {
		if set := &h.Sets[s]; set.Twin > 0 && h.Sets[set.Twin-1].Log == nil && h.ByHand(set.Lo) {
			log := h.handwritten(s)
			h.Sets[set.Twin-1].Log = &log
		}
	}
	for i := range h.Logs {
		for k := range h.Logs[i].Said {
			h.Logs[i].Said[k].Joined = false
		}
	}
	if len(h.Logs) == 0 {
		return
	}
	h.relation = nil
	h.describe()
	if h.relation = h.findRelation(); h.relation != nil {
		h.describe()
	}
	lastOnly := h.lastLogged()
	h.eachLogDay(func(day int, in history.Span) { h.joinDay(day, in, lastOnly) })
}

func (h *History) joinDay(day int, in history.Span, lastOnly bool) {
	said := h.Logs[day].Said
	done, which, logged := h.room.done[:0], h.room.which[:0], h.room.logged[:0]
	for _, s := range h.Order[in.Lo:in.Hi] {
		d := &h.accounts[s]
		if !d.Reps.OK {
			continue
		}
		if n := len(done); lastOnly && n > 0 && again(&done[n-1], d) && lines(said, d) == 1 {
			done[n-1], which[n-1] = *d, int(s)
			continue
		}
		done, which = append(done, *d), append(which, int(s))
	}
	for i := range said {
		logged = append(logged, history.LoggedSet(&said[i]))
	}
	h.room.done, h.room.which, h.room.logged = done, which, logged
	for _, m := range h.aligner.Align(logged, done) {
		to := which[m.Done]
		h.Joins = append(h.Joins, Join{day, m.Logged, int32(to), m})
		if !m.Sure() {
			continue
		}
		said[m.Logged].Joined = true
		if set := &h.Sets[to]; set.Log == nil {
			log := said[m.Logged].Account()
			set.Log = &log
		}
	}
	for j, s := range which {
		if h.Sets[s].Log == nil {
			h.Sets[s].Either = eitherReps(said, logged, &done[j])
		}
	}
}

// eitherReps returns how many reps the logged sets have that set d may be; 0
// where there are none, or they differ.
func eitherReps(said []history.Said, logged []join.Set, d *join.Set) int32 {
	reps, open := int32(0), false
	for i := range logged {
		l := &logged[i]
		if join.CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) != join.SameLoad {
			continue
		}
		if !l.Reps.OK || reps != 0 && l.Reps.V != reps {
			return 0
		}
		reps, open = l.Reps.V, open || !said[i].Joined
	}
	if !open {
		return 0
	}
	return reps
}

// again reports whether d is the set before it done again.
func again(before, d *join.Set) bool {
	return before.Reps.V == d.Reps.V && join.CompareLoads(before.Load, before.LoadStep, d.Load, d.LoadStep) == join.SameLoad
}

// lines counts the logged sets of a day that may be set d, by load and reps.
func lines(said []history.Said, d *join.Set) int {
	n := 0
	for i := range said {
		l := said[i].Note
		if l.Reps.OK && l.Reps.V == d.Reps.V && join.CompareLoads(l.LoadKg, l.LoadStep, d.Load, d.LoadStep) <= join.NearLoad {
			n++
		}
	}
	return n
}

// lastLogged reports whether the log has one line where a set was done several
// times: then the line speaks of the last, as one RPE for several sets does
// (common practice, no source). On three occasions or more, and hardly ever
// otherwise: who logs every set may forget one.
func (h *History) lastLogged() bool {
	one, more := 0, 0
	h.eachLogDay(func(i int, in history.Span) {
		var before *join.Set
		run := 0
		count := func() {
			if run < 2 {
				return
			}
			switch lines(h.Logs[i].Said, before) {
			case 0:
			case 1:
				one++
			default:
				more++
			}
		}
		for _, s := range h.Order[in.Lo:in.Hi] {
			set := &h.accounts[s]
			if !set.Reps.OK {
				continue
			}
			if run > 0 && again(before, set) {
				run++
			} else {
				count()
				run = 1
			}
			before = set
		}
		count()
	})
	return one >= 3 && one >= 5*more
}

// handwritten is the account of a set whose reps' speeds were logged by hand.
func (h *History) handwritten(s int) rep.Logged {
	set := &h.Sets[s]
	at := h.Place(set.Lo)
	out := rep.Logged{LoadKg: rep.Some(h.Load[set.Lo]), Reps: rep.Some(set.Hi - set.Lo), First: rep.Some(h.Speed[set.Lo]),
		Last: rep.Some(h.Speed[set.Hi-1]), Source: at.Source, Sheet: at.Sheet, Row: at.Row, Part: 1}
	for i := set.Lo; i < set.Hi; i++ {
		out.Fastest = rep.Some(max(out.Fastest.Or(h.Speed[i]), h.Speed[i]))
		out.Slowest = rep.Some(min(out.Slowest.Or(h.Speed[i]), h.Speed[i]))
		if rpe := h.Table.RPE.At(h.Rows[i]); rpe.OK {
			out.RPE = rpe
		}
	}
	return out
}
