package book

import (
	"cmp"
	"math"
	"slices"

	"github.com/xuri/excelize/v2"

	"repsift/profile"
)

// charts draws the charts of a lift from row on, and the points behind them
// further right. It returns the row behind the lowest of both.
func (c *pencil) charts(row int, l *profile.Lift) int {
	end, at, col := row, row, dataCol
	for _, build := range []func(*sketch, *profile.Lift) *excelize.Chart{effortChart, speedChart, strengthChart} {
		s := &sketch{c: c, col: col, row: row}
		chart := build(s, l)
		if chart == nil {
			continue
		}
		c.place(at, chart)
		at += chartRows
		col = s.col
		end = max(end, at, s.end)
	}
	return end
}

func (c *pencil) place(row int, chart *excelize.Chart) {
	if c.err != nil {
		return
	}
	var at string
	if at, c.err = excelize.CoordinatesToCellName(chartCol, row); c.err == nil {
		c.err = c.p.AddChart(c.sheet, at, chart)
	}
}

// sketch lays out the points behind one chart, grid beside grid.
type sketch struct {
	c        *pencil
	col, row int
	end      int
}

// lay writes a grid and returns the reference of column i of its rows from to
// to, counted from 0; of its heading where both are -1.
func (s *sketch) lay(g grid) (ref func(i, from, to int) string) {
	col := s.col
	s.end = max(s.end, s.c.draw(col, s.row, g))
	s.col += len(g.heads) + 1
	return func(i, from, to int) string {
		a, err1 := excelize.CoordinatesToCellName(col+i, s.row+2+from, true)
		b, err2 := excelize.CoordinatesToCellName(col+i, s.row+2+to, true)
		s.c.err = cmp.Or(s.c.err, err1, err2)
		if a == b {
			return quoted(s.c.sheet) + "!" + a
		}
		return quoted(s.c.sheet) + "!" + a + ":" + b
	}
}

// effortChart: the slowest rep of each set against the RPE it was called.
func effortChart(s *sketch, l *profile.Lift) *excelize.Chart {
	g := grid{"Behind the effort chart", []string{"RPE", "Slowest rep (m/s)", "Date", "Load (kg)", "Reps"},
		[]string{asRPE, asSpeed, asDate, asLoad, "0"}, nil}
	y := newRange()
	for _, p := range l.Effort.Points {
		if p.Slowest.OK() && p.InLine {
			g.rows = append(g.rows, []any{p.RPE, p.Slowest, p.Date, p.LoadKg, p.Reps})
			y.add(float64(p.Slowest))
		}
	}
	if len(g.rows) == 0 {
		return nil
	}
	ref := s.lay(g)
	end := len(g.rows) - 1
	series := []excelize.ChartSeries{points(ref(1, -1, -1), ref(0, 0, end), ref(1, 0, end), first, "circle")}
	line := grid{"Line and range of the next set", []string{"RPE", "Line (m/s)", "Next set, low", "Next set, high"}, []string{asRPE, asSpeed, asSpeed, asSpeed}, nil}
	for _, r := range l.Effort.ByRPE {
		if r.Speed.Known {
			line.rows = append(line.rows, []any{r.RPE, r.Speed.Value, r.Speed.Lo, r.Speed.Hi})
			y.add(r.Speed.Lo, r.Speed.Hi)
		}
	}
	series = append(series, s.band(line)...)
	return scatter("Effort chart: slowest rep against RPE", series,
		axis("RPE of the set", "0", span{5, 10}), axis("m/s", "0.0", y.rounded(0.1)))
}

// speedChart: the fastest rep of each load and day, with the line of the
// latest day.
func speedChart(s *sketch, l *profile.Lift) *excelize.Chart {
	g := grid{"Behind the load-velocity profile", []string{"Load (kg)", "Fastest rep (m/s)", "Date", "Set"},
		[]string{asLoad, asSpeed, asDate, ""}, nil}
	x, y := newRange(), span{0, 0}
	for _, p := range l.LoadVelocity.At {
		g.rows = append(g.rows, []any{p.LoadKg, p.Speed, p.Date, p.Role})
		x.add(float64(p.LoadKg))
		y.add(float64(p.Speed))
	}
	if len(g.rows) == 0 {
		return nil
	}
	ref := s.lay(g)
	end := len(g.rows) - 1
	series := []excelize.ChartSeries{points(ref(1, -1, -1), ref(0, 0, end), ref(1, 0, end), second, "diamond")}
	line := grid{"Line and range of the next day", []string{"Load (kg)", "Line (m/s)", "Next day, low", "Next day, high"}, []string{asLoad, asSpeed, asSpeed, asSpeed}, nil}
	for _, p := range l.LoadVelocity.Curve {
		line.rows = append(line.rows, []any{p.LoadKg, p.Speed, p.NextLo, p.NextHi})
		x.add(float64(p.LoadKg))
		y.add(float64(p.NextHi))
	}
	series = append(series, s.band(line)...)
	return scatter("Load-velocity profile: fastest rep against load", series,
		axis("load (kg)", "0", x.rounded(20)), axis("m/s", "0.0", y.rounded(0.2)))
}

// strengthChart: the e1RM of each session, by where it comes from.
func strengthChart(s *sketch, l *profile.Lift) *excelize.Chart {
	history := slices.Clone(l.E1RM)
	slices.SortStableFunc(history, func(a, b profile.E1RM) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.Date, b.Date))
	})
	history = slices.DeleteFunc(history, func(e profile.E1RM) bool { return !e.Kg.Known })
	if len(history) == 0 {
		return nil
	}
	g := grid{"Behind the progress chart", []string{"Date", "e1RM (kg)", "Low", "High", "From", "What"},
		[]string{asDate, asLoad, asLoad, asLoad, "", ""}, nil}
	x, y := newRange(), newRange()
	for i := range history {
		e := &history[i]
		g.rows = append(g.rows, []any{e.Date, e.Kg.Value, e.Kg.Lo, e.Kg.Hi, e.From, e.Told()})
		x.add(float64(serial(e.Date)))
		y.add(e.Kg.Value)
	}
	ref := s.lay(g)
	inks := []string{first, second, quiet, ink}
	symbols := []string{"circle", "diamond", "square", "triangle"}
	var series []excelize.ChartSeries
	for from := 0; from < len(history); {
		to := from
		for to < len(history) && history[to].From == history[from].From {
			to++
		}
		k := len(series) % len(inks)
		series = append(series, points(ref(4, from, from), ref(0, from, to-1), ref(1, from, to-1), inks[k], symbols[k]))
		from = to
	}
	return scatter("Progress: e1RM of each session", series,
		axis("", "d mmm yy", x.rounded(7)), axis("kg", "0", y.rounded(10)))
}

// points is a series of marks; name, x and y are references.
func points(name, x, y, color, symbol string) excelize.ChartSeries {
	return excelize.ChartSeries{Name: name, Categories: x, Values: y, Line: excelize.LineOptions{Type: excelize.LineNone},
		Marker: excelize.ChartMarker{Symbol: symbol, Size: 6, Fill: solid(color), Border: excelize.LineOptions{Fill: solid(color), Width: 0.75}}}
}

// band lays out a line with low and high and returns the three as series; none
// for fewer than two points.
func (s *sketch) band(g grid) []excelize.ChartSeries {
	if len(g.rows) < 2 {
		return nil
	}
	ref := s.lay(g)
	end := len(g.rows) - 1
	curve := func(col int, color string, width float64, dash excelize.LineDashType) excelize.ChartSeries {
		return excelize.ChartSeries{Name: ref(col, -1, -1), Categories: ref(0, 0, end), Values: ref(col, 0, end), Fill: solid(color),
			Line:   excelize.LineOptions{Type: excelize.LineSolid, Width: width, Dash: dash, Fill: solid(color)},
			Marker: excelize.ChartMarker{Symbol: "none"}}
	}
	return []excelize.ChartSeries{curve(1, ink, 1.75, excelize.LineDashSolid),
		curve(2, lighter, 1, excelize.LineDashDash), curve(3, lighter, 1, excelize.LineDashDash)}
}

func solid(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

func scatter(name string, series []excelize.ChartSeries, x, y excelize.ChartAxis) *excelize.Chart {
	return &excelize.Chart{
		Type: excelize.Scatter, Series: series, XAxis: x, YAxis: y,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: name, Font: &excelize.Font{Bold: true, Size: 11, Color: ink}}}},
		Legend:    excelize.ChartLegend{Position: "bottom"},
		Dimension: excelize.ChartDimension{Width: 600, Height: 320},
	}
}

func axis(name, format string, s span) excelize.ChartAxis {
	a := excelize.ChartAxis{MajorGridLines: true, Minimum: &s.low, Maximum: &s.high, NumFmt: excelize.ChartNumFmt{CustomNumFmt: format},
		Font: excelize.Font{Size: 9, Color: quiet}}
	if name != "" {
		a.Title = excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: name, Font: &excelize.Font{Size: 9, Color: quiet}}}}
	}
	return a
}

// span is a range of values.
type span struct{ low, high float64 }

func newRange() span { return span{math.Inf(1), math.Inf(-1)} }

func (s *span) add(values ...float64) {
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			s.low, s.high = min(s.low, v), max(s.high, v)
		}
	}
}

// rounded widens the range to whole steps, at least one. Steps are tenths or
// larger.
func (s span) rounded(step float64) span {
	at := func(steps float64) float64 { return math.Round(10*steps*step) / 10 }
	low := math.Floor(s.low / step)
	return span{at(low), at(max(math.Ceil(s.high/step), low+1))}
}
