package clean

import (
	"cmp"
	"slices"

	"repsift/clean/history"
	"repsift/clean/judge"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// split returns the parts of a table, by lifter and lift, each with its notes;
// also those of which there are only notes.
func split(t *rep.Table, notes []rep.SetNote) []*part {
	type key struct{ lifter, lift string }
	var parts []*part
	of := make(map[key]*part)
	add := func(h *history.History) *part {
		p := &part{History: judge.Of(h), t: t}
		of[key{h.Lifter, h.Lift}] = p
		parts = append(parts, p)
		return p
	}
	for _, h := range histories(t) {
		add(h)
	}
	which := make(map[*part][]int32)
	for i := range notes {
		k := key{notes[i].Lifter, notes[i].Lift}
		p := of[k]
		if p == nil {
			p = add(&history.History{Lifter: k.lifter, Lift: k.lift})
		}
		which[p] = append(which[p], int32(i))
	}
	for p, w := range which {
		p.Logs = history.Expand(notes, w)
	}
	slices.SortFunc(parts, func(a, b *part) int {
		return cmp.Or(cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(a.Lift, b.Lift))
	})
	return parts
}

// histories groups the rows of t by lifter and lift, both in the order of their
// names.
func histories(t *rep.Table) []*history.History {
	rank := sets.NewRanks(&t.Text)
	g := grouping{of: make([][]int32, t.Text.Len())}
	eachStretch(t, func(lo, hi int32) { g.find(t.Lifter.At(lo), t.Lift.At(lo)).n += hi - lo })
	order := make([]int32, len(g.groups))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int {
		x, y := g.groups[a], g.groups[b]
		return cmp.Or(cmp.Compare(rank.Of(x.lifter), rank.Of(y.lifter)), cmp.Compare(rank.Of(x.lift), rank.Of(y.lift)))
	})
	rows := make([]int32, t.Len())
	hs := make([]*history.History, len(order))
	lo := int32(0)
	for i, k := range order {
		x := &g.groups[k]
		hs[i] = &history.History{Table: t, Rank: rank, Lifter: t.Text.Text(x.lifter), Lift: t.Text.Text(x.lift), Rows: rows[lo : lo+x.n : lo+x.n]}
		x.lo, lo = lo, lo+x.n
	}
	eachStretch(t, func(lo, hi int32) {
		x := g.find(t.Lifter.At(lo), t.Lift.At(lo))
		for ; lo < hi; lo++ {
			rows[x.lo] = lo
			x.lo++
		}
	})
	return hs
}

// eachStretch calls do for every stretch of rows of one lifter and lift.
func eachStretch(t *rep.Table, do func(lo, hi int32)) {
	n := int32(t.Len())
	for lo, lifter, lift := int32(0), int32(0), int32(0); lo < n; lo = min(lifter, lift) {
		if lo == lifter {
			lifter = t.Lifter.Same(lo)
		}
		if lo == lift {
			lift = t.Lift.Same(lo)
		}
		do(lo, min(lifter, lift))
	}
}

// grouping holds lifters and lifts in the order met.
type grouping struct {
	groups []group
	of     [][]int32 // lifter → groups
}

// group is one lifter's one lift.
type group struct {
	lifter, lift rep.Sym
	n, lo        int32 // rows; where they begin
}

// find returns the group of a lifter and lift, which is valid until the next is
// found.
func (g *grouping) find(lifter, lift rep.Sym) *group {
	for _, k := range g.of[lifter] {
		if g.groups[k].lift == lift {
			return &g.groups[k]
		}
	}
	g.of[lifter] = append(g.of[lifter], int32(len(g.groups)))
	g.groups = append(g.groups, group{lifter: lifter, lift: lift})
	return &g.groups[len(g.groups)-1]
}
