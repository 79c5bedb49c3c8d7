package profile

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/loadline"
)

// A profile describes the lifter now.
const (
	// nowDays is how far back lines of speed over load look: twelve weeks, in
	// which drift is near enough a straight line. Common practice, no source.
	nowDays = 84
	// effortDays is how far back the effort chart looks: the speed at an RPE
	// moves less than the speed at a load. Common practice, no source.
	effortDays = 182
)

// timed reports whether the set has a speed.
func (s *set) timed() bool { return !math.IsNaN(s.fastest) || !math.IsNaN(s.slowest) }

// groups sorts the sets of a lift that have a speed by group. The first is the
// main one: most sets in the last twelve weeks of the lift, then the latest,
// then by name. The rest follow by number of sets, then by name.
func groups(sets []set) []Group {
	if len(sets) == 0 {
		return nil
	}
	end := sets[len(sets)-1].day
	type count struct {
		g           Group
		recent, all int
		last        int
	}
	at := map[Group]int{}
	var cs []count
	for i := range sets {
		s := &sets[i]
		if !s.timed() {
			continue
		}
		k, ok := at[s.group]
		if !ok {
			k = len(cs)
			at[s.group] = k
			cs = append(cs, count{g: s.group})
		}
		cs[k].all++
		cs[k].last = i
		if s.day > end-nowDays {
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

// mainVariant is the variant of the main group or, where no set has a speed,
// the one with most sets.
func mainVariant(sets []set, gs []Group) string {
	if len(gs) > 0 {
		return gs[0].Variant
	}
	n := map[string]int{}
	best := ""
	for i := range sets {
		v := sets[i].group.Variant
		n[v]++
		if n[v] > n[best] || n[v] == n[best] && v < best {
			best = v
		}
	}
	return best
}

// offsetPriorSD is how far two groups' lines may lie apart before any data,
// m/s: wide enough to say little (common practice, no source).
const offsetPriorSD = 0.1

// split profiles a group beside the main one.
func split(h *history, g Group, inMain []set) Split {
	own := where(h.sets, func(s *set) bool { return s.timed() && s.group == g })
	x := Split{Group: g, Sets: len(own), Span: span(own)}
	for i := range own {
		x.Reps += own[i].reps + own[i].missed
	}
	line := newLoadVelocity(own)
	line.v1 = expected1RMVelocity(h.lift, own, nil)
	x.LoadVelocity = line.profile(Estimate{})
	recent := since(own, x.To, effortDays)
	x.Effort = effortChart(recent, newEffortLine(recent, slowestOf), newEffortLine(recent, lastOf), h.lift, x.LoadVelocity.V1RM)
	x.Offset = offset(inMain, own)
	return x
}

// offset returns how much faster other's fastest reps are than main's at the
// same load and in the same form: one line for both, with a step between them
// and days in common where both were used on one.
func offset(main, other []set) Estimate {
	const need = 4
	a, b := dayPoints(main), dayPoints(other)
	if len(a) < need || len(b) < need {
		return notYet(need, min(len(a), len(b)), loadsAndDays+" of either group")
	}
	da, db := pointSpan(a), pointSpan(b)
	if da.Days < 2 || db.Days < 2 {
		return notYet(2, min(da.Days, db.Days), "days of either group")
	}
	both := slices.Concat(a, b)
	p := forLine(both, max(da.To, db.To))
	isOther := make([]float64, len(both))
	days := map[rep.Day]int{}
	for i := range both {
		// Days that both groups have are one day.
		d, ok := days[both[i].Date]
		if !ok {
			d = len(days)
			days[both[i].Date] = d
		}
		p.Day[i] = d
		if i >= len(a) {
			isOther[i] = 1
		}
	}
	m, err := loadline.Step(p, isOther, offsetPriorSD)
	if err != nil {
		return more(len(b), loadsAndDays)
	}
	v, lo, hi := m.Interval(Level)
	return known(v, lo, hi, len(b), loadsAndDays)
}
