package score

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// export is one generated export and what must be read from it.
type export struct {
	name string
	data []byte
	want []string
	said string
}

// layout is what the shapes of an export share.
type layout struct {
	*gen
	u       units
	s       style
	book    bool
	unitsIn string          // where units stand
	carried map[string]bool // fields that stand around the table
	timed   bool            // there are times of day
	want    []string
}

// col is a column: its heading, its unit and its cells.
type col struct {
	heading string
	unit    *measure
	cell    func(s *set, rep int) val
}

// head returns a heading for a field with a unit as the export writes it.
func (l *layout) head(field string, unit *measure) col {
	return l.headed(l.lang.of(l.gen, field), unit)
}

func (l *layout) headed(h string, unit *measure) col {
	if unit != nil {
		switch l.unitsIn {
		case "round":
			h += " (" + unit.name + ")"
		case "square":
			h += " [" + unit.name + "]"
		case "comma":
			h += ", " + unit.name
		case "plain":
			h += " " + unit.name
		case "in":
			h += " in " + unit.name
		case "_":
			h += "_" + unit.name
		}
	}
	return col{heading: h, unit: unit}
}

func (l *layout) measured(field string, unit *measure, value func(s *set, rep int) float64) col {
	c := l.head(field, unit)
	c.cell = func(s *set, rep int) val {
		v := value(s, rep)
		if v == 0 {
			return text(l.s.null)
		}
		out := num(v, unit.decimals)
		if l.unitsIn == "cells" {
			out.unit = unit.name
		}
		return out
	}
	return c
}

func (l *layout) plain(field string, cell func(s *set, rep int) val) col {
	c := l.head(field, nil)
	c.cell = cell
	return c
}

// identity returns the columns that say whose set it was.
func (l *layout) identity() []col {
	var out []col
	if !l.carried["lifter"] {
		out = append(out, l.plain("lifter", func(s *set, _ int) val { return text(l.s.named(s.lifter)) }))
	}
	l.timed = l.late || l.chance(0.25)
	stamps := l.timed && !l.carried["date"] && !l.late && l.chance(0.35)
	switch {
	case stamps:
		layout := l.weighted("2006-01-02 15:04", 4, "2006-01-02T15:04:05", 3, "02.01.2006 15:04", 3, "2006-01-02T15:04:05Z", 2, "Unix s", 1, "Unix ms", 1, "2006-01-02 3:04 PM", 1)
		l.say("stamps %s", layout)
		out = append(out, l.plain("date", func(s *set, _ int) val {
			at := s.day.Add(time.Duration(s.clock) * time.Minute)
			switch layout {
			case "Unix s":
				return text(fmt.Sprint(at.Unix()))
			case "Unix ms":
				return text(fmt.Sprint(at.UnixMilli()))
			}
			return text(at.Format(layout))
		}))
	case !l.carried["date"]:
		next := l.late && l.chance(0.5) // the calendar's day, not the session's
		out = append(out, l.plain("date", func(s *set, _ int) val {
			if next && s.clock >= 24*60 {
				return val{kind: 'd', day: s.day.AddDate(0, 0, 1)}
			}
			return val{kind: 'd', day: s.day}
		}))
	}
	if l.timed && !stamps {
		out = append(out, l.plain("time", func(s *set, _ int) val { return text(l.s.time(s.clock)) }))
	}
	if !l.carried["lift"] {
		var names [3]string
		for i := range names {
			names[i] = pick(l.gen, strings.Split(l.lang.lifts[i], "|"))
		}
		out = append(out, l.plain("lift", func(s *set, _ int) val { return text(names[s.lift]) }))
	}
	return out
}

// loads returns the load's column, now and then with one for its unit beside.
func (l *layout) loads() []col {
	if l.chance(0.06) {
		c := l.head("load", nil)
		c.cell = func(s *set, _ int) val { return num(s.load, l.u.load.decimals) }
		u := col{heading: pick(l.gen, []string{"Unit", "Units", "Weight unit"}), cell: func(*set, int) val { return text(l.u.load.name) }}
		return []col{c, u}
	}
	return []col{l.loadCol()}
}

func (l *layout) loadCol() col {
	return l.measured("load", &l.u.load, func(s *set, _ int) float64 { return s.load })
}

func (l *layout) rpe() col {
	if l.chance(0.12) {
		c := l.plain("rpe", func(s *set, _ int) val {
			if s.rpe == 0 {
				return text(l.s.null)
			}
			return num(10-s.rpe, 1)
		})
		c.heading = pick(l.gen, []string{"RIR", "Reps in reserve", "RIR of set"})
		return c
	}
	return l.plain("rpe", func(s *set, _ int) val {
		switch {
		case s.rpe == 0:
			return text(l.s.null)
		case l.s.effort == "@":
			return text("@" + l.write(&l.s, num(s.rpe, 1)))
		case l.s.effort == "RPE":
			return text("RPE " + l.write(&l.s, num(s.rpe, 1)))
		}
		return num(s.rpe, 1)
	})
}

// noise returns columns that nobody asked for.
func (l *layout) noise() []col {
	var out []col
	for _, h := range strings.Split(l.lang.extras, "|") {
		if l.chance(0.12) {
			c := col{heading: h}
			base := 20 + 400*l.r.Float64()
			c.cell = func(*set, int) val { return num(float64(int(base*(0.9+0.2*l.r.Float64()))), 0) }
			out = append(out, c)
		}
	}
	for _, n := range strange {
		if l.chance(0.03) {
			base := n.base * (0.8 + 0.4*l.r.Float64())
			out = append(out, col{heading: n.heading, cell: func(*set, int) val {
				v := num(base*(0.85+0.3*l.r.Float64()), n.decimals)
				v.unit = n.unit
				return v
			}})
		}
	}
	if l.chance(0.25) {
		notes := strings.Split(l.lang.note, "|")
		out = append(out, l.plain("note", func(*set, int) val {
			if l.chance(0.7) {
				return text("")
			}
			return text(pick(l.gen, notes))
		}))
	}
	return out
}

// strange are columns of things that other machines and coaches note.
var strange = []struct {
	heading  string
	base     float64
	decimals int
	unit     string
}{
	{"Heart rate", 140, 0, ""}, {"HR (bpm)", 150, 0, ""}, {"Power", 640, 0, ""}, {"Avg power (W)", 540, 0, ""}, {"Watts", 700, 0, ""}, {"Velocity loss (%)", 12, 1, ""},
	{"Velocity loss", 14, 0, "%"}, {"% 1RM", 82, 0, "%"}, {"Eccentric velocity (m/s)", 0.5, 2, ""}, {"e1RM", 180, 1, ""}, {"Estimated 1RM (kg)", 175, 1, ""},
	{"Tonnage", 1500, 0, ""}, {"Session id", 4711, 0, ""}, {"Bodyweight (kg)", 82, 1, ""}, {"Sleep (h)", 7.5, 1, ""}, {"Rest (s)", 180, 0, ""}, {"Peak force (N)", 2100, 0, ""},
	{"Target velocity (m/s)", 0.4, 2, ""}, {"Temperature", 19, 1, ""}, {"Age", 27, 0, ""}, {"Calories", 12, 0, ""}, {"Mean velocity SD", 0.03, 3, ""}, {"Work (J)", 900, 0, ""},
	{"Time under tension (s)", 24, 1, ""}, {"Impulse", 300, 0, ""}, {"Week", 3, 0, ""},
}

// arrange changes the usual order of columns now and then.
func (l *layout) arrange(cols []col) []col {
	switch {
	case l.chance(0.15):
		l.r.Shuffle(len(cols), func(i, j int) { cols[i], cols[j] = cols[j], cols[i] })
	case l.chance(0.4):
		i, j := l.r.IntN(len(cols)), l.r.IntN(len(cols))
		cols[i], cols[j] = cols[j], cols[i]
	}
	for i := range cols { // headings that are the same twice are nobody's export
		for slices.ContainsFunc(cols[:i], func(c col) bool { return strings.EqualFold(c.heading, cols[i].heading) }) {
			cols[i].heading += " 2"
		}
	}
	return cols
}

// headings returns the rows of headings and units.
func (l *layout) headings(cols []col) [][]val {
	h, u := make([]val, len(cols)), make([]val, len(cols))
	for i, c := range cols {
		h[i], u[i] = text(c.heading), text("")
		if c.unit != nil {
			u[i] = text(c.unit.name)
		}
	}
	rows := [][]val{h}
	if l.unitsIn == "row" {
		rows = append(rows, u)
	}
	return rows
}

func (l *layout) row(cols []col, s *set, rep int) []val {
	out := make([]val, len(cols))
	for i, c := range cols {
		out[i] = c.cell(s, rep)
	}
	return out
}

// footer adds a line of totals now and then.
func (l *layout) footer(rows [][]val, cols []col) [][]val {
	if len(cols) < 3 || !l.chance(0.15) {
		return rows
	}
	if l.chance(0.5) {
		rows = append(rows, nil)
	}
	foot := make([]val, len(cols))
	for i := range foot {
		foot[i] = text("")
	}
	foot[0] = text(pick(l.gen, strings.Split(l.lang.total, "|")))
	foot[len(foot)-1] = num(float64(l.r.IntN(500)), 0)
	return append(rows, foot)
}

// filled leaves lifter, date and lift out where they are as in the row above,
// as logs kept by hand do.
func (l *layout) filled(rows [][]val, cols []col) [][]val {
	if !l.chance(0.3) {
		return rows
	}
	first := len(l.headings(cols))
	for i := len(rows) - 1; i > first; i-- {
		for c, v := range rows[i] {
			if above := rows[i-1][c]; (v.kind == 'd' || v.kind == 't' && l.isName(cols[c].heading)) && v == above {
				rows[i][c] = text("")
			}
		}
	}
	return rows
}

func (l *layout) isName(heading string) bool {
	return slices.Contains(strings.Split(l.lang.head["lifter"]+"|"+l.lang.head["lift"], "|"), heading)
}
