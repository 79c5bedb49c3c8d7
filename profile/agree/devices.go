package agree

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Agreement is how two units agree on the same sets: differences are other
// minus reference, m/s.
type Agreement struct {
	Reference string `json:"reference"`
	Other     string `json:"other"`
	Pairs     int    `json:"pairs"`
	sets.Span
	Bias         number.Estimate `json:"bias_m_s"`
	SD           number.Number   `json:"sd_m_s"`
	LowerLimit   number.Estimate `json:"lower_limit_m_s"` // of agreement, 95 % of differences
	UpperLimit   number.Estimate `json:"upper_limit_m_s"`
	Proportional number.Estimate `json:"proportional"` // slope of difference on mean; 0: none
	// The line of other on reference by ordinary least products, for reading
	// one unit in terms of the other.
	Slope       number.Estimate `json:"slope"`
	Intercept   number.Estimate `json:"intercept_m_s"`
	Concordance number.Estimate `json:"concordance"` // Lin
	Points      []PairedReps    `json:"points"`
	Cautions    []string        `json:"cautions"`
}

// PairedReps is the fastest rep of one set as both units saw it, m/s.
type PairedReps struct {
	Lifter    string        `json:"lifter"`
	Lift      string        `json:"lift"`
	Date      rep.Day       `json:"date"`
	LoadKg    number.Number `json:"load_kg"`
	Reference number.Number `json:"reference_m_s"`
	Other     number.Number `json:"other_m_s"`
}

const (
	needPairs = 5 // sets; under it an interval of a limit is as wide as the limits

	pairedSets = "sets that both units measured"
)

// Pair is one set as two units saw it.
type Pair struct {
	reference, other string // devices
	PairedReps
}

// Pairs returns the sets that cleaning kept from one unit and set aside
// as seen by a second, the fastest rep of each; speeds written by hand are no
// unit. Sets of which either unit has a rep that failed another filter are
// left out.
func Pairs(res *clean.Result) []Pair {
	t := res.Reps
	type key struct {
		lifter, lift rep.Sym
		day          rep.Day
	}
	// Only days with a second unit's reps are looked at.
	kept := map[key][]int32{}
	for i := range res.Aside {
		if a := &res.Aside[i]; pairable(t, a) {
			kept[key{t.Lifter[a.Row], t.Lift[a.Row], t.Date[a.Row]}] = nil
		}
	}
	if len(kept) == 0 {
		return nil
	}
	for _, r := range res.Kept {
		k := key{t.Lifter[r], t.Lift[r], t.Date[r]}
		if rows, ok := kept[k]; ok {
			kept[k] = append(rows, r)
		}
	}
	type measured struct {
		key
		number int32 // of the set that stands
		device rep.Sym
	}
	fastest := map[measured]float64{}
	spoilt := map[measured]bool{}
	var order []measured
	for _, a := range res.Aside {
		if !pairable(t, &a) {
			continue
		}
		k := key{t.Lifter[a.Row], t.Lift[a.Row], t.Date[a.Row]}
		twin, ok := twinSet(t, kept[k], a)
		if !ok {
			continue
		}
		s := measured{k, twin, t.Device[a.Row]}
		if _, seen := fastest[s]; !seen {
			order = append(order, s)
		}
		spoilt[s] = spoilt[s] || len(a.Also) > 0 || t.Missed[a.Row]
		fastest[s] = math.Max(fastest[s], t.MeanVelocity[a.Row])
	}
	var out []Pair
	for _, s := range order {
		if spoilt[s] {
			continue
		}
		p := Pair{other: t.Text.Text(s.device)}
		top := 0.0
		for _, r := range kept[s.key] {
			if t.Set[r] != s.number {
				continue
			}
			if t.Flags[r]&sets.KeptOut != 0 {
				top = 0
				break
			}
			top = math.Max(top, t.MeanVelocity[r])
			p.reference = t.Text.Text(t.Device[r])
			p.PairedReps = PairedReps{Lifter: t.Text.Text(s.lifter), Lift: t.Text.Text(s.lift), Date: s.day, LoadKg: number.Number(t.LoadKg[r])}
		}
		if top > 0 {
			p.Reference, p.Other = number.Number(top), number.Number(fastest[s])
			out = append(out, p)
		}
	}
	return out
}

// pairable reports whether a rep was set aside as another unit's account of one
// that was kept.
func pairable(t *rep.Table, a *clean.Aside) bool {
	return a.Filter == rep.SecondDevice && a.Limit.OK && t.Text.Text(t.Device[a.Row]) != rep.HandLog
}

// twinSet returns the number of the kept set in which the rep stands that
// cleaning held a second unit's rep against: of the kept reps with that speed,
// from another unit, the one nearest in load.
func twinSet(t *rep.Table, kept []int32, a clean.Aside) (number int32, ok bool) {
	best := math.Inf(1)
	for _, r := range kept {
		if t.MeanVelocity[r] != a.Limit.V || t.Device[r] == t.Device[a.Row] {
			continue
		}
		if d := math.Abs(t.LoadKg[r] - t.LoadKg[a.Row]); d < best {
			best, number, ok = d, t.Set[r], true
		}
	}
	return number, ok
}

// All compares every two units that have pairs, by their names.
func All(pairs []Pair) []Agreement {
	out := []Agreement{}
	type two struct{ a, b string }
	by := map[two][]PairedReps{}
	var units []two
	for _, p := range pairs {
		k := two{p.reference, p.other}
		if by[k] == nil {
			units = append(units, k)
		}
		by[k] = append(by[k], p.PairedReps)
	}
	slices.SortFunc(units, func(x, y two) int { return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b)) })
	for _, u := range units {
		out = append(out, New(u.a, u.b, by[u]))
	}
	return out
}

// New returns how another unit agrees with a reference on sets that
// both measured, in any order.
func New(reference, other string, pairs []PairedReps) Agreement {
	ps := slices.Clone(pairs)
	slices.SortStableFunc(ps, func(a, b PairedReps) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(a.Lift, b.Lift), cmp.Compare(a.LoadKg, b.LoadKg))
	})
	g := Agreement{Reference: reference, Other: other, Pairs: len(ps), SD: number.Unsaid, Points: ps, Cautions: []string{}}
	if ps == nil {
		g.Points = []PairedReps{}
	}
	x, y := make([]float64, len(ps)), make([]float64, len(ps))
	for i, p := range ps {
		x[i], y[i] = float64(p.Reference), float64(p.Other)
		g.Add(p.Date)
	}
	lack := number.NotYet(needPairs, len(ps), pairedSets)
	g.Bias, g.LowerLimit, g.UpperLimit, g.Proportional, g.Slope, g.Intercept, g.Concordance = lack, lack, lack, lack, lack, lack, lack
	if len(ps) < needPairs {
		return g
	}
	say := func(i Interval, ok bool) number.Estimate {
		if !ok { // speeds that do not vary
			return number.More(len(ps), pairedSets)
		}
		return number.Known(i.Value, i.Lo, i.Hi, len(ps), pairedSets)
	}
	if l, ok := Limits(x, y, number.Level); ok {
		g.SD = number.Number(l.SD)
		g.Bias, g.LowerLimit, g.UpperLimit = say(l.Bias, ok), say(l.Lower, ok), say(l.Upper, ok)
	}
	g.Proportional = say(Proportional(x, y, number.Level))
	slope, intercept, ok := LeastProducts(x, y, number.Level)
	g.Slope, g.Intercept = say(slope, ok), say(intercept, ok)
	g.Concordance = say(Concordance(x, y, number.Level))
	g.Cautions = g.cautions()
	return g
}

func (g *Agreement) cautions() []string {
	out := []string{"The two are kept apart in every profile."}
	if g.Proportional.Known && (g.Proportional.Lo > 0 || g.Proportional.Hi < 0) {
		out = append(out, "The difference grows with speed: one bias for all speeds is not enough, read one unit by the line.")
	}
	if g.Pairs < 20 {
		out = append(out, "Fewer than 20 sets: the limits are rough.")
	}
	return out
}
