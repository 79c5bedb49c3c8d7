package effort

import (
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/profile/mixed"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Chart is RPE against the speed of the slowest and of the last rep of a
// set.
type Chart struct {
	Levels []Level `json:"levels"` // called levels only, lowest first
	EffortLine
	LastRep EffortLine `json:"last_rep"` // the same against the last rep done
	Points  []Point    `json:"points"`   // by date and set
	// DriftPerWeek is how the speed at the same called RPE changed, m/s per
	// week: more than nothing means calls or strength changed their meaning.
	DriftPerWeek number.Estimate `json:"drift_m_s_per_week"`
	// CallBias is how much higher the lifter calls sets than their speed says,
	// RPE points: see callBias. Below 0: sets are harder than they are called.
	CallBias number.Estimate `json:"call_bias_rpe"`
	Cautions []string        `json:"cautions"`
}

// Level is the average a coach would write down by hand: all sets called
// this RPE.
type Level struct {
	RPE     float64       `json:"rpe"`
	Sets    int           `json:"sets"`
	Slowest number.Number `json:"slowest_m_s"` // mean
	SD      number.Number `json:"sd_m_s"`      // sample SD; null for one set
	Last    number.Number `json:"last_m_s"`
	LastSD  number.Number `json:"last_sd_m_s"`
}

// EffortLine is speed over RPE as a straight line.
type EffortLine struct {
	Sets     int             `json:"sets"` // in the line: called RPE 5 or more
	Days     int             `json:"days"`
	AtRPE8   number.Estimate `json:"at_rpe8_m_s"` // mean speed of sets called 8
	PerRPE   number.Estimate `json:"per_rpe_m_s"` // change of speed per RPE point
	Scatter  number.Number   `json:"scatter_m_s"` // SD of a set of one day around its day's line
	DaySD    number.Number   `json:"day_sd_m_s"`  // SD of days around the line
	ByRPE    []AtRPE         `json:"by_rpe"`      // RPE 6, 6.5, … 10; empty when not enough yet
	BySpeed  []ToRPE         `json:"by_speed"`    // fastest first; empty when not enough yet
	PriorSay string          `json:"prior"`       // what was assumed about the slope
}

// AtRPE is the speed to expect of a set called RPE: the line and the interval
// that holds the next such set.
type AtRPE struct {
	RPE    float64         `json:"rpe"`
	Speed  number.Estimate `json:"speed_m_s"`   // lo, hi: the next set, on another day
	MeanLo number.Number   `json:"mean_lo_m_s"` // where the line itself may lie
	MeanHi number.Number   `json:"mean_hi_m_s"`
}

// ToRPE is the RPE the lifter would call a set of this speed.
type ToRPE struct {
	Speed number.Number   `json:"speed_m_s"`
	RPE   number.Estimate `json:"rpe"` // lo, hi: the next call; never above 10
}

// Point is one set of the chart.
type Point struct {
	Date    rep.Day       `json:"date"`
	Set     int32         `json:"set"` // 0: a logged set without a number
	LoadKg  number.Number `json:"load_kg"`
	Reps    int           `json:"reps"`
	RPE     float64       `json:"rpe"` // middle of a called range
	RPEHigh number.Number `json:"rpe_high"`
	Slowest number.Number `json:"slowest_m_s"`
	Last    number.Number `json:"last_m_s"`
	InLine  bool          `json:"in_line"`
}

const (
	needDrift = 12 // sets
	needBias  = 8

	// fastestRead is the highest speed that is read as an RPE, m/s: no slow
	// rep of a called set is faster, whatever a source says.
	fastestRead = 2
)

// SetsWithRPE is what the chart counts.
const SetsWithRPE = "sets with RPE and speed"

// NewChart draws the chart of sets of one group, given the lines of their
// slowest and last reps; v1RM may be unknown.
func NewChart(own []sets.Set, slowest, last SetLine, lift string, v1RM number.Estimate) Chart {
	c := Chart{Levels: levels(own), Points: []Point{}}
	for i := range own {
		s := &own[i]
		if math.IsNaN(s.RPE) || math.IsNaN(s.Slowest) && math.IsNaN(s.Last) {
			continue
		}
		c.Points = append(c.Points, Point{Date: s.Day, Set: s.Number, LoadKg: number.Number(s.Load), Reps: s.Reps,
			RPE: s.RPE, RPEHigh: number.Number(s.RPEHigh), Slowest: number.Number(s.Slowest), Last: number.Number(s.Last),
			InLine: s.RPE >= Lowest && !math.IsNaN(s.Slowest)})
	}
	c.EffortLine, c.LastRep = slowest.line(), last.line()
	c.DriftPerWeek = slowest.drift()
	c.CallBias = slowest.callBias(lift, v1RM)
	c.Cautions = slowest.cautions(c.DriftPerWeek)
	return c
}

// levels averages the sets of each called level; ranges are no level.
func levels(own []sets.Set) []Level {
	slow, last := map[float64][]float64{}, map[float64][]float64{}
	var called []float64
	for i := range own {
		s := &own[i]
		if math.IsNaN(s.RPE) || !math.IsNaN(s.RPEHigh) || math.IsNaN(s.Slowest) {
			continue
		}
		if slow[s.RPE] == nil {
			called = append(called, s.RPE)
		}
		slow[s.RPE] = append(slow[s.RPE], s.Slowest)
		if !math.IsNaN(s.Last) {
			last[s.RPE] = append(last[s.RPE], s.Last)
		}
	}
	slices.Sort(called)
	out := []Level{}
	for _, r := range called {
		l := Level{RPE: r, Sets: len(slow[r])}
		l.Slowest, l.SD = number.MeanSD(slow[r])
		l.Last, l.LastSD = number.MeanSD(last[r])
		out = append(out, l)
	}
	return out
}

// SetLine is the line of one measure (slowest or last rep) over RPE, with
// the day of each set.
type SetLine struct {
	*Line
	When []rep.Day
}

// SlowestOf is the speed of the slowest rep.
func SlowestOf(s *sets.Set) float64 { return s.Slowest }

// LastOf is the speed of the last rep done.
func LastOf(s *sets.Set) float64 { return s.Last }

// NewSetLine fits the line to those sets that have an RPE of [Lowest] or more
// and the asked speed; sets are in the order of days.
func NewSetLine(own []sets.Set, speed func(*sets.Set) float64) SetLine {
	var e SetLine
	var rpe, v []float64
	var day []int
	var readAs []sets.ReadAs
	var sp sets.Span
	for i := range own {
		s := &own[i]
		if x := speed(s); !math.IsNaN(x) && s.RPE >= Lowest {
			sp.Add(s.Day)
			rpe, v, day = append(rpe, s.RPE), append(v, x), append(day, sp.Days-1)
			e.When, readAs = append(e.When, s.Day), append(readAs, s.ReadAs)
		}
	}
	weeks := make([]float64, len(e.When))
	for i, d := range e.When {
		weeks[i] = sets.Weeks(e.When[len(e.When)-1], d)
	}
	e.Line = New(rpe, v, day, weeks, mixed.Shifts(len(v), func(i int) (string, float64) { return readAs[i].Device, readAs[i].Error })...)
	return e
}

// Estimate says a distribution that rests on all sets of the line.
func (e SetLine) Estimate(m mixed.Mixture) number.Estimate {
	v, lo, hi := m.Interval(number.Level)
	return number.Known(v, lo, hi, len(e.RPE), SetsWithRPE)
}

// line says what the line says.
func (e SetLine) line() EffortLine {
	l := EffortLine{Sets: len(e.RPE), Days: e.Days, Scatter: number.Unsaid, DaySD: number.Unsaid, ByRPE: []AtRPE{}, BySpeed: []ToRPE{}, PriorSay: Prior}
	l.AtRPE8, l.PerRPE = number.NotYet(Need, l.Sets, SetsWithRPE), number.NotYet(Need, l.Sets, SetsWithRPE)
	if !e.Known() {
		return l
	}
	l.AtRPE8, l.PerRPE = e.Estimate(e.Mean(8)).NotNegative(), e.Estimate(e.PerRPE())
	scatter, days, ok := e.Spread()
	l.Scatter = number.Number(scatter)
	if ok {
		l.DaySD = number.Number(days)
	}
	for r := 6.0; r <= 10; r += 0.5 {
		_, lo, hi := e.Mean(r).Interval(number.Level)
		x := AtRPE{RPE: r, Speed: e.Estimate(e.Next(r)).NotNegative(), MeanLo: number.Number(math.Max(lo, 0)), MeanHi: number.Number(math.Max(hi, 0))}
		l.ByRPE = append(l.ByRPE, x)
	}
	l.BySpeed = e.bySpeed()
	return l
}

// bySpeed reads the line backwards from 0.04 above the fastest set to 0.04
// below the slowest, in steps of 0.02 m/s.
func (e SetLine) bySpeed() []ToRPE {
	var speeds []float64
	top := int(math.Ceil(math.Min(slices.Max(e.Speed), fastestRead)/0.02)) + 1
	for k := top; k > 0 && float64(k)*0.02 > slices.Min(e.Speed)-0.04; k-- {
		speeds = append(speeds, float64(k)*0.02)
	}
	v, lo, hi := e.Backwards(speeds, number.Level)
	out := make([]ToRPE, len(speeds))
	for i := range out {
		out[i] = ToRPE{Speed: number.Number(speeds[i]), RPE: number.Known(v[i], lo[i], hi[i], len(e.RPE), SetsWithRPE)}
	}
	return out
}

// drift returns how the speed at the same RPE changes with time.
func (e SetLine) drift() number.Estimate {
	n := len(e.RPE)
	if !e.Known() || n < needDrift {
		return number.NotYet(needDrift, n, SetsWithRPE)
	}
	last := e.When[len(e.When)-1]
	if w := sets.Weeks(e.When[0], last); w < 4 {
		return number.NotYet(4, int(w), "weeks with such sets")
	}
	week := make([]float64, len(e.When))
	for i, day := range e.When {
		week[i] = sets.Weeks(last, day)
	}
	m, err := e.Step(week)
	if err != nil {
		return number.More(n, SetsWithRPE)
	}
	return e.Estimate(m)
}

// rpeAt1RM is the RPE powerlifters call a 1RM: Helms et al. 2017, J Strength
// Cond Res 31:292–297: squat 9.6 ± 0.5, bench press 9.7 ± 0.4, deadlift
// 9.6 ± 0.5.
func rpeAt1RM(lift string) (mean, sd float64) {
	if lift == rep.BenchPress {
		return 9.7, 0.4
	}
	return 9.6, 0.5
}

// callBias compares the mean of the lifter's calls with the RPE that the speeds
// of the same sets mean by the usual relation: the RPE of a 1RM at the
// velocity at 1RM, a point less for each 0.04 m/s faster (common practice, no
// source; taken as known to a fifth). The lifter's own line is not extended
// there: chance errors of calls flatten it, and it would reach the velocity at
// 1RM beyond 10.
func (e SetLine) callBias(lift string, v1RM number.Estimate) number.Estimate {
	n := len(e.RPE)
	if n < needBias {
		return number.NotYet(needBias, n, SetsWithRPE)
	}
	if !v1RM.Known {
		return v1RM
	}
	const perPoint, share = -slopePrior, 0.2
	called, _, _ := robust.MeanSD(e.RPE)
	speed, sd, _ := robust.MeanSD(e.Speed)
	left := (speed - v1RM.Value) / perPoint
	usual, usualSD := rpeAt1RM(lift)
	v := called - (usual - left)
	half := 1.96 * math.Sqrt(left*left*share*share+usualSD*usualSD+
		math.Pow((v1RM.Hi-v1RM.Lo)/(2*1.96)/perPoint, 2)+sd*sd/float64(n)/(perPoint*perPoint))
	return number.Known(v, v-half, v+half, n, SetsWithRPE)
}

// cautions says what a reader of the chart must know.
func (e SetLine) cautions(drift number.Estimate) []string {
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
