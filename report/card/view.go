package card

import (
	"fmt"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

// view is what the template of a lifter's page shows.
type view struct {
	Season    string
	Index     string
	Lifter    *profile.Lifter
	Lifts     []liftView
	Bare      []string // lifts without
	Outside   bool     // some row of the card lies beyond the loads measured
	Aside     []asideView
	Copies    []copiesView
	AllAside  int
	AsideWhy  []clean.InForce
	Kept      int
	Doubts    []clean.Doubt
	Agreement []agreementView
	Cautions  []string
}

// liftView is one lift on the page.
type liftView struct {
	*profile.Lift
	Anchor       string
	Rigging      string // "sumo, deadlift bar, tether at the centre, north unit"
	EffortRows   []profile.AtRPE
	Percent      []profile.PercentRow
	Outside      bool
	Lightest     profile.Number // load measured, kg
	Heaviest     profile.Number
	Calls        []profile.ToRPE
	WarmUp       *profile.Readiness
	EffortChart  *chart.Chart
	SpeedChart   *chart.Chart
	ReadyChart   *chart.Chart
	StrengthCh   *chart.Chart
	ProgressCh   *chart.Chart
	LossChart    *chart.Chart
	Travel       *travel
	Sets         []rep.Set
	KnownTrends  []profile.SpeedTrend
	OpenTrends   []profile.SpeedTrend // not enough yet, nearest first
	LiftCautions []string
	Splits       []splitView // in the place of the profile's own
	Rests        []restsOn
}

// splitView is a group of sets that is kept apart.
type splitView struct {
	profile.Split
	Rigging string
}

// OnCard reports whether there is any number to pin up.
func (v liftView) OnCard() bool {
	return v.E1RMNow.Known || len(v.Percent) > 0 || len(v.EffortRows) > 0
}

// sheet is one printed sheet of the speed card.
type sheet struct {
	Lifts []liftView
	N, Of int
}

// Sheets lays the lifts with a number on sheets of five at most, about as many
// on each.
func (v view) Sheets() []sheet {
	const most = 5
	lifts := slices.DeleteFunc(slices.Clone(v.Lifts), func(l liftView) bool { return !l.OnCard() })
	of := (len(lifts) + most - 1) / most
	var out []sheet
	for n := range of {
		out = append(out, sheet{lifts[n*len(lifts)/of : (n+1)*len(lifts)/of], n + 1, of})
	}
	return out
}

// Missing lists what a lift without any number waits for.
func (v liftView) Missing() []string {
	return []string{
		"1RM now: " + kgOf(v.E1RMNow),
		"load and speed: " + estimate(2, "m/s", v.LoadVelocity.Slope),
		"RPE and speed: " + estimate(2, "m/s", v.Effort.AtRPE8),
	}
}

// Nothing reports whether a lift has neither a number nor a picture.
func (v liftView) Nothing() bool { return !v.OnCard() && v.EffortChart == nil && v.SpeedChart == nil }

// TenKg is how much slower ten kilograms more are, m/s.
func (v liftView) TenKg() float64 { return -10 * v.LoadVelocity.Slope.Value }

// DaySDKnown reports whether the range of the day-to-day SD can be said.
func (v liftView) DaySDKnown() bool { return v.LoadVelocity.DaySDHi.OK() && v.LoadVelocity.DaySDHi > 0 }

// HasLoss reports whether sets long enough to lose speed were seen.
func (v liftView) HasLoss() bool { return v.VelocityLoss.Mean.Known || v.VelocityLoss.Mean.Need > 0 }

func (p Page) view() view {
	v := view{Season: p.Season, Index: p.Index, Lifter: p.Lifter, Cautions: p.All.Cautions}
	sets := map[string][]rep.Set{}
	devices := map[string]bool{}
	for i := range p.Result.Sets.Len() {
		if s := p.Result.Sets.At(i); s.Lifter == p.Lifter.Name {
			sets[s.Lift] = append(sets[s.Lift], s)
			devices[s.Device] = true
			v.Kept += int(s.Reps)
		}
	}
	for _, d := range p.Result.Doubts {
		if d.Lifter == p.Lifter.Name {
			v.Doubts = append(v.Doubts, d)
		}
	}
	for i := range p.All.Agreement {
		if a := &p.All.Agreement[i]; devices[a.Reference] || devices[a.Other] {
			v.Agreement = append(v.Agreement, agreementView{a, agreementChart(a)})
		}
	}
	v.setAside(p)
	for i := range p.Lifter.Lifts {
		l := &p.Lifter.Lifts[i]
		lift := p.lift(l, fmt.Sprintf("lift-%d", i+1), sets[l.Lift])
		v.Lifts = append(v.Lifts, lift)
		if lift.OnCard() {
			v.Outside = v.Outside || lift.Outside
		} else {
			v.Bare = append(v.Bare, l.Lift)
		}
	}
	return v
}

// effortLevels are the RPE a card shows; the page's tables show every half.
var effortLevels = map[float64]bool{6: true, 7: true, 8: true, 9: true, 10: true}

func (p Page) lift(l *profile.Lift, anchor string, sets []rep.Set) liftView {
	v := liftView{
		Lift: l, Anchor: anchor, Rigging: rigging(l.Main), Percent: l.LoadVelocity.Table, Sets: sets, Calls: calls(l.Effort.BySpeed),
		EffortChart: effortChart(l), SpeedChart: speedChart(l), ReadyChart: readyChart(l), StrengthCh: strengthChart(l),
		ProgressCh: progressChart(l), LossChart: lossChart(l), Travel: travelOf(p.Result, p.Lifter.Name, l.Lift),
		LiftCautions: cautions(l), Rests: rests(l),
	}
	for _, row := range l.Effort.ByRPE {
		if effortLevels[row.RPE] {
			v.EffortRows = append(v.EffortRows, row)
		}
	}
	for _, row := range v.Percent {
		v.Outside = v.Outside || row.Outside
	}
	for i, at := range l.LoadVelocity.At {
		if i == 0 || at.LoadKg < v.Lightest {
			v.Lightest = at.LoadKg
		}
		v.Heaviest = max(v.Heaviest, at.LoadKg)
	}
	for _, s := range l.Splits {
		v.Splits = append(v.Splits, splitView{s, rigging(s.Group)})
	}
	if r := l.ReadinessNow; r.Usual.Known {
		v.WarmUp = &r
	}
	for _, t := range l.Progress {
		if t.PerWeek.Known {
			v.KnownTrends = append(v.KnownTrends, t)
		} else if t.PerWeek.Need > 0 {
			v.OpenTrends = append(v.OpenTrends, t)
		}
	}
	slices.SortStableFunc(v.OpenTrends, func(a, b profile.SpeedTrend) int {
		return (a.PerWeek.Need - a.PerWeek.Have) - (b.PerWeek.Need - b.PerWeek.Have)
	})
	v.OpenTrends = v.OpenTrends[:min(3, len(v.OpenTrends))]
	return v
}

// calls thins the table from speed to RPE: a page needs no more than a dozen
// rows, fastest first.
func calls(all []profile.ToRPE) []profile.ToRPE {
	const most = 12
	step := (len(all) + most - 1) / most
	var out []profile.ToRPE
	for i := 0; i < len(all); i += max(step, 1) {
		out = append(out, all[i])
	}
	return out
}

// cautions gathers those of a lift's parts, each once, in the page's order.
func cautions(l *profile.Lift) []string {
	var all []string
	for _, part := range [][]string{l.Cautions, l.E1RMNotes, l.Effort.Cautions, l.LoadVelocity.Cautions, l.VelocityLoss.Cautions} {
		for _, c := range part {
			if !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return all
}

func rigging(g profile.Group) string {
	var parts []string
	add := func(format, text string) {
		if text != "" {
			parts = append(parts, fmt.Sprintf(format, text))
		}
	}
	add("%s", g.Variant)
	add("%s bar", g.Bar)
	add("tether at %s", g.Tether)
	add("%s", g.Device)
	return joined(parts)
}

// restsOn is one number with its range and what it rests on.
type restsOn struct {
	What string
	Unit string
	profile.Estimate
	Digits int
}

// rests lists the numbers of a lift with what stands behind each.
func rests(l *profile.Lift) []restsOn {
	all := []restsOn{
		{"1RM now", "kg", l.E1RMNow, 1},
		{"slowest rep of a set at RPE 8", "m/s", l.Effort.AtRPE8, 2},
		{"change of it with one RPE point more", "m/s", l.Effort.PerRPE, 3},
		{"drift of it over time", "m/s a week", l.Effort.DriftPerWeek, 3},
		{"calls against those of other powerlifters at a 1RM", "RPE", l.Effort.CallBias, 1},
		{"last rep of a set at RPE 8", "m/s", l.Effort.LastRep.AtRPE8, 2},
		{"speed with no load, by the line", "m/s", l.LoadVelocity.Intercept, 2},
		{"change of speed with one kg more", "m/s", l.LoadVelocity.Slope, 4},
		{"drift of speed at the same load", "m/s a week", l.LoadVelocity.Drift, 4},
		{"speed at 1RM", "m/s", l.LoadVelocity.V1RM, 2},
		{"usual speed of the last warm-up", "m/s", l.ReadinessNow.Usual, 2},
		{"trend of the e1RM", "kg a week", l.E1RMTrend.PerWeek, 2},
		{"velocity loss of a working set", "", l.VelocityLoss.Mean, 2},
		{"speed lost with each rep", "", l.VelocityLoss.LossPerRep, 3},
	}
	return slices.DeleteFunc(all, func(r restsOn) bool { return !r.Known && r.Need == 0 })
}

// StopAt are the speeds at which to end a back-off set that are known, at whole
// RPE: what a card has room for.
func (v liftView) StopAt() []profile.StopAtRPE {
	var out []profile.StopAtRPE
	for _, s := range v.VelocityLoss.Stop {
		if s.Speed.Known && s.RPE == float64(int(s.RPE)) {
			out = append(out, s)
		}
	}
	return out
}

// PerRepPercent is the share of speed that each rep of a set costs, percent.
func (v liftView) PerRepPercent() float64 { return 100 * v.VelocityLoss.LossPerRep.Value }
