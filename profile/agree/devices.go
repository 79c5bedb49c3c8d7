package agree

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
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
	Concordance number.Estimate `json:"concordance"`         // Lin
	Declared    bool            `json:"correction_declared"` // one is read as the other in profiles
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

	// NeedCorrection is how many sets a correction needs: with ten its error is
	// less than half of the scatter that is left (common practice, no source).
	NeedCorrection = 10

	// PairedSets is what an agreement counts.
	PairedSets = "sets that both units measured"
)

// Pair is one set as two units saw it.
type Pair struct {
	reference, other string // devices
	PairedReps
}

// Pairs returns the sets that two units recorded, the fastest rep of each as
// either showed it: corrections of units are taken back. Speeds written by hand
// are no unit. Sets of which the units have not as many reps, or with a rep
// that was missed, rejoined or otherwise doubtful, are left out: their fastest
// reps may be two.
func Pairs(res *clean.Result) []Pair {
	t := res.Reps
	declared := season.Season{Devices: res.Devices}
	var out []Pair
	for _, w := range res.Twins {
		p := Pair{reference: t.Text.Text(t.Device.At(w.Kept[0])), other: t.Text.Text(t.Device.At(w.Aside[0]))}
		x, okX := fastest(t, w.Kept, declared.Device(p.reference))
		y, okY := fastest(t, w.Aside, declared.Device(p.other))
		if len(w.Kept) != len(w.Aside) || p.reference == rep.HandLog || p.other == rep.HandLog || !okX || !okY {
			continue
		}
		r := w.Kept[0]
		p.PairedReps = PairedReps{Lifter: t.Text.Text(t.Lifter.At(r)), Lift: t.Text.Text(t.Lift.At(r)), Date: t.Date.At(r),
			LoadKg: number.Number(t.LoadKg.Get(r)), Reference: number.Number(x), Other: number.Number(y)}
		out = append(out, p)
	}
	return out
}

// fastest returns the speed of the fastest of some reps as their unit showed
// it; false where one of them is doubtful.
func fastest(t *rep.Table, rows []int32, c *season.DeviceCorrection) (float64, bool) {
	var top float64
	for _, r := range rows {
		if t.Missed(r) || t.Flags[r]&sets.KeptOut != 0 {
			return 0, false
		}
		v := t.MeanVelocity.Get(r)
		if c != nil {
			v = c.Shown(v)
		}
		top = math.Max(top, v)
	}
	return top, top > 0
}

// All compares every two units that have pairs, by their names; declared are the
// corrections in force.
func All(pairs []Pair, declared []season.DeviceCorrection) []Agreement {
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
		g := New(u.a, u.b, by[u])
		g.say((&season.Season{Devices: declared}))
		out = append(out, g)
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
	lack := number.NotYet(needPairs, len(ps), PairedSets)
	g.Bias, g.LowerLimit, g.UpperLimit, g.Proportional, g.Slope, g.Intercept, g.Concordance = lack, lack, lack, lack, lack, lack, lack
	if len(ps) < needPairs {
		return g
	}
	say := func(i Interval, ok bool) number.Estimate {
		if !ok { // speeds that do not vary
			return number.More(len(ps), PairedSets)
		}
		return number.Known(i.Value, i.Lo, i.Hi, len(ps), PairedSets)
	}
	if l, ok := Limits(x, y, number.Level); ok {
		g.SD = number.Number(l.SD)
		g.Bias, g.LowerLimit, g.UpperLimit = say(l.Bias, ok), say(l.Lower, ok), say(l.Upper, ok)
	}
	g.Proportional = say(Proportional(x, y, number.Level))
	slope, intercept, ok := LeastProducts(x, y, number.Level)
	g.Slope, g.Intercept = say(slope, ok), say(intercept, ok)
	g.Concordance = say(Concordance(x, y, number.Level))
	return g
}

// say tells what to know of the two, and whether a correction is declared.
func (g *Agreement) say(s *season.Season) {
	apart := "The two are kept apart in every profile."
	for _, of := range [][2]string{{g.Reference, g.Other}, {g.Other, g.Reference}} {
		c := s.Device(of[0])
		if c == nil {
			continue
		}
		if (&season.Season{Devices: []season.DeviceCorrection{{Device: of[1]}}}).Device(c.As) != nil {
			g.Declared = true
			apart = fmt.Sprintf("Profiles read %s as %s by the season file's correction; the numbers here are without it.", of[0], of[1])
		}
	}
	g.Cautions = append(g.Cautions, apart)
	if g.uneven() {
		g.Cautions = append(g.Cautions, "The difference grows with speed: one bias for all speeds is not enough, read one unit by the line.")
	}
	if g.Pairs < 20 {
		g.Cautions = append(g.Cautions, "Fewer than 20 sets: the limits are rough.")
	}
}

// uneven reports whether the difference surely goes with speed.
func (g *Agreement) uneven() bool {
	return g.Proportional.Known && (g.Proportional.Lo > 0 || g.Proportional.Hi < 0)
}
