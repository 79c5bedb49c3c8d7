package card

import (
	"fmt"
	"math"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/chart"
)

// copiesView counts the reps of one source that another copy stands for: they
// would fill pages and teach nothing.
type copiesView struct {
	Filter, Source string
	Reps           int
}

// asideView is one rep that was set aside.
type asideView struct {
	Lift, Filter, Reason string
	Date                 rep.Day
	LoadKg, Speed        float64
	ROM                  rep.Null[float64] // cm
	Place                string
}

// isCopy reports whether a filter takes reps that are kept elsewhere.
func isCopy(k rep.Kind) bool { return k == rep.Duplicate || k == rep.SecondDevice }

// setAside fills what was set aside of the page's lifter.
func (v *view) setAside(p Page) {
	table := p.Result.Reps
	ran := map[rep.Kind]bool{}
	for _, a := range p.Result.Aside {
		if table.Text.Text(table.Lifter.At(a.Row)) != p.Lifter.Name {
			continue
		}
		ran[a.Filter] = true
		v.AllAside++
		if isCopy(a.Filter) {
			v.copies(a.Filter.String(), table.Text.Text(table.Source.At(a.Row)))
			continue
		}
		r := table.Rep(a.Row)
		if r.ROM.OK {
			r.ROM.V *= 100
		}
		v.Aside = append(v.Aside, asideView{
			Lift: r.Lift, Filter: a.Filter.String(), Reason: a.Reason, Date: r.Date, LoadKg: r.LoadKg, Speed: r.MeanVelocity, ROM: r.ROM,
			Place: rep.Place{Source: r.Source, Sheet: r.Sheet, Row: r.Row}.String(),
		})
	}
	for _, f := range p.Result.Filters {
		if ran[f.Kind] && !f.Flag {
			v.AsideWhy = append(v.AsideWhy, f)
		}
	}
}

// copies counts a copy; sources are in order since the list of reps is.
func (v *view) copies(filter, source string) {
	for i := range v.Copies {
		if c := &v.Copies[i]; c.Filter == filter && c.Source == source {
			c.Reps++
			return
		}
	}
	v.Copies = append(v.Copies, copiesView{filter, source, 1})
}

// travel shows where the reps of a lift that were set aside lie against the
// kept ones: travel against speed.
type travel struct {
	Lift   string
	Chart  *chart.Chart
	Aside  int // with a known travel, copies left out
	Beyond int // of those, too far off for the picture
}

// travelOf returns nil where no rep with a known travel was set aside.
func travelOf(res *clean.Result, lifter, lift string) *travel {
	t := res.Reps
	mine := func(row int32) (chart.XY, bool) {
		if t.Text.Text(t.Lifter.At(row)) != lifter || t.Text.Text(t.Lift.At(row)) != lift || !t.ROM.At(row).OK {
			return chart.XY{}, false
		}
		return chart.XY{X: 100 * t.ROM.Get(row), Y: t.MeanVelocity.Get(row)}, true
	}
	var kept, aside []chart.XY
	var x, y extent
	seen := map[chart.XY]bool{}
	for _, row := range res.Kept {
		at, ok := mine(row)
		if !ok {
			continue
		}
		x.add(at.X)
		y.add(at.Y)
		// Two dots on one spot look like one.
		at.X, at.Y = math.Round(2*at.X)/2, math.Round(100*at.Y)/100
		if !seen[at] {
			seen[at] = true
			kept = append(kept, at)
		}
	}
	// One far point must not squeeze all others into a corner: the picture
	// reaches half as far again as the kept reps do.
	mostX, mostY := 1.5*x.hi, 1.5*y.hi
	if !x.any {
		mostX, mostY = math.Inf(1), math.Inf(1)
	}
	out := travel{Lift: lift}
	for _, a := range res.Aside {
		at, ok := mine(a.Row)
		if !ok || isCopy(a.Filter) {
			continue
		}
		out.Aside++
		if at.X > mostX || at.Y > mostY {
			out.Beyond++
			continue
		}
		x.add(at.X)
		y.add(at.Y)
		aside = append(aside, at)
	}
	if out.Aside == 0 || !x.any {
		return nil
	}
	out.Chart = &chart.Chart{
		Alt: fmt.Sprintf("Range of motion against speed of the %s: the kept reps, and %d that were set aside.", lift, len(aside)),
		X:   chart.Axis{Label: "range of motion (cm)", Column: "rom_cm", Min: 0, Max: x.hi * 1.04},
		Y:   chart.Axis{Label: "mean velocity (m/s)", Column: speedColumn, Min: 0, Max: y.hi * 1.04},
		Points: []chart.Points{{Name: "kept", Ink: chart.Faint, Small: true, At: kept},
			{Name: "set aside", Ink: chart.Second, At: aside}},
	}
	return &out
}
