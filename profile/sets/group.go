package sets

import (
	"cmp"
	"math"
	"slices"
)

// Group is sets whose speeds can be compared: one variant, one bar, one place
// of the tether, one unit. An empty text means the sources do not say.
type Group struct {
	Variant string `json:"variant"`
	Bar     string `json:"bar"`
	Tether  string `json:"tether"`
	Device  string `json:"device"`
}

// A profile describes the lifter now.
const (
	// NowDays is how far back lines of speed over load look: twelve weeks, in
	// which drift is near enough a straight line. Common practice, no source.
	NowDays = 84
	// EffortDays is how far back the effort chart looks: the speed at an RPE
	// moves less than the speed at a load. Common practice, no source.
	EffortDays = 182
)

// Timed reports whether the set has a speed.
func (s *Set) Timed() bool { return !math.IsNaN(s.Fastest) || !math.IsNaN(s.Slowest) }

// Groups sorts the sets of a lift that have a speed by group. The first is the
// main one: most sets in the last twelve weeks of the lift, then the latest,
// then by name. The rest follow by number of sets, then by name.
func Groups(sets []Set) []Group {
	if len(sets) == 0 {
		return nil
	}
	end := sets[len(sets)-1].Day
	type count struct {
		g           Group
		recent, all int
		last        int
	}
	at := map[Group]int{}
	var cs []count
	k := -1
	for i := range sets {
		s := &sets[i]
		if !s.Timed() {
			continue
		}
		if k < 0 || s.Group != cs[k].g { // mostly it is that of the set before
			known, ok := at[s.Group]
			if k = known; !ok {
				k = len(cs)
				at[s.Group] = k
				cs = append(cs, count{g: s.Group})
			}
		}
		cs[k].all++
		cs[k].last = i
		if s.Day > end-NowDays {
			cs[k].recent++
		}
	}
	byName := func(a, b Group) int {
		return cmp.Or(cmp.Compare(a.Variant, b.Variant), cmp.Compare(a.Bar, b.Bar), cmp.Compare(a.Tether, b.Tether), cmp.Compare(a.Device, b.Device))
	}
	slices.SortFunc(cs, func(a, b count) int {
		return cmp.Or(cmp.Compare(b.recent, a.recent), cmp.Compare(b.last, a.last), byName(a.g, b.g))
	})
	if len(cs) > 2 {
		slices.SortFunc(cs[1:], func(a, b count) int { return cmp.Or(cmp.Compare(b.all, a.all), byName(a.g, b.g)) })
	}
	gs := make([]Group, len(cs))
	for i, c := range cs {
		gs[i] = c.g
	}
	return gs
}

// MainVariant is the variant of the main group or, where no set has a speed,
// the one with most sets.
func MainVariant(sets []Set, gs []Group) string {
	if len(gs) > 0 {
		return gs[0].Variant
	}
	n := map[string]int{}
	best := ""
	for i := range sets {
		v := sets[i].Group.Variant
		n[v]++
		if n[v] > n[best] || n[v] == n[best] && v < best {
			best = v
		}
	}
	return best
}
