// Package block reviews stretches of training and compares each with the one
// before.
package block

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/e1rm"
	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/loss"
	"repsift/profile/number"
	"repsift/profile/onerm"
	"repsift/profile/sets"
)

// Block is one stretch of training of one lift, and how it differs from the
// block before.
type Block struct {
	Name     string `json:"name"`
	Declared bool   `json:"declared"` // in the season file; else found by gaps of training
	sets.Span
	Sessions int           `json:"sessions"`
	Sets     int           `json:"sets"`      // warm-ups left out
	HardSets int           `json:"hard_sets"` // called RPE 7 or more, or without a call and at a speed of RPE 7 or more
	Reps     int           `json:"reps"`
	Tonnage  number.Number `json:"tonnage_kg"` // Σ load × reps done, warm-ups left out

	Intensity []IntensityBand `json:"intensity"` // of the block's e1RM, else of now; lightest band first
	MeanRPE   number.Estimate `json:"mean_rpe"`
	Loss      number.Estimate `json:"velocity_loss"` // mean of sets of two or more, warm-ups left out
	E1RM      number.Estimate `json:"e1rm_kg"`       // at the end of the block

	Against      string          `json:"against"` // name of the block before; empty for the first
	E1RMChange   number.Estimate `json:"e1rm_change_kg"`
	SpeedChange  number.Estimate `json:"speed_change_m_s"`  // at common loads, days compared
	EffortChange number.Estimate `json:"effort_change_m_s"` // speed at the same called RPE
	AtLoads      []LoadChange    `json:"at_loads"`
	Cautions     []string        `json:"cautions"`
}

// IntensityBand counts working sets by share of the block's e1RM.
type IntensityBand struct {
	FromPercent int `json:"from_percent"` // inclusive
	ToPercent   int `json:"to_percent"`   // exclusive; 0: no upper end
	Sets        int `json:"sets"`
	Reps        int `json:"reps"`
}

// LoadChange is the speed of one load in this block against the one before.
type LoadChange struct {
	LoadKg number.Number   `json:"load_kg"`
	Before number.Number   `json:"before_m_s"`
	Now    number.Number   `json:"now_m_s"`
	Change number.Estimate `json:"change_m_s"`
}

const (
	hardRPE = 7 // a set called this or more is hard (common practice, no source)
	// gapDays without training, and three times the usual gap, end a block
	// that nobody declared (common practice, no source).
	gapDays = 9

	needBlockDays = 2
	needEffortSet = 4
)

// Stretch is the days of a block.
type Stretch struct {
	name     string
	from, to rep.Day
	declared bool
}

// Stretches returns the declared blocks by first day or, without any, the
// stretches of training between gaps. days are the lifter's days in order.
func Stretches(s *season.Season, days []rep.Day) []Stretch {
	var out []Stretch
	if s != nil {
		for _, b := range s.Blocks {
			out = append(out, Stretch{b.Name, b.From, b.To, true})
		}
	}
	if out != nil || len(days) == 0 {
		slices.SortStableFunc(out, func(a, b Stretch) int { return cmp.Compare(a.from, b.from) })
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
			out = append(out, Stretch{fmt.Sprintf("training %d", len(out)+1), from, days[i], false})
			if i+1 < len(days) {
				from = days[i+1]
			}
		}
	}
	return out
}

// Blocks reviews each stretch that holds sets of the lift.
func (v *View) Blocks(all []Stretch) []Block {
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
			r.E1RMChange, r.SpeedChange, r.EffortChange = number.NotYet(1, 0, of), number.NotYet(1, 0, of), number.NotYet(1, 0, of)
		}
		out = append(out, r)
		before = b
	}
	return out
}

// View is what blocks of a lift are reviewed from.
type View struct {
	Sets   []sets.Set // of the main variant
	Main   sets.Group
	Claims *e1rm.Claims
	Effort effort.SetLine
	Now    number.Estimate // e1RM
}

// blockSets is what one block holds.
type blockSets struct {
	Stretch
	sets   []sets.Set // of the variant
	timed  []sets.Set // of the main group
	claims []onerm.Claim
}

func (v *View) within(st Stretch) *blockSets {
	b := &blockSets{Stretch: st}
	b.sets = sets.Where(v.Sets, func(s *sets.Set) bool { return s.Day >= st.from && s.Day <= st.to })
	b.timed = sets.Where(b.sets, func(s *sets.Set) bool { return s.Timed() && s.Group == v.Main })
	if len(b.sets) == 0 {
		return b
	}
	end := b.sets[len(b.sets)-1].Day
	b.claims = v.Claims.Between(st.from, st.to, end)
	return b
}

// review counts one block.
func (v *View) review(b *blockSets) Block {
	r := Block{Name: b.name, Declared: b.declared, Span: sets.SpanOf(b.sets), Cautions: []string{}, AtLoads: []LoadChange{},
		E1RM:      number.NotYet(1, 0, "top singles, sets of up to ten with RPE, or maxima in the block"),
		Intensity: []IntensityBand{{0, 60, 0, 0}, {60, 70, 0, 0}, {70, 80, 0, 0}, {80, 90, 0, 0}, {90, 0, 0, 0}}}
	r.Sessions = r.Days
	if c, err := onerm.Combine(onerm.Latest(b.claims, e1rm.MostClaims)); err == nil {
		x, lo, hi := c.Interval(number.Level, 0, 0)
		r.E1RM = number.Known(x, lo, hi, len(b.claims), "claims")
	}
	top := r.E1RM
	if !top.Known {
		top = v.Now
	}
	var calls, losses []float64
	var callDay, lossDay []int
	var rs, ls sets.Span
	for i := range b.sets {
		s := &b.sets[i]
		if !s.Working() {
			continue
		}
		r.Sets++
		r.Reps += s.Reps
		if s.Load > 0 {
			r.Tonnage += number.Number(s.Load * float64(s.Reps))
			if top.Known {
				k := bandOf(r.Intensity, 100*s.Load/top.Value)
				r.Intensity[k].Sets++
				r.Intensity[k].Reps += s.Reps
			}
		}
		if v.hard(s) {
			r.HardSets++
		}
		if !math.IsNaN(s.RPE) {
			rs.Add(s.Day)
			calls, callDay = append(calls, s.RPE), append(callDay, rs.Days-1)
		}
		if x, ok := s.Loss(); ok {
			ls.Add(s.Day)
			losses, lossDay = append(losses, x), append(lossDay, ls.Days-1)
		}
	}
	r.MeanRPE, r.Loss = loss.DayMean(calls, callDay, loss.Need, "working sets with RPE"), loss.DayMean(losses, lossDay, loss.Need, loss.SetsOfTwo)
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
func (v *View) hard(s *sets.Set) bool {
	if !math.IsNaN(s.RPE) {
		return s.RPE >= hardRPE
	}
	return v.Effort.Known() && s.Group == v.Main && s.Slowest <= v.Effort.Mean(hardRPE).Mean()
}

// compare fills what changed since the block before.
func (v *View) compare(r *Block, before, now *blockSets) {
	r.Against = before.name
	r.E1RMChange = e1RMChange(before.claims, now.claims)
	a, b := sets.Points(before.timed), sets.Points(now.timed)
	r.SpeedChange, r.AtLoads = speedChange(a, b)
	r.EffortChange = v.effortChange(before, now)
}

// e1RMChange compares by the sources both blocks have: what a source has wrong
// it has wrong in both.
func e1RMChange(before, now []onerm.Claim) number.Estimate {
	const of = "sources of the 1RM that both blocks have"
	has := func(cs []onerm.Claim, s onerm.Source) bool {
		return slices.ContainsFunc(cs, func(c onerm.Claim) bool { return c.Source == s })
	}
	both := func(cs []onerm.Claim) []onerm.Claim {
		return slices.DeleteFunc(slices.Clone(cs), func(c onerm.Claim) bool { return !has(before, c.Source) || !has(now, c.Source) })
	}
	p, n := both(before), both(now)
	a, errA := onerm.CombineApart(onerm.Latest(p, e1rm.MostClaims))
	b, errB := onerm.CombineApart(onerm.Latest(n, e1rm.MostClaims))
	if errA != nil || errB != nil {
		return number.NotYet(1, 0, of)
	}
	half := 1.96 * math.Hypot(a.Kg*a.CV(), b.Kg*b.CV())
	return number.Known(b.Kg-a.Kg, b.Kg-a.Kg-half, b.Kg-a.Kg+half, len(p)+len(n), "claims")
}

// speedChange compares the fastest reps of loads that both blocks have.
func speedChange(before, now []sets.DayPoint) (number.Estimate, []LoadChange) {
	at := []LoadChange{}
	var ps []sets.DayPoint
	var isNow []float64
	var days [2]map[rep.Day]bool
	days[0], days[1] = map[rep.Day]bool{}, map[rep.Day]bool{}
	nows := sets.ByLoad(now)
	for _, g := range sets.ByLoad(before) {
		k := slices.IndexFunc(nows, func(x []sets.DayPoint) bool { return sets.SameLoad(x[0].LoadKg, g[0].LoadKg) })
		if k < 0 {
			continue
		}
		at = append(at, loadChange(g, nows[k]))
		for w, side := range [][]sets.DayPoint{g, nows[k]} {
			for _, p := range side {
				ps, isNow = append(ps, p), append(isNow, float64(w))
				days[w][p.Date] = true
			}
		}
	}
	if have := min(len(days[0]), len(days[1])); have < needBlockDays {
		return number.NotYet(needBlockDays, have, "days of either block with a load both have"), at
	}
	p := forPoints(ps)
	m, err := loadline.Step(p, isNow, 0)
	if err != nil {
		return number.More(len(ps), loadline.LoadsAndDays), at
	}
	v, lo, hi := m.Interval(number.Level)
	return number.Known(v, lo, hi, len(ps), loadline.LoadsAndDays), at
}

// forPoints puts points in any order into the form of a line without a turn:
// what turned is the step that is asked for.
func forPoints(ps []sets.DayPoint) loadline.Points {
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
func loadChange(before, now []sets.DayPoint) LoadChange {
	speeds := func(ps []sets.DayPoint) []float64 {
		out := make([]float64, len(ps))
		for i, p := range ps {
			out[i] = float64(p.Speed)
		}
		return out
	}
	a, b := speeds(before), speeds(now)
	c := LoadChange{LoadKg: now[0].LoadKg}
	c.Before, _ = number.MeanSD(a)
	c.Now, _ = number.MeanSD(b)
	c.Change = welch(a, b, "days of either block at this load")
	return c
}

func welch(a, b []float64, of string) number.Estimate {
	ma, sa, okA := robust.MeanSD(a)
	mb, sb, okB := robust.MeanSD(b)
	if !okA || !okB {
		return number.NotYet(2, min(len(a), len(b)), of)
	}
	va, vb := sa*sa/float64(len(a)), sb*sb/float64(len(b))
	if va+vb == 0 {
		return number.More(min(len(a), len(b)), of)
	}
	df := (va + vb) * (va + vb) / (va*va/float64(len(a)-1) + vb*vb/float64(len(b)-1))
	half := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.5+number.Level/2) * math.Sqrt(va+vb)
	return number.Known(mb-ma, mb-ma-half, mb-ma+half, len(a)+len(b), of)
}

// effortChange returns how the speed at the same called RPE differs.
func (v *View) effortChange(before, now *blockSets) number.Estimate {
	both := slices.Concat(before.timed, now.timed)
	e := effort.NewSetLine(both, effort.SlowestOf)
	var isNow []float64
	n := [2]int{}
	for _, day := range e.When {
		w := 0
		if day >= now.from {
			w = 1
		}
		isNow = append(isNow, float64(w))
		n[w]++
	}
	if have := min(n[0], n[1]); have < needEffortSet {
		return number.NotYet(needEffortSet, have, effort.SetsWithRPE+" in either block")
	}
	m, err := e.Step(isNow)
	if err != nil {
		return number.More(min(n[0], n[1]), effort.SetsWithRPE+" in either block")
	}
	return e.Estimate(m)
}
