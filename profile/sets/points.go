package sets

import (
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
	Date   rep.Day
	LoadKg number.Number
	Speed  number.Number
	Role   string // of the set
	// ReadFrom is the unit that measured it where a correction reads it as
	// another; Error is what its speeds may be off together, see [ReadAs].
	ReadFrom string
	Error    float64
}

// Points returns the fastest rep of each load and day, by day, then load.
func Points(sets []Set) []DayPoint {
	return PointsWhere(make([]DayPoint, 0, len(sets)), sets, func(*Set) bool { return true })
}

// PointsWhere is [Points] of the sets that keep says, in the room of points that
// are no longer needed.
func PointsWhere(room []DayPoint, sets []Set, keep func(*Set) bool) []DayPoint {
	ps := room[:0]
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
	// Days come in order and hold a few loads: the insertion sort passes over
	// them once, and moves none of equal loads.
	for i := 1; i < len(ps); i++ {
		for j := i; j > 0 && (ps[j].Date < ps[j-1].Date || ps[j].Date == ps[j-1].Date && ps[j].LoadKg < ps[j-1].LoadKg); j-- {
			ps[j], ps[j-1] = ps[j-1], ps[j]
		}
	}
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

// ByLoad sorts points, which come by day and then by load, by load: loads that
// are the same to the plate together, and each load's by day, one a day, the
// fastest.
func ByLoad(ps []DayPoint) [][]DayPoint {
	var loads []number.Number
	for i := range ps {
		if k, known := slices.BinarySearch(loads, ps[i].LoadKg); !known {
			loads = slices.Insert(loads, k, ps[i].LoadKg)
		}
	}
	lightest := loads[:0] // of each group
	for _, kg := range loads {
		if n := len(lightest); n == 0 || kg-lightest[n-1] >= sameLoad {
			lightest = append(lightest, kg)
		}
	}
	groupOf := make([]int, len(ps))
	size := make([]int, len(lightest))
	for i := range ps {
		k, at := slices.BinarySearch(lightest, ps[i].LoadKg)
		if !at {
			k--
		}
		groupOf[i] = k
		size[k]++
	}
	out, room := make([][]DayPoint, len(lightest)), make([]DayPoint, len(ps))
	for k, n := range size {
		out[k], room = room[:0:n], room[n:]
	}
	for i, k := range groupOf {
		g := out[k]
		switch last := len(g) - 1; {
		case last < 0 || g[last].Date != ps[i].Date:
			out[k] = append(g, ps[i])
		case g[last].Speed < ps[i].Speed:
			g[last] = ps[i]
		}
	}
	return out
}

// Maximum is a declared maximum of a lift.
type Maximum struct {
	Day rep.Day
	Kg  float64
}
