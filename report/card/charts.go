package card

import (
	"fmt"
	"math"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

// effortChart shows the slowest rep of each set against the RPE it was called,
// with the line and the range of the next set. Nil where no set has both.
func effortChart(l *profile.Lift) *chart.Chart {
	var called, left []chart.XY
	for _, p := range l.Effort.Points {
		if !p.Slowest.OK() {
			continue
		}
		at := chart.XY{X: p.RPE, Y: float64(p.Slowest)}
		if p.InLine {
			called = append(called, at)
		} else {
			left = append(left, at)
		}
	}
	if len(called)+len(left) == 0 {
		return nil
	}
	c := &chart.Chart{
		X:      chart.Axis{Label: "RPE of the set", Min: 4.8, Max: 10.2, Ticks: wholes(5, 10)},
		Y:      chart.Axis{Label: "slowest rep, mean velocity (m/s)"},
		Points: []chart.Points{{Name: "a set", Ink: chart.First, At: called}, {Name: "not in the line", Ink: chart.Faint, At: left}},
	}
	low, high := lowest(called, left), highest(called, left)
	band := chart.Band{Name: fmt.Sprintf("next set, %.0f of 100", 100*profile.Level), Ink: chart.First}
	line := chart.Line{Name: "line", Ink: chart.First}
	for _, row := range l.Effort.ByRPE {
		if !row.Speed.Known {
			continue
		}
		line.At = append(line.At, chart.XY{X: row.RPE, Y: row.Speed.Value})
		band.Low = append(band.Low, chart.XY{X: row.RPE, Y: math.Max(0, row.Speed.Lo)})
		band.High = append(band.High, chart.XY{X: row.RPE, Y: row.Speed.Hi})
		low, high = math.Min(low, row.Speed.Lo), math.Max(high, row.Speed.Hi)
	}
	if len(line.At) > 1 {
		c.Lines, c.Bands = []chart.Line{line}, []chart.Band{band}
	}
	c.Y.Min, c.Y.Max = span(low, high)
	c.Alt = fmt.Sprintf("Effort chart of the %s: %d sets, slowest rep against RPE. At RPE 8: %s.",
		l.Lift, len(called)+len(left), estimate(2, "m/s", l.Effort.AtRPE8))
	return c
}

// speedChart is the load-velocity profile: the fastest rep of each load and
// day, the line on the latest day, and the speed at 1RM.
func speedChart(l *profile.Lift) *chart.Chart {
	lv := &l.LoadVelocity
	var warm, work []chart.XY
	for _, p := range lv.At {
		at := chart.XY{X: float64(p.LoadKg), Y: float64(p.Speed)}
		if p.Role == rep.WarmUp.String() {
			warm = append(warm, at)
		} else {
			work = append(work, at)
		}
	}
	if len(warm)+len(work) == 0 {
		return nil
	}
	c := &chart.Chart{
		X:      chart.Axis{Label: "load (kg)"},
		Y:      chart.Axis{Label: "fastest rep, mean velocity (m/s)"},
		Points: []chart.Points{{Name: "warm-up", Ink: chart.Plain, At: warm}, {Name: "working set", Ink: chart.Second, At: work}},
	}
	high := highest(warm, work)
	line := chart.Line{Name: "line, latest day", Ink: chart.First}
	band := chart.Band{Name: fmt.Sprintf("next day, %.0f of 100", 100*profile.Level), Ink: chart.First}
	for _, p := range lv.Curve {
		x := float64(p.LoadKg)
		line.At = append(line.At, chart.XY{X: x, Y: float64(p.Speed)})
		band.Low = append(band.Low, chart.XY{X: x, Y: math.Max(0, float64(p.NextLo))})
		band.High = append(band.High, chart.XY{X: x, Y: float64(p.NextHi)})
		high = math.Max(high, float64(p.NextHi))
	}
	if len(line.At) > 1 {
		c.Lines, c.Bands = []chart.Line{line}, []chart.Band{band}
	}
	if now := l.E1RMNow; now.Known && lv.V1RM.Known {
		c.Points = append(c.Points, chart.Points{Name: "e1RM now", Ink: chart.Third, Size: 4.5, At: []chart.XY{{X: now.Value, Y: lv.V1RM.Value}}})
	}
	c.Y.Min, c.Y.Max = 0, high*1.08
	c.Alt = fmt.Sprintf("Load-velocity profile of the %s: fastest rep against load on %d loads and days. 1RM now: %s.",
		l.Lift, lv.Points, estimate(1, "kg", l.E1RMNow))
	return c
}

// readyChart shows the last warm-up of each session against its usual range.
func readyChart(l *profile.Lift) *chart.Chart {
	var in, slow, fast []chart.XY
	band := chart.Band{Name: "usual range of earlier days", Ink: chart.First}
	var days []rep.Day
	for _, r := range l.Readiness {
		if !r.Usual.Known || !r.Speed.OK() {
			continue
		}
		days = append(days, r.Date)
		x := float64(r.Date)
		band.Low = append(band.Low, chart.XY{X: x, Y: r.Usual.Lo})
		band.High = append(band.High, chart.XY{X: x, Y: r.Usual.Hi})
		at := chart.XY{X: x, Y: float64(r.Speed)}
		switch r.Verdict {
		case profile.Slower:
			slow = append(slow, at)
		case profile.Faster:
			fast = append(fast, at)
		default:
			in = append(in, at)
		}
	}
	if len(days) < 2 {
		return nil
	}
	return &chart.Chart{
		Alt: fmt.Sprintf("Last warm-up of the %s on %d days against the usual range: %d as usual, %d slower, %d faster.",
			l.Lift, len(days), len(in), len(slow), len(fast)),
		X: chart.Axis{Label: "session", Ticks: dates(days)}, Y: chart.Axis{Label: "last warm-up (m/s)"},
		Bands: []chart.Band{band},
		Points: []chart.Points{{Name: "as usual", Ink: chart.Plain, At: in}, {Name: "slower", Ink: chart.Second, At: slow},
			{Name: "faster", Ink: chart.Third, At: fast}},
		Height: 0.36,
	}
}

// strengthChart shows the e1RM of each session by where it comes from.
func strengthChart(l *profile.Lift) *chart.Chart {
	from := []struct {
		name string
		ink  chart.Ink
	}{{profile.FromSingle, chart.Second}, {profile.FromRepSet, chart.First}, {profile.FromLine, chart.Faint}, {profile.FromDeclared, chart.Third}}
	c := &chart.Chart{Y: chart.Axis{Label: "e1RM (kg)"}, X: chart.Axis{Label: "session"}, Height: 0.36}
	var days []rep.Day
	for _, f := range from {
		s := chart.Points{Name: f.name, Ink: f.ink}
		for _, e := range l.E1RM {
			if e.From == f.name && e.Kg.Known {
				s.At = append(s.At, chart.XY{X: float64(e.Date), Y: e.Kg.Value})
				days = append(days, e.Date)
			}
		}
		c.Points = append(c.Points, s)
	}
	if len(days) < 3 {
		return nil
	}
	c.X.Ticks = dates(days)
	c.Alt = fmt.Sprintf("e1RM of the %s, %d estimates. Now: %s.", l.Lift, len(days), estimate(1, "kg", l.E1RMNow))
	return c
}

// travelChart shows where the reps that were set aside lie against the kept
// ones: travel against speed. Nil where no rep with a known travel was.
func travelChart(res *clean.Result, lifter, lift string) *chart.Chart {
	t := res.Reps
	mine := func(row int32) (chart.XY, bool) {
		if t.Text.Text(t.Lifter[row]) != lifter || t.Text.Text(t.Lift[row]) != lift || !t.ROM.At(row).OK {
			return chart.XY{}, false
		}
		return chart.XY{X: 100 * t.ROM[row], Y: t.MeanVelocity[row]}, true
	}
	var kept, aside []chart.XY
	for _, row := range res.Kept {
		if at, ok := mine(row); ok {
			kept = append(kept, at)
		}
	}
	beyond := 0
	for _, a := range res.Aside {
		at, ok := mine(a.Row)
		if !ok || a.Filter == rep.Duplicate || a.Filter == rep.SecondDevice {
			continue
		}
		if at.X > 150 || at.Y > 3 { // would squeeze all others into a corner
			beyond++
			continue
		}
		aside = append(aside, at)
	}
	if len(aside) == 0 {
		return nil
	}
	alt := fmt.Sprintf("Travel against speed of the %s: %d reps kept, %d set aside.", lift, len(kept), len(aside))
	if beyond > 0 {
		alt += fmt.Sprintf(" %d more lie outside the picture.", beyond)
	}
	return &chart.Chart{
		Alt: alt, X: chart.Axis{Label: "range of motion (cm)"}, Y: chart.Axis{Label: "mean velocity (m/s)"},
		Points: []chart.Points{{Name: "kept", Ink: chart.Faint, Size: 2, At: kept}, {Name: "set aside", Ink: chart.Second, At: aside}},
		Height: 0.4,
	}
}

// dates returns at most eight ticks over days, the first and last among them.
func dates(days []rep.Day) []chart.Tick {
	first, last := days[0], days[0]
	for _, d := range days {
		first, last = min(first, d), max(last, d)
	}
	n := min(7, int(last-first))
	if n == 0 {
		return []chart.Tick{{At: float64(first), Label: first.Time().Format("2 Jan")}}
	}
	var ticks []chart.Tick
	for i := range n + 1 {
		d := first + rep.Day(i*int(last-first)/n)
		ticks = append(ticks, chart.Tick{At: float64(d), Label: d.Time().Format("2 Jan")})
	}
	return ticks
}

func wholes(from, to int) []chart.Tick {
	var ticks []chart.Tick
	for n := from; n <= to; n++ {
		ticks = append(ticks, chart.Tick{At: float64(n), Label: fmt.Sprint(n)})
	}
	return ticks
}

func lowest(series ...[]chart.XY) float64 {
	low := math.Inf(1)
	for _, s := range series {
		for _, p := range s {
			low = math.Min(low, p.Y)
		}
	}
	return low
}

func highest(series ...[]chart.XY) float64 {
	high := math.Inf(-1)
	for _, s := range series {
		for _, p := range s {
			high = math.Max(high, p.Y)
		}
	}
	return high
}

// span returns an axis over low…high with a little room, never below zero.
func span(low, high float64) (float64, float64) {
	room := 0.05*(high-low) + 0.01
	return math.Max(0, low-room), high + room
}
