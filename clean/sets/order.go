package sets

import (
	"cmp"
	"slices"

	"repsift/ingest/rep"
)

// Ranks orders symbols by their text, so that results do not depend on the
// order in which texts were met.
type Ranks struct {
	of   []int32   // symbol → rank
	syms []rep.Sym // rank → symbol
}

// NewRanks ranks the texts of a dictionary.
func NewRanks(d *rep.Dict) *Ranks {
	r := &Ranks{of: make([]int32, d.Len()), syms: make([]rep.Sym, d.Len())}
	for s := range r.syms {
		r.syms[s] = rep.Sym(s)
	}
	slices.SortFunc(r.syms, func(a, b rep.Sym) int { return cmp.Compare(d.Text(a), d.Text(b)) })
	for i, s := range r.syms {
		r.of[s] = int32(i)
	}
	return r
}

// Of returns the rank of a symbol.
func (r *Ranks) Of(s rep.Sym) int32 { return r.of[s] }

// ComparePlaces orders rows by source, sheet, row and rep recorded, and rows
// of one place by their position in the table.
func ComparePlaces(t *rep.Table, rank *Ranks, a, b int32) int {
	if t.Source.At(a) != t.Source.At(b) {
		return cmp.Compare(rank.of[t.Source.At(a)], rank.of[t.Source.At(b)])
	}
	if t.Sheet.At(a) != t.Sheet.At(b) {
		return cmp.Compare(rank.of[t.Sheet.At(a)], rank.of[t.Sheet.At(b)])
	}
	if t.Row[a] != t.Row[b] {
		return cmp.Compare(t.Row[a], t.Row[b])
	}
	if t.RepRecorded.Get(a) != t.RepRecorded.Get(b) {
		return cmp.Compare(t.RepRecorded.Get(a), t.RepRecorded.Get(b))
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
