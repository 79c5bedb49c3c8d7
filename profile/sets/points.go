package sets

import (
	"cmp"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/number"
)

// Span is the days numbers rest on.
type Span struct {
	From rep.Day `json:"from"` // first day
	To   rep.Day `json:"to"`   // last day
	Days int     `json:"days"` // days with data in between
}

// Add counts a day; days come in order.
func (s *Span) Add(d rep.Day) {
	if s.Days == 0 {
		s.From = d
	}
	if s.Days == 0 || d != s.To {
		s.Days++
	}
	s.To = d
}

// SpanOf returns the days of sets; sets are in the order of days.
func SpanOf(sets []Set) Span {
	var s Span
	for i := range sets {
		s.Add(sets[i].Day)
	}
	return s
}

// DayPoint is the fastest rep of a load on a day.
type DayPoint struct {
	Date   rep.Day       `json:"date"`
	LoadKg number.Number `json:"load_kg"`
	Speed  number.Number `json:"speed_m_s"`
	Role   string        `json:"set_role"`
	// ReadFrom is the unit that measured it where a correction reads it as
	// another; Error is what its speeds may be off together, see [ReadAs].
	ReadFrom string  `json:"read_from,omitempty"`
	Error    float64 `json:"-"`
}

// Points returns the fastest rep of each load and day, by day, then load.
func Points(sets []Set) []DayPoint { return PointsWhere(sets, func(*Set) bool { return true }) }

// PointsWhere is [Points] of the sets that keep says.
func PointsWhere(sets []Set, keep func(*Set) bool) []DayPoint {
	n := 0
	for i := range sets {
		if keep(&sets[i]) {
			n++
		}
	}
	ps := make([]DayPoint, 0, n)
	for i := range sets {
		s := &sets[i]
		if len(s.Speeds) == 0 || !(s.Load > 0) || !keep(s) {
			continue
		}
		k := -1
		for j := len(ps) - 1; j >= 0 && ps[j].Date == s.Day; j-- {
			if float64(ps[j].LoadKg) == s.Load {
				k = j
				break
			}
		}
		if k < 0 {
			ps = append(ps, DayPoint{Date: s.Day, LoadKg: number.Number(s.Load), Speed: number.Number(s.Fastest), Role: s.Role.String(),
				ReadFrom: s.ReadAs.Device, Error: s.ReadAs.Error})
		} else if float64(ps[k].Speed) < s.Fastest {
			ps[k].Speed = number.Number(s.Fastest)
			ps[k].ReadFrom, ps[k].Error = s.ReadAs.Device, s.ReadAs.Error
		}
	}
	slices.SortStableFunc(ps, func(a, b DayPoint) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.LoadKg, b.LoadKg)) })
	return ps
}

// PointSpan returns the days of points.
func PointSpan(ps []DayPoint) Span {
	var s Span
	for _, p := range ps {
		s.Add(p.Date)
	}
	return s
}

// sameLoad is how far apart two loads may be and still be one, kg: less than
// the smallest plates, more than the rounding of pounds.
const sameLoad = 0.3

// SameLoad reports whether two loads are one.
func SameLoad(a, b number.Number) bool { return a-b < sameLoad && b-a < sameLoad }

// ByLoad sorts points by load, loads that are the same to the plate together,
// and each load's by day: one a day, the fastest.
func ByLoad(ps []DayPoint) [][]DayPoint {
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

// Maximum is a declared maximum of a lift.
type Maximum struct {
	Day rep.Day
	Kg  float64
}
