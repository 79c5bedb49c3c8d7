package card

import (
	"html/template"
	"strconv"
	"strings"

	"repsift/ingest/rep"
)

// The two tables of a page that grow with the season are written here: as part
// of the template they take most of the time of a page of a thousand sets.

// setRows returns the rows of the table of all sets.
func setRows(sets []rep.Set) template.HTML {
	var b strings.Builder
	b.Grow(96 * len(sets))
	for i := range sets {
		s := &sets[i]
		b.WriteString("<tr><td>" + s.Date.String() + "<td>")
		if s.Number.OK {
			b.WriteString(strconv.Itoa(int(s.Number.V)))
		} else {
			b.WriteString(dash)
		}
		b.WriteString("<td>" + kg(s.LoadKg) + "<td>" + repsOf(s))
		b.WriteString("<td>" + speed(s.Fastest) + "<td>" + speed(s.Slowest) + "<td>" + share(s.Loss) + "<td>" + num(1, s.RPE))
		b.WriteString("<td>" + s.Role.String())
		if s.Variant != "" {
			b.WriteString(", " + template.HTMLEscapeString(s.Variant))
		}
		b.WriteByte('\n')
	}
	return template.HTML(b.String())
}

// repsOf returns the reps of a set as its row shows them.
func repsOf(s *rep.Set) string {
	text := dash
	switch {
	case len(s.Rows) > 0:
		text = strconv.Itoa(int(s.Reps))
	case s.Log != nil && s.Log.Reps.OK:
		text = strconv.Itoa(int(s.Log.Reps.V)) + " logged"
	}
	if s.Missed > 0 {
		text += ", " + strconv.Itoa(int(s.Missed)) + " missed"
	}
	return text
}

// asideRows returns the rows of the table of what was set aside.
func asideRows(aside []asideView) template.HTML {
	var b strings.Builder
	b.Grow(256 * len(aside))
	for i := range aside {
		a := &aside[i]
		b.WriteString("<tr><td>" + a.Date.String() + "</td>")
		text := func(s string) { b.WriteString(`<td class="t">` + template.HTMLEscapeString(s) + "</td>") }
		text(a.Lift)
		for _, number := range []string{kg(a.LoadKg), speed(a.Speed), num(0, a.ROM)} {
			b.WriteString("<td>" + number + "</td>")
		}
		text(a.Filter)
		text(a.Reason)
		text(a.Place)
		b.WriteString("</tr>\n")
	}
	return template.HTML(b.String())
}
