// Package card writes the page of one lifter: the speed card first, one sheet
// that fits a gym wall, then what stands behind it. A page is one file that
// needs nothing else: no script, no picture from elsewhere, no network.
//
// The page says numbers the way a lifter reads them: speeds to 0.01 m/s, loads
// to the half kilogram, and "not enough yet" where a number has no support.
package card

import (
	"embed"
	"fmt"
	"html/template"
	"io"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

// Page is what the page of one lifter is made from.
type Page struct {
	Season string // the season's own name; may be empty
	Lifter *profile.Lifter
	All    *profile.Profiles // for what holds for every page
	Result *clean.Result
	Index  string // link to the page of the club; empty for none
}

//go:embed page.html page.css
var files embed.FS

var page = template.Must(template.New("page.html").Funcs(template.FuncMap{
	"speed": speed, "speedOf": speedOf, "kg": kg, "share": share, "day": day, "num": num,
	"est": estimate, "spread": spread, "css": css, "count": count,
	"join": joined,
	"chart": func(c *chart.Chart) (template.HTML, error) {
		svg, err := chart.SVG(*c)
		return template.HTML(svg), err // chart escapes what it embeds
	},
}).ParseFS(files, "page.html"))

func css() (template.CSS, error) {
	b, err := files.ReadFile("page.css")
	return template.CSS(b), err
}

// Write writes the page. Equal input gives equal bytes.
func Write(w io.Writer, p Page) error {
	if err := page.Execute(w, p.view()); err != nil {
		return fmt.Errorf("page of %s: %w", p.Lifter.Name, err)
	}
	return nil
}

// view is what the template shows.
type view struct {
	Season   string
	Index    string
	Lifter   *profile.Lifter
	Lifts    []liftView
	Bare     []string // lifts without a number for the card
	Aside    []asideView
	Copies   []copiesView
	AllAside int
	AsideWhy []clean.InForce
	Cautions []string
	Kept     int
}

// liftView is one lift on the page.
type liftView struct {
	*profile.Lift
	Anchor       string
	Rigging      string // "sumo, deadlift bar, tether at the centre, north unit"
	EffortRows   []profile.AtRPE
	Percent      []profile.PercentRow
	WarmUp       *profile.Readiness
	EffortChart  *chart.Chart
	SpeedChart   *chart.Chart
	ReadyChart   *chart.Chart
	StrengthCh   *chart.Chart
	TravelChart  *chart.Chart
	Sets         []rep.Set
	KnownTrends  []profile.SpeedTrend
	LiftCautions []string
	Splits       []splitView // in the place of the profile's own
}

// splitView is a group of sets that is kept apart.
type splitView struct {
	profile.Split
	Rigging string
}

// OnCard reports whether there is any number to pin up.
func (v liftView) OnCard() bool {
	return v.E1RMNow.Known || len(v.Percent) > 0 || len(v.EffortRows) > 0
}

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
	Place                string
}

func (p Page) view() view {
	v := view{Season: p.Season, Index: p.Index, Lifter: p.Lifter, Cautions: p.All.Cautions}
	sets := map[string][]rep.Set{}
	for _, s := range p.Result.Sets {
		if s.Lifter == p.Lifter.Name {
			sets[s.Lift] = append(sets[s.Lift], s)
			v.Kept += int(s.Reps)
		}
	}
	table := p.Result.Reps
	ran := map[rep.Kind]bool{}
	for _, a := range p.Result.Aside {
		if table.Text.Text(table.Lifter[a.Row]) != p.Lifter.Name {
			continue
		}
		ran[a.Filter] = true
		v.AllAside++
		if a.Filter == rep.Duplicate || a.Filter == rep.SecondDevice {
			v.copies(a.Filter.String(), table.Text.Text(table.Source[a.Row]))
			continue
		}
		r := table.Rep(a.Row)
		v.Aside = append(v.Aside, asideView{
			Lift: r.Lift, Filter: a.Filter.String(), Reason: a.Reason, Date: r.Date, LoadKg: r.LoadKg, Speed: r.MeanVelocity,
			Place: rep.Place{Source: r.Source, Sheet: r.Sheet, Row: r.Row}.String(),
		})
	}
	for _, f := range p.Result.Filters {
		if ran[f.Kind] {
			v.AsideWhy = append(v.AsideWhy, f)
		}
	}
	for i := range p.Lifter.Lifts {
		l := &p.Lifter.Lifts[i]
		v.Lifts = append(v.Lifts, p.lift(l, fmt.Sprintf("lift-%d", i+1), sets[l.Lift]))
		if !v.Lifts[i].OnCard() {
			v.Bare = append(v.Bare, l.Lift)
		}
	}
	return v
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

// TenKg is how much slower ten kilograms more are, m/s.
func (v liftView) TenKg() float64 { return -10 * v.LoadVelocity.Slope.Value }

// effortLevels are the RPE a card shows; the page's tables show every half.
var effortLevels = map[float64]bool{6: true, 7: true, 8: true, 9: true, 10: true}

func (p Page) lift(l *profile.Lift, anchor string, sets []rep.Set) liftView {
	v := liftView{
		Lift: l, Anchor: anchor, Rigging: rigging(l.Main), Percent: l.LoadVelocity.Table, Sets: sets,
		EffortChart: effortChart(l), SpeedChart: speedChart(l), ReadyChart: readyChart(l),
		StrengthCh: strengthChart(l), TravelChart: travelChart(p.Result, p.Lifter.Name, l.Lift),
		LiftCautions: cautions(l),
	}
	for _, row := range l.Effort.ByRPE {
		if effortLevels[row.RPE] {
			v.EffortRows = append(v.EffortRows, row)
		}
	}
	for _, s := range l.Splits {
		v.Splits = append(v.Splits, splitView{s, rigging(s.Group)})
	}
	if r := l.ReadinessNow; r.Usual.Known {
		v.WarmUp = &r
	}
	for _, t := range l.Progress {
		if t.PerWeek.Known {
			v.KnownTrends = append(v.KnownTrends, t)
		}
	}
	return v
}

// cautions gathers those of a lift's parts, each once, in the page's order.
func cautions(l *profile.Lift) []string {
	var all []string
	seen := map[string]bool{}
	for _, part := range [][]string{l.Cautions, l.E1RMNotes, l.Effort.Cautions, l.LoadVelocity.Cautions, l.VelocityLoss.Cautions} {
		for _, c := range part {
			if !seen[c] {
				seen[c] = true
				all = append(all, c)
			}
		}
	}
	return all
}

func rigging(g profile.Group) string {
	var parts []string
	add := func(format, text string) {
		if text != "" {
			parts = append(parts, fmt.Sprintf(format, text))
		}
	}
	add("%s", g.Variant)
	add("%s bar", g.Bar)
	add("tether at %s", g.Tether)
	add("%s", g.Device)
	return joined(parts)
}
