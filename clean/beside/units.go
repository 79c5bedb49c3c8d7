package beside

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/history"
	"repsift/clean/join"
	"repsift/clean/robust"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// KeepTwins leaves pairs as the defaults found them, so that one more declared
// filter never brings a rep back; or clears them where no filter acts on them.
func (h *History) KeepTwins(acting bool) {
	for s := range h.Sets {
		if !acting {
			h.Sets[s].Twin = 0
		}
	}
}

// PairUnits finds the sets that two units recorded, by what the filters before
// leave of them. Which of two stands is told once they lie beside each other:
// the one that lost, or made up, fewer reps.
func (h *History) PairUnits(prefer []string) {
	if h.OneUnit() {
		return
	}
	if !h.paired.again(h) || h.paired.relation != h.LogLoads() {
		h.paired.all, h.paired.relation = h.paired.all[:0], h.LogLoads()
		h.describe()
	}
	units := h.units(prefer, nil)
	scales := h.pairAll(units)
	if len(scales) > 0 {
		if better := h.units(prefer, h.lostReps(scales)); !slices.Equal(better, units) {
			units = better
			h.pairAll(units)
		}
	}
	for _, d := range h.Days {
		h.interleave(d, units)
	}
}

// pairings are what pairing found of reps as they stand.
type pairings struct {
	looked
	relation string // how loads were described
	all      []pairing
}

// pairing is what was found with units in some order of trust.
type pairing struct {
	units  []rep.Sym
	twins  []int32 // of each set
	scales map[[2]rep.Sym]float64
}

// pairAll pairs the sets of all units, in order of trust, and returns the scale
// of every two that were paired.
func (h *History) pairAll(units []rep.Sym) map[[2]rep.Sym]float64 {
	for _, p := range h.paired.all {
		if slices.Equal(p.units, units) {
			for s := range h.Sets {
				h.Sets[s].Twin = p.twins[s]
			}
			return p.scales
		}
	}
	h.KeepTwins(false)
	scales := make(map[[2]rep.Sym]float64)
	for k := 1; k < len(units); k++ {
		for _, first := range units[:k] {
			if scale := h.pairTwo(first, units[k]); scale > 0 {
				scales[[2]rep.Sym{first, units[k]}] = scale
			}
		}
	}
	h.paired.all = append(h.paired.all, pairing{units, twins(h, nil), scales})
	return scales
}

// interleave puts the sets of a day that only a second unit recorded where that
// unit has them: behind the twin of the set before them, else before the twin
// of the set behind. Where the clocks of two units do not tell, their sets
// would stand one after the other. Units are in order of trust.
func (h *History) interleave(d history.Span, units []rep.Sym) {
	day := h.Order[d.Lo:d.Hi]
	at := make([]float64, len(day))
	paired := false
	for i := range day {
		day[i], at[i] = d.Lo+int32(i), float64(i)
		paired = paired || h.Sets[d.Lo+int32(i)].Twin > 0
	}
	if !paired {
		return
	}
	for _, u := range units {
		var own []int // places in the day of the unit's sets
		twins := false
		for i, s := range day {
			if h.Unit[h.Sets[s].Lo] == u {
				own = append(own, i)
				if twin := h.Sets[s].Twin; twin > 0 {
					at[i] = at[twin-1-d.Lo] + 0.1
					twins = true
				}
			}
		}
		if !twins {
			continue
		}
		known, last := false, 0.0
		for _, i := range own { // behind the set before
			if h.Sets[day[i]].Twin == 0 && known {
				at[i] = last + 0.01
			}
			known = known || h.Sets[day[i]].Twin > 0
			last = at[i]
		}
		known = false
		for k := len(own) - 1; k >= 0; k-- { // the first ones, before the set behind
			i := own[k]
			if h.Sets[day[i]].Twin == 0 && known && at[i] > last {
				at[i] = last - 0.01
			}
			known = known || h.Sets[day[i]].Twin > 0
			last = at[i]
		}
	}
	slices.SortStableFunc(day, func(a, b int32) int { return cmp.Compare(at[a-d.Lo], at[b-d.Lo]) })
}

// units returns the units of the history in order of trust: as declared; speeds
// written by hand last; then the one that lost or made up fewer reps, in whole
// per cent; then the one that says more.
func (h *History) units(prefer []string, against map[rep.Sym]int) []rep.Sym {
	t := h.Table
	// How much each unit says: its sets, each by the fields of its reps. Not by
	// the number of reps, which a unit that counts false ones has more of.
	said := make(map[rep.Sym]int)
	var units []rep.Sym
	for s := range h.Sets {
		r, u := h.Rows[h.Sets[s].Lo], h.Unit[h.Sets[s].Lo]
		if _, ok := said[u]; !ok {
			units = append(units, u)
			said[u] = 0
		}
		if h.accounts[s].Reps.OK {
			said[u] += 3 + sets.Fields(t, r)
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
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(against[a], against[b]), cmp.Compare(said[b], said[a]), cmp.Compare(h.Rank.Of(a), h.Rank.Of(b)))
	})
	return units
}

// pairedShare is the share of the second unit's sets on shared days that must
// have a twin.
const pairedShare = 0.6

// pairTwo pairs the sets of two units day by day. Units disagree by a few per
// cent, so the second one's speeds are first brought to the scale of the
// other by the median quotient of sets alike in load and place. The pairs
// count only where most sets of the second unit on shared days have one: else
// the two recorded different sets of the day. It returns the scale, 0 where no
// sets are paired.
func (h *History) pairTwo(first, second rep.Sym) float64 {
	type day struct{ a, b []int }
	var days []day
	for _, d := range h.Days {
		var x day
		for s := int(d.Lo); s < int(d.Hi); s++ {
			if h.Sets[s].Twin != 0 {
				continue
			}
			switch h.Unit[h.Sets[s].Lo] {
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
		return 0
	}
	scale := 1.0
	var quotients []float64
	for _, d := range days {
		for _, m := range h.alignUnits(d.a, d.b, false, 1, rep.Null[rep.Instant]{}) {
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
		for _, m := range h.alignUnits(d.a, d.b, true, scale, h.clockShift(d.a, d.b)) {
			found = append(found, [2]int{d.a[m[0]], d.b[m[1]]})
			pairs++
		}
	}
	if float64(pairs) < pairedShare*float64(sets) {
		return 0
	}
	for _, m := range found {
		h.Sets[m[1]].Twin = int32(m[0] + 1)
	}
	for _, d := range days {
		h.pairParts(d.b, scale)
	}
	return scale
}

// clockShift returns by how much the second unit's clock is ahead on a day, ms:
// the shift at which most of its sets begin with a set of the first at the same
// load. Null where they have no times of their own or hardly agree: then clocks
// say nothing.
func (h *History) clockShift(a, b []int) rep.Null[rep.Instant] {
	const near = 75_000 // ms; times may be cut to the minute
	start := func(s int) rep.Instant { return h.At[h.Sets[s].Lo] }
	var shifts []rep.Instant
	for _, y := range b {
		for _, x := range a {
			if start(x) == history.NoTime || start(y) == history.NoTime {
				return rep.Null[rep.Instant]{}
			}
			if math.Abs(h.Load[h.Sets[x].Lo]-h.Load[h.Sets[y].Lo]) < 2.6 {
				shifts = append(shifts, start(y)-start(x))
			}
		}
	}
	slices.Sort(shifts)
	at, most, hi := 0, 0, 0
	for lo := range shifts {
		for hi < len(shifts) && shifts[hi]-shifts[lo] <= near {
			hi++
		}
		if hi-lo > most {
			at, most = lo, hi-lo
		}
	}
	if most < 3 || 5*most < 3*min(len(a), len(b)) {
		return rep.Null[rep.Instant]{}
	}
	return rep.Some(shifts[at+most/2])
}

// alignUnits lays the sets of two units of one day beside each other. Speeds
// of the second are multiplied by scale, and left out of the scoring where
// speeds is false; its times are brought back by shift, where that is known.
func (h *History) alignUnits(a, b []int, speeds bool, scale float64, shift rep.Null[rep.Instant]) [][2]int {
	h.fresh()
	describe := func(out []join.Set, which []int, sets []int, scale float64, shift rep.Null[rep.Instant]) ([]join.Set, []int) {
		out, which = out[:0], which[:0]
		for k, s := range sets {
			d := &h.accounts[s]
			if !d.Reps.OK {
				continue
			}
			x := join.Set{Load: d.Load, LoadStep: d.LoadStep, Reps: d.Reps, Extra: d.Extra}
			if shift.OK {
				x.At = rep.Some(h.At[h.Sets[s].Lo] - shift.V)
			}
			if speeds {
				read, _ := h.readings(s, scale)
				x.Speeds, x.SpeedStep = read.Speeds, read.SpeedStep
			}
			out, which = append(out, x), append(which, k)
		}
		return out, which
	}
	r := &h.room
	r.done, r.which = describe(r.done, r.which, a, 1, rep.Null[rep.Instant]{OK: shift.OK})
	r.said, r.whichSaid = describe(r.said, r.whichSaid, b, scale, shift)
	var out [][2]int
	for _, m := range h.aligner.Align(r.said, r.done) {
		told := m.Score >= join.Least || m.Slot
		if told && (speeds || m.Load <= join.NearLoad) && !h.toldApart(a[r.which[m.Done]], b[r.whichSaid[m.Logged]]) {
			out = append(out, [2]int{r.which[m.Done], r.whichSaid[m.Logged]})
		}
	}
	return out
}

// toldApart reports whether one sheet itself tells two sets apart by their set
// marks.
func (h *History) toldApart(s, o int) bool {
	t, a, b := h.Table, h.Rows[h.Sets[s].Lo], h.Rows[h.Sets[o].Lo]
	return t.Source.At(a) == t.Source.At(b) && t.Sheet.At(a) == t.Sheet.At(b) &&
		t.SetMark.At(a).OK && t.SetMark.At(b).OK && t.SetMark.Get(a) != t.SetMark.Get(b)
}

// topSpeed returns the speed of the fastest rep of set s not set aside, which
// slow movements in the rack do not pull down as they do a mean; 0 for none.
func (h *History) topSpeed(s int) float64 {
	top := 0.0
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Failed[i] == 0 {
			top = max(top, h.Speed[i])
		}
	}
	return top
}
