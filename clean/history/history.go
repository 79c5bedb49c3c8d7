// Package history holds one lifter's one lift over the season: its reps in
// columns, in sets, in the order done, and what they say about what is usual.
//
//  1. Reps are put in order and in sets (package sets) and laid out in columns
//     (here).
//  2. What is usual is learnt from the reps that stand: travel (bands.go), speed
//     at a load (learn.go), how a unit times a rep. Package usual says it from
//     the numbers.
//  3. What is not one rep as read is told: two halves of one, two as one
//     (halves.go), a missed attempt (missed.go).
//
// What a second unit and the hand log say of its sets is laid beside them by
// package beside.
//
// Nothing is set aside here: which reps stand is decided by the filters of
// package judge, whose findings come back in Failed and Basic.
package history

import (
	"math"
	"slices"
	"sort"

	"repsift/clean/sets"
	"repsift/clean/usual"
	"repsift/ingest/rep"
)

// History is one lifter's one lift over the season: the unit of work of
// cleaning, independent of every other. A rep is known by its position in
// Rows; the columns beside it are copies in that order, so that a filter walks
// memory from front to back and a rejoined rep does not touch the table before
// all is settled.
type History struct {
	Lifter, Lift string
	Table        *rep.Table
	Rank         *sets.Ranks

	Rows   []int32 // table rows, day by day, set by set, in the order done; copies left out
	Sets   []Set   // they partition Rows
	Days   []Span  // they partition Sets
	Order  []int32 // sets of each day in the order done, as far as two units tell it together
	Copies []sets.Copy
	// InOrder says that the table has rows and copies in the order of days and
	// places: the smaller row number is the earlier place.
	InOrder bool
	Placed  bool     // likewise of places alone
	Logs    []LogDay // what the hand log says, by day

	Columns
	Ranges []Ranges // of each set
	Tick   float64  // s to which times of reps are cut, where not finer: 1 to 60

	Rejoined []Rejoined
	Learnt   Learnt

	Known map[sets.Overlap]bool // sheets known to hold the same sets, from all lifts of the lifter
	Alike []sets.Alike

	rigs     []rig
	variants []rep.Sym
	units    []rep.Sym // all of Unit
	byLoad   []int32   // place of each set in the order of loads

	arranger *sets.Arranger
	few      []float64     // of a set, for the moment
	sample   []float64     // of a history, for the moment
	points   []usual.Point // likewise
}

// Columns are by position in Rows. NaN is missing. Of speed, travel and time
// any two give the third.
type Columns struct {
	Load, Speed, Peak, Travel, Time []float64
	Quotient                        []float64 // speed × duration / travel, where the source gives both

	At     []rep.Instant // NoTime: missing
	Unit   []rep.Sym
	Given  []uint8 // what the source said
	Mark   []uint8 // reps that are not one rep as read
	Missed []bool  // marked by a source, or recognised
	Marked []bool  // missed by a source

	Failed []rep.Kinds // filters that set the rep aside, in this pass so far
	Flags  []rep.Kinds // filters that mark it
	Basic  []rep.Kinds // Failed by the defaults, in the pass before: what is learnt rests on it
}

// Reuse makes the history, before it is arranged, work in the memory of one
// that nobody will look at again.
func (h *History) Reuse(done *History) {
	h.Sets, h.Days, h.Order, h.Columns = done.Sets[:0], done.Days[:0], done.Order[:0], done.Columns
	h.resize(0)
	h.Rejoined, h.byLoad, h.Ranges = done.Rejoined[:0], done.byLoad[:0], done.Ranges[:0]
	h.Learnt.local, h.Learnt.bands = done.Learnt.local[:0], done.Learnt.bands[:0]
	h.rigs, h.variants, h.units = done.rigs[:0], done.variants[:0], done.units[:0]
	h.arranger, h.few, h.sample, h.points = done.arranger, done.few, done.sample, done.points
}

// resize gives every column n rows: of numbers any, of marks none.
func (c *Columns) resize(n int) {
	for _, column := range [...]*[]float64{&c.Load, &c.Speed, &c.Peak, &c.Travel, &c.Time, &c.Quotient} {
		*column = room(*column, n)
	}
	c.At, c.Unit, c.Missed, c.Marked = room(c.At, n), room(c.Unit, n), room(c.Missed, n), room(c.Marked, n)
	c.Failed, c.Basic, c.Flags = cleared(c.Failed, n), cleared(c.Basic, n), cleared(c.Flags, n)
	c.Given, c.Mark = cleared(c.Given, n), cleared(c.Mark, n)
}

// room returns a slice of n in the memory of s, where it has that much.
func room[E any](s []E, n int) []E { return slices.Grow(s[:0], n)[:n] }

// cleared is room for n zeros.
func cleared[E any](s []E, n int) []E {
	s = room(s, n)
	clear(s)
	return s
}

// NoTime marks a missing time.
const NoTime = rep.NoInstant

// Span is a half-open range.
type Span struct{ Lo, Hi int32 }

// Set is one set as one unit recorded it.
type Set struct {
	Span // of the history's rows
	Date rep.Day

	RPE     rep.Null[float64] // of export or hand log
	RPEFrom rep.RPEFrom
	Log     *rep.Logged // the hand log's account, joined
	Either  int32       // reps of each logged set that this may be, where it is not known which; else 0
	Twin    int32       // of a second unit's set: 1 + the number of the set that stands; else 0

	rig, variant int32 // numbers among the history's

	Each bool // reps have times of their own
	Fine bool // in fractions of a second
}

// Of returns the history of one lifter and lift, with what the hand log
// says of it.
func Of(t *rep.Table, lifter, lift string, logs []LogDay) *History {
	h := &History{Table: t, Rank: sets.NewRanks(&t.Text), Lifter: lifter, Lift: lift, Logs: logs}
	who, ok := t.Text.Lookup(lifter)
	what, okLift := t.Text.Lookup(lift)
	for i := range t.Len() {
		if ok && okLift && t.Lifter.At(int32(i)) == who && t.Lift.At(int32(i)) == what {
			h.Rows = append(h.Rows, int32(i))
		}
	}
	return h
}

// Arrange puts the rows into sets in the order done and fills the columns.
func (h *History) Arrange(opt sets.Options) {
	opt.Known = h.Known
	if h.arranger == nil {
		h.arranger = new(sets.Arranger)
	}
	h.Table.Warm(h.Rows)
	order := h.arranger.Arrange(h.Table, h.Rank, h.Rows, opt)
	h.Copies, h.Alike, h.InOrder, h.Placed = order.Copies, order.Alike, order.InOrder, order.Placed
	rows := h.Rows[:0]
	h.Sets, h.Order = room(h.Sets, len(order.Sets))[:0], room(h.Order, len(order.Sets))[:0]
	for _, o := range h.cutByLog(order.Sets) {
		lo := int32(len(rows))
		rows = append(rows, o.Rows...)
		if n := len(h.Sets); n > 0 && h.Sets[n-1].Date == o.Date {
			h.Days[len(h.Days)-1].Hi++
		} else {
			h.Days = append(h.Days, Span{int32(n), int32(n + 1)})
		}
		h.Order = append(h.Order, int32(len(h.Sets)))
		h.Sets = append(h.Sets, Set{Span: Span{lo, int32(len(rows))}, Date: o.Date})
	}
	h.Rows = rows
	h.findRigs()
	h.fill()
}

// Fresh returns the history anew, as before Arrange, where what sheets have in
// common in all lifts of the lifter tells that those of which this one says too
// little hold the same sets; else nil.
func (h *History) Fresh(lifts []sets.Alike) *History {
	var known map[sets.Overlap]bool
	var all map[sets.Overlap][]sets.Alike // there may be thousands, where every day was exported with those before it
	for _, own := range h.Alike {
		if !own.Open {
			continue
		}
		if all == nil {
			all = make(map[sets.Overlap][]sets.Alike)
			for _, a := range lifts {
				all[a.Overlap] = append(all[a.Overlap], a)
			}
		}
		if sets.Overlapping(all[own.Overlap]) {
			if known == nil {
				known = make(map[sets.Overlap]bool)
			}
			known[own.Overlap] = true
		}
	}
	if known == nil {
		return nil
	}
	rows := slices.Clone(h.Rows)
	for _, c := range h.Copies {
		rows = append(rows, c.Row)
	}
	return &History{Table: h.Table, Rank: h.Rank, Lifter: h.Lifter, Lift: h.Lift, Rows: rows, Logs: h.Logs, Known: known}
}

// Standing reports whether no default filter holds the rep at i to be false.
// That another unit has it too says nothing against it.
func (h *History) Standing(i int32) bool { return h.Basic[i]&^rep.Kinds(0).With(rep.SecondDevice) == 0 }

// What a source said of a rep, beside its speed.
const (
	TravelGiven uint8 = 1 << iota
	TimeGiven
	FlexTaken // travel was corrected for flex in an earlier run; here stands what was read
)

// fill copies the columns that filters read into the order of Rows.
func (h *History) fill() {
	n := len(h.Rows)
	h.resize(n)
	t := h.Table
	t.LoadKg.Gather(h.Load, h.Rows)
	t.MeanVelocity.Gather(h.Speed, h.Rows)
	t.PeakVelocity.Gather(h.Peak, h.Rows)
	t.ROM.Gather(h.Travel, h.Rows)
	t.Concentric.Gather(h.Time, h.Rows)
	t.PerformedAt.Gather(h.At, h.Rows)
	t.Device.Gather(h.Unit, h.Rows)
	for i, r := range h.Rows {
		if i == 0 || h.Unit[i] != h.Unit[i-1] {
			number(&h.units, h.Unit[i])
		}
		h.Missed[i] = t.Missed(r)
		if t.Flags[r].Has(rep.FlexAllowance) {
			h.Given[i] |= FlexTaken
			if read := t.Recorded(r).ROM; read.OK && !t.Flags[r].Has(rep.SplitRep) {
				h.Travel[i] = read.V
			}
		}
	}
	copy(h.Marked, h.Missed)
	// Of speed, travel and time, any two give the third: a mean velocity is
	// travel over time.
	for i := range h.Speed {
		if !math.IsNaN(h.Travel[i]) {
			h.Given[i] |= TravelGiven
		}
		if !math.IsNaN(h.Time[i]) {
			h.Given[i] |= TimeGiven
		}
		switch {
		case !(h.Speed[i] > 0):
		case math.IsNaN(h.Time[i]) && h.Travel[i] > 0:
			h.Time[i] = h.Travel[i] / h.Speed[i]
		case math.IsNaN(h.Travel[i]) && h.Time[i] > 0:
			h.Travel[i] = h.Time[i] * h.Speed[i]
		}
	}
	h.findFine()
	h.measure()
	h.orderLoads()
}

// OneUnit reports whether all reps were recorded by the same unit.
func (h *History) OneUnit() bool { return len(h.units) < 2 }

// samples returns room for n values, until it is asked for again.
func (h *History) samples(n int) []float64 {
	h.sample = room(h.sample, n)
	return h.sample[:0:n]
}

// BothGiven reports whether the source gives travel and time of position i, as
// values that can be compared.
func (h *History) BothGiven(i int) bool {
	return h.Given[i]&TravelGiven != 0 && h.Given[i]&TimeGiven != 0 && h.Travel[i] > 0 && h.Time[i] > 0 && h.Speed[i] > 0
}

// SetAt returns the number of the set that holds position i.
func (h *History) SetAt(i int32) int {
	return sort.Search(len(h.Sets), func(s int) bool { return h.Sets[s].Hi > i })
}

// Place returns where the rep at position i stands.
func (h *History) Place(i int32) rep.Place { return PlaceOf(h.Table, h.Rows[i]) }

// PlaceOf returns where a row of the table stands.
func PlaceOf(t *rep.Table, r int32) rep.Place {
	return rep.Place{Source: t.Text.Text(t.Source.At(r)), Sheet: t.Text.Text(t.Sheet.At(r)), Row: t.Row[r]}
}

// Device returns the unit that recorded position i.
func (h *History) Device(i int32) string { return h.Table.Text.Text(h.Unit[i]) }

// ByHand reports whether the speed at position i was written down by hand.
func (h *History) ByHand(i int32) bool { return h.Device(i) == rep.HandLog }
