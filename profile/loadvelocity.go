package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"repsift/clean/robust"
	"repsift/ingest/rep"
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

const (
	// driftPriorSD is what a lifter's speed at a middling load changes in a
	// week, m/s, before any data: a 1RM that grows by half a percent a week
	// moves the line by about that. Common practice, no source. The change
	// grows with the load and is nothing at no load: a stronger lifter moves
	// the line round, not up.
	driftPriorSD = 0.005

	needPoints = 8 // loads × days
	needDays   = 3
	// needSpan is how far apart the loads must lie, heaviest over lightest.
	needSpan = 1.2

	loadsAndDays = "loads × days"
)

// loadVelocity is the line of one group, and what is asked of it.
type loadVelocity struct {
	points []DayPoint
	spanOf Span
	end    rep.Day
	centre float64 // kg; columns count loads from here
	data   mixed.Data
	fit    *mixed.Fit
	tested bool // enough points for the test of uneven scatter
	uneven float64

	daySD, scatter float64 // REML
	v1, v1SD       float64 // velocity at 1RM
	v1From         string
	v1N            int
	v1OK           bool
}

// dayPoints returns the fastest rep of each load and day, by day, then load.
func dayPoints(sets []set) []DayPoint {
	var ps []DayPoint
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

// newLoadVelocity fits the line to the sets of one group.
func newLoadVelocity(sets []set) *loadVelocity {
	l := &loadVelocity{}
	if len(sets) == 0 {
		return l
	}
	l.end = sets[len(sets)-1].day
	l.points = dayPoints(since(sets, l.end, nowDays))
	if few, _ := l.few(); few {
		// A lifter who trains rarely: rather old days than none.
		l.points = dayPoints(sets)
	}
	var one, load, week []float64
	for _, p := range l.points {
		l.spanOf.add(p.Date)
		l.centre += float64(p.LoadKg) / float64(len(l.points))
	}
	days := Span{}
	for _, p := range l.points {
		days.add(p.Date)
		one = append(one, 1)
		load = append(load, float64(p.LoadKg)-l.centre)
		week = append(week, weeks(l.end, p.Date)*float64(p.LoadKg)/l.centre)
		l.data.Y = append(l.data.Y, float64(p.Speed))
		l.data.Day = append(l.data.Day, days.Days-1)
	}
	l.data.PriorDF, l.data.PriorSD = 1, scatterPrior
	l.data.Columns = []mixed.Column{{X: one}, {X: load}, {X: week, SD: driftPriorSD}}
	if few, _ := l.few(); few {
		return l
	}
	l.weigh()
	if f, err := mixed.New(l.data); err == nil {
		l.fit = f
		l.daySD, l.scatter, _ = mixed.REML(l.data)
	}
	return l
}

// few reports whether there is too little for a line, and what is lacking.
func (l *loadVelocity) few() (bool, Estimate) {
	var s Span
	lo, hi := math.Inf(1), 0.0
	for _, p := range l.points {
		s.add(p.Date)
		lo, hi = math.Min(lo, float64(p.LoadKg)), math.Max(hi, float64(p.LoadKg))
	}
	switch {
	case s.Days < needDays:
		return true, notYet(needDays, s.Days, "days with speeds at several loads")
	case len(l.points) < needPoints:
		return true, notYet(needPoints, len(l.points), loadsAndDays)
	case hi < needSpan*lo:
		return true, notYet(2, 1, "loads a fifth apart")
	}
	return false, Estimate{}
}

// weigh tests whether fast reps scatter more than slow ones and, where they
// seem to, lets each count in proportion to 1/speed², as published errors in
// percent are much alike over loads (Orange et al. 2020, J Strength Cond Res
// 34:728, squat: 3.9 to 7.9 % from 40 to 90 % of 1RM). The test is Koenker's
// (1981, J Econometrics 17:107–112) studentised form of Breusch and Pagan's:
// n·R² of squared residuals on fitted speed against χ² with 1 degree of
// freedom. Residuals are taken within days.
func (l *loadVelocity) weigh() {
	x, y := within(l.data.Columns[1].X, l.data.Day), within(l.data.Y, l.data.Day)
	line, err := robust.LeastSquares(x, y, nil)
	if err != nil || len(x) < 30 {
		return
	}
	sq, fitted := make([]float64, len(x)), make([]float64, len(x))
	mean := 0.0
	for _, v := range l.data.Y {
		mean += v / float64(len(x))
	}
	for i := range x {
		r := y[i] - line.At(x[i])
		sq[i] = r * r
		fitted[i] = mean + line.Slope*l.data.Columns[1].X[i]
	}
	aux, err := robust.LeastSquares(fitted, sq, nil)
	if err != nil {
		return
	}
	l.tested = true
	l.uneven = distuv.ChiSquared{K: 1}.Survival(float64(len(x)) * aux.R2)
	if l.uneven > 0.05 || aux.Slope < 0 {
		return
	}
	l.data.Weight = make([]float64, len(x))
	for i, f := range fitted {
		l.data.Weight[i] = 1 / math.Pow(math.Max(f, 0.15), 2)
	}
	// Weight 1 is the scatter at the middle of the loads.
	mid := math.Pow(math.Max(mean, 0.15), 2)
	for i := range l.data.Weight {
		l.data.Weight[i] *= mid
	}
}

// within takes the mean of its day off each value.
func within(x []float64, day []int) []float64 {
	sum, n := make([]float64, len(x)), make([]float64, len(x))
	for i, d := range day {
		sum[d] += x[i]
		n[d]++
	}
	out := make([]float64, len(x))
	for i, d := range day {
		out[i] = x[i] - sum[d]/n[d]
	}
	return out
}

// columns returns the column values at a load, on the latest day.
func (l *loadVelocity) columns(kg float64) []float64 { return []float64{1, kg - l.centre, 0} }

// columnsOn is columns on another day.
func (l *loadVelocity) columnsOn(kg float64, day rep.Day) []float64 {
	return []float64{1, kg - l.centre, weeks(l.end, day) * kg / l.centre}
}

// at returns the distribution of the speed at a load, within what the scatter
// at that speed is.
func (l *loadVelocity) at(kg float64, scope mixed.Scope) mixed.Mixture {
	c := l.columns(kg)
	if l.data.Weight == nil || scope == mixed.OfLine || scope == mixed.OfDay {
		return l.fit.At(c, scope)
	}
	mid := l.fit.At(l.columns(l.centre), mixed.OfLine).Mean()
	here := l.fit.At(c, mixed.OfLine).Mean()
	ratio := math.Max(here, 0.15) / math.Max(mid, 0.15)
	return l.fit.AtWeight(c, scope, 1/(ratio*ratio))
}

// crossing returns the load at which the line on the latest day meets a speed.
func (l *loadVelocity) crossing(speed, sd, level float64) (v, lo, hi float64, ok bool) {
	heaviest := 0.0
	for _, p := range l.points {
		heaviest = math.Max(heaviest, float64(p.LoadKg))
	}
	return l.fit.Crossing([]float64{1, -l.centre, 0}, []float64{0, 1, 0}, speed, sd, 0, 4*heaviest, level, mixed.OfLine)
}

// profile says what the line says; the table is added when the e1RM is known.
func (l *loadVelocity) profile() LoadVelocity {
	p := LoadVelocity{Points: len(l.points), Span: l.spanOf, At: l.points, DaySD: unsaid, DaySDLo: unsaid, DaySDHi: unsaid,
		Scatter: unsaid, DriftAt: unsaid, Uneven: unsaid, V1RMFrom: l.v1From, Table: []PercentRow{}, Curve: []CurvePoint{}, Cautions: []string{}}
	if p.At == nil {
		p.At = []DayPoint{}
	}
	p.V1RM = l.v1RM()
	if l.fit == nil {
		_, lack := l.few()
		p.Intercept, p.Slope, p.Drift, p.Curvature = lack, lack, lack, lack
		return p
	}
	n := len(l.points)
	// At no load and on the latest day; the columns count from the centre.
	v, lo, hi := l.fit.At(l.columns(0), mixed.OfLine).Interval(Level)
	p.Intercept = known(v, lo, hi, n, loadsAndDays)
	v, lo, hi = l.fit.Coefficient(1).Interval(Level)
	p.Slope = known(v, lo, hi, n, loadsAndDays)
	v, lo, hi = l.fit.Coefficient(2).Interval(Level)
	p.Drift, p.DriftAt = known(v, lo, hi, n, loadsAndDays), Number(l.centre)
	p.DaySD, p.Scatter = Number(l.daySD), Number(l.scatter)
	_, lo, hi = l.fit.DaySD(Level)
	p.DaySDLo, p.DaySDHi = Number(lo), Number(hi)
	if l.tested {
		p.Uneven, p.Weighted = Number(l.uneven), l.data.Weight != nil
	}
	p.Curve = l.curve()
	p.Curvature, p.Curved = l.curvature()
	p.Cautions = l.cautions(p)
	return p
}

// curve draws the line at thirteen loads from the lightest to the heaviest.
func (l *loadVelocity) curve() []CurvePoint {
	lo, hi := l.loads()
	const steps = 12
	out := make([]CurvePoint, 0, steps+1)
	for i := range steps + 1 {
		kg := lo + (hi-lo)*float64(i)/steps
		v, mlo, mhi := l.at(kg, mixed.OfLine).Interval(Level)
		_, nlo, nhi := l.at(kg, mixed.OfValue).Interval(Level)
		out = append(out, CurvePoint{Number(kg), Number(v), Number(mlo), Number(mhi), Number(nlo), Number(nhi)})
	}
	return out
}

func (l *loadVelocity) loads() (lo, hi float64) {
	lo, hi = math.Inf(1), 0
	for _, p := range l.points {
		lo, hi = math.Min(lo, float64(p.LoadKg)), math.Max(hi, float64(p.LoadKg))
	}
	return lo, hi
}

// curvature returns the quadratic term of a bent line through the same points.
func (l *loadVelocity) curvature() (Estimate, bool) {
	const need = 20
	n := len(l.points)
	if n < need {
		return notYet(need, n, loadsAndDays), false
	}
	d := l.data
	sq := make([]float64, n)
	for i, x := range d.Columns[1].X {
		sq[i] = x * x
	}
	d.Columns = append(slices.Clone(d.Columns), mixed.Column{X: sq})
	f, err := mixed.New(d)
	if err != nil {
		return notYet(3, 2, "different loads"), false
	}
	v, lo, hi := f.Coefficient(3).Interval(Level)
	return known(v, lo, hi, n, loadsAndDays), lo > 0 || hi < 0
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
	if l.v1OK {
		if _, hi := l.loads(); l.fit.At(l.columns(hi), mixed.OfLine).Mean() > l.v1+0.2 {
			out = append(out, fmt.Sprintf("The heaviest load, %g kg, is far from a maximum: what lies above it is an extension of the line.", hi))
		}
	}
	if p.Drift.Lo > 0 {
		out = append(out, "The same loads became faster over these weeks; the line is that of the latest day.")
	} else if p.Drift.Hi < 0 {
		out = append(out, "The same loads became slower over these weeks; the line is that of the latest day.")
	}
	return out
}

// table fills the %1RM table.
func (l *loadVelocity) table(e1rm Estimate) []PercentRow {
	rows := []PercentRow{}
	if !e1rm.Known {
		return rows
	}
	lo, hi := 0.0, math.Inf(1)
	if l.fit != nil {
		lo, hi = l.loads()
	}
	for pct := 100; pct >= 50; pct -= 5 {
		share := float64(pct) / 100
		kg := share * e1rm.Value
		r := PercentRow{Percent: pct, LoadKg: Number(kg), LoadLo: Number(share * e1rm.Lo), LoadHi: Number(share * e1rm.Hi),
			Fastest: unsaid, Lo: unsaid, Hi: unsaid, Outside: kg < lo || kg > hi}
		if l.fit != nil {
			v, nlo, nhi := l.at(kg, mixed.OfValue).Interval(Level)
			r.Fastest, r.Lo, r.Hi = Number(math.Max(v, 0)), Number(math.Max(nlo, 0)), Number(math.Max(nhi, 0))
		}
		rows = append(rows, r)
	}
	return rows
}
