package clean

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean/join"
	"repsift/clean/robust"
	"repsift/ingest/rep"
)

var secondDevice = &kind{
	Kind: rep.SecondDevice,
	what: "Sets aside a set that a second unit recorded too, so that it does not count twice; it is kept there for the agreement of " +
		"the two. The unit that stands is the first of the declared order, else the one that says more; speeds written by hand " +
		"always come second.",
	step: paired,
	limits: []limit{
		{name: "share", value: 0.6, source: unsourced, hi: 1},
	},
	look: func(h *history, l []float64, out *looks) {
		for s := range h.sets {
			set := &h.sets[s]
			if set.twin == 0 {
				continue
			}
			first := h.sets[set.twin-1].lo
			for i := set.lo; i < set.hi; i++ {
				if out.in(int(i)) {
					out.at(int(i), true, h.v[i], h.v[min(first+i-set.lo, h.sets[set.twin-1].hi-1)])
				}
			}
		}
	},
	say: func(h *history, i int, f finding) string {
		set := h.sets[h.setAt(int32(i))]
		first := h.sets[set.twin-1].lo
		return fmt.Sprintf("the set stands as %q recorded it, at %s", h.t.Text.Text(h.t.Device[h.rows[first]]), h.place(first))
	},
}

// pairUnits finds the sets that two units recorded. f is the filter that acts
// on them; nil clears all pairs.
func (h *history) pairUnits(f *filter) {
	for s := range h.sets {
		h.sets[s].twin = 0
	}
	if f == nil {
		return
	}
	units := h.units(f.prefer)
	share := f.values(h.lift)[0]
	for k := 1; k < len(units); k++ {
		for _, first := range units[:k] {
			h.pairTwo(first, units[k], share)
		}
	}
}

// units returns the units of the history in order of trust.
func (h *history) units(prefer []string) []rep.Sym {
	t := h.t
	said := make(map[rep.Sym]int) // how much each unit says
	var units []rep.Sym
	for i, r := range h.rows {
		u := t.Device[r]
		if _, ok := said[u]; !ok {
			units = append(units, u)
		}
		if h.failed[i] == 0 {
			said[u] += 3 + h.fields(r)
		}
	}
	rank := func(u rep.Sym) int {
		if i := slices.Index(prefer, t.Text.Text(u)); i >= 0 {
			return i
		}
		if t.Text.Text(u) == rep.HandLog {
			return len(prefer) + 1
		}
		return len(prefer)
	}
	slices.SortFunc(units, func(a, b rep.Sym) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(said[b], said[a]), cmp.Compare(h.rank.of[a], h.rank.of[b]))
	})
	return units
}

// pairTwo pairs the sets of two units day by day. Units disagree by a few per
// cent, so the second one's speeds are first brought to the scale of the
// other by the median quotient of sets alike in load and place. The pairs
// count only where most sets of the second unit on shared days have one: else
// the two recorded different sets of the day.
func (h *history) pairTwo(first, second rep.Sym, share float64) {
	type day struct{ a, b []int }
	var days []day
	for _, d := range h.days {
		var x day
		for s := int(d.lo); s < int(d.hi); s++ {
			if h.sets[s].twin != 0 {
				continue
			}
			switch h.t.Device[h.rows[h.sets[s].lo]] {
			case first:
				x.a = append(x.a, s)
			case second:
				x.b = append(x.b, s)
			}
		}
		if len(x.a) > 0 && len(x.b) > 0 {
			days = append(days, x)
		}
	}
	if len(days) == 0 {
		return
	}
	scale := 1.0
	var quotients []float64
	for _, d := range days {
		for _, m := range h.alignUnits(d.a, d.b, false, 1) {
			if a, b := h.topSpeed(d.a[m[0]]), h.topSpeed(d.b[m[1]]); a > 0 && b > 0 {
				quotients = append(quotients, a/b)
			}
		}
	}
	if q, ok := robust.MedianInPlace(quotients); ok && len(quotients) >= 3 && math.Abs(math.Log(q)) < 0.3 {
		scale = q
	}
	sets, pairs := 0, 0
	var found [][2]int
	for _, d := range days {
		sets += min(len(d.a), len(d.b))
		for _, m := range h.alignUnits(d.a, d.b, true, scale) {
			found = append(found, [2]int{d.a[m[0]], d.b[m[1]]})
			pairs++
		}
	}
	if float64(pairs) < share*float64(sets) {
		return
	}
	for _, m := range found {
		h.sets[m[1]].twin = int32(m[0] + 1)
	}
}

// alignUnits lays the sets of two units of one day beside each other. Speeds
// of the second are multiplied by scale, and left out of the scoring where
// speeds is false.
func (h *history) alignUnits(a, b []int, speeds bool, scale float64) [][2]int {
	describe := func(sets []int, scale float64) (out []join.Set, which []int) {
		for k, s := range sets {
			d, ok := h.doneSet(s)
			if !ok {
				continue
			}
			d = join.Set{Load: d.Load, LoadStep: d.LoadStep, Reps: d.Reps, Extra: d.Extra} // clocks need not agree
			for i := h.sets[s].lo; i < h.sets[s].hi && speeds; i++ {
				if h.failed[i] == 0 {
					d.Speeds = append(d.Speeds, h.v[i]*scale)
				}
			}
			out, which = append(out, d), append(which, k)
		}
		return out, which
	}
	done, whichA := describe(a, 1)
	said, whichB := describe(b, scale)
	var out [][2]int
	for _, m := range join.Align(said, done) {
		if m.Score >= join.Least && m.Load <= join.NearLoad {
			out = append(out, [2]int{whichA[m.Done], whichB[m.Logged]})
		}
	}
	return out
}

// topSpeed returns the speed of the fastest rep of set s not set aside, which
// slow movements in the rack do not pull down as they do a mean; 0 for none.
func (h *history) topSpeed(s int) float64 {
	top := 0.0
	for i := h.sets[s].lo; i < h.sets[s].hi; i++ {
		if h.failed[i] == 0 {
			top = max(top, h.v[i])
		}
	}
	return top
}
