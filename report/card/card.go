// Package card writes the pages of a season: one a lifter, and the page of the
// club that leads to them.
//
// A lifter's page has the speed card first, one sheet that fits a gym wall, then
// what stands behind it, question by question. A page is one file that needs
// nothing else: no script, no picture from elsewhere, no network.
//
// The page says numbers the way a lifter reads them: speeds to 0.01 m/s, loads
// to the half kilogram, each with its range and what it rests on, and "not
// enough yet" where a number has no support.
package card

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"repsift/clean"
	"repsift/profile"
	"repsift/report/chart"
)

// Page is what the page of one lifter is made from.
type Page struct {
	Season string // the season's own name; may be empty
	Lifter *profile.Lifter
	All    *profile.Profiles // for what holds for every page
	Result *clean.Result     // of the season, or what it says of the lifter
	Index  string            // link to the page of the club; empty for none
}

//go:embed page.html lift.html club.html units.html page.css
var files embed.FS

// pages are parsed when the first is written: a run without pages has no need of
// them.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"speed": speed, "speedOf": speedOf, "kg": kg, "share": share, "day": day, "num": num,
		"est": estimate, "kgOf": kgOf, "from": from, "spread": spread, "css": css, "count": count,
		"join": joined, "picture": picture, "brief": brief, "setRows": setRows, "asideRows": asideRows, "briefKg": briefKg, "briefShare": briefShare,
		"odds": odds, "chance": chance,
	}).ParseFS(files, "page.html", "lift.html", "club.html", "units.html"))
})

func css() (template.CSS, error) {
	b, err := files.ReadFile("page.css")
	return template.CSS(b), err
}

// Fixed returns the text that every page has, whoever it is of.
func Fixed() string {
	var all strings.Builder
	for _, name := range []string{"page.html", "lift.html", "club.html", "page.css"} {
		b, err := files.ReadFile(name)
		if err != nil {
			panic(err) // they are part of the program
		}
		all.Write(b)
	}
	return all.String()
}

// drawn is a chart with its legend, as the template sets them.
type drawn struct {
	Picture template.HTML
	Keys    []drawnKey
}

type drawnKey struct {
	Name string
	Mark template.HTML
}

// picture draws a chart. The chart escapes what it embeds.
func picture(c *chart.Chart) (drawn, error) {
	svg, err := chart.SVG(*c)
	if err != nil {
		return drawn{}, err
	}
	d := drawn{Picture: template.HTML(svg)}
	for _, k := range c.Legend() {
		d.Keys = append(d.Keys, drawnKey{k.Name, template.HTML(k.Mark)})
	}
	return d, nil
}

// Write writes the page. Equal input gives equal bytes.
func Write(w io.Writer, p Page) error {
	if err := pages().ExecuteTemplate(w, "page.html", p.view()); err != nil {
		return fmt.Errorf("page of %s: %w", p.Lifter.Name, err)
	}
	return nil
}
