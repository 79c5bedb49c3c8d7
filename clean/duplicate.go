package clean

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
)

var duplicate = &kind{
	Kind: rep.Duplicate,
	what: "Sets aside a rep that stands in another export too: its set agrees in load, speed, travel and time " +
		"after rounding to the coarser of the two. The copy with more digits stays, then the one with more fields, then the earlier source.",
}

// copied is a rep that stands elsewhere too.
type copied struct{ row, of int32 } // table rows: the copy, the rep that stands

// sayCopy is the reason of a copy, with the difference in mean velocity and
// what rounding allows.
func (h *history) sayCopy(c copied) (reason string, measured, limit float64) {
	t := h.t
	measured = math.Abs(t.MeanVelocity[c.row] - t.MeanVelocity[c.of])
	limit = window(t.MeanStep(c.row), t.MeanStep(c.of))
	of := rep.Place{Source: t.Text.Text(t.Source[c.of]), Sheet: t.Text.Text(t.Sheet[c.of]), Row: t.Row[c.of]}
	return fmt.Sprintf("same rep as %s, which stands", of), measured, limit
}

// dropTwice takes rows out that one sheet holds twice: the same set or time,
// the same rep number, the same values. rows are in order, so that equal ones
// are neighbours; the first stands.
func (h *history) dropTwice(rows []int32) []int32 {
	t := h.t
	key := func(r int32) [3]int64 {
		return [3]int64{int64(t.SetMark[r]), int64(t.PerformedAt[r]), int64(t.RepRecorded[r])}
	}
	kept := rows[:0:len(rows)]
	for _, r := range rows {
		told := t.RepRecorded.At(r).OK && (t.SetMark.At(r).OK || t.PerformedAt.At(r).OK)
		twin := int32(-1)
		for j := len(kept) - 1; j >= 0 && told && twin < 0 && key(kept[j]) == key(r); j-- {
			if t.Row[kept[j]] != t.Row[r] && h.identical(kept[j], r) {
				twin = kept[j]
			}
		}
		if twin < 0 {
			kept = append(kept, r)
			continue
		}
		h.copies = append(h.copies, copied{r, twin})
	}
	return kept
}

func (h *history) identical(a, b int32) bool {
	t := h.t
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return h.compareRig(a, b) == 0 && t.LoadKg[a] == t.LoadKg[b] && t.MeanVelocity[a] == t.MeanVelocity[b] &&
		same(t.PeakVelocity[a], t.PeakVelocity[b]) && same(t.ROM[a], t.ROM[b]) && same(t.Concentric[a], t.Concentric[b])
}

// takeCopies tells which recorded sets are the same set in several sheets,
// moves all but one copy of each rep to h.copies, and joins what is left of
// the copies into one set each.
func (h *history) takeCopies(sheets []sheet) []recorded {
	var all []recorded
	first := make([]int32, len(sheets)) // number of each sheet's first set
	for i := range sheets {
		first[i] = int32(len(all))
		for k := range sheets[i].sets {
			sheets[i].sets[k].sheet = int32(i)
			all = append(all, sheets[i].sets[k])
		}
	}
	if len(sheets) < 2 {
		return all
	}
	digits := h.precisions(sheets)
	pairs := h.pairSheets(sheets, first, digits)
	if len(pairs) == 0 {
		return all
	}

	sets := newUnion(len(all))
	reps := make(map[int32]int32) // row → another row that is the same rep
	find := func(r int32) int32 {
		for {
			up, ok := reps[r]
			if !ok || up == r {
				return r
			}
			r = up
		}
	}
	sheetOf := make(map[int32]int32)
	for _, p := range pairs {
		sets.join(p.a, p.b)
		for _, s := range p.shared {
			sheetOf[s[0]], sheetOf[s[1]] = all[p.a].sheet, all[p.b].sheet
			a, b := find(s[0]), find(s[1])
			if a == b {
				continue
			}
			if h.worse(a, b, digits[sheetOf[a]], digits[sheetOf[b]]) {
				a, b = b, a
			}
			reps[b] = a
		}
	}
	gone := make(map[int32]bool)
	var rows []int32
	for r := range reps {
		rows = append(rows, r)
	}
	slices.Sort(rows)
	for _, r := range rows {
		h.copies = append(h.copies, copied{r, find(r)})
		gone[r] = true
	}
	for i := range h.copies { // a row that one sheet holds twice may itself be a copy
		h.copies[i].of = find(h.copies[i].of)
	}

	var out []recorded
	at := make(map[int32]int)
	for i := range all {
		left := slices.DeleteFunc(slices.Clone(all[i].rows), func(r int32) bool { return gone[r] })
		if len(left) == 0 {
			continue
		}
		root := sets.find(int32(i))
		k, ok := at[root]
		if !ok {
			at[root] = len(out)
			all[i].rows = left
			out = append(out, all[i])
			continue
		}
		into := &out[k]
		into.rows = append(into.rows, left...)
		slices.SortFunc(into.rows, h.compareReps)
		if !into.at.OK || all[i].at.OK && all[i].at.V < into.at.V {
			into.at = all[i].at
		}
	}
	return out
}

// pairSheets returns the pairs of recorded sets that are copies.
func (h *history) pairSheets(sheets []sheet, first []int32, digits []precision) []pair {
	type key struct{ a, b [2]rep.Sym } // source and sheet of both
	type shared struct {
		key
		pairs []pair
	}
	var found []shared
	like := make(map[key]likeness)
	for i := range sheets {
		for j := i + 1; j < len(sheets) && sheets[j].date == sheets[i].date; j++ {
			a, b := &sheets[i], &sheets[j]
			if h.hand(a) != h.hand(b) {
				continue // speeds written down from a unit: a second account, not a copy
			}
			pa, pb := digits[i], digits[j]
			var pairs []pair
			for x := range a.sets {
				for y := range b.sets {
					p, ok := h.compareSets(&a.sets[x], &b.sets[y], pa, pb)
					if !ok {
						continue
					}
					p.a, p.b = first[i]+int32(x), first[j]+int32(y)
					p.apart = int(abs(int64(x - y)))
					pairs = append(pairs, p)
				}
			}
			pairs = oneToOne(steadyShift(pairs))
			k := key{[2]rep.Sym{a.source, a.sheet}, [2]rep.Sym{b.source, b.sheet}}
			l := like[k]
			l.sets += min(len(a.sets), len(b.sets))
			l.agreed += len(pairs)
			l.units = l.units || h.unit(a) != h.unit(b)
			for _, p := range pairs {
				l.bits += p.bits
				if len(p.shared) == min(len(a.sets[p.a-first[i]].rows), len(b.sets[p.b-first[j]].rows)) {
					l.whole++
				}
			}
			like[k] = l
			found = append(found, shared{k, pairs})
		}
	}
	var out []pair
	for _, f := range found {
		l := like[f.key]
		overlap := l.overlap()
		for _, p := range f.pairs {
			if overlap || !l.units && p.bits >= setBits {
				out = append(out, p)
			}
		}
	}
	return out
}

// unit returns the unit that a sheet names.
func (h *history) unit(s *sheet) rep.Sym { return h.t.Device[s.sets[0].rows[0]] }

// hand reports whether a sheet's speeds were written down by hand.
func (h *history) hand(s *sheet) bool { return h.t.Text.Text(h.unit(s)) == rep.HandLog }

// worse reports whether of two copies a is the one to go: fewer digits, then
// fewer fields, then the later place.
func (h *history) worse(a, b int32, pa, pb precision) bool {
	coarse := func(step float64) float64 { // unknown counts as coarsest
		if step == 0 {
			return math.Inf(1)
		}
		return step
	}
	c := cmp.Or(cmp.Compare(coarse(pa.mean), coarse(pb.mean)), cmp.Compare(coarse(pa.rom), coarse(pb.rom)),
		cmp.Compare(coarse(pa.peak), coarse(pb.peak)), cmp.Compare(coarse(pa.load), coarse(pb.load)),
		cmp.Compare(h.fields(b), h.fields(a)), comparePlaces(h.t, h.rank, a, b))
	return c > 0
}

// fields counts what a rep says beyond load and mean velocity.
func (h *history) fields(r int32) int {
	t := h.t
	n := 0
	for _, ok := range [...]bool{t.PeakVelocity.At(r).OK, t.ROM.At(r).OK, t.Concentric.At(r).OK, t.RPE.At(r).OK,
		t.PerformedAt.At(r).OK, t.RepRecorded.At(r).OK, t.SetMark.At(r).OK} {
		if ok {
			n++
		}
	}
	return n
}

// union is a disjoint-set forest.
type union []int32

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = int32(i)
	}
	return u
}

func (u union) find(x int32) int32 {
	for u[x] != x {
		u[x] = u[u[x]]
		x = u[x]
	}
	return x
}

// join merges the groups of x and y; the smaller number leads.
func (u union) join(x, y int32) {
	x, y = u.find(x), u.find(y)
	u[max(x, y)] = min(x, y)
}
