package card

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

// stripHeight is the height of charts over time, as a share of their width.
const stripHeight = 0.46

// sessions is an axis of days that names the years it covers.
func sessions(e extent) chart.Axis {
	from, to := rep.Day(e.lo).Time().Year(), rep.Day(e.hi).Time().Year()
	label := fmt.Sprintf("session, %d", from)
	if to > from {
		label += fmt.Sprintf(" to %d", to)
	}
	room := math.Max(1, 0.02*(e.hi-e.lo))
	return chart.Axis{Label: label, Column: "date", Days: true, Min: e.lo - room, Max: e.hi + room}
}

// readyChart shows the last warm-up of each session against its usual range.
func readyChart(l *profile.Lift) *chart.Chart {
	var in, slow, fast []chart.XY
	band := chart.Band{Name: "usual, by the days before", Ink: chart.First}
	x, y := extent{}, extent{}
	for _, r := range l.Readiness {
		if !r.Usual.Known || !r.Speed.OK() {
			continue
		}
		at := chart.XY{X: float64(r.Date), Y: float64(r.Speed)}
		x.add(at.X)
		for _, v := range []float64{at.Y, r.Usual.Lo, r.Usual.Hi} {
			y.add(v)
		}
		band.Low = append(band.Low, chart.XY{X: at.X, Y: r.Usual.Lo})
		band.High = append(band.High, chart.XY{X: at.X, Y: r.Usual.Hi})
		switch r.Verdict {
		case profile.Slower:
			slow = append(slow, at)
		case profile.Faster:
			fast = append(fast, at)
		default:
			in = append(in, at)
		}
	}
	if len(band.Low) < 2 {
		return nil
	}
	c := &chart.Chart{
		Alt: fmt.Sprintf("Last warm-up of the %s on %d days against the usual range: %d as usual, %d slower, %d faster.",
			l.Lift, len(band.Low), len(in), len(slow), len(fast)),
		X: sessions(x), Y: chart.Axis{Label: "last warm-up (m/s)", Column: speedColumn},
		Bands: []chart.Band{band},
		Points: []chart.Points{{Name: "as usual", Ink: chart.Plain, At: in}, {Name: "slower", Ink: chart.Second, At: slow},
			{Name: "faster", Ink: chart.Third, At: fast}},
		Height: stripHeight,
	}
	c.Y.Min, c.Y.Max = y.axis()
	return c
}

// strengthChart shows the e1RM of each session by where it comes from.
func strengthChart(l *profile.Lift) *chart.Chart {
	sources := []struct {
		name string
		ink  chart.Ink
	}{{profile.FromRepSet, chart.First}, {profile.FromLine, chart.Faint}, {profile.FromSingle, chart.Second}, {profile.FromDeclared, chart.Third}}
	c := &chart.Chart{Y: chart.Axis{Label: "e1RM (kg)", Column: "e1rm_kg"}, Height: stripHeight}
	x, y, n := extent{}, extent{}, 0
	for _, f := range sources {
		s := chart.Points{Name: f.name, Ink: f.ink}
		for _, e := range l.E1RM {
			if e.From == f.name && e.Kg.Known {
				s.At = append(s.At, chart.XY{X: float64(e.Date), Y: e.Kg.Value})
				x.add(float64(e.Date))
				y.add(e.Kg.Value)
				n++
			}
		}
		c.Points = append(c.Points, s)
	}
	if n < 3 || x.lo == x.hi {
		return nil
	}
	c.X = sessions(x)
	c.Y.Min, c.Y.Max = y.axis()
	c.Alt = fmt.Sprintf("e1RM of the %s, %s. Now: %s.", l.Lift, count(n, "estimate"), estimate(1, "kg", l.E1RMNow))
	return c
}

// progressChart shows the loads with a trend, at most four: those of most days.
func progressChart(l *profile.Lift) *chart.Chart {
	var shown []profile.SpeedTrend
	for _, least := range []int{12, 8, 5, 0} {
		shown = shown[:0]
		for _, t := range l.Progress {
			if t.PerWeek.Known && t.Days >= least {
				shown = append(shown, t)
			}
		}
		if len(shown) >= 4 {
			break
		}
	}
	shown = shown[max(0, len(shown)-4):] // the heaviest say most
	c := &chart.Chart{Y: chart.Axis{Label: "fastest rep (m/s)", Column: speedColumn}, Height: stripHeight}
	x, y := extent{}, extent{}
	for i, t := range shown {
		s := chart.Points{Name: kg(t.LoadKg) + " kg", Ink: chart.Ink(i)}
		for _, p := range t.Points {
			at := chart.XY{X: float64(p.Date), Y: float64(p.Speed)}
			s.At = append(s.At, at)
			x.add(at.X)
			y.add(at.Y)
		}
		c.Points = append(c.Points, s)
		if t.First.OK() && t.Last.OK() {
			c.Lines = append(c.Lines, chart.Line{Series: "trend at " + s.Name, Ink: chart.Ink(i), Dashed: i%2 == 1,
				At: []chart.XY{{X: float64(t.From), Y: float64(t.First)}, {X: float64(t.To), Y: float64(t.Last)}}})
		}
	}
	if !x.any || x.lo == x.hi {
		return nil
	}
	c.X = sessions(x)
	c.Y.Min, c.Y.Max = y.axis()
	c.Alt = fmt.Sprintf("Speed of the %s at %s over the weeks, with the trend of each.", l.Lift, count(len(shown), "load"))
	return c
}

// agreementView is how two units agree, with a picture.
type agreementView struct {
	*profile.Agreement
	Chart *chart.Chart
}

// agreementChart shows the difference of two units over their mean (Bland JM,
// Altman DG 1986, Lancet 327:307–310), with bias and limits of agreement.
func agreementChart(a *profile.Agreement) *chart.Chart {
	s := chart.Points{Name: "a pair", Ink: chart.Plain}
	x, y := extent{}, extent{}
	for _, p := range a.Points {
		if !p.Reference.OK() || !p.Other.OK() {
			continue
		}
		at := chart.XY{X: float64(p.Reference+p.Other) / 2, Y: float64(p.Other - p.Reference)}
		s.At = append(s.At, at)
		x.add(at.X)
		y.add(at.Y)
	}
	if len(s.At) < 3 || x.lo == x.hi {
		return nil
	}
	y.add(0)
	c := &chart.Chart{
		X:      chart.Axis{Label: "mean of both units (m/s)", Column: "mean_m_s", Min: x.lo - 0.02, Max: x.hi + 0.02},
		Y:      chart.Axis{Label: "difference (m/s)", Column: "difference_m_s"},
		Points: []chart.Points{s}, Height: stripHeight,
		Alt: fmt.Sprintf("%s minus %s over their mean, %s. Bias: %s.", a.Other, a.Reference, count(len(s.At), "pair"), estimate(3, "m/s", a.Bias)),
	}
	across := func(name, series string, e profile.Estimate, ink chart.Ink, dashed bool) {
		if e.Known {
			y.add(e.Value)
			c.Lines = append(c.Lines, chart.Line{Name: name, Series: series, Ink: ink, Dashed: dashed,
				At: []chart.XY{{X: c.X.Min, Y: e.Value}, {X: c.X.Max, Y: e.Value}}})
		}
	}
	across("bias", "", a.Bias, chart.First, false)
	across("limits of agreement", "", a.LowerLimit, chart.Second, true)
	across("", "limits of agreement", a.UpperLimit, chart.Second, true)
	room := 0.05*(y.hi-y.lo) + 0.005
	c.Y.Min, c.Y.Max = y.lo-room, y.hi+room
	return c
}
