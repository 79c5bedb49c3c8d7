// Package beside lays the sets of a history beside what others say of them: a
// second unit, and the hand log.
//
//  1. Sets that two units recorded are found by load, speeds and clocks; the unit
//     that lost or made up fewer reps stands (units.go, lost.go).
//  2. How the log writes loads is learnt over the season (loads.go).
//  3. Logged sets are joined to the sets of their day, one to one and in order
//     (logs.go); package join scores.
//
// It decides nothing of a rep: that is for the filters.
package beside

import (
	"slices"

	"repsift/clean/history"
	"repsift/clean/join"
	"repsift/ingest/rep"
)

// History is a history and what lies beside its sets.
type History struct {
	*history.History
	Joins []Join // logged sets laid beside sets

	relation *relation // how the log writes loads; nil: as the unit does

	accounts []join.Set // of each set, as describe leaves them
	paired   pairings
	joined   looked // when logs were joined

	aligner join.Aligner
	room    room
}

// room is memory for the moment.
type room struct {
	logged, done, said []join.Set
	which, whichSaid   []int
	speeds             []float64
	at                 []int32
}

// Reuse makes the history, before it is arranged, work in the memory of one
// that nobody will look at again.
func (h *History) Reuse(done *History) {
	h.History.Reuse(done.History)
	h.accounts, h.aligner, h.room = done.accounts[:0], done.aligner, done.room
}

// looked is what of the reps a step looked at. The filters run several times,
// and what they leave standing hardly changes any more: a step that would find
// what it found before need not look again.
type looked struct {
	failed []rep.Kinds
	missed []bool
	speed  []float64
	twins  []int32
	order  []int32
	once   bool
}

// again reports whether reps are as they were when it was last asked, and keeps
// how they are.
func (l *looked) again(h *History) bool {
	same := l.once && slices.Equal(l.failed, h.Failed) && slices.Equal(l.missed, h.Missed) && slices.Equal(l.speed, h.Speed)
	if !same {
		l.failed, l.missed, l.speed = append(l.failed[:0], h.Failed...), append(l.missed[:0], h.Missed...), append(l.speed[:0], h.Speed...)
	}
	l.once = true
	return same
}

// againPaired is the same where it also counts which sets are paired, and how
// they lie.
func (l *looked) againPaired(h *History) bool {
	same := l.again(h) && len(l.twins) == len(h.Sets) && slices.Equal(l.order, h.Order)
	for s := 0; s < len(h.Sets) && same; s++ {
		same = l.twins[s] == h.Sets[s].Twin
	}
	l.twins, l.order = twins(h, l.twins[:0]), append(l.order[:0], h.Order...)
	return same
}

// twins adds the twin of every set to a list.
func twins(h *History, to []int32) []int32 {
	for s := range h.Sets {
		to = append(to, h.Sets[s].Twin)
	}
	return to
}

// describe describes every set to the alignment. Of one of which nothing stands,
// so that a log of the true sets is not laid beside false ones, Reps is null.
func (h *History) describe() {
	h.accounts = slices.Grow(h.accounts[:0], len(h.Sets))[:len(h.Sets)]
	for s := range h.Sets {
		h.accounts[s] = h.account(s)
	}
}

// account describes a set as its standing reps give it, with its load as the log
// would write it.
func (h *History) account(s int) (d join.Set) {
	first, last := int32(-1), int32(-1)
	n := int32(0)
	sum := 0.0
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Failed[i] != 0 {
			d.Extra++
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
		n++
		if h.Missed[i] {
			d.Missed++
		}
		sum += h.Speed[i]
		if !d.Fastest.OK || h.Speed[i] > d.Fastest.V {
			d.Fastest = rep.Some(h.Speed[i])
		}
		if !d.Slowest.OK || h.Speed[i] < d.Slowest.V {
			d.Slowest = rep.Some(h.Speed[i])
		}
	}
	if n == 0 {
		return d
	}
	d.Load, d.LoadStep = rep.Some(h.Load[first]), h.Table.LoadStep(h.Rows[first])
	if h.relation != nil {
		d.Load.V = h.relation.of(d.Load.V)
	}
	d.Reps = rep.Some(n)
	if set := &h.Sets[s]; set.RPEFrom == rep.RPEExport {
		d.RPE = set.RPE
	}
	d.At = h.Table.PerformedAt.At(h.Rows[first])
	d.First, d.Last, d.Mean = rep.Some(h.Speed[first]), rep.Some(h.Speed[last]), rep.Some(sum/float64(n))
	return d
}
