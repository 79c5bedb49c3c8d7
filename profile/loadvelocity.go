package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/loadline"
	"repsift/profile/mixed"
)

// LoadVelocity is the load-velocity profile: the fastest rep of each load and
// day, warm-ups included, as a straight line on the latest day of the lift.
type LoadVelocity struct {
	Points int `json:"points_n"` // loads × days in the line
	Span
	Intercept Estimate `json:"intercept_m_s"`      // speed at no load
	Slope     Estimate `json:"slope_m_s_per_kg"`   // within days
	DaySD     Number   `json:"day_sd_m_s"`         // how much whole days differ (REML)
	DaySDLo   Number   `json:"day_sd_lo_m_s"`      // its 95 % interval
	DaySDHi   Number   `json:"day_sd_hi_m_s"`      //
	Scatter   Number   `json:"scatter_m_s"`        // within a day (REML)
	Drift     Estimate `json:"drift_m_s_per_week"` // at the mean of the loads, DriftAt
	DriftAt   Number   `json:"drift_at_kg"`
	V1RM      Estimate `json:"velocity_at_1rm_m_s"` // see V1RMFrom
	V1RMFrom  string   `json:"velocity_at_1rm_from"`

	Table []PercentRow `json:"table"` // %1RM 100, 95 … 50
	Curve []CurvePoint `json:"curve"` // the line and its bands, lightest load first, for charts
	At    []DayPoint   `json:"points"`

	Curvature Estimate `json:"curvature"`        // quadratic term, m/s per kg²
	Curved    bool     `json:"curved"`           // the interval of Curvature excludes 0: say so
	Uneven    Number   `json:"uneven_scatter_p"` // probability by chance of a scatter so uneven over loads (Koenker's studentised Breusch-Pagan test)
	Weighted  bool     `json:"weighted"`         // fast reps count less, since they scatter more
	Cautions  []string `json:"cautions"`
}

// PercentRow is a line of the %1RM table.
type PercentRow struct {
	Percent int    `json:"percent_1rm"`
	LoadKg  Number `json:"load_kg"`
	LoadLo  Number `json:"load_lo_kg"`
	LoadHi  Number `json:"load_hi_kg"`
	Fastest Number `json:"fastest_m_s"` // of the fastest rep at LoadKg
	Lo      Number `json:"lo_m_s"`      // range of 95 of 100 days
	Hi      Number `json:"hi_m_s"`
	Outside bool   `json:"outside_data"` // the load is lighter or heavier than any measured
}

// CurvePoint is the line at a load.
type CurvePoint struct {
	LoadKg Number `json:"load_kg"`
	Speed  Number `json:"speed_m_s"`
	MeanLo Number `json:"mean_lo_m_s"` // where the line may lie
	MeanHi Number `json:"mean_hi_m_s"`
	NextLo Number `json:"next_lo_m_s"` // where the next day's fastest rep may lie
	NextHi Number `json:"next_hi_m_s"`
}

// DayPoint is the fastest rep of a load on a day.
type DayPoint struct {
	Date   rep.Day `json:"date"`
	LoadKg Number  `json:"load_kg"`
	Speed  Number  `json:"speed_m_s"`
	Role   string  `json:"set_role"`
}

const loadsAndDays = "loads × days"

// loadVelocity is the line of one group and the velocity at 1RM read on it.
type loadVelocity struct {
	points []DayPoint
	span   Span
	end    rep.Day        // the latest day: what "now" means
	line   *loadline.Line // nil: not enough yet
	v1     velocityAt1RM
}

// dayPoints returns the fastest rep of each load and day, by day, then load.
func dayPoints(sets []set) []DayPoint {
	ps := []DayPoint{}
	for i := range sets {
		s := &sets[i]
		if len(s.speeds) == 0 || !(s.load > 0) {
			continue
		}
		k := -1
		for j := len(ps) - 1; j >= 0 && ps[j].Date == s.day; j-- {
			if float64(ps[j].LoadKg) == s.load {
				k = j
				break
			}
		}
		if k < 0 {
			ps = append(ps, DayPoint{Date: s.day, LoadKg: Number(s.load), Speed: Number(s.fastest), Role: s.role.String()})
		} else if float64(ps[k].Speed) < s.fastest {
			ps[k].Speed = Number(s.fastest)
		}
	}
	slices.SortStableFunc(ps, func(a, b DayPoint) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.LoadKg, b.LoadKg)) })
	return ps
}

// pointSpan returns the days of points.
func pointSpan(ps []DayPoint) Span {
	var s Span
	for _, p := range ps {
		s.add(p.Date)
	}
	return s
}

// forLine puts points into the form a line is fitted to, weeks counted back
// from end.
func forLine(ps []DayPoint, end rep.Day) loadline.Points {
	var out loadline.Points
	var s Span
	for _, p := range ps {
		s.add(p.Date)
		out.Load = append(out.Load, float64(p.LoadKg))
		out.Speed = append(out.Speed, float64(p.Speed))
		out.Day = append(out.Day, s.Days-1)
		out.WeeksAgo = append(out.WeeksAgo, weeks(end, p.Date))
	}
	return out
}

// newLoadVelocity fits the line to the sets of one group: those of the last
// twelve weeks or, where they are too few, all.
func newLoadVelocity(sets []set) *loadVelocity {
	l := &loadVelocity{points: []DayPoint{}}
	if len(sets) == 0 {
		return l
	}
	l.end = sets[len(sets)-1].day
	l.points = dayPoints(since(sets, l.end, nowDays))
	line, err := loadline.New(forLine(l.points, l.end))
	if err != nil {
		l.points = dayPoints(sets)
		line, err = loadline.New(forLine(l.points, l.end))
	}
	if err == nil {
		l.line = line
	}
	l.span = pointSpan(l.points)
	return l
}

// lack says what a line still needs.
func (l *loadVelocity) lack() Estimate {
	if l.span.Days < loadline.NeedDays {
		return notYet(loadline.NeedDays, l.span.Days, "days with speeds at several loads")
	}
	if len(l.points) < loadline.NeedPoints {
		return notYet(loadline.NeedPoints, len(l.points), loadsAndDays)
	}
	return notYet(2, 1, "loads a fifth apart")
}

func (l *loadVelocity) estimate(m mixed.Mixture) Estimate {
	v, lo, hi := m.Interval(Level)
	return known(v, lo, hi, len(l.points), loadsAndDays)
}

// profile says what the line says; the table needs the e1RM.
func (l *loadVelocity) profile(e1rm Estimate) LoadVelocity {
	p := LoadVelocity{Points: len(l.points), Span: l.span, At: l.points, DaySD: unsaid, DaySDLo: unsaid, DaySDHi: unsaid,
		Scatter: unsaid, DriftAt: unsaid, Uneven: unsaid, V1RM: l.v1.estimate(), V1RMFrom: l.v1.from,
		Table: l.table(e1rm), Curve: []CurvePoint{}, Cautions: []string{}}
	if l.line == nil {
		lack := l.lack()
		p.Intercept, p.Slope, p.Drift, p.Curvature = lack, lack, lack, lack
		return p
	}
	p.Intercept, p.Slope = l.estimate(l.line.Mean(0)), l.estimate(l.line.Slope())
	p.Drift, p.DriftAt = l.estimate(l.line.Turn()), Number(l.line.Centre)
	p.DaySD, p.Scatter = Number(l.line.DaySD), Number(l.line.Scatter)
	lo, hi := l.line.DaySDRange(Level)
	p.DaySDLo, p.DaySDHi = Number(lo), Number(hi)
	p.Uneven, p.Weighted = Number(l.line.Uneven), l.line.Weighted
	p.Curvature = notYet(max(loadline.NeedCurve, len(l.points)+1), len(l.points), loadsAndDays)
	if m, err := l.line.Curvature(); err == nil {
		p.Curvature = l.estimate(m)
		p.Curved = p.Curvature.Lo > 0 || p.Curvature.Hi < 0
	}
	p.Curve = l.curve()
	p.Cautions = l.cautions(p)
	return p
}

// curve draws the line at thirteen loads from the lightest to the heaviest.
func (l *loadVelocity) curve() []CurvePoint {
	const steps = 12
	out := make([]CurvePoint, 0, steps+1)
	for i := range steps + 1 {
		kg := l.line.Lo + (l.line.Hi-l.line.Lo)*float64(i)/steps
		v, mlo, mhi := l.line.Mean(kg).Interval(Level)
		_, nlo, nhi := l.line.Next(kg).Interval(Level)
		out = append(out, CurvePoint{Number(kg), Number(v), Number(mlo), Number(mhi), Number(nlo), Number(nhi)})
	}
	return out
}

// table fills the %1RM table. Loads go with the e1RM, speeds with the line.
func (l *loadVelocity) table(e1rm Estimate) []PercentRow {
	rows := []PercentRow{}
	if !e1rm.Known {
		return rows
	}
	for pct := 100; pct >= 50; pct -= 5 {
		share := float64(pct) / 100
		kg := share * e1rm.Value
		r := PercentRow{Percent: pct, LoadKg: Number(kg), LoadLo: Number(share * e1rm.Lo), LoadHi: Number(share * e1rm.Hi),
			Fastest: unsaid, Lo: unsaid, Hi: unsaid}
		if l.line != nil {
			v, lo, hi := l.line.Next(kg).Interval(Level)
			r.Fastest, r.Lo, r.Hi = Number(math.Max(v, 0)), Number(math.Max(lo, 0)), Number(math.Max(hi, 0))
			r.Outside = kg < l.line.Lo || kg > l.line.Hi
		}
		rows = append(rows, r)
	}
	return rows
}

func (l *loadVelocity) cautions(p LoadVelocity) []string {
	out := []string{}
	if p.Slope.Hi >= 0 {
		out = append(out, "The speeds hardly fall with load: loads or speeds may be mixed up.")
	}
	if p.Curved {
		out = append(out, "The points bend: read the straight line only between the loads measured.")
	}
	if p.Weighted {
		out = append(out, "Light, fast reps scatter more than heavy ones and count less.")
	}
	if l.v1.known && l.line.Mean(l.line.Hi).Mean() > l.v1.mean+0.2 {
		out = append(out, fmt.Sprintf("The heaviest load, %s, is far from a maximum: what lies above it is an extension of the line.", kilos(l.line.Hi)))
	}
	if p.Drift.Lo > 0 {
		out = append(out, "The same loads became faster over these weeks; the line is that of the latest day.")
	} else if p.Drift.Hi < 0 {
		out = append(out, "The same loads became slower over these weeks; the line is that of the latest day.")
	}
	return out
}
