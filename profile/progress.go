package profile

import (
	"cmp"
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
)

// SpeedTrend is the speed of one load over time: the fastest rep of each day.
type SpeedTrend struct {
	LoadKg Number `json:"load_kg"`
	Span
	PerWeek Estimate   `json:"change_m_s_per_week"` // Theil-Sen
	P       Number     `json:"mann_kendall_p"`      // two-sided; null when not enough yet
	First   Number     `json:"first_m_s"`           // the trend line on the first day
	Last    Number     `json:"last_m_s"`            // and on the last
	Points  []DayPoint `json:"points"`
}

// E1RMTrend is the e1RM over time: Theil-Sen through one value a session.
type E1RMTrend struct {
	From    string   `json:"from"` // the source with most sessions
	PerWeek Estimate `json:"change_kg_per_week"`
	P       Number   `json:"mann_kendall_p"`
}

// PersonalBest is the fastest rep ever recorded at a load.
type PersonalBest struct {
	LoadKg Number  `json:"load_kg"`
	Speed  Number  `json:"speed_m_s"`
	Date   rep.Day `json:"date"`
	Latest bool    `json:"latest"`     // done in the lift's latest session
	Before Number  `json:"before_m_s"` // the best until then; null for a first
}

const (
	// needTrend is what a 95 % interval of Theil and Sen needs.
	needTrend = 6
	// mostTrends is how many loads are followed: those of most days.
	mostTrends = 8
	// sameLoad is how far apart two loads may be and still be one, kg: less
	// than the smallest plates, more than the rounding of pounds.
	sameLoad = 0.3
	// lightest is the least load, as a share of the heaviest, whose personal
	// bests are told.
	lightest = 0.6

	daysAtLoad = "days at this load"
)

// byLoad sorts points by load, loads that are the same to the plate together,
// and each load's by day: one a day, the fastest.
func byLoad(ps []DayPoint) [][]DayPoint {
	s := slices.Clone(ps)
	slices.SortStableFunc(s, func(a, b DayPoint) int { return cmp.Or(cmp.Compare(a.LoadKg, b.LoadKg), cmp.Compare(a.Date, b.Date)) })
	var out [][]DayPoint
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && float64(s[j].LoadKg-s[i].LoadKg) < sameLoad {
			j++
		}
		g := s[i:j:j]
		slices.SortStableFunc(g, func(a, b DayPoint) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(b.Speed, a.Speed)) })
		out = append(out, slices.CompactFunc(g, func(a, b DayPoint) bool { return a.Date == b.Date }))
		i = j
	}
	return out
}

// progress follows the loads done on most days.
func progress(ps []DayPoint) []SpeedTrend {
	loads := byLoad(ps)
	slices.SortStableFunc(loads, func(a, b []DayPoint) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(b[0].LoadKg, a[0].LoadKg))
	})
	out := []SpeedTrend{}
	for i, g := range loads {
		// Loads with too few days only where there is nothing better.
		if i == mostTrends || len(g) < needTrend && i > 0 {
			break
		}
		out = append(out, speedTrend(g))
	}
	slices.SortStableFunc(out, func(a, b SpeedTrend) int { return cmp.Compare(a.LoadKg, b.LoadKg) })
	return out
}

func speedTrend(g []DayPoint) SpeedTrend {
	t := SpeedTrend{LoadKg: g[0].LoadKg, Span: pointSpan(g), Points: g, P: unsaid, First: unsaid, Last: unsaid}
	x, y := make([]float64, len(g)), make([]float64, len(g))
	for i, p := range g {
		x[i], y[i] = weeks(g[0].Date, p.Date), float64(p.Speed)
	}
	tr, err := robust.TheilSen(x, y, Level)
	if err != nil {
		t.PerWeek = notYet(max(needTrend, len(g)+1), len(g), daysAtLoad)
		return t
	}
	t.PerWeek, t.P = known(tr.Slope, tr.Lo, tr.Hi, len(g), daysAtLoad), Number(tr.P)
	t.First, t.Last = Number(tr.Intercept), Number(tr.Intercept+tr.Slope*x[len(x)-1])
	return t
}

// e1RMTrend follows the source of dated 1RM claims that has most sessions. The
// line's days are left out: they share one line.
func e1RMTrend(history []E1RM) E1RMTrend {
	const of = "sessions with a top single or a set of up to ten"
	n := map[string]int{}
	best := FromSingle
	for _, h := range history {
		if h.From == FromLine {
			continue
		}
		n[h.From]++
	}
	for _, from := range []string{FromRepSet, FromDeclared} {
		if n[from] > n[best] {
			best = from
		}
	}
	t := E1RMTrend{From: best, P: unsaid}
	var x, y []float64
	var first rep.Day
	for _, h := range history {
		if h.From != best {
			continue
		}
		if len(x) == 0 {
			first = h.Date
		}
		x, y = append(x, weeks(first, h.Date)), append(y, h.Kg.Value)
	}
	tr, err := robust.TheilSen(x, y, Level)
	if err != nil {
		t.PerWeek = notYet(max(needTrend, len(x)+1), len(x), of)
		return t
	}
	t.PerWeek, t.P = known(tr.Slope, tr.Lo, tr.Hi, len(x), of), Number(tr.P)
	return t
}

// personalBests returns the fastest rep of each load of 60 % of the heaviest
// or more.
func personalBests(ps []DayPoint, latest rep.Day) []PersonalBest {
	out := []PersonalBest{}
	loads := byLoad(ps)
	if len(loads) == 0 {
		return out
	}
	heaviest := float64(loads[len(loads)-1][0].LoadKg)
	for _, g := range loads {
		if float64(g[0].LoadKg) < lightest*heaviest {
			continue
		}
		b := PersonalBest{LoadKg: g[0].LoadKg, Speed: unsaid, Before: unsaid}
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
