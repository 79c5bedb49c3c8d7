package motion

import (
	"bytes"
	_ "embed"
	"fmt"
	"html"
	"html/template"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/trace"
)

//go:embed page.html
var pageText string

//go:embed picture.css
var pictureCSS string

var page = template.Must(template.New("page").Parse(pageText))

// traceView is what the page shows of one trace.
type traceView struct {
	Title, Source, Rigging, Said string
	Panels                       []panelView
}

type panelView struct {
	Caption string
	Height  string
	Drawing template.HTML // written by draw, which escapes every text
	Reps    []row
	Others  []row
	Remarks bool // some rep has one
}

// row is a line of a table, as text.
type row struct {
	Set, Rep, At, Kind, Why                   string
	Mean, Propulsive, Peak, ToPeak, Sticking  string
	ROM, Concentric, Eccentric, Remarks, Rows string
}

// HTML writes a page of traces, self-contained.
func HTML(traces []Trace) ([]byte, error) {
	var views []traceView
	for i := range traces {
		views = append(views, view(&traces[i]))
	}
	title := "Raw trace"
	if len(traces) == 1 && traces[0].title() != "" {
		title = traces[0].title()
	}
	var b bytes.Buffer
	err := page.Execute(&b, map[string]any{"Title": title, "Traces": views, "CSS": template.CSS(pictureCSS)})
	return b.Bytes(), err
}

func view(t *Trace) traceView {
	v := traceView{Title: t.title(), Source: t.Source, Rigging: t.rigging(), Said: t.Summary.Said(false)}
	number := t.number()
	for _, p := range t.panels() {
		pv := panelView{Caption: p.caption(), Height: short(panelH), Drawing: template.HTML(p.draw(0, number))}
		for i := range p.found {
			f := &p.found[i]
			if counted(f) {
				r := rowOf(f, number[f.At])
				pv.Reps = append(pv.Reps, r)
				pv.Remarks = pv.Remarks || r.Remarks != ""
			} else {
				pv.Others = append(pv.Others, rowOf(f, 0))
			}
		}
		v.Panels = append(v.Panels, pv)
	}
	return v
}

func rowOf(f *trace.Found, number int) row {
	digits := func(n rep.Null[float64], d int) string {
		if !n.OK {
			return "–"
		}
		return fmt.Sprintf("%.*f", d, n.V)
	}
	r := row{
		Set: fmt.Sprint(f.Set), Rep: fmt.Sprint(number), At: clock(f.At), Kind: f.Kind.String(), Why: f.Why,
		Mean: fmt.Sprintf("%.3f", f.MeanVelocity), Propulsive: digits(f.MeanPropulsive, 3), Peak: digits(f.PeakVelocity, 3),
		ToPeak: digits(f.TimeToPeak, 2), Sticking: digits(f.StickingMin, 3), ROM: fmt.Sprintf("%.3f", f.ROM),
		Concentric: fmt.Sprintf("%.2f", f.Concentric), Eccentric: digits(f.Eccentric, 2), Rows: fmt.Sprintf("%d–%d", f.Row, f.LastRow),
	}
	var remarks []string
	if f.Kind == trace.Missed {
		remarks = append(remarks, "missed: "+f.Why)
	}
	if f.SlackTravel > 0 {
		remarks = append(remarks, slack(f))
	}
	if f.RingHz > 0 {
		remarks = append(remarks, fmt.Sprintf("ringing after lockout taken out, %.1f Hz, first swing %.1f cm", f.RingHz, 100*f.RingTravel))
	}
	if f.Slipped > 0 {
		remarks = append(remarks, fmt.Sprintf("the tether slipped by %.1f cm inside, levelled", 100*f.Slipped))
	}
	if f.Gap {
		remarks = append(remarks, "readings are missing inside")
	}
	r.Remarks = strings.Join(remarks, "; ")
	return r
}

// SVG writes traces below each other as one picture, self-contained.
func SVG(traces []Trace) []byte {
	const head, caption = 46.0, 26.0
	var body strings.Builder
	y := 8.0
	line := func(class, text string, size float64) {
		y += size
		fmt.Fprintf(&body, "<text class=\"%s\" x=\"%s\" y=\"%s\">%s</text>\n", class, short(left), short(y), html.EscapeString(text))
	}
	for i := range traces {
		t := &traces[i]
		line("title", t.title(), 22)
		line("caption", strings.Trim(t.Source+"; "+t.rigging(), "; "), 17)
		number := t.number()
		for _, p := range t.panels() {
			line("caption", p.caption(), caption)
			body.WriteString(p.draw(y+6, number))
			y += 6 + panelH
			for k := range p.found {
				if f := &p.found[k]; !counted(f) && f.ROM >= 0.02 {
					line("caption", tell(f, 0), 16)
				}
			}
		}
		y += head / 2
	}
	line("caption", "Bands: reps, with their number; hatched: missed; dotted frames: not counted. Dashes: mean velocity; dot: peak; triangle: sticking point.", 18)
	y += 12
	var alt []string
	for i := range traces {
		alt = append(alt, traces[i].title()+": "+traces[i].Summary.Said(false))
	}
	return fmt.Appendf(nil, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %s %s\" width=\"%s\" height=\"%s\" role=\"img\">\n<title>%s</title>\n<style>%s</style>\n<rect class=\"paper\" width=\"100%%\" height=\"100%%\"/>\n%s</svg>\n",
		short(width), short(y), short(width), short(y), html.EscapeString(strings.Join(alt, "\n")), pictureCSS, body.String())
}
