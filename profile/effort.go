package profile

import (
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/profile/mixed"
)

// EffortChart is RPE against the speed of the slowest and of the last rep of a
// set.
type EffortChart struct {
	Levels []EffortLevel `json:"levels"` // called levels only, lowest first
	EffortLine
	LastRep EffortLine    `json:"last_rep"` // the same against the last rep done
	Points  []EffortPoint `json:"points"`   // by date and set
	// DriftPerWeek is how the speed at the same called RPE changed, m/s per
	// week: more than nothing means calls or strength changed their meaning.
	DriftPerWeek Estimate `json:"drift_m_s_per_week"`
	// CallBias is the RPE at which the line reaches the lifter's velocity at
	// 1RM, minus the RPE at which powerlifters call a 1RM (Helms 2017: 9.6 to
	// 9.7). Below 0: sets are harder than they are called.
	CallBias Estimate `json:"call_bias_rpe"`
	Cautions []string `json:"cautions"`
}

// EffortLevel is the average a coach would write down by hand: all sets called
// this RPE.
type EffortLevel struct {
	RPE     float64 `json:"rpe"`
	Sets    int     `json:"sets"`
	Slowest Number  `json:"slowest_m_s"` // mean
	SD      Number  `json:"sd_m_s"`      // sample SD; null for one set
	Last    Number  `json:"last_m_s"`
	LastSD  Number  `json:"last_sd_m_s"`
}

// EffortLine is speed over RPE as a straight line.
type EffortLine struct {
	Sets     int      `json:"sets"` // in the line: called RPE 5 or more
	Days     int      `json:"days"`
	AtRPE8   Estimate `json:"at_rpe8_m_s"` // mean speed of sets called 8
	PerRPE   Estimate `json:"per_rpe_m_s"` // change of speed per RPE point
	Scatter  Number   `json:"scatter_m_s"` // SD of a set of one day around its day's line
	DaySD    Number   `json:"day_sd_m_s"`  // SD of days around the line
	ByRPE    []AtRPE  `json:"by_rpe"`      // RPE 6, 6.5, … 10; empty when not enough yet
	BySpeed  []ToRPE  `json:"by_speed"`    // fastest first; empty when not enough yet
	PriorSay string   `json:"prior"`       // what was assumed about the slope
}

// AtRPE is the speed to expect of a set called RPE: the line and the interval
// that holds the next such set.
type AtRPE struct {
	RPE    float64  `json:"rpe"`
	Speed  Estimate `json:"speed_m_s"`   // lo, hi: the next set, on another day
	MeanLo Number   `json:"mean_lo_m_s"` // where the line itself may lie
	MeanHi Number   `json:"mean_hi_m_s"`
}

// ToRPE is the RPE the lifter would call a set of this speed.
type ToRPE struct {
	Speed Number   `json:"speed_m_s"`
	RPE   Estimate `json:"rpe"` // lo, hi: the next call; never above 10
}

// EffortPoint is one set of the chart.
type EffortPoint struct {
	Date    rep.Day `json:"date"`
	Set     int32   `json:"set"` // 0: a logged set without a number
	LoadKg  Number  `json:"load_kg"`
	Reps    int     `json:"reps"`
	RPE     float64 `json:"rpe"` // middle of a called range
	RPEHigh Number  `json:"rpe_high"`
	Slowest Number  `json:"slowest_m_s"`
	Last    Number  `json:"last_m_s"`
	InLine  bool    `json:"in_line"`
}

// What the effort line assumes before it sees a set. It matters for the first
// sets and fades as they come.
const (
	// slopePrior ± slopePriorSD is the change of speed per RPE point, m/s:
	// common practice, no source.
	slopePrior, slopePriorSD = -0.04, 0.03
	// atTenSD allows sets called 10 to leave the line: above 10 nothing can
	// be called, so some are harder than 10. m/s; common practice, no source.
	atTenSD = 0.02
	// scatterPrior is the scatter of sets around the line, m/s, worth
	// scatterPriorDF sets: published day-to-day errors of mean velocity at 60
	// to 90 % of 1RM are 0.03 to 0.08 (Grgic et al. 2020, Front Physiol
	// 11:561682) and 0.03 (Ruf et al. 2018, J Strength Cond Res 32:681).
	scatterPrior, scatterPriorDF = 0.035, 2
	// dayRatioPrior is how much days differ, over how much sets of one day
	// differ at the same RPE: half normal with this SD. A lifter meets an RPE
	// at whatever load the day allows, so days differ little here. Common
	// practice, no source.
	dayRatioPrior = 0.5

	// lowestCalled is the lowest RPE that counts reps in reserve; below it
	// the scale describes feeling only (Zourdos et al. 2016, J Strength Cond
	// Res 30:267).
	lowestCalled = 5

	needEffort = 4 // sets; what fewer give is the prior
	needDrift  = 12
)

const setsWithRPE = "sets with RPE and speed"

// effortChart draws the chart of sets of one group; v1RM may be unknown.
func effortChart(sets []set, lift string, v1RM Estimate) EffortChart {
	c := EffortChart{Levels: levels(sets), Points: []EffortPoint{}, Cautions: []string{}}
	for i := range sets {
		s := &sets[i]
		if math.IsNaN(s.rpe) || math.IsNaN(s.slowest) && math.IsNaN(s.last) {
			continue
		}
		c.Points = append(c.Points, EffortPoint{Date: s.day, Set: s.number, LoadKg: Number(s.load), Reps: s.reps,
			RPE: s.rpe, RPEHigh: Number(s.rpeHigh), Slowest: Number(s.slowest), Last: Number(s.last),
			InLine: s.rpe >= lowestCalled && !math.IsNaN(s.slowest)})
	}
	slowest := newEffortFit(sets, func(s *set) float64 { return s.slowest })
	c.EffortLine = slowest.line()
	c.LastRep = newEffortFit(sets, func(s *set) float64 { return s.last }).line()
	c.DriftPerWeek = slowest.drift()
	c.CallBias = slowest.callBias(lift, v1RM)
	c.Cautions = append(c.Cautions, slowest.cautions(c.DriftPerWeek)...)
	return c
}

// levels averages the sets of each called level; ranges are no level.
func levels(sets []set) []EffortLevel {
	slow, last := map[float64][]float64{}, map[float64][]float64{}
	var called []float64
	for i := range sets {
		s := &sets[i]
		if math.IsNaN(s.rpe) || !math.IsNaN(s.rpeHigh) || math.IsNaN(s.slowest) {
			continue
		}
		if slow[s.rpe] == nil {
			called = append(called, s.rpe)
		}
		slow[s.rpe] = append(slow[s.rpe], s.slowest)
		if !math.IsNaN(s.last) {
			last[s.rpe] = append(last[s.rpe], s.last)
		}
	}
	slices.Sort(called)
	out := []EffortLevel{}
	for _, r := range called {
		l := EffortLevel{RPE: r, Sets: len(slow[r])}
		l.Slowest, l.SD = meanSD(slow[r])
		l.Last, l.LastSD = meanSD(last[r])
		out = append(out, l)
	}
	return out
}

// meanSD returns mean and SD, unsaid where there are too few values.
func meanSD(x []float64) (mean, sd Number) {
	if len(x) == 0 {
		return unsaid, unsaid
	}
	m, s, ok := robust.MeanSD(x)
	if !ok {
		return Number(x[0]), unsaid
	}
	return Number(m), Number(s)
}

// effortFit is the line of one measure (slowest or last rep) over RPE.
type effortFit struct {
	rpe, speed []float64
	when       []rep.Day
	days       int
	data       mixed.Data
	tens       bool // a column for sets called 10
	fit        *mixed.Fit
}

func newEffortFit(sets []set, speed func(*set) float64) *effortFit {
	e := &effortFit{}
	var one, dr, ten []float64
	var sp Span
	for i := range sets {
		s := &sets[i]
		v := speed(s)
		if math.IsNaN(v) || !(s.rpe >= lowestCalled) {
			continue
		}
		sp.add(s.day)
		e.rpe, e.speed, e.when = append(e.rpe, s.rpe), append(e.speed, v), append(e.when, s.day)
		e.data.Day = append(e.data.Day, sp.Days-1)
		one, dr = append(one, 1), append(dr, s.rpe-8)
		ten = append(ten, 0)
		if s.rpe == 10 {
			ten[len(ten)-1] = 1
			e.tens = true
		}
	}
	e.days = sp.Days
	e.data.Y = e.speed
	e.data.PriorDF, e.data.PriorSD, e.data.DayRatio = scatterPriorDF, scatterPrior, dayRatioPrior
	e.data.Columns = []mixed.Column{{X: one}, {X: dr, Mean: slopePrior, SD: slopePriorSD}}
	if e.tens {
		e.data.Columns = append(e.data.Columns, mixed.Column{X: ten, SD: atTenSD})
	}
	if len(e.rpe) >= needEffort {
		// Four sets and a prior of the slope always settle a line.
		if f, err := mixed.New(e.data); err == nil {
			e.fit = f
		}
	}
	return e
}

// columns returns the column values at an RPE.
func (e *effortFit) columns(rpe float64) []float64 {
	c := make([]float64, len(e.data.Columns))
	c[0], c[1] = 1, rpe-8
	if e.tens && rpe >= 10 {
		c[2] = 1
	}
	return c
}

// line says what the fit says.
func (e *effortFit) line() EffortLine {
	l := EffortLine{Sets: len(e.rpe), Days: e.days, Scatter: unsaid, DaySD: unsaid, ByRPE: []AtRPE{}, BySpeed: []ToRPE{},
		PriorSay: "before any set the line falls by 0.04 m/s per RPE point, give or take 0.03 (common practice, no source)"}
	l.AtRPE8, l.PerRPE = notYet(needEffort, len(e.rpe), setsWithRPE), notYet(needEffort, len(e.rpe), setsWithRPE)
	if e.fit == nil {
		return l
	}
	v, lo, hi := e.fit.At(e.columns(8), mixed.OfLine).Interval(Level)
	l.AtRPE8 = known(v, lo, hi, len(e.rpe), setsWithRPE)
	v, lo, hi = e.fit.Coefficient(1).Interval(Level)
	l.PerRPE = known(v, lo, hi, len(e.rpe), setsWithRPE)
	v, _, _ = e.fit.Scatter(Level)
	l.Scatter = Number(v)
	if e.days > 1 && e.days < len(e.rpe) {
		v, _, _ = e.fit.DaySD(Level)
		l.DaySD = Number(v)
	}
	for r := 6.0; r <= 10; r += 0.5 {
		l.ByRPE = append(l.ByRPE, e.at(r))
	}
	l.BySpeed = e.bySpeed()
	return l
}

func (e *effortFit) at(rpe float64) AtRPE {
	c := e.columns(rpe)
	_, mlo, mhi := e.fit.At(c, mixed.OfLine).Interval(Level)
	v, lo, hi := e.fit.At(c, mixed.OfValue).Interval(Level)
	return AtRPE{RPE: rpe, Speed: known(v, math.Max(lo, 0), hi, len(e.rpe), setsWithRPE), MeanLo: Number(math.Max(mlo, 0)), MeanHi: Number(mhi)}
}

// drift returns how the speed at the same RPE changes with time.
func (e *effortFit) drift() Estimate {
	const need = needDrift
	if e.fit == nil || len(e.rpe) < need {
		return notYet(need, len(e.rpe), setsWithRPE)
	}
	if w := weeks(e.when[0], e.when[len(e.when)-1]); w < 4 {
		return notYet(4, int(w), "weeks with such sets")
	}
	d := e.data
	wk := make([]float64, len(e.when))
	for i, day := range e.when {
		wk[i] = weeks(e.when[len(e.when)-1], day)
	}
	d.Columns = append(slices.Clone(d.Columns), mixed.Column{X: wk})
	f, err := mixed.New(d)
	if err != nil {
		return notYet(2, 1, "days with such sets")
	}
	v, lo, hi := f.Coefficient(len(d.Columns) - 1).Interval(Level)
	return known(v, lo, hi, len(e.rpe), setsWithRPE)
}
