package block

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/mixed"
	"repsift/profile/number"
	"repsift/profile/onerm"
	"repsift/profile/sets"
)

const (
	needBlockDays = 2
	needEffortSet = 4
	// claimPriorSD, worth claimPriorDF claim, is how far a claim about the
	// 1RM is off as a share: a day's form and half an RPE point (see package
	// onerm).
	claimPriorSD, claimPriorDF = 0.025, 1
)

// compare fills what changed since the block before.
func (v *View) compare(r *Block, before, now *blockSets) {
	r.Against = before.name
	r.E1RMChange = e1RMChange(before.claims, now.claims)
	a, b := sets.Points(before.timed), sets.Points(now.timed)
	r.SpeedChange, r.AtLoads = speedChange(a, b)
	r.EffortChange = v.effortChange(before, now)
}

// e1RMChange compares the mean of one block with the mean of the other, by the
// sources both have: what a source has wrong it has wrong in both. Each source
// has a level of its own, each day its form, and a step lies between the
// blocks; how far claims scatter is seen in them, not stated beforehand.
func e1RMChange(before, now []onerm.Claim) number.Estimate {
	const of = "days of either block with a source of the 1RM that both have"
	var has [2][onerm.Sources]bool
	for w, cs := range [][]onerm.Claim{before, now} {
		for _, c := range cs {
			has[w][c.Source] = true
		}
	}
	d := mixed.Data{PriorDF: claimPriorDF, PriorSD: claimPriorSD, DayRatio: 1}
	var step []float64
	ofSource := make([][]float64, onerm.Sources) // a column each
	days := [2]map[float64]int{{}, {}}
	n, base, weight := 0, 0.0, 0.0
	for w, cs := range [][]onerm.Claim{before, now} {
		for _, c := range cs {
			if !has[0][c.Source] || !has[1][c.Source] {
				continue
			}
			day, ok := days[w][c.WeeksAgo]
			if !ok {
				day = n
				days[w][c.WeeksAgo] = n
				n++
			}
			x := math.Pow(claimPriorSD/c.CV, 2)
			d.Y, d.Day, d.Weight, step = append(d.Y, math.Log(c.Kg)), append(d.Day, day), append(d.Weight, x), append(step, float64(w))
			for s := range ofSource {
				one := 0.0
				if onerm.Source(s) == c.Source {
					one = 1
				}
				ofSource[s] = append(ofSource[s], one)
			}
			if w == 0 {
				base, weight = base+x*math.Log(c.Kg), weight+x
			}
		}
	}
	if have := min(len(days[0]), len(days[1])); have < needBlockDays {
		return number.NotYet(needBlockDays, have, of)
	}
	for s, x := range ofSource {
		if has[0][s] && has[1][s] {
			d.Columns = append(d.Columns, mixed.Column{X: x})
		}
	}
	d.Columns = append(d.Columns, mixed.Column{X: step})
	share, err := mixed.Coefficient(d, len(d.Columns)-1)
	if err != nil {
		return number.More(min(len(days[0]), len(days[1])), of)
	}
	kg := math.Exp(base / weight)
	v, lo, hi := share.Interval(number.Level)
	return number.Known(kg*math.Expm1(v), kg*math.Expm1(lo), kg*math.Expm1(hi), len(d.Y), "claims")
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
	out.Shifts = loadline.ShiftsOf(ps)
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
