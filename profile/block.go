package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/loadline"
	"repsift/profile/onerm"

	"gonum.org/v1/gonum/stat/distuv"
	"repsift/clean/robust"
)

// Block is one stretch of training of one lift, and how it differs from the
// block before.
type Block struct {
	Name     string `json:"name"`
	Declared bool   `json:"declared"` // in the season file; else found by gaps of training
	Span
	Sessions int    `json:"sessions"`
	Sets     int    `json:"sets"`      // warm-ups left out
	HardSets int    `json:"hard_sets"` // called RPE 7 or more, or without a call and at a speed of RPE 7 or more
	Reps     int    `json:"reps"`
	Tonnage  Number `json:"tonnage_kg"` // Σ load × reps done, warm-ups left out

	Intensity []IntensityBand `json:"intensity"` // of the e1RM of the day, lightest band first
	MeanRPE   Estimate        `json:"mean_rpe"`
	Loss      Estimate        `json:"velocity_loss"` // mean of sets of two or more, warm-ups left out
	E1RM      Estimate        `json:"e1rm_kg"`       // at the end of the block

	Against      string       `json:"against"` // name of the block before; empty for the first
	E1RMChange   Estimate     `json:"e1rm_change_kg"`
	SpeedChange  Estimate     `json:"speed_change_m_s"`  // at common loads, days compared
	EffortChange Estimate     `json:"effort_change_m_s"` // speed at the same called RPE
	AtLoads      []LoadChange `json:"at_loads"`
	Cautions     []string     `json:"cautions"`
}

// IntensityBand counts working sets by share of the e1RM.
type IntensityBand struct {
	FromPercent int `json:"from_percent"` // inclusive
	ToPercent   int `json:"to_percent"`   // exclusive; 0: no upper end
	Sets        int `json:"sets"`
	Reps        int `json:"reps"`
}

// LoadChange is the speed of one load in this block against the one before.
type LoadChange struct {
	LoadKg Number   `json:"load_kg"`
	Before Number   `json:"before_m_s"`
	Now    Number   `json:"now_m_s"`
	Change Estimate `json:"change_m_s"`
}

const (
	hardRPE = 7 // a set called this or more is hard (common practice, no source)
	// gapDays without training, and three times the usual gap, end a block
	// that nobody declared (common practice, no source).
	gapDays = 9

	needBlockDays = 2
	needEffortSet = 4
)

// stretch is the days of a block.
type stretch struct {
	name     string
	from, to rep.Day
	declared bool
}

// stretches returns the declared blocks by first day or, without any, the
// stretches of training between gaps. days are the lifter's days in order.
func stretches(s *season.Season, days []rep.Day) []stretch {
	var out []stretch
	if s != nil {
		for _, b := range s.Blocks {
			out = append(out, stretch{b.Name, b.From, b.To, true})
		}
	}
	if out != nil || len(days) == 0 {
		slices.SortStableFunc(out, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
		return out
	}
	var gaps []float64
	for i := 1; i < len(days); i++ {
		gaps = append(gaps, float64(days[i]-days[i-1]))
	}
	usual, _ := robust.Median(gaps)
	limit := math.Max(gapDays, 3*usual)
	from := days[0]
	for i := range days {
		if i+1 == len(days) || float64(days[i+1]-days[i]) > limit {
			out = append(out, stretch{fmt.Sprintf("training %d", len(out)+1), from, days[i], false})
			if i+1 < len(days) {
				from = days[i+1]
			}
		}
	}
	return out
}

// blocks reviews each stretch that holds sets of the lift.
func (v *blockView) blocks(all []stretch) []Block {
	out := []Block{}
	var before *blockSets
	for _, st := range all {
		b := v.within(st)
		if len(b.sets) == 0 {
			continue
		}
		r := v.review(b)
		if before != nil {
			v.compare(&r, before, b)
		} else {
			const of = "blocks before this one"
			r.E1RMChange, r.SpeedChange, r.EffortChange = notYet(1, 0, of), notYet(1, 0, of), notYet(1, 0, of)
		}
		out = append(out, r)
		before = b
	}
	return out
}

// blockView is what blocks of a lift are reviewed from.
type blockView struct {
	sets   []set // of the main variant
	main   Group
	e      *e1RM
	effort effortLine
	now    Estimate // e1RM
}

// blockSets is what one block holds.
type blockSets struct {
	stretch
	sets   []set // of the variant
	timed  []set // of the main group
	claims []onerm.Claim
}

func (v *blockView) within(st stretch) *blockSets {
	b := &blockSets{stretch: st}
	b.sets = where(v.sets, func(s *set) bool { return s.day >= st.from && s.day <= st.to })
	b.timed = where(b.sets, func(s *set) bool { return s.timed() && s.group == v.main })
	if len(b.sets) == 0 {
		return b
	}
	end := b.sets[len(b.sets)-1].day
	for _, c := range v.e.claims {
		if c.day >= st.from && c.day <= st.to {
			k := c.Claim
			k.WeeksAgo = math.Max(weeks(c.day, end), 0)
			b.claims = append(b.claims, k)
		}
	}
	return b
}

// review counts one block.
func (v *blockView) review(b *blockSets) Block {
	r := Block{Name: b.name, Declared: b.declared, Span: span(b.sets), Cautions: []string{}, AtLoads: []LoadChange{},
		E1RM:      notYet(1, 0, "top singles, sets of up to ten with RPE, or maxima in the block"),
		Intensity: []IntensityBand{{0, 60, 0, 0}, {60, 70, 0, 0}, {70, 80, 0, 0}, {80, 90, 0, 0}, {90, 0, 0, 0}}}
	r.Sessions = r.Days
	if c, err := onerm.Combine(onerm.Latest(b.claims, mostClaims)); err == nil {
		x, lo, hi := c.Interval(Level, 0)
		r.E1RM = known(x, lo, hi, len(b.claims), "claims")
	}
	top := r.E1RM
	if !top.Known {
		top = v.now
	}
	var rpe, loss []float64
	var rpeDay, lossDay []int
	var rs, ls Span
	for i := range b.sets {
		s := &b.sets[i]
		if !s.working() {
			continue
		}
		r.Sets++
		r.Reps += s.reps
		if s.load > 0 {
			r.Tonnage += Number(s.load * float64(s.reps))
			if top.Known {
				k := bandOf(r.Intensity, 100*s.load/top.Value)
				r.Intensity[k].Sets++
				r.Intensity[k].Reps += s.reps
			}
		}
		if v.hard(s) {
			r.HardSets++
		}
		if !math.IsNaN(s.rpe) {
			rs.add(s.day)
			rpe, rpeDay = append(rpe, s.rpe), append(rpeDay, rs.Days-1)
		}
		if x, ok := s.loss(); ok {
			ls.add(s.day)
			loss, lossDay = append(loss, x), append(lossDay, ls.Days-1)
		}
	}
	r.MeanRPE, r.Loss = dayMean(rpe, rpeDay, needLoss, "working sets with RPE"), dayMean(loss, lossDay, needLoss, setsOfTwo)
	if !top.Known {
		r.Intensity = []IntensityBand{}
	}
	if !b.declared {
		r.Cautions = append(r.Cautions, "No block is declared; this one was found by gaps of training.")
	}
	return r
}

func bandOf(bands []IntensityBand, percent float64) int {
	for i, b := range bands {
		if b.ToPercent == 0 || percent < float64(b.ToPercent) {
			return i
		}
	}
	return 0
}

// hard reports whether a set was called hard or, without a call, was as slow
// as sets that are.
func (v *blockView) hard(s *set) bool {
	if !math.IsNaN(s.rpe) {
		return s.rpe >= hardRPE
	}
	return v.effort.Known() && s.group == v.main && s.slowest <= v.effort.Mean(hardRPE).Mean()
}

// compare fills what changed since the block before.
func (v *blockView) compare(r *Block, before, now *blockSets) {
	r.Against = before.name
	r.E1RMChange = e1RMChange(before.claims, now.claims)
	a, b := dayPoints(before.timed), dayPoints(now.timed)
	r.SpeedChange, r.AtLoads = speedChange(a, b)
	r.EffortChange = v.effortChange(before, now)
}

// e1RMChange compares by the sources both blocks have: what a source has wrong
// it has wrong in both.
func e1RMChange(before, now []onerm.Claim) Estimate {
	const of = "sources of the 1RM that both blocks have"
	has := func(cs []onerm.Claim, s onerm.Source) bool {
		return slices.ContainsFunc(cs, func(c onerm.Claim) bool { return c.Source == s })
	}
	both := func(cs []onerm.Claim) []onerm.Claim {
		return slices.DeleteFunc(slices.Clone(cs), func(c onerm.Claim) bool { return !has(before, c.Source) || !has(now, c.Source) })
	}
	p, n := both(before), both(now)
	a, errA := onerm.CombineApart(onerm.Latest(p, mostClaims))
	b, errB := onerm.CombineApart(onerm.Latest(n, mostClaims))
	if errA != nil || errB != nil {
		return notYet(1, 0, of)
	}
	half := 1.96 * math.Hypot(a.Kg*a.CV(), b.Kg*b.CV())
	return known(b.Kg-a.Kg, b.Kg-a.Kg-half, b.Kg-a.Kg+half, len(p)+len(n), "claims")
}

// speedChange compares the fastest reps of loads that both blocks have.
func speedChange(before, now []DayPoint) (Estimate, []LoadChange) {
	at := []LoadChange{}
	var ps []DayPoint
	var isNow []float64
	var days [2]map[rep.Day]bool
	days[0], days[1] = map[rep.Day]bool{}, map[rep.Day]bool{}
	nows := byLoad(now)
	for _, g := range byLoad(before) {
		k := slices.IndexFunc(nows, func(x []DayPoint) bool { return math.Abs(float64(x[0].LoadKg-g[0].LoadKg)) < sameLoad })
		if k < 0 {
			continue
		}
		at = append(at, loadChange(g, nows[k]))
		for w, side := range [][]DayPoint{g, nows[k]} {
			for _, p := range side {
				ps, isNow = append(ps, p), append(isNow, float64(w))
				days[w][p.Date] = true
			}
		}
	}
	if have := min(len(days[0]), len(days[1])); have < needBlockDays {
		return notYet(needBlockDays, have, "days of either block with a load both have"), at
	}
	p := forPoints(ps)
	m, err := loadline.Step(p, isNow, 0)
	if err != nil {
		return more(len(ps), loadsAndDays), at
	}
	v, lo, hi := m.Interval(Level)
	return known(v, lo, hi, len(ps), loadsAndDays), at
}

// forPoints puts points in any order into the form of a line without a turn:
// what turned is the step that is asked for.
func forPoints(ps []DayPoint) loadline.Points {
	var out loadline.Points
	days := map[rep.Day]int{}
	for _, p := range ps {
		d, ok := days[p.Date]
		if !ok {
			d = len(days)
			days[p.Date] = d
		}
		out.Load, out.Speed = append(out.Load, float64(p.LoadKg)), append(out.Speed, float64(p.Speed))
		out.Day, out.WeeksAgo = append(out.Day, d), append(out.WeeksAgo, 0)
	}
	return out
}

// loadChange compares one load's days by Welch's t (1947, Biometrika 34:28–35).
func loadChange(before, now []DayPoint) LoadChange {
	speeds := func(ps []DayPoint) []float64 {
		out := make([]float64, len(ps))
		for i, p := range ps {
			out[i] = float64(p.Speed)
		}
		return out
	}
	a, b := speeds(before), speeds(now)
	c := LoadChange{LoadKg: now[0].LoadKg}
	c.Before, _ = meanSD(a)
	c.Now, _ = meanSD(b)
	c.Change = welch(a, b, "days of either block at this load")
	return c
}

func welch(a, b []float64, of string) Estimate {
	ma, sa, okA := robust.MeanSD(a)
	mb, sb, okB := robust.MeanSD(b)
	if !okA || !okB {
		return notYet(2, min(len(a), len(b)), of)
	}
	va, vb := sa*sa/float64(len(a)), sb*sb/float64(len(b))
	if va+vb == 0 {
		return more(min(len(a), len(b)), of)
	}
	df := (va + vb) * (va + vb) / (va*va/float64(len(a)-1) + vb*vb/float64(len(b)-1))
	half := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.5+Level/2) * math.Sqrt(va+vb)
	return known(mb-ma, mb-ma-half, mb-ma+half, len(a)+len(b), of)
}

// effortChange returns how the speed at the same called RPE differs.
func (v *blockView) effortChange(before, now *blockSets) Estimate {
	both := slices.Concat(before.timed, now.timed)
	e := newEffortLine(both, slowestOf)
	var isNow []float64
	n := [2]int{}
	for _, day := range e.when {
		w := 0
		if day >= now.from {
			w = 1
		}
		isNow = append(isNow, float64(w))
		n[w]++
	}
	if have := min(n[0], n[1]); have < needEffortSet {
		return notYet(needEffortSet, have, setsWithRPE+" in either block")
	}
	m, err := e.Step(isNow)
	if err != nil {
		return more(min(n[0], n[1]), setsWithRPE+" in either block")
	}
	return e.estimate(m)
}
