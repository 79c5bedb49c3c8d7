package card

import (
	"fmt"
	"math"
	"strconv"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

// A Kind of chart of one lift, by the name it has on the command line.
type Kind struct {
	Name, Shows string
	draw        func(*profile.Lift) *chart.Chart // nil where there is nothing to show yet
}

// Kinds lists the charts of a lift in the page's order.
var Kinds = []Kind{
	{"effort", "RPE against the speed of the slowest rep", effortChart},
	{"load-velocity", "load against the speed of the fastest rep", speedChart},
	{"e1rm", "estimated 1RM by session", strengthChart},
	{"readiness", "last warm-up against the usual range", readyChart},
	{"progress", "speed of the same loads over time", progressChart},
	{"loss", "speed against reps left in the set", lossChart},
}

// Draw returns a chart of a lift with a title, and false where there is not
// enough yet to draw.
func (k Kind) Draw(lifter string, l *profile.Lift) (chart.Chart, bool) {
	c := k.draw(l)
	if c == nil {
		return chart.Chart{}, false
	}
	c.Title = fmt.Sprintf("%s, %s: %s", lifter, l.Lift, k.Shows)
	return *c, true
}

const speedColumn = "mean_velocity_m_s"

// effortChart shows the slowest rep of each set against the RPE it was called,
// with the line and the range of the next set.
func effortChart(l *profile.Lift) *chart.Chart {
	var called, left []chart.XY
	var calledOf, leftOf [][]string
	for _, p := range l.Effort.Points {
		if !p.Slowest.OK() {
			continue
		}
		at := chart.XY{X: p.RPE, Y: float64(p.Slowest)}
		beside := []string{p.Date.String(), exact(p.LoadKg), strconv.Itoa(p.Reps)}
		if p.InLine {
			called, calledOf = append(called, at), append(calledOf, beside)
		} else {
			left, leftOf = append(left, at), append(leftOf, beside)
		}
	}
	if len(called)+len(left) == 0 {
		return nil
	}
	c := &chart.Chart{
		X:      chart.Axis{Label: "RPE of the set", Column: "rpe"},
		Y:      chart.Axis{Label: "slowest rep (m/s)", Column: speedColumn},
		Beside: []string{"session_date", "load_kg", "reps"},
		Points: []chart.Points{{Name: "a set", Ink: chart.First, At: called, Beside: calledOf},
			{Name: "a set below RPE 5, not in the line", Ink: chart.Faint, At: left, Beside: leftOf}},
	}
	y := over(called, left)
	band := chart.Band{Name: fmt.Sprintf("%.0f of 100 next sets", 100*profile.Level), Ink: chart.First}
	line := chart.Line{Name: "average", Ink: chart.First}
	for _, row := range l.Effort.ByRPE {
		if !row.Speed.Known {
			continue
		}
		low := math.Max(0, row.Speed.Lo)
		line.At = append(line.At, chart.XY{X: row.RPE, Y: row.Speed.Value})
		band.Low = append(band.Low, chart.XY{X: row.RPE, Y: low})
		band.High = append(band.High, chart.XY{X: row.RPE, Y: row.Speed.Hi})
		y.add(low)
		y.add(row.Speed.Hi)
	}
	if len(line.At) > 1 {
		c.Lines, c.Bands = []chart.Line{line}, []chart.Band{band}
	}
	lowest := 5.0
	for _, p := range left {
		lowest = math.Min(lowest, p.X)
	}
	c.X.Min, c.X.Max = lowest-0.2, 10.2
	c.Y.Min, c.Y.Max = y.axis()
	c.Alt = fmt.Sprintf("Effort chart of the %s: %s, slowest rep against RPE. At RPE 8: %s.",
		l.Lift, count(len(called)+len(left), "set"), estimate(2, "m/s", l.Effort.AtRPE8))
	return c
}

// exact returns a number with the digits it has; empty for none.
func exact(v profile.Number) string {
	if !v.OK() {
		return ""
	}
	return strconv.FormatFloat(float64(v), 'g', 7, 64)
}

// speedChart is the load-velocity profile: the fastest rep of each load and
// day, the line on the latest day, and the speed at 1RM.
func speedChart(l *profile.Lift) *chart.Chart {
	lv := &l.LoadVelocity
	var warm, work []chart.XY
	var warmOf, workOf [][]string
	for _, p := range lv.At {
		at := chart.XY{X: float64(p.LoadKg), Y: float64(p.Speed)}
		beside := []string{p.Date.String(), p.Role}
		if p.Role == rep.WarmUp.String() {
			warm, warmOf = append(warm, at), append(warmOf, beside)
		} else {
			work, workOf = append(work, at), append(workOf, beside)
		}
	}
	if len(warm)+len(work) == 0 {
		return nil
	}
	c := &chart.Chart{
		X:      chart.Axis{Label: "load (kg)", Column: "load_kg"},
		Y:      chart.Axis{Label: "fastest rep (m/s)", Column: speedColumn},
		Beside: []string{"session_date", "set_role"},
		Points: []chart.Points{{Name: "warm-up", Ink: chart.Plain, At: warm, Beside: warmOf}, {Name: "working set", Ink: chart.Second, At: work, Beside: workOf}},
	}
	y, x := over(warm, work), extent{}
	for _, p := range append(append([]chart.XY(nil), warm...), work...) {
		x.add(p.X)
	}
	line := chart.Line{Name: "average, latest day", Ink: chart.First}
	band := chart.Band{Name: fmt.Sprintf("%.0f of 100 next days", 100*profile.Level), Ink: chart.First}
	for _, p := range lv.Curve {
		at := float64(p.LoadKg)
		line.At = append(line.At, chart.XY{X: at, Y: float64(p.Speed)})
		band.Low = append(band.Low, chart.XY{X: at, Y: math.Max(0, float64(p.NextLo))})
		band.High = append(band.High, chart.XY{X: at, Y: float64(p.NextHi)})
		y.add(float64(p.NextHi))
		x.add(at)
	}
	if len(line.At) > 1 {
		c.Lines, c.Bands = []chart.Line{line}, []chart.Band{band}
	}
	if now := l.E1RMNow; now.Known && lv.V1RM.Known {
		c.Points = append(c.Points, chart.Points{Name: "1RM now", Ink: chart.Third, At: []chart.XY{{X: now.Value, Y: lv.V1RM.Value}}})
		c.Lines = append(c.Lines, chart.Line{Name: fmt.Sprintf("its range, %.0f of 100", 100*profile.Level), Ink: chart.Third, Dashed: true,
			At: []chart.XY{{X: now.Lo, Y: lv.V1RM.Value}, {X: now.Hi, Y: lv.V1RM.Value}}})
		x.add(now.Lo)
		x.add(now.Hi)
	}
	c.X.Min, c.X.Max = x.axis()
	c.Y.Min, c.Y.Max = 0, y.hi*1.06
	c.Alt = fmt.Sprintf("Load-velocity profile of the %s: fastest rep against load, %s of loads and days. 1RM now: %s.",
		l.Lift, count(len(warm)+len(work), "pair"), estimate(1, "kg", l.E1RMNow))
	return c
}

// lossChart shows how fast a rep is with so many left in the tank.
func lossChart(l *profile.Lift) *chart.Chart {
	c := &chart.Chart{
		X: chart.Axis{Label: "reps left in the set", Column: "reps_left"}, Y: chart.Axis{Label: "rep (m/s)", Column: speedColumn},
		Height: stripHeight,
	}
	means := chart.Points{Name: "average of reps", Ink: chart.First}
	y, x := extent{}, extent{}
	reps := 0
	for _, s := range l.VelocityLoss.ByLeft {
		if !s.Speed.OK() {
			continue
		}
		at := chart.XY{X: float64(s.Left), Y: float64(s.Speed)}
		means.At = append(means.At, at)
		reps += s.Reps
		x.add(at.X)
		y.add(at.Y)
		if sd := float64(s.SD); s.SD.OK() {
			name := ""
			if len(c.Lines) == 0 {
				name = "two of three reps (± SD)"
			}
			c.Lines = append(c.Lines, chart.Line{Name: name, Series: "± SD", Ink: chart.First, At: []chart.XY{{X: at.X, Y: at.Y - sd}, {X: at.X, Y: at.Y + sd}}})
			y.add(at.Y - sd)
			y.add(at.Y + sd)
		}
	}
	if len(means.At) < 2 {
		return nil
	}
	c.Points = []chart.Points{means}
	c.X.Min, c.X.Max = x.lo-0.5, x.hi+0.5
	c.Y.Min, c.Y.Max = y.axis()
	c.Alt = fmt.Sprintf("Speed of the %s with so many reps left, %s.", l.Lift, count(reps, "rep"))
	return c
}

// extent is the range of values seen.
type extent struct {
	lo, hi float64
	any    bool
}

func (e *extent) add(v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return
	}
	if !e.any {
		*e = extent{v, v, true}
	}
	e.lo, e.hi = math.Min(e.lo, v), math.Max(e.hi, v)
}

// over returns the extent of Y.
func over(series ...[]chart.XY) *extent {
	e := &extent{}
	for _, s := range series {
		for _, p := range s {
			e.add(p.Y)
		}
	}
	return e
}

// axis returns an axis over the extent with a little room, never below zero.
func (e *extent) axis() (lo, hi float64) {
	room := 0.05*(e.hi-e.lo) + 0.01
	return math.Max(0, e.lo-room), e.hi + room
}
