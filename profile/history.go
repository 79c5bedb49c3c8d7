package profile

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
)

// history is one lifter's one lift: its sets in the order done.
type history struct {
	lifter, lift string
	sets         []set
}

// set is a set as profiles see it. A number that is missing is NaN.
type set struct {
	day    rep.Day
	number int32 // 0: no number
	load   float64
	group  Group
	role   rep.Role
	reps   int // done: missed ones left out
	missed int

	rpe     float64 // middle of a called range
	rpeHigh float64 // upper end of a range

	speeds                 []float64 // of the reps that count, in the order done
	fastest, slowest, last float64
}

// single reports whether the set is one rep, done.
func (s *set) single() bool { return s.reps == 1 && s.missed == 0 }

// working reports whether the set is more than a warm-up.
func (s *set) working() bool { return s.role != rep.WarmUp }

// loss is (fastest − last)/fastest of a set of two or more.
func (s *set) loss() (float64, bool) {
	if len(s.speeds) < 2 || math.IsNaN(s.last) || !(s.fastest > 0) {
		return 0, false
	}
	return (s.fastest - s.last) / s.fastest, true
}

// keptOut are the flags of reps whose speed or load is not to be trusted.
const keptOut = rep.Kinds(1<<rep.SplitRep | 1<<rep.FusedRep | 1<<rep.LoadCheck)

// histories sorts what cleaning kept by lifter and lift. Sets whose load is in
// doubt are left out whole.
func histories(res *clean.Result) []history {
	var hs []history
	at := map[[2]string]int{}
	for i := range res.Sets {
		s := &res.Sets[i]
		w, ok := newSet(res.Reps, s)
		if !ok {
			continue
		}
		key := [2]string{s.Lifter, s.Lift}
		k, seen := at[key]
		if !seen {
			k = len(hs)
			at[key] = k
			hs = append(hs, history{lifter: s.Lifter, lift: s.Lift})
		}
		hs[k].sets = append(hs[k].sets, w)
	}
	for i := range hs {
		slices.SortStableFunc(hs[i].sets, func(a, b set) int { return cmp.Compare(a.day, b.day) })
	}
	slices.SortFunc(hs, func(a, b history) int {
		return cmp.Or(cmp.Compare(a.lifter, b.lifter), cmp.Compare(liftRank(a.lift), liftRank(b.lift)), cmp.Compare(a.lift, b.lift))
	})
	return hs
}

// liftRank puts the competition lifts first, in the order of a meet.
func liftRank(lift string) int {
	switch lift {
	case rep.Squat:
		return 0
	case rep.BenchPress:
		return 1
	case rep.Deadlift:
		return 2
	}
	return 3
}

// newSet reads one set; false where its load is in doubt.
func newSet(t *rep.Table, s *rep.Set) (set, bool) {
	nan := math.NaN()
	w := set{day: s.Date, number: s.Number.Or(0), load: s.LoadKg.Or(nan), role: s.Role,
		reps: int(s.Reps - s.Missed), missed: int(s.Missed), rpe: s.RPE.Or(nan), rpeHigh: nan,
		fastest: nan, slowest: nan, last: nan,
		group: Group{Variant: s.Variant, Bar: s.Bar, Tether: s.Tether, Device: s.Device}}
	lastCounts := false
	for _, r := range s.Rows {
		if t.Flags[r].Has(rep.LoadCheck) {
			return w, false
		}
		if t.Missed[r] {
			continue
		}
		lastCounts = t.Flags[r]&keptOut == 0
		if lastCounts {
			w.speeds = append(w.speeds, t.MeanVelocity[r])
		}
	}
	if len(w.speeds) > 0 {
		w.fastest, w.slowest = slices.Max(w.speeds), slices.Min(w.speeds)
		if lastCounts {
			w.last = w.speeds[len(w.speeds)-1]
		} else {
			w.slowest = nan // the rep that was left out may have been slower
		}
	}
	if log := s.Log; log != nil {
		w.fromLog(log, s)
	}
	return w, true
}

// fromLog adds what only the hand log knows: the called range, reps that the
// unit lost, and the speeds of a set that no unit saw.
func (w *set) fromLog(log *rep.Logged, s *rep.Set) {
	if log.RPEHigh.OK && log.RPE.OK && w.rpe == log.RPE.V && log.RPEHigh.V > log.RPE.V {
		w.rpeHigh = log.RPEHigh.V
		w.rpe = (log.RPE.V + log.RPEHigh.V) / 2
	}
	if log.Reps.OK && int(log.Reps.V) > w.reps+w.missed {
		w.reps = int(log.Reps.V) - w.missed
	}
	if len(s.Rows) > 0 {
		return
	}
	w.group.Device = rep.HandLog
	w.fastest = log.Fastest.Or(log.First.Or(math.NaN()))
	w.last = log.Last.Or(log.Slowest.Or(math.NaN()))
	w.slowest = log.Slowest.Or(log.Last.Or(math.NaN()))
	if w.reps == 1 {
		// One rep is the first, the last and everything.
		for _, v := range []rep.Null[float64]{log.First, log.Fastest, log.Last, log.Slowest, log.Mean} {
			if v.OK {
				w.fastest, w.slowest, w.last = v.V, v.V, v.V
				w.speeds = []float64{v.V}
				break
			}
		}
	}
}

// span returns the days of sets; sets are in the order of days.
func span(sets []set) Span {
	var s Span
	for i := range sets {
		s.add(sets[i].day)
	}
	return s
}

// add counts a day; days come in order.
func (s *Span) add(d rep.Day) {
	if s.Days == 0 {
		s.From = d
	}
	if s.Days == 0 || d != s.To {
		s.Days++
	}
	s.To = d
}

// weeks returns the weeks from a day to b.
func weeks(a, b rep.Day) float64 { return float64(b-a) / 7 }

// since returns the sets of the last days before and on day end.
func since(sets []set, end rep.Day, days int) []set {
	i, _ := slices.BinarySearchFunc(sets, end-rep.Day(days)+1, func(s set, d rep.Day) int { return cmp.Compare(s.day, d) })
	return sets[i:]
}

// where returns the sets that keep says.
func where(sets []set, keep func(*set) bool) []set {
	var out []set
	for i := range sets {
		if keep(&sets[i]) {
			out = append(out, sets[i])
		}
	}
	return out
}
