package shorthand

import "math/bits"

// Habit gathers what the entries of a log say about the order of sets and reps.
// The zero Habit is empty and ready.
type Habit struct {
	Tally           // pairs alone, before a load or an @: 5x3@140
	LoadFirst Tally // pairs behind their load: 140x5x3
}

// Tally counts pairs by what they tell.
type Tally struct {
	SetsFirst, RepsFirst int // pairs that leave only this order
	Either               int // pairs with two readings

	// Which numbers stood beside a 1, a bit each: 5 of "1x5", 5 of "5x1".
	AfterOne, BeforeOne uint64
}

// agree is how many pairs must tell one order against each that tells the
// other, so that a slip does not unsettle a log. Common practice, no source.
const agree = 10

// Add takes one text of the log into account; one that is no shorthand, or has
// no pair, tells nothing. The orders in opt are not asked.
func (h *Habit) Add(text string, opt Options) {
	opt.Order, opt.LoadFirst = Undecided, Undecided
	entries, err := Parse(text, opt)
	if err != nil {
		return
	}
	h.AddEntries(entries)
}

// AddEntries takes entries into account that were read with no order given.
func (h *Habit) AddEntries(entries []Entry) {
	for i := range entries {
		e := &entries[i]
		if e.first == 0 || e.second == 0 {
			continue
		}
		t := &h.Tally
		if e.LoadFirst {
			t = &h.LoadFirst
		}
		t.add(e.first, e.second, e.by)
	}
}

func (t *Tally) add(first, second int, by Order) {
	switch by {
	case SetsReps:
		t.SetsFirst++
	case RepsSets:
		t.RepsFirst++
	default:
		if first != second {
			t.Either++
		}
	}
	if first == 1 {
		t.AfterOne |= 1 << min(second, 63)
	}
	if second == 1 {
		t.BeforeOne |= 1 << min(first, 63)
	}
}

// Merge takes the habit of o into account.
func (h *Habit) Merge(o Habit) {
	h.Tally.merge(o.Tally)
	h.LoadFirst.merge(o.LoadFirst)
}

func (t *Tally) merge(o Tally) {
	t.SetsFirst += o.SetsFirst
	t.RepsFirst += o.RepsFirst
	t.Either += o.Either
	t.AfterOne |= o.AfterOne
	t.BeforeOne |= o.BeforeOne
}

// Order returns the order the pairs are written in, Undecided where they do
// not tell: all that tell agree, ten of one kind for each of the other; or,
// where none tells, a 1 stands first beside three or more different numbers of
// which one is 5 or more, and never so behind ("1x3, 1x5, 1x8": a lifter who
// logs set by set does single sets of many kinds, but not 3, 5 and 8 sets of
// one); or a 1 stands behind, and one of the numbers is 8 or more. All common
// practice, no source.
func (t Tally) Order() Order {
	switch {
	case t.SetsFirst > 0 && t.SetsFirst >= agree*t.RepsFirst:
		return SetsReps
	case t.RepsFirst > 0 && t.RepsFirst >= agree*t.SetsFirst:
		return RepsSets
	case t.SetsFirst > 0 || t.RepsFirst > 0:
		return Undecided
	}
	after, before := ones(t.AfterOne, 5), ones(t.BeforeOne, 8) // four or five singles are a day's work
	switch {
	case after && t.BeforeOne&^(1<<1) == 0:
		return SetsReps
	case before && t.AfterOne&^(1<<1) == 0:
		return RepsSets
	}
	return Undecided
}

// Told reports whether a pair of the log leaves only one order.
func (h Habit) Told() bool {
	return h.SetsFirst+h.RepsFirst+h.LoadFirst.SetsFirst+h.LoadFirst.RepsFirst > 0
}

// ones reports whether a set of numbers that stood beside a 1 tells something:
// three or more, the largest at least most.
func ones(set uint64, most int) bool {
	return bits.OnesCount64(set) >= 3 && set >= 1<<most
}

// Settle returns opt with the orders that are not declared filled from the
// habit.
func (h Habit) Settle(opt Options) Options {
	if opt.Order == Undecided {
		opt.Order = h.Order()
	}
	if opt.LoadFirst == Undecided {
		opt.LoadFirst = h.LoadFirst.Order()
	}
	return opt
}
