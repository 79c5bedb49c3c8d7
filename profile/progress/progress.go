// Package progress tells whether the same load moves faster than it did, where
// the e1RM goes, and which loads were never faster.
package progress

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/profile/e1rm"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Speed is the speed of one load over time: the fastest rep of each day.
type Speed struct {
	LoadKg number.Number `json:"load_kg"`
	sets.Span
	PerWeek number.Estimate `json:"change_m_s_per_week"` // Theil-Sen
	P       number.Number   `json:"mann_kendall_p"`      // two-sided; null when not enough yet
	First   number.Number   `json:"first_m_s"`           // the trend line on the first day
	Last    number.Number   `json:"last_m_s"`            // and on the last
	Points  []sets.DayPoint `json:"-"`                   // in the lift's points
}

// E1RM is the e1RM over time: Theil-Sen through one value a session.
type E1RM struct {
	From    string          `json:"from"` // the source with most sessions
	PerWeek number.Estimate `json:"change_kg_per_week"`
	P       number.Number   `json:"mann_kendall_p"`
}

// PersonalBest is the fastest rep ever recorded at a load.
type PersonalBest struct {
	LoadKg number.Number `json:"load_kg"`
	Speed  number.Number `json:"speed_m_s"`
	Date   rep.Day       `json:"date"`
	Latest bool          `json:"latest"`     // done in the lift's latest session
	Before number.Number `json:"before_m_s"` // the best until then; null for a first
}

const (
	// needTrend is what a 95 % interval of Theil and Sen needs.
	needTrend = 6
	// mostTrends is how many loads are followed: those of most days.
	mostTrends = 8
	// lightest is the least load, as a share of the heaviest, whose personal
	// bests are told.
	lightest = 0.6

	daysAtLoad = "days at this load"
)

// Speeds follows the loads done on most days; loads are as [sets.ByLoad] has
// them.
func Speeds(loads [][]sets.DayPoint) []Speed {
	loads = slices.Clone(loads)
	slices.SortStableFunc(loads, func(a, b []sets.DayPoint) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(b[0].LoadKg, a[0].LoadKg))
	})
	out := []Speed{}
	for i, g := range loads {
		// Loads with too few days only where there is nothing better.
		if i == mostTrends || len(g) < needTrend && i > 0 {
			break
		}
		out = append(out, speedTrend(g))
	}
	slices.SortStableFunc(out, func(a, b Speed) int { return cmp.Compare(a.LoadKg, b.LoadKg) })
	return out
}

func speedTrend(g []sets.DayPoint) Speed {
	t := Speed{LoadKg: g[0].LoadKg, Span: sets.PointSpan(g), Points: g, P: number.Unsaid, First: number.Unsaid, Last: number.Unsaid}
	x, y := make([]float64, len(g)), make([]float64, len(g))
	for i, p := range g {
		x[i], y[i] = sets.Weeks(g[0].Date, p.Date), float64(p.Speed)
	}
	tr, err := robust.TheilSen(x, y, number.Level)
	if err != nil {
		t.PerWeek = number.NotYet(max(needTrend, len(g)+1), len(g), daysAtLoad)
		return t
	}
	t.PerWeek, t.P = number.Known(tr.Slope, tr.Lo, tr.Hi, len(g), daysAtLoad), number.Number(tr.P)
	t.First, t.Last = number.Number(tr.Intercept), number.Number(tr.Intercept+tr.Slope*x[len(x)-1])
	return t
}

// OfE1RM follows the source of dated 1RM claims that has most sessions. The
// line's days are left out: they share one line.
func OfE1RM(history []e1rm.Entry) E1RM {
	const of = "sessions with a top single or a set of up to ten"
	n := map[string]int{}
	best := e1rm.FromSingle
	for _, h := range history {
		if h.From == e1rm.FromLine {
			continue
		}
		n[h.From]++
	}
	for _, from := range []string{e1rm.FromRepSet, e1rm.FromDeclared} {
		if n[from] > n[best] {
			best = from
		}
	}
	t := E1RM{From: best, P: number.Unsaid}
	var x, y []float64
	var first rep.Day
	for _, h := range history {
		if h.From != best {
			continue
		}
		if len(x) == 0 {
			first = h.Date
		}
		x, y = append(x, sets.Weeks(first, h.Date)), append(y, h.Kg.Value)
	}
	tr, err := robust.TheilSen(x, y, number.Level)
	if err != nil {
		t.PerWeek = number.NotYet(max(needTrend, len(x)+1), len(x), of)
		return t
	}
	t.PerWeek, t.P = number.Known(tr.Slope, tr.Lo, tr.Hi, len(x), of), number.Number(tr.P)
	return t
}

// PersonalBests returns the fastest rep of each load of 60 % of the heaviest
// or more; loads are as [sets.ByLoad] has them.
func PersonalBests(loads [][]sets.DayPoint, latest rep.Day) []PersonalBest {
	out := []PersonalBest{}
	if len(loads) == 0 {
		return out
	}
	heaviest := float64(loads[len(loads)-1][0].LoadKg)
	for _, g := range loads {
		if float64(g[0].LoadKg) < lightest*heaviest {
			continue
		}
		b := PersonalBest{LoadKg: g[0].LoadKg, Speed: number.Unsaid, Before: number.Unsaid}
		for _, p := range g {
			if math.IsNaN(float64(b.Speed)) || p.Speed > b.Speed {
				b.Before = b.Speed
				b.Speed, b.Date = p.Speed, p.Date
			}
		}
		b.Latest = b.Date == latest
		out = append(out, b)
	}
	return out
}
