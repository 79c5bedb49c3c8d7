package rep

import (
	"iter"
	"math"
	"slices"
)

// Sets is a list of sets. Most are told by their kept reps, of which a set is
// one stretch: what the table says of them is not held twice, and a set takes
// 16 bytes. The others are held whole. The zero value is an empty list.
type Sets struct {
	table *Table
	kept  []int32
	list  []stretch
	whole []Set
	logs  []*Logged
}

// stretch is one set.
type stretch struct {
	at    int32 // of its first row in kept; below 0: the set is whole[-1-at]
	n     int32 // kept reps
	aside int32
	log   int32 // one more than its number in logs; 0: none
}

// SetsOf returns an empty list of sets of a table, whose reps are stretches of
// kept, which the list does not change.
func SetsOf(t *Table, kept []int32) Sets { return Sets{table: t, kept: kept} }

// NewSets returns a list of sets that are held whole.
func NewSets(sets ...Set) Sets {
	var s Sets
	for _, set := range sets {
		s.Add(set)
	}
	return s
}

// Table returns the table of the reps; an empty one where all sets are held
// whole.
func (s *Sets) Table() *Table {
	if s.table == nil {
		return new(Table)
	}
	return s.table
}

// Len returns the number of sets.
func (s *Sets) Len() int { return len(s.list) }

// Add adds a set that is held whole, and returns it for changes until the next
// one is added.
func (s *Sets) Add(set Set) *Set {
	s.whole = append(s.whole, set)
	s.list = append(s.list, stretch{at: -int32(len(s.whole))})
	return &s.whole[len(s.whole)-1]
}

// AddKept adds the set of which the kept reps are n ≥ 1 rows from place at on,
// and of which aside reps were set aside; log may be nil. All that is asked of
// the set later is read from the table then.
func (s *Sets) AddKept(at, n, aside int32, log *Logged) {
	set := stretch{at: at, n: n, aside: aside}
	if log != nil {
		s.logs = append(s.logs, log)
		set.log = int32(len(s.logs))
	}
	s.list = append(s.list, set)
}

// Grow makes room for n more sets.
func (s *Sets) Grow(n int) {
	if need := len(s.list) + n; need > cap(s.list) {
		s.list = append(make([]stretch, 0, need), s.list...)
	}
}

// Extend adds all sets of other, whose kept rows stand at place at of the rows
// of s.
func (s *Sets) Extend(other *Sets, at int32) {
	for _, set := range other.list {
		if set.at < 0 {
			set.at -= int32(len(s.whole))
		} else {
			set.at += at
		}
		if set.log > 0 {
			set.log += int32(len(s.logs))
		}
		s.list = append(s.list, set)
	}
	s.whole, s.logs = append(s.whole, other.whole...), append(s.logs, other.logs...)
}

// Slice returns sets lo to hi-1: a view of the same sets.
func (s *Sets) Slice(lo, hi int) Sets {
	view := *s
	view.list = s.list[lo:hi:hi]
	return view
}

// Rows returns the kept rows of set i in the order done, which are not to be
// changed.
func (s *Sets) Rows(i int) []int32 {
	set := s.list[i]
	if set.at < 0 {
		return s.whole[-1-set.at].Rows
	}
	return s.kept[set.at : set.at+set.n : set.at+set.n]
}

// Whole returns set i where it is held whole; nil where its rows tell it.
func (s *Sets) Whole(i int) *Set {
	if at := s.list[i].at; at < 0 {
		return &s.whole[-1-at]
	}
	return nil
}

// Aside returns how many reps of set i were set aside.
func (s *Sets) Aside(i int) int32 {
	if w := s.Whole(i); w != nil {
		return w.SetAside
	}
	return s.list[i].aside
}

// Log returns what the hand log said of set i; nil where it said nothing.
func (s *Sets) Log(i int) *Logged {
	if w := s.Whole(i); w != nil {
		return w.Log
	}
	if log := s.list[i].log; log > 0 {
		return s.logs[log-1]
	}
	return nil
}

// Logged reports whether a hand log speaks of some set.
func (s *Sets) Logged() bool {
	return len(s.logs) > 0 || slices.ContainsFunc(s.whole, func(set Set) bool { return set.Log != nil })
}

// Lifter returns whose set i is.
func (s *Sets) Lifter(i int) string {
	if w := s.Whole(i); w != nil {
		return w.Lifter
	}
	return s.table.Text.Text(s.table.Lifter.At(s.kept[s.list[i].at]))
}

// Lift returns of which lift set i is.
func (s *Sets) Lift(i int) string {
	if w := s.Whole(i); w != nil {
		return w.Lift
	}
	return s.table.Text.Text(s.table.Lift.At(s.kept[s.list[i].at]))
}

// Device returns the unit that measured set i.
func (s *Sets) Device(i int) string {
	if w := s.Whole(i); w != nil {
		return w.Device
	}
	return s.table.Text.Text(s.table.Device.At(s.kept[s.list[i].at]))
}

// Date returns the day of set i.
func (s *Sets) Date(i int) Day {
	if w := s.Whole(i); w != nil {
		return w.Date
	}
	return s.table.Date.At(s.kept[s.list[i].at])
}

// Reps returns how many reps of set i were kept.
func (s *Sets) Reps(i int) int32 {
	if w := s.Whole(i); w != nil {
		return w.Reps
	}
	return s.list[i].n
}

// Speeds are the speeds of a set, as [Set] has them.
type Speeds struct {
	First, Fastest, Last, Slowest, Loss Null[float64]
	Missed                              int32
}

// Speeds returns the speeds of set i.
func (s *Sets) Speeds(i int) Speeds {
	first, fastest, last, slowest, loss, missed := s.EachSpeed(i)
	of := func(v float64) Null[float64] { return nullIf(v != v, v) }
	return Speeds{of(first), of(fastest), of(last), of(slowest), of(loss), missed}
}

// EachSpeed is [Sets.Speeds] with NaN for null: a record costs as much as the
// speeds in it, where many sets are asked.
func (s *Sets) EachSpeed(i int) (first, fastest, last, slowest, loss float64, missed int32) {
	nan := math.NaN()
	if w := s.Whole(i); w != nil {
		return w.First.Or(nan), w.Fastest.Or(nan), w.Last.Or(nan), w.Slowest.Or(nan), w.Loss.Or(nan), w.Missed
	}
	first, fastest, last, slowest, loss = nan, nan, nan, nan, nan
	n := 0
	for _, r := range s.Rows(i) {
		if s.table.Missed(r) {
			missed++
			continue
		}
		last = s.table.MeanVelocity.Get(r)
		if n++; n == 1 {
			first, fastest, slowest = last, last, last
		}
		if last > fastest {
			fastest = last
		}
		if last < slowest {
			slowest = last
		}
	}
	if n > 1 {
		loss = (fastest - last) / fastest
	}
	return first, fastest, last, slowest, loss, missed
}

// At returns set i as a record. Its rows are not to be changed.
func (s *Sets) At(i int) Set {
	if w := s.Whole(i); w != nil {
		return *w
	}
	t, set := s.table, s.Head(i)
	r, text := set.Rows[0], t.Text.Text
	set.Lifter, set.Lift, set.Session, set.PerformedAt = text(t.Lifter.At(r)), text(t.Lift.At(r)), t.Session.At(r), t.PerformedAt.At(r)
	set.RPEFrom, set.Source, set.Sheet, set.Row = t.RPEFrom(r), text(t.Source.At(r)), text(t.Sheet.At(r)), t.Row[r]
	v := s.Speeds(i)
	set.First, set.Fastest, set.Last, set.Slowest, set.Loss = v.First, v.Fastest, v.Last, v.Slowest, v.Loss
	return set
}

// Head is [Sets.At] without whose set it is, its speeds, and where it stands in
// its source: every column left alone is time saved.
func (s *Sets) Head(i int) Set {
	if w := s.Whole(i); w != nil {
		return *w
	}
	t, rows := s.table, s.Rows(i)
	r, text := rows[0], t.Text.Text
	set := Set{Date: t.Date.At(r), Variant: text(t.Variant.At(r)), Bar: text(t.Bar.At(r)), Tether: text(t.Tether.At(r)), Device: text(t.Device.At(r)),
		LoadKg: Some(t.LoadKg.Get(r)), Number: Some(t.Set.At(r)), Role: t.Role(r), Reps: int32(len(rows)), SetAside: s.list[i].aside,
		RPE: t.RPE.At(r), Log: s.Log(i), Rows: rows}
	for _, r := range rows {
		if t.Missed(r) {
			set.Missed++
		}
	}
	return set
}

// All returns the sets one after the other, as records.
func (s *Sets) All() iter.Seq2[int, Set] {
	return func(yield func(int, Set) bool) {
		for i := range s.list {
			if !yield(i, s.At(i)) {
				return
			}
		}
	}
}
