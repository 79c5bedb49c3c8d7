package sets

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// dropTwice takes rows out that one sheet holds twice: the same set or time,
// the same rep number, the same values; or, where times are those of reps, the
// same time and values. rows are in order, so that equal ones are neighbours;
// the first stands.
func (o *Arranger) dropTwice(rows []int32, timesOfReps bool) []int32 {
	same := func(a, b int32) bool { return o.mark[a] == o.mark[b] && o.time[a] == o.time[b] && o.rep[a] == o.rep[b] }
	kept := rows[:0:len(rows)]
	for _, r := range rows {
		told := timesOfReps || o.rep[r] != rep.NoInt && (o.mark[r] != rep.NoInt || o.time[r] != rep.NoInstant)
		twin := int32(-1)
		for j := len(kept) - 1; j >= 0 && told && twin < 0 && same(kept[j], r); j-- {
			if o.line[kept[j]] != o.line[r] && o.identical(kept[j], r) {
				twin = kept[j]
			}
		}
		if twin < 0 {
			kept = append(kept, r)
			continue
		}
		o.copies = append(o.copies, Copy{r, twin})
	}
	return kept
}

func (o *Arranger) identical(a, b int32) bool {
	t := o.t
	same := func(f *rep.Floats) bool {
		x, y := f.Get(o.row[a]), f.Get(o.row[b])
		return x == y || math.IsNaN(x) && math.IsNaN(y)
	}
	return o.rig[a] == o.rig[b] && o.load[a] == o.load[b] && same(&t.MeanVelocity) && same(&t.PeakVelocity) && same(&t.ROM) && same(&t.Concentric)
}

// takeCopies tells which recorded sets are the same set in several sheets,
// moves all but one copy of each rep to o.copies, and joins what is left of
// the copies into one set each.
func (o *Arranger) takeCopies(sheets []sheet, all []Set, slack int64) []Set {
	first := make([]int32, len(sheets)) // number of each sheet's first set
	for i := 1; i < len(sheets); i++ {
		first[i] = first[i-1] + int32(len(sheets[i-1].sets))
	}
	o.measure(o.t)
	pairs := o.pairSheets(sheets, first, slack)
	if len(pairs) == 0 {
		return all
	}
	digits := o.precisions(sheets)

	sets := newUnion(len(all))
	reps := newUnion(len(o.row)) // rows that are the same rep; the one that stands leads
	sheetOf := room(o.sheetOf, len(o.row))
	o.sheetOf = sheetOf
	for _, p := range pairs {
		sets.join(p.a, p.b)
		for _, s := range p.shared {
			sheetOf[s[0]], sheetOf[s[1]] = all[p.a].sheet, all[p.b].sheet
			a, b := reps.find(s[0]), reps.find(s[1])
			if a == b {
				continue
			}
			if o.worse(a, b, digits[sheetOf[a]], digits[sheetOf[b]]) {
				a, b = b, a
			}
			reps[b] = a
		}
	}
	gone := func(r int32) bool { return reps[r] != r }
	before := len(o.copies)
	for r := range reps {
		if gone(int32(r)) {
			o.copies = append(o.copies, Copy{int32(r), reps.find(int32(r))})
		}
	}
	slices.SortFunc(o.copies[before:], func(a, b Copy) int { return cmp.Compare(o.row[a.Row], o.row[b.Row]) })
	for i := range o.copies { // a row that one sheet holds twice may itself be a copy
		o.copies[i].Of = reps.find(o.copies[i].Of)
	}

	var out []Set
	at := make([]int32, len(all)) // by what leads a set's group: 1 + where the group is in out
	for i := range all {
		left := slices.DeleteFunc(all[i].Rows, gone)
		if len(left) == 0 {
			continue
		}
		root := sets.find(int32(i))
		if at[root] == 0 {
			out = append(out, all[i])
			out[len(out)-1].Rows = left
			at[root] = int32(len(out))
			continue
		}
		into := &out[at[root]-1]
		into.Rows = append(slices.Clip(into.Rows), left...)
		slices.SortFunc(into.Rows, o.compareReps)
		if at := all[i].at; into.at == rep.NoInstant || at != rep.NoInstant && at < into.at {
			into.at = at
		}
	}
	return out
}

// pairSheets returns the pairs of recorded sets that are copies; slack is how
// far, in ms, their clocks may be apart.
func (o *Arranger) pairSheets(sheets []sheet, first []int32, slack int64) []pair {
	keyOf := func(a, b *sheet) Overlap {
		k := Overlap{[2]rep.Sym{a.source, a.sheet}, [2]rep.Sym{b.source, b.sheet}}
		if o.rank.Of(a.source) > o.rank.Of(b.source) {
			k.A, k.B = k.B, k.A
		}
		return k
	}
	type shared struct {
		Overlap
		pairs []pair
	}
	var found []shared
	like := make(map[Overlap]likeness)
	var digits []precision
	for i := range sheets {
		for j := i + 1; j < len(sheets) && sheets[j].date <= sheets[i].date+1; j++ {
			a, b := &sheets[i], &sheets[j]
			if o.hand(a) != o.hand(b) {
				continue // speeds written down from a unit: a second account, not a copy
			}
			// An evening in one time zone is the next day in another.
			midnight := a.date != b.date
			if midnight && (!a.timed || !b.timed || a.source == b.source) {
				continue
			}
			if digits == nil {
				digits = o.precisions(sheets)
			}
			within := tolerances(digits[i], digits[j])
			var pairs []pair
			for x := range a.sets {
				for y := range b.sets {
					p, ok := o.compareSets(&a.sets[x], &b.sets[y], within)
					if !ok {
						continue
					}
					p.a, p.b = first[i]+int32(x), first[j]+int32(y)
					p.apart = int(abs(int64(x - y)))
					pairs = append(pairs, p)
				}
			}
			pairs = oneToOne(steadyShift(pairs, slack))
			pairs = o.cutApart(a.sets, b.sets, first[i], first[j], within, pairs)
			if midnight && len(pairs) == 0 {
				continue
			}
			k := keyOf(a, b)
			l := like[k]
			if !midnight {
				l.sets += min(len(a.sets), len(b.sets))
			} else {
				l.sets += len(pairs) // of two days near each other most sets differ
			}
			l.agreed += len(pairs)
			l.units = l.units || o.unit(a) != o.unit(b)
			for _, p := range pairs {
				l.bits += p.bits
				if p.timed {
					l.bits += clockBits
				}
				if len(p.shared) == min(len(a.sets[p.a-first[i]].Rows), len(b.sets[p.b-first[j]].Rows)) {
					l.whole++
				}
			}
			like[k] = l
			found = append(found, shared{k, pairs})
		}
	}
	var out []pair
	alike := make(map[Overlap]int) // their numbers
	for _, f := range found {
		l := like[f.Overlap]
		overlap := l.overlap()
		open := false
		for _, p := range f.pairs {
			if overlap || o.known[f.Overlap] || !l.units && p.bits+p.beside >= setBits {
				out = append(out, p)
			} else {
				open = true
			}
		}
		k, met := alike[f.Overlap]
		if !met {
			k = len(o.alike)
			alike[f.Overlap] = k
			o.alike = append(o.alike, Alike{Overlap: f.Overlap, like: l})
		}
		o.alike[k].Open = o.alike[k].Open || open
	}
	return out
}

// unit returns the unit that a sheet names.
func (o *Arranger) unit(s *sheet) rep.Sym { return o.t.Device.At(o.row[s.sets[0].Rows[0]]) }

// hand reports whether a sheet's speeds were written down by hand.
func (o *Arranger) hand(s *sheet) bool { return o.t.Text.Text(o.unit(s)) == rep.HandLog }

// worse reports whether of two copies a is the one to go: fewer digits of what
// was measured, then fewer fields, then the later place.
func (o *Arranger) worse(a, b int32, pa, pb precision) bool {
	coarse := func(step float64) float64 { // unknown counts as coarsest
		if step == 0 {
			return math.Inf(1)
		}
		return step
	}
	c := cmp.Or(cmp.Compare(coarse(pa.mean), coarse(pb.mean)), cmp.Compare(coarse(pa.rom), coarse(pb.rom)),
		cmp.Compare(coarse(pa.peak), coarse(pb.peak)),
		cmp.Compare(Fields(o.t, o.row[b]), Fields(o.t, o.row[a])), o.comparePlaces(a, b))
	return c > 0
}

// Fields counts what a rep says beyond load and mean velocity.
func Fields(t *rep.Table, r int32) int {
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
