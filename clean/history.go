package clean

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// ranks orders symbols by their text, so that results do not depend on the
// order in which texts were met.
type ranks struct {
	of   []int32   // symbol → rank
	syms []rep.Sym // rank → symbol
}

func newRanks(d *rep.Dict) *ranks {
	r := &ranks{of: make([]int32, d.Len()), syms: make([]rep.Sym, d.Len())}
	for s := range r.syms {
		r.syms[s] = rep.Sym(s)
	}
	slices.SortFunc(r.syms, func(a, b rep.Sym) int { return cmp.Compare(d.Text(a), d.Text(b)) })
	for i, s := range r.syms {
		r.of[s] = int32(i)
	}
	return r
}

// history is one lifter's one lift over the season: the unit of work of
// cleaning, independent of every other. Filters know a rep by its position in
// rows; the columns beside it are copies in that order, so that a filter walks
// memory from front to back and a rejoined rep does not touch the table before
// all is settled.
type history struct {
	t            *rep.Table
	rank         *ranks
	lifter, lift string

	rows []int32 // table rows, day by day, set by set, in the order done; copies left out
	sets []set   // they partition rows
	days []span  // they partition sets

	load, v, peak, rom, dur []float64     // NaN: missing
	at                      []rep.Instant // noTime: missing

	copies []copied // what duplicate took out

	failed   []rep.Kinds // by position: filters that set the rep aside
	basic    []rep.Kinds // the same, of the defaults alone: what is learnt rests on it
	flags    []rep.Kinds
	missed   []bool // marked, or recognised
	marked   []bool // by a source
	mark     []uint8
	rejoined []rejoined
	found    []finding
	learnt   learnt
	logs     []logDay // what the hand log says, by day

	joins     []joined
	undecided []int32 // sets with more reps than logged, none clearly false

	sessions []rep.Day // the lifter's, over all lifts

	// The history's part of the result.
	keptRows []int32
	aside    []Aside
	changed  []changed
	records  []rep.Set
	doubts   []Doubt
}

// noTime marks a missing time.
const noTime = math.MinInt64

// span is a half-open range.
type span struct{ lo, hi int32 }

// set is one set as one unit recorded it.
type set struct {
	span // of the history's rows
	date rep.Day
	each bool  // reps have times of their own
	fine bool  // in fractions of a second
	twin int32 // of a second device's set: 1 + the set that stands; 0: none

	kept, missed int32 // reps
	rpe          rep.Null[float64]
	rpeFrom      rep.RPEFrom
	log          *rep.Logged
	number       int32 // 0: no rep kept
	role         rep.Role
}

// standing reports whether no default filter sets aside the rep at i.
func (h *history) standing(i int32) bool { return h.basic[i] == 0 }

// histories groups the rows of t by lifter and lift, both in the order of
// their names, and within them by day and place.
func histories(t *rep.Table, rank *ranks) []*history {
	rows := make([]int32, t.Len())
	for i := range rows {
		rows[i] = int32(i)
	}
	rows = countingSort(rows, t.Lift, rank)
	rows = countingSort(rows, t.Lifter, rank)
	var hs []*history
	for lo := 0; lo < len(rows); {
		lifter, lift := t.Lifter[rows[lo]], t.Lift[rows[lo]]
		hi := lo + 1
		for hi < len(rows) && t.Lifter[rows[hi]] == lifter && t.Lift[rows[hi]] == lift {
			hi++
		}
		hs = append(hs, &history{t: t, rank: rank, lifter: t.Text.Text(lifter), lift: t.Text.Text(lift), rows: rows[lo:hi:hi]})
		lo = hi
	}
	return hs
}

// countingSort returns rows sorted stably by the rank of a column's symbol.
func countingSort(rows []int32, column []rep.Sym, rank *ranks) []int32 {
	at := make([]int32, len(rank.of)+1)
	for _, r := range rows {
		at[rank.of[column[r]]+1]++
	}
	for i := 1; i < len(at); i++ {
		at[i] += at[i-1]
	}
	out := make([]int32, len(rows))
	for _, r := range rows {
		k := rank.of[column[r]]
		out[at[k]] = r
		at[k]++
	}
	return out
}

// comparePlaces orders rows by source, sheet, row and rep recorded, and rows
// of one place by their position in the table.
func comparePlaces(t *rep.Table, rank *ranks, a, b int32) int {
	if t.Source[a] != t.Source[b] {
		return cmp.Compare(rank.of[t.Source[a]], rank.of[t.Source[b]])
	}
	if t.Sheet[a] != t.Sheet[b] {
		return cmp.Compare(rank.of[t.Sheet[a]], rank.of[t.Sheet[b]])
	}
	if t.Row[a] != t.Row[b] {
		return cmp.Compare(t.Row[a], t.Row[b])
	}
	if t.RepRecorded[a] != t.RepRecorded[b] {
		return cmp.Compare(t.RepRecorded[a], t.RepRecorded[b])
	}
	return cmp.Compare(a, b)
}

// sortFunc is slices.SortFunc that first looks whether there is anything to
// do: exports come sorted far more often than not.
func sortFunc[E any](x []E, compare func(a, b E) int) {
	if !slices.IsSortedFunc(x, compare) {
		slices.SortFunc(x, compare)
	}
}

// fill copies the columns that filters read into the order of rows.
func (h *history) fill() {
	n := len(h.rows)
	backing := make([]float64, 5*n)
	h.load, h.v, h.peak = backing[:n:n], backing[n:2*n:2*n], backing[2*n:3*n:3*n]
	h.rom, h.dur = backing[3*n:4*n:4*n], backing[4*n:]
	h.at = make([]rep.Instant, n)
	h.failed, h.basic, h.flags = make([]rep.Kinds, n), make([]rep.Kinds, n), make([]rep.Kinds, n)
	h.missed = make([]bool, n)
	t := h.t
	for i, r := range h.rows {
		h.load[i], h.v[i], h.peak[i] = t.LoadKg[r], t.MeanVelocity[r], t.PeakVelocity[r]
		h.rom[i], h.dur[i] = t.ROM[r], t.Concentric[r]
		h.at[i] = t.PerformedAt.At(r).Or(noTime)
		h.missed[i] = t.Missed[r]
	}
	// Of speed, travel and time, any two give the third: a mean velocity is
	// travel over time.
	for i := range h.v {
		switch {
		case !(h.v[i] > 0):
		case math.IsNaN(h.dur[i]) && h.rom[i] > 0:
			h.dur[i] = h.rom[i] / h.v[i]
		case math.IsNaN(h.rom[i]) && h.dur[i] > 0:
			h.rom[i] = h.dur[i] * h.v[i]
		}
	}
	h.mark = make([]uint8, n)
	h.findFine()
}
