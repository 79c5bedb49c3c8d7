// Package sets is what profiles see of cleaned data: each lifter's sets of each
// lift in the order done, as plain numbers, and the fastest rep of each load
// and day. Reps that were missed, and those flagged split rep, fused rep or
// load check, have no speed here.
package sets

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/spelling"
)

// History is one lifter's one lift: its sets in the order done.
type History struct {
	Lifter, Lift string
	Sets         []Set
}

// Set is a set as profiles see it. A number that is missing is NaN.
type Set struct {
	Day    rep.Day
	Number int32 // 0: no number
	Load   float64
	Group  Group
	ReadAs ReadAs // where a correction reads its unit as another
	Role   rep.Role
	Reps   int // done: missed ones left out
	Missed int

	RPE     float64 // middle of a called range
	RPEHigh float64 // upper end of a range

	Speeds                 []float64 // of the reps that count, in the order done
	Fastest, Slowest, Last float64
}

// Single reports whether the set is one rep, done.
func (s *Set) Single() bool { return s.Reps == 1 && s.Missed == 0 }

// Working reports whether the set is more than a warm-up.
func (s *Set) Working() bool { return s.Role != rep.WarmUp }

// Loss is (fastest − last)/fastest of a set of two or more.
func (s *Set) Loss() (float64, bool) {
	if len(s.Speeds) < 2 || math.IsNaN(s.Last) || !(s.Fastest > 0) {
		return 0, false
	}
	return (s.Fastest - s.Last) / s.Fastest, true
}

// KeptOut are the flags of reps whose speed or load is not to be trusted.
const KeptOut = rep.Kinds(1<<rep.SplitRep | 1<<rep.FusedRep | 1<<rep.LoadCheck)

// Lift names one lifter's one lift and its sets in a result. Histories are
// made from it one at a time, so that those of a federation need not all be
// held at once.
type Lift struct {
	Lifter, Lift string

	res    *clean.Result
	readAs map[string]ReadAs // by the device of a set
	sets   []int32           // of res.Sets
}

// ReadAs is the correction by which a unit's speeds stand as another's. The
// zero value is none.
type ReadAs struct {
	Device string  // that measured
	As     string  // whose speeds they are now
	Error  float64 // SD of what all of them may be off together, m/s; 0: taken as exact
}

// corrections returns what is declared for the units of a result, by their names
// there, and as the result names the other unit.
func corrections(res *clean.Result) map[string]ReadAs {
	if len(res.Devices) == 0 {
		return nil
	}
	declared := season.Season{Devices: res.Devices}
	out := map[string]ReadAs{}
	names := units(res)
	for _, name := range names {
		c := declared.Device(name)
		if c == nil {
			continue
		}
		r := ReadAs{Device: name, As: c.As, Error: c.Error}
		for _, other := range names {
			if spelling.Fold(other) == spelling.Fold(c.As) {
				r.As = other
			}
		}
		out[name] = r
	}
	return out
}

// units returns the units of a result, by name.
func units(res *clean.Result) []string {
	if res.Units != nil {
		return res.Units
	}
	seen := make(map[rep.Sym]bool)
	for i := range int32(res.Reps.Len()) {
		seen[res.Reps.Device.At(i)] = true
	}
	var names []string
	for s := range seen {
		names = append(names, res.Reps.Text.Text(s))
	}
	slices.Sort(names)
	return names
}

// Lifts returns every lifter's lifts by name; squat, bench press and deadlift
// come before others.
func Lifts(res *clean.Result) []Lift {
	var ls []Lift
	at := map[[2]string]int{}
	readAs := corrections(res)
	var lifter, lift string // of the set before: sets come in order
	k := -1
	for i := range res.Sets.Len() {
		if who, what := res.Sets.Lifter(i), res.Sets.Lift(i); k < 0 || who != lifter || what != lift {
			lifter, lift = who, what
			key := [2]string{who, what}
			known, seen := at[key]
			if k = known; !seen {
				k = len(ls)
				at[key] = k
				ls = append(ls, Lift{Lifter: who, Lift: what, res: res, readAs: readAs})
			}
		}
		ls[k].sets = append(ls[k].sets, int32(i))
	}
	slices.SortFunc(ls, func(a, b Lift) int {
		return cmp.Or(cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(liftRank(a.Lift), liftRank(b.Lift)), cmp.Compare(a.Lift, b.Lift))
	})
	return ls
}

// Days returns the days of the lift's sets, in any order.
func (l *Lift) Days() []rep.Day {
	days := make([]rep.Day, len(l.sets))
	for i, k := range l.sets {
		days[i] = l.res.Sets.Date(int(k))
	}
	return days
}

// Room is the memory of a history, used again for the next.
type Room struct {
	sets   []Set
	speeds []float64 // of all sets
}

// History reads the sets, in a room whose last history is no longer needed. Sets
// whose load is in doubt are left out whole.
func (l *Lift) History(room *Room) History {
	h := History{Lifter: l.Lifter, Lift: l.Lift, Sets: slices.Grow(room.sets[:0], len(l.sets))}
	reps := 0
	for _, k := range l.sets {
		reps += len(l.res.Sets.Rows(int(k)))
	}
	speeds := slices.Grow(room.speeds[:0], reps)[:reps]
	room.sets, room.speeds = h.Sets, speeds
	for _, k := range l.sets {
		set := l.res.Sets.Head(int(k))
		n := len(set.Rows)
		h.Sets = append(h.Sets, Set{})
		s := &h.Sets[len(h.Sets)-1]
		if !s.read(l.res.Reps, &set, speeds[:0:n]) {
			h.Sets = h.Sets[:len(h.Sets)-1]
		} else if c := l.readAs[s.Group.Device]; c.As != "" {
			s.Group.Device, s.ReadAs = c.As, c
		}
		speeds = speeds[n:]
	}
	byDay := func(a, b Set) int { return cmp.Compare(a.Day, b.Day) }
	if !slices.IsSortedFunc(h.Sets, byDay) {
		slices.SortStableFunc(h.Sets, byDay)
	}
	return h
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

// read reads one set, its speeds into the room given; false where its load is in
// doubt, and where no rep of it was kept and no hand log knows it: a second unit's
// account, or no set at all.
func (w *Set) read(t *rep.Table, s *rep.Set, speeds []float64) bool {
	nan := math.NaN()
	if len(s.Rows) == 0 && s.Log == nil {
		return false
	}
	w.Day, w.Number, w.Load, w.Role = s.Date, s.Number.Or(0), s.LoadKg.Or(nan), s.Role
	w.Reps, w.Missed, w.RPE, w.RPEHigh = int(s.Reps-s.Missed), int(s.Missed), s.RPE.Or(nan), nan
	w.Group = Group{Variant: s.Variant, Bar: s.Bar, Tether: s.Tether, Device: s.Device}
	w.Speeds, w.Fastest, w.Slowest, w.Last = speeds, nan, nan, nan
	lastCounts := false
	for _, r := range s.Rows {
		if t.Flags[r].Has(rep.LoadCheck) {
			return false
		}
		if t.Missed(r) {
			continue
		}
		lastCounts = t.Flags[r]&KeptOut == 0
		if lastCounts {
			w.Speeds = append(w.Speeds, t.MeanVelocity.Get(r))
		}
	}
	if len(w.Speeds) > 0 {
		w.Fastest, w.Slowest = slices.Max(w.Speeds), slices.Min(w.Speeds)
		if lastCounts {
			w.Last = w.Speeds[len(w.Speeds)-1]
		} else {
			w.Slowest = nan // the rep that was left out may have been slower
		}
	}
	if log := s.Log; log != nil {
		w.fromLog(log, s)
	}
	return true
}

// fromLog adds what only the hand log knows: the called range, reps that the
// unit lost, and the speeds of a set that no unit saw.
func (w *Set) fromLog(log *rep.Logged, s *rep.Set) {
	if log.RPEHigh.OK && log.RPE.OK && w.RPE == log.RPE.V && log.RPEHigh.V > log.RPE.V {
		w.RPEHigh = log.RPEHigh.V
		w.RPE = (log.RPE.V + log.RPEHigh.V) / 2
	}
	if log.Reps.OK && int(log.Reps.V) > w.Reps+w.Missed {
		w.Reps = int(log.Reps.V) - w.Missed
	}
	if len(s.Rows) > 0 {
		return
	}
	w.Group.Device = rep.HandLog
	w.Fastest = log.Fastest.Or(log.First.Or(math.NaN()))
	w.Last = log.Last.Or(log.Slowest.Or(math.NaN()))
	w.Slowest = log.Slowest.Or(log.Last.Or(math.NaN()))
	if w.Reps == 1 {
		// One rep is the first, the last and everything.
		for _, v := range []rep.Null[float64]{log.First, log.Fastest, log.Last, log.Slowest, log.Mean} {
			if v.OK {
				w.Fastest, w.Slowest, w.Last = v.V, v.V, v.V
				w.Speeds = []float64{v.V}
				break
			}
		}
	}
}

// Weeks returns the weeks from a day to b.
func Weeks(a, b rep.Day) float64 { return float64(b-a) / 7 }

// Since returns the sets of the last days before and on day end.
func Since(sets []Set, end rep.Day, days int) []Set {
	return sets[firstOn(sets, end-rep.Day(days)+1):]
}

// Between returns the sets of the days from and to and all between.
func Between(sets []Set, from, to rep.Day) []Set {
	return sets[firstOn(sets, from):max(firstOn(sets, to+1), firstOn(sets, from))]
}

// firstOn returns where the sets of a day, or of later ones, begin.
func firstOn(sets []Set, day rep.Day) int {
	i, _ := slices.BinarySearchFunc(sets, day, func(s Set, d rep.Day) int { return cmp.Compare(s.Day, d) })
	return i
}

// Where returns the sets that keep says; sets itself where that is all of them.
func Where(sets []Set, keep func(*Set) bool) []Set {
	n := 0
	for i := range sets {
		if keep(&sets[i]) {
			n++
		}
	}
	if n == len(sets) {
		return sets
	}
	out := make([]Set, 0, n)
	for i := range sets {
		if keep(&sets[i]) {
			out = append(out, sets[i])
		}
	}
	return out
}
