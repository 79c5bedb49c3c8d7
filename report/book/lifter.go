package book

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"repsift/profile"
)

// Where things stand on a lifter's sheet: tables from the first column, charts
// beside them, the points behind the charts further right.
const (
	chartCol  = 9
	dataCol   = 20
	chartRows = 17 // that a chart and the gap below it cover
)

// lifter writes the sheet of one lifter: lift below lift.
func (p *print) lifter(sheet string, l *profile.Lifter) error {
	c := &pencil{p: p, sheet: sheet}
	c.widths(34, 12, 12, 12, 12, 12, 12, 4)
	c.put(1, 1, l.Name, title)
	c.put(1, 2, fmt.Sprintf("%s to %s, %d days, %d sessions. Numbers are estimates with the range that holds them in 95 of 100 cases, not prescriptions.",
		l.From, l.To, l.Days, l.Sessions), note)
	row := 4
	for i := range l.Lifts {
		row = c.lift(row, &l.Lifts[i])
	}
	if c.err != nil {
		return c.err
	}
	if err := p.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	if err := p.pageAcross(sheet); err != nil {
		return err
	}
	// On paper: tables and charts, not the points behind them.
	last, err := excelize.CoordinatesToCellName(dataCol-1, row, true)
	if err != nil {
		return err
	}
	return p.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: quoted(sheet) + "!$A$1:" + last, Scope: sheet})
}

// lift writes one lift from row on and returns the row behind it.
func (c *pencil) lift(row int, l *profile.Lift) int {
	c.put(1, row, strings.ToUpper(l.Lift[:1])+l.Lift[1:], section)
	about := fmt.Sprintf("%d sets, %d reps, %s to %s", l.Sets, l.Reps, l.From, l.To)
	if on := rigging(l.Main); on != "" {
		about += "; the numbers rest on: " + on
	}
	c.put(1, row+1, about, note)
	top := row + 3
	end := c.tables(top, l)
	return max(end, c.charts(top, l)) + 2
}

// rigging says in words which sets a group holds.
func rigging(g profile.Group) string {
	var parts []string
	for _, p := range []struct{ before, text, after string }{{"", g.Variant, ""}, {"", g.Bar, " bar"}, {"tether ", g.Tether, ""}, {"", g.Device, ""}} {
		if p.text != "" {
			parts = append(parts, p.before+p.text+p.after)
		}
	}
	return strings.Join(parts, ", ")
}

// Numbers of a profile are said as in a gym: speeds to 0.01 m/s, loads to
// 0.1 kg. The cells hold more digits.
const (
	toSpeed = "0.00"
	toLoad  = "0.0"
)

// number is a line of the key numbers.
func number(name, format string, e profile.Estimate) []any {
	if !e.Known {
		return []any{name, nil, nil, nil, nil, fmt.Sprintf("not enough yet: %d of %d %s", e.Have, e.Need, e.Of)}
	}
	return []any{name, formatted{e.Value, format}, formatted{e.Lo, format}, formatted{e.Hi, format}, e.N, e.Of}
}

// formatted is a number with a format of its own in a column of mixed ones.
type formatted struct {
	v      float64
	format string
}

func (c *pencil) tables(row int, l *profile.Lift) int {
	const perKg = "0.0000"
	loss := &l.VelocityLoss
	row = c.mixed(row, grid{"Key numbers", []string{"", "Value", "Low", "High", "n", "of what"}, nil, [][]any{
		number("e1RM now (kg)", toLoad, l.E1RMNow),
		number("e1RM change (kg per week)", "0.00", l.E1RMTrend.PerWeek),
		number("Speed at 1RM (m/s)", toSpeed, l.LoadVelocity.V1RM),
		number("Slowest rep at RPE 8 (m/s)", toSpeed, l.Effort.AtRPE8),
		number("Slowest rep, change per RPE (m/s)", toSpeed, l.Effort.PerRPE),
		number("Last rep at RPE 8 (m/s)", toSpeed, l.Effort.LastRep.AtRPE8),
		number("Fastest rep, change per kg (m/s)", perKg, l.LoadVelocity.Slope),
		number("Fastest rep at no load (m/s)", toSpeed, l.LoadVelocity.Intercept),
		number("Velocity loss of a working set", asShare, loss.Mean),
	}})
	var levels [][]any
	for _, e := range l.Effort.Levels {
		levels = append(levels, []any{e.RPE, e.Sets, e.Slowest, e.SD, e.Last, e.LastSD})
	}
	row = c.draw(1, row, grid{"Effort chart: sets by called RPE", []string{"RPE", "Sets", "Slowest rep (m/s)", "SD", "Last rep (m/s)", "SD"},
		[]string{asRPE, "0", toSpeed, toSpeed, toSpeed, toSpeed}, levels})
	var percents [][]any
	for _, r := range l.LoadVelocity.Table {
		outside := ""
		if r.Outside {
			outside = "outside the loads measured"
		}
		percents = append(percents, []any{float64(r.Percent) / 100, r.LoadKg, r.Fastest, r.Lo, r.Hi, outside})
	}
	row = c.draw(1, row, grid{"Load and speed by %1RM", []string{"%1RM", "Load (kg)", "Fastest rep (m/s)", "Low", "High", ""},
		[]string{asShare, toLoad, toSpeed, toSpeed, toSpeed, ""}, percents})
	var stops [][]any
	for _, s := range loss.Stop {
		if s.Speed.Known {
			stops = append(stops, []any{s.RPE, s.Speed.Value, s.Speed.Lo, s.Speed.Hi})
		}
	}
	row = c.draw(1, row, grid{"End a back-off set at this speed", []string{"RPE", "Last rep (m/s)", "Low", "High"},
		[]string{asRPE, toSpeed, toSpeed, toSpeed}, stops})
	var trends [][]any
	for _, t := range l.Progress {
		if t.PerWeek.Known {
			trends = append(trends, []any{t.LoadKg, t.PerWeek.Value, t.PerWeek.Lo, t.PerWeek.Hi, t.Days, t.From, t.To})
		}
	}
	row = c.draw(1, row, grid{"Speed at the same load over time", []string{"Load (kg)", "m/s per week", "Low", "High", "Days", "From", "To"},
		[]string{toLoad, "0.000", "0.000", "0.000", "0", asDate, asDate}, trends})
	var ready [][]any
	for _, r := range l.Readiness {
		var lo, hi any
		if r.Usual.Known {
			lo, hi = r.Usual.Lo, r.Usual.Hi
		}
		ready = append(ready, []any{string(r.Verdict), r.Date, r.LoadKg, r.Speed, lo, hi})
	}
	row = c.draw(1, row, grid{"Readiness: the last warm-up against earlier days", []string{"Verdict", "Date", "Load (kg)", "Speed (m/s)", "Usual low", "Usual high"},
		[]string{"", asDate, toLoad, toSpeed, toSpeed, toSpeed}, ready})
	var blocks [][]any
	for _, b := range l.Blocks {
		var e1rm any
		if b.E1RM.Known {
			e1rm = b.E1RM.Value
		}
		blocks = append(blocks, []any{b.Name, b.From, b.To, b.Sets, b.Reps, b.Tonnage, e1rm})
	}
	return c.draw(1, row, grid{"Training blocks, warm-ups left out", []string{"Block", "From", "To", "Sets", "Reps", "Tonnage (kg)", "e1RM (kg)"},
		[]string{"", asDate, asDate, "0", "0", "#,##0", toLoad}, blocks})
}

// mixed draws a grid in which numbers bring their own format.
func (c *pencil) mixed(row int, g grid) int {
	g.formats = make([]string, len(g.heads))
	end := c.draw(1, row, g)
	for i, cells := range g.rows {
		for j, v := range cells {
			if f, ok := v.(formatted); ok {
				c.put(1+j, row+2+i, f.v, cellStyle{format: f.format})
			}
		}
	}
	return end
}
