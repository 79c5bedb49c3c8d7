package history

import (
	"slices"

	"repsift/clean/join"
	"repsift/clean/robust"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// wholeShare is the share of the usual travel of a run of reps from which on a
// movement is counted as one of the reps that a log counts.
const wholeShare = 0.6

// cutByLog cuts sets that a source leaves as one. A source that bears neither
// set marks nor rep numbers nor times tells sets apart by their loads alone.
// Where the hand log's sets of the load on that day have just as many reps
// together, it says where each of them ends; so it does where all of them have
// the same number, and the reps are several times that number.
func (h *History) cutByLog(in []sets.Set) []sets.Set {
	if len(h.Logs) == 0 {
		return in
	}
	var out []sets.Set
	day := 0
	for k, set := range in {
		for day < len(h.Logs) && h.Logs[day].Date < set.Date {
			day++
		}
		var parts []int32
		if day < len(h.Logs) && h.Logs[day].Date == set.Date && !h.bounded(set.Rows[0]) && !h.againAt(in, k) {
			parts = h.loggedParts(h.Logs[day].Said, set.Rows)
		}
		lo := 0
		for _, hi := range parts {
			out = append(out, sets.Set{Rows: set.Rows[lo:hi:hi], Date: set.Date})
			lo = int(hi)
		}
		if lo == 0 {
			out = append(out, set)
		}
	}
	return out
}

// bounded reports whether the source says of a row which set it belongs to.
func (h *History) bounded(row int32) bool {
	t := h.Table
	return t.SetMark.At(row).OK || t.PerformedAt.At(row).OK || t.RepRecorded.At(row).OK
}

// Bounded reports whether the source says where set s begins and ends.
func (h *History) Bounded(s int) bool { return h.bounded(h.Rows[h.Sets[s].Lo]) }

// againAt reports whether the load of set k comes on that day in another set of
// its unit.
func (h *History) againAt(in []sets.Set, k int) bool {
	t, r := h.Table, in[k].Rows[0]
	same := func(i int) bool {
		q := in[i].Rows[0]
		return t.Device.At(q) == t.Device.At(r) && h.compareLoad(q, t.LoadKg.Get(r), t.LoadStep(r)) == join.SameLoad
	}
	for i := k - 1; i >= 0 && in[i].Date == in[k].Date; i-- {
		if same(i) {
			return true
		}
	}
	for i := k + 1; i < len(in) && in[i].Date == in[k].Date; i++ {
		if same(i) {
			return true
		}
	}
	return false
}

func (h *History) compareLoad(row int32, load, step float64) join.Load {
	t := h.Table
	return join.CompareLoads(rep.Some(load), step, rep.Some(t.LoadKg.Get(row)), t.LoadStep(row))
}

// loggedParts returns where the sets of a log end among rows; nil where it does
// not tell.
func (h *History) loggedParts(said []Said, rows []int32) []int32 {
	var reps []int32
	sum := 0
	for i := range said {
		if l := LoggedSet(&said[i]); l.Load.OK && h.compareLoad(rows[0], l.Load.V, l.LoadStep) == join.SameLoad {
			if !l.Reps.OK || l.Reps.V < 1 {
				return nil
			}
			reps = append(reps, l.Reps.V)
			sum += int(l.Reps.V)
		}
	}
	if len(reps) == 0 {
		return nil
	}
	whole, known := h.whole(rows)
	if n := reps[0]; len(whole) > sum && len(whole)%int(n) == 0 && slices.Max(reps) == slices.Min(reps) && (known && n >= 2 || n >= 3) {
		for ; sum < len(whole); sum += int(n) { // sets that the log forgot
			reps = append(reps, n)
		}
	}
	if len(whole) != sum || len(reps) == 1 {
		return nil
	}
	// What is no rep between two sets counts to the later: the bar taken out.
	ends := make([]int32, len(reps))
	n := int32(0)
	for k, r := range reps {
		n += r
		ends[k] = int32(whole[n-1]) + 1
	}
	ends[len(ends)-1] = int32(len(rows))
	return ends
}

// whole returns which of rows travel as far as reps do, all where there is no
// travel is known.
func (h *History) whole(rows []int32) (out []int, known bool) {
	var travel []float64
	for _, r := range rows {
		if v := h.Table.ROM.At(r); v.OK {
			travel = append(travel, v.V)
		}
	}
	usual, known := robust.MedianInPlace(travel)
	for i, r := range rows {
		if v := h.Table.ROM.At(r); !known || !v.OK || v.V >= wholeShare*usual {
			out = append(out, i)
		}
	}
	return out, known
}
