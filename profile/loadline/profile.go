package loadline

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/mixed"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Profile is the load-velocity profile: the fastest rep of each load and
// day, warm-ups included, as a straight line on the latest day of the lift.
type Profile struct {
	Points int `json:"points_n"` // loads × days in the line
	sets.Span
	Intercept number.Estimate `json:"intercept_m_s"`      // speed at no load
	Slope     number.Estimate `json:"slope_m_s_per_kg"`   // within days
	DaySD     number.Number   `json:"day_sd_m_s"`         // how much whole days differ (REML)
	DaySDLo   number.Number   `json:"day_sd_lo_m_s"`      // its 95 % interval
	DaySDHi   number.Number   `json:"day_sd_hi_m_s"`      //
	Scatter   number.Number   `json:"scatter_m_s"`        // within a day (REML)
	Drift     number.Estimate `json:"drift_m_s_per_week"` // at the mean of the loads, DriftAt
	DriftAt   number.Number   `json:"drift_at_kg"`
	V1RM      number.Estimate `json:"velocity_at_1rm_m_s"` // see V1RMFrom
	V1RMFrom  string          `json:"velocity_at_1rm_from"`

	Table []PercentRow    `json:"table"` // %1RM 100, 95 … 50
	Curve []CurvePoint    `json:"curve"` // the line and its bands, lightest load first, for charts
	At    []sets.DayPoint `json:"-"`     // in the lift's points, from the first day on

	Curvature number.Estimate `json:"curvature"`        // quadratic term, m/s per kg²
	Curved    bool            `json:"curved"`           // the interval of Curvature excludes 0: say so
	Uneven    number.Number   `json:"uneven_scatter_p"` // probability by chance of a scatter so uneven over loads (Koenker's studentised Breusch-Pagan test)
	Weighted  bool            `json:"weighted"`         // fast reps count less, since they scatter more
	Cautions  []string        `json:"cautions"`
}

// PercentRow is a line of the %1RM table.
type PercentRow struct {
	Percent int           `json:"percent_1rm"`
	LoadKg  number.Number `json:"load_kg"`
	LoadLo  number.Number `json:"load_lo_kg"`
	LoadHi  number.Number `json:"load_hi_kg"`
	Fastest number.Number `json:"fastest_m_s"` // of the fastest rep at LoadKg
	Lo      number.Number `json:"lo_m_s"`      // range of 95 of 100 days
	Hi      number.Number `json:"hi_m_s"`
	Outside bool          `json:"outside_data"` // the load is lighter or heavier than any measured
}

// CurvePoint is the line at a load.
type CurvePoint struct {
	LoadKg number.Number `json:"load_kg"`
	Speed  number.Number `json:"speed_m_s"`
	MeanLo number.Number `json:"mean_lo_m_s"` // where the line may lie
	MeanHi number.Number `json:"mean_hi_m_s"`
	NextLo number.Number `json:"next_lo_m_s"` // where the next day's fastest rep may lie
	NextHi number.Number `json:"next_hi_m_s"`
}

// LoadsAndDays is what a line counts.
const LoadsAndDays = "loads × days"

// Chart is the line of one group and the velocity at 1RM read on it.
type Chart struct {
	Points []sets.DayPoint
	Span   sets.Span
	End    rep.Day // the latest day: what "now" means
	Line   *Line   // nil: not enough yet
	V1     V1RM
}

// PointsOf puts points into the form a line is fitted to, weeks counted back
// from end.
func PointsOf(ps []sets.DayPoint, end rep.Day) Points {
	n := len(ps)
	room := make([]float64, 3*n)
	out := Points{Load: room[:0:n], Speed: room[n : n : 2*n], Day: make([]int, 0, n), WeeksAgo: room[2*n : 2*n]}
	var s sets.Span
	for _, p := range ps {
		s.Add(p.Date)
		out.Load = append(out.Load, float64(p.LoadKg))
		out.Speed = append(out.Speed, float64(p.Speed))
		out.Day = append(out.Day, s.Days-1)
		out.WeeksAgo = append(out.WeeksAgo, sets.Weeks(end, p.Date))
	}
	out.Shifts = ShiftsOf(ps)
	return out
}

// ShiftsOf returns the shifts of points.
func ShiftsOf(ps []sets.DayPoint) []mixed.Column {
	return mixed.Shifts(len(ps), func(i int) (string, float64) { return ps[i].ReadFrom, ps[i].Error })
}

// NewChart fits the line to the sets of one group, whose points are given: those
// of the last twelve weeks or, where they are too few, all.
func NewChart(own []sets.Set, points []sets.DayPoint) *Chart {
	l := &Chart{Points: []sets.DayPoint{}}
	if len(own) == 0 {
		return l
	}
	l.End = own[len(own)-1].Day
	first, _ := slices.BinarySearchFunc(points, l.End-sets.NowDays+1, func(p sets.DayPoint, d rep.Day) int { return cmp.Compare(p.Date, d) })
	l.Points = points[first:]
	line, err := New(PointsOf(l.Points, l.End))
	if err != nil && first > 0 {
		l.Points = points
		line, err = New(PointsOf(l.Points, l.End))
	}
	if err == nil {
		l.Line = line
	}
	l.Span = sets.PointSpan(l.Points)
	return l
}

// lack says what a line still needs.
func (l *Chart) lack() number.Estimate {
	if l.Span.Days < NeedDays {
		return number.NotYet(NeedDays, l.Span.Days, "days with speeds at several loads")
	}
	if len(l.Points) < NeedPoints {
		return number.NotYet(NeedPoints, len(l.Points), LoadsAndDays)
	}
	return number.NotYet(2, 1, "loads a fifth apart")
}

func (l *Chart) estimate(m mixed.Mixture) number.Estimate {
	v, lo, hi := m.Interval(number.Level)
	return number.Known(v, lo, hi, len(l.Points), LoadsAndDays)
}

// Profile says what the line says; the table needs the e1RM.
func (l *Chart) Profile(e1rm number.Estimate) Profile {
	next := l.nextBand(e1rm)
	p := Profile{Points: len(l.Points), Span: l.Span, At: l.Points, DaySD: number.Unsaid, DaySDLo: number.Unsaid, DaySDHi: number.Unsaid,
		Scatter: number.Unsaid, DriftAt: number.Unsaid, Uneven: number.Unsaid, V1RM: l.V1.estimate(), V1RMFrom: l.V1.From,
		Table: l.table(e1rm, next), Curve: []CurvePoint{}, Cautions: []string{}}
	if l.Line == nil {
		lack := l.lack()
		p.Intercept, p.Slope, p.Drift, p.Curvature = lack, lack, lack, lack
		return p
	}
	p.Intercept, p.Slope = l.estimate(l.Line.Mean(0)), l.estimate(l.Line.Slope())
	p.Drift, p.DriftAt = l.estimate(l.Line.Turn()), number.Number(l.Line.Centre)
	p.DaySD, p.Scatter = number.Number(l.Line.DaySD), number.Number(l.Line.Scatter)
	lo, hi := l.Line.DaySDRange(number.Level)
	p.DaySDLo, p.DaySDHi = number.Number(lo), number.Number(hi)
	p.Uneven, p.Weighted = number.Number(l.Line.Uneven), l.Line.Weighted
	p.Curvature = number.NotYet(max(NeedCurve, len(l.Points)+1), len(l.Points), LoadsAndDays)
	if m, err := l.Line.Curvature(); err == nil {
		p.Curvature = l.estimate(m)
		p.Curved = p.Curvature.Lo > 0 || p.Curvature.Hi < 0
	}
	p.Curve = l.curve(next)
	p.Cautions = l.cautions(p)
	return p
}

// leastPercent is the least share of the 1RM in the table.
const leastPercent = 50

// nextBand is where the next day's fastest rep lies, at all loads of curve and
// table; nil without a line.
func (l *Chart) nextBand(e1rm number.Estimate) *mixed.Band {
	if l.Line == nil {
		return nil
	}
	from, to := l.Line.Lo, l.Line.Hi
	if e1rm.Known {
		from, to = math.Min(from, leastPercent*e1rm.Value/100), math.Max(to, e1rm.Value)
	}
	return l.Line.NextBand(from, to, number.Level)
}

// curve draws the line at thirteen loads from the lightest to the heaviest.
func (l *Chart) curve(next *mixed.Band) []CurvePoint {
	const steps = 12
	mean := l.Line.MeanBand(l.Line.Lo, l.Line.Hi, number.Level)
	out := make([]CurvePoint, 0, steps+1)
	for i := range steps + 1 {
		kg := l.Line.Lo + (l.Line.Hi-l.Line.Lo)*float64(i)/steps
		v, mlo, mhi := mean.At(kg)
		_, nlo, nhi := next.At(kg)
		at := func(v float64) number.Number { return number.Number(math.Max(v, 0)) }
		out = append(out, CurvePoint{number.Number(kg), at(v), at(mlo), at(mhi), at(nlo), at(nhi)})
	}
	return out
}

// table fills the %1RM table. Loads go with the e1RM, speeds with the line.
func (l *Chart) table(e1rm number.Estimate, next *mixed.Band) []PercentRow {
	rows := []PercentRow{}
	if !e1rm.Known {
		return rows
	}
	for pct := 100; pct >= leastPercent; pct -= 5 {
		share := float64(pct) / 100
		kg := share * e1rm.Value
		r := PercentRow{Percent: pct, LoadKg: number.Number(kg), LoadLo: number.Number(share * e1rm.Lo), LoadHi: number.Number(share * e1rm.Hi),
			Fastest: number.Unsaid, Lo: number.Unsaid, Hi: number.Unsaid}
		if l.Line != nil {
			v, lo, hi := next.At(kg)
			r.Fastest, r.Lo, r.Hi = number.Number(math.Max(v, 0)), number.Number(math.Max(lo, 0)), number.Number(math.Max(hi, 0))
			r.Outside = kg < l.Line.Lo || kg > l.Line.Hi
		}
		rows = append(rows, r)
	}
	return rows
}

func (l *Chart) cautions(p Profile) []string {
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
	if heaviest, _ := l.Line.Height(l.Line.Hi); l.V1.Known && heaviest > l.V1.Mean+0.2 {
		out = append(out, fmt.Sprintf("The heaviest load, %s, is far from a maximum: what lies above it is an extension of the line.", number.Kilos(l.Line.Hi)))
	}
	if p.Drift.Lo > 0 {
		out = append(out, "The same loads became faster over these weeks; the line is that of the latest day.")
	} else if p.Drift.Hi < 0 {
		out = append(out, "The same loads became slower over these weeks; the line is that of the latest day.")
	}
	return out
}
