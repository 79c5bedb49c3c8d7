package profile

import (
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/profile/effort"
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

const (
	needDrift = 12 // sets
	needBias  = 8
)

const setsWithRPE = "sets with RPE and speed"

// effortChart draws the chart of sets of one group, given the lines of their
// slowest and last reps; v1RM may be unknown.
func effortChart(sets []set, slowest, last effortLine, lift string, v1RM Estimate) EffortChart {
	c := EffortChart{Levels: levels(sets), Points: []EffortPoint{}}
	for i := range sets {
		s := &sets[i]
		if math.IsNaN(s.rpe) || math.IsNaN(s.slowest) && math.IsNaN(s.last) {
			continue
		}
		c.Points = append(c.Points, EffortPoint{Date: s.day, Set: s.number, LoadKg: Number(s.load), Reps: s.reps,
			RPE: s.rpe, RPEHigh: Number(s.rpeHigh), Slowest: Number(s.slowest), Last: Number(s.last),
			InLine: s.rpe >= effort.Lowest && !math.IsNaN(s.slowest)})
	}
	c.EffortLine, c.LastRep = slowest.line(), last.line()
	c.DriftPerWeek = slowest.drift()
	c.CallBias = slowest.callBias(lift, v1RM)
	c.Cautions = slowest.cautions(c.DriftPerWeek)
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

// effortLine is the line of one measure (slowest or last rep) over RPE, with
// the day of each set.
type effortLine struct {
	*effort.Line
	when []rep.Day
}

func slowestOf(s *set) float64 { return s.slowest }
func lastOf(s *set) float64    { return s.last }

func newEffortLine(sets []set, speed func(*set) float64) effortLine {
	var e effortLine
	var rpe, v []float64
	var day []int
	var sp Span
	for i := range sets {
		s := &sets[i]
		if x := speed(s); !math.IsNaN(x) && s.rpe >= effort.Lowest {
			sp.add(s.day)
			rpe, v, day = append(rpe, s.rpe), append(v, x), append(day, sp.Days-1)
			e.when = append(e.when, s.day)
		}
	}
	e.Line = effort.New(rpe, v, day)
	return e
}

// estimate says a distribution that rests on all sets of the line.
func (e effortLine) estimate(m mixed.Mixture) Estimate {
	v, lo, hi := m.Interval(Level)
	return known(v, lo, hi, len(e.RPE), setsWithRPE)
}

// line says what the line says.
func (e effortLine) line() EffortLine {
	l := EffortLine{Sets: len(e.RPE), Days: e.Days, Scatter: unsaid, DaySD: unsaid, ByRPE: []AtRPE{}, BySpeed: []ToRPE{}, PriorSay: effort.Prior}
	l.AtRPE8, l.PerRPE = notYet(effort.Need, l.Sets, setsWithRPE), notYet(effort.Need, l.Sets, setsWithRPE)
	if !e.Known() {
		return l
	}
	l.AtRPE8, l.PerRPE = e.estimate(e.Mean(8)).notNegative(), e.estimate(e.PerRPE())
	scatter, days, ok := e.Spread(Level)
	l.Scatter = Number(scatter)
	if ok {
		l.DaySD = Number(days)
	}
	for r := 6.0; r <= 10; r += 0.5 {
		_, lo, hi := e.Mean(r).Interval(Level)
		x := AtRPE{RPE: r, Speed: e.estimate(e.Next(r)).notNegative(), MeanLo: Number(math.Max(lo, 0)), MeanHi: Number(math.Max(hi, 0))}
		l.ByRPE = append(l.ByRPE, x)
	}
	l.BySpeed = e.bySpeed()
	return l
}

// bySpeed reads the line backwards from 0.04 above the fastest set to 0.04
// below the slowest, in steps of 0.02 m/s.
func (e effortLine) bySpeed() []ToRPE {
	var speeds []float64
	top := int(math.Ceil(slices.Max(e.Speed)/0.02)) + 1
	for k := top; k > 0 && float64(k)*0.02 > slices.Min(e.Speed)-0.04; k-- {
		speeds = append(speeds, float64(k)*0.02)
	}
	v, lo, hi := e.Backwards(speeds, Level)
	out := make([]ToRPE, len(speeds))
	for i := range out {
		out[i] = ToRPE{Speed: Number(speeds[i]), RPE: known(v[i], lo[i], hi[i], len(e.RPE), setsWithRPE)}
	}
	return out
}

// drift returns how the speed at the same RPE changes with time.
func (e effortLine) drift() Estimate {
	n := len(e.RPE)
	if !e.Known() || n < needDrift {
		return notYet(needDrift, n, setsWithRPE)
	}
	last := e.when[len(e.when)-1]
	if w := weeks(e.when[0], last); w < 4 {
		return notYet(4, int(w), "weeks with such sets")
	}
	week := make([]float64, len(e.when))
	for i, day := range e.when {
		week[i] = weeks(last, day)
	}
	m, err := e.Step(week)
	if err != nil {
		return more(n, setsWithRPE)
	}
	return e.estimate(m)
}

// rpeAt1RM is the RPE powerlifters call a 1RM: Helms et al. 2017, J Strength
// Cond Res 31:292–297: squat 9.6 ± 0.5, bench press 9.7 ± 0.4, deadlift
// 9.6 ± 0.5.
func rpeAt1RM(lift string) float64 {
	if lift == rep.BenchPress {
		return 9.7
	}
	return 9.6
}

// callBias compares the RPE at which the line reaches the velocity at 1RM with
// the RPE at which a 1RM is called.
func (e effortLine) callBias(lift string, v1RM Estimate) Estimate {
	n := len(e.RPE)
	if !e.Known() || n < needBias {
		return notYet(needBias, n, setsWithRPE)
	}
	if !v1RM.Known {
		return v1RM
	}
	v, lo, hi, ok := e.Reaches(v1RM.Value, (v1RM.Hi-v1RM.Lo)/(2*1.96), Level)
	if !ok {
		return more(n, setsWithRPE)
	}
	usual := rpeAt1RM(lift)
	return known(v-usual, lo-usual, hi-usual, n, setsWithRPE)
}

// cautions says what a reader of the chart must know.
func (e effortLine) cautions(drift Estimate) []string {
	out := []string{}
	if !e.Known() {
		return out
	}
	levels := slices.Clone(e.RPE)
	slices.Sort(levels)
	if len(slices.Compact(levels)) < 3 {
		out = append(out, "Sets of fewer than three different RPE: how the speed changes with RPE is mostly assumed.")
	}
	if e.Days < 3 {
		out = append(out, "Sets of fewer than three days: other days may look different.")
	}
	if e.PerRPE().Below(0) < 0.9 {
		out = append(out, "The calls hardly follow the speed: do not read RPE from speed for this lift yet.")
	}
	if drift.Known && drift.Lo > 0 {
		out = append(out, "Over these weeks sets called the same RPE became faster: calls or form have changed.")
	} else if drift.Known && drift.Hi < 0 {
		out = append(out, "Over these weeks sets called the same RPE became slower: calls or form have changed.")
	}
	return out
}
