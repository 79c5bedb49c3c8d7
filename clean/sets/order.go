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

// Place is where a row stands, by ranks: source, sheet, row, rep recorded.
type Place [4]int32

// PlaceOf returns the place of a row of the table.
func PlaceOf(t *rep.Table, rank *Ranks, r int32) Place {
	return Place{rank.of[t.Source.At(r)], rank.of[t.Sheet.At(r)], t.Row[r], t.RepRecorded.Get(r)}
}

// Compare orders places.
func (p Place) Compare(q Place) int {
	for k := range p {
		if p[k] != q[k] {
			return cmp.Compare(p[k], q[k])
		}
	}
	return 0
}

// sortFunc is slices.SortFunc that first looks whether there is anything to
// do: exports come sorted far more often than not.
func sortFunc[E any](x []E, compare func(a, b E) int) {
	if !slices.IsSortedFunc(x, compare) {
		slices.SortFunc(x, compare)
	}
}
