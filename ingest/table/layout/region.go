package layout

import (
	"slices"
	"strings"

	"repsift/ingest/table/cell"
)

// region turns positions into rows.
func (v *view) region(t *found) cell.Region {
	var r cell.Region
	first, last := v.extent(t)
	r.FirstCol, r.LastCol = v.span.first+first, v.span.first+last
	lone := v.loneSign(t) // a comment sign in a cell of its own is no heading
	if lone {
		last--
		r.LastCol--
	}
	r.Headings = make([]string, last-first+1)
	over := r.Headings // those that headings are written for
	if v.rowNames(t) {
		over = over[1:]
		v.g.rowNames = true
	}
	for i, h := range t.headings {
		r.HeadingRows = append(r.HeadingRows, v.rows[h].line)
		if lone {
			v.name(r.Headings, h, first+1, nil)
		} else {
			v.name(over, h, first, t.headings[i+1:])
		}
	}
	if t.units >= 0 {
		r.UnitsRow = v.rows[t.units].line
		r.Units = make([]string, len(r.Headings))
		for c := range r.Units {
			r.Units[c] = strings.TrimFunc(v.text(t.units, first+c), cell.IsSpace)
		}
	}
	if t.last >= 0 {
		r.FirstData, r.LastData = v.rows[t.data].line, v.rows[t.last].end
		for _, n := range t.notData {
			r.NotData = append(r.NotData, v.rows[n].line)
		}
		for _, n := range t.labels {
			l := &v.rows[n]
			r.Labels = append(r.Labels, cell.Pair{Value: strings.TrimFunc(v.text(n, l.first), cell.IsSpace), Row: l.line, Col: v.span.first + l.first})
		}
	}
	return r
}

// name adds a heading row to the headings. A label with a heading below it is
// that of a group: it holds for the columns to its right that have a heading
// below and no label.
func (v *view) name(headings []string, row, first int, below []int) {
	label := ""
	for c := range headings {
		t := strings.TrimFunc(v.text(row, first+c), cell.IsSpace)
		if c == 0 && v.rows[row].flags&comment != 0 {
			t = strings.TrimLeft(t, "# ")
		}
		has := slices.ContainsFunc(below, func(h int) bool { return v.rows[h].look(first+c) != cell.Nothing })
		switch {
		case t != "" && has:
			label = t
		case t != "":
			label = ""
		case has && v.rows[row].flags&merged == 0:
			t = label
		}
		switch {
		case t == "" || headings[c] == t:
		case headings[c] == "":
			headings[c] = t
		default:
			headings[c] += " " + t
		}
	}
}

// rowNames reports whether the rows of a text have one cell more than the one
// line of headings: a name or number of the row, first, as statistics programs
// write.
func (v *view) rowNames(t *found) bool {
	if len(t.headings) != 1 || t.columns.rows < 2 || v.usual < 3 || v.span.first > 0 || v.rows[t.headings[0]].width != v.usual-1 {
		return false
	}
	names := map[string]bool{}
	for i := t.data; i <= t.last && i < t.data+ahead; i++ {
		l := &v.rows[i]
		name := v.text(i, 0)
		if !v.written(i) || l.look(0) == cell.Nothing || names[name] {
			return false
		}
		names[name] = true
	}
	// The last column holds something, else delimiters end the rows.
	return len(t.columns.counts) == int(v.usual) && t.columns.used(int(v.usual)-1) && t.columns.counts[v.usual-1] != [4]int{}
}

// loneSign reports whether the only heading row begins with a comment sign in a
// cell of its own, so that it has one cell more than the data.
func (v *view) loneSign(t *found) bool {
	if len(t.headings) != 1 || t.columns.rows == 0 {
		return false
	}
	l := &v.rows[t.headings[0]]
	sign := strings.TrimSpace(v.text(t.headings[0], l.first))
	return (sign == "#" || sign == "%") && l.last > l.first && (l.last >= len(t.columns.counts) || t.columns.counts[l.last] == [4]int{})
}

// extent returns the first and last column of a table in the view. Columns
// beyond the headings count where two rows and one of a hundred fill them.
func (v *view) extent(t *found) (first, last int) {
	first, last = v.span.last, 0
	rows := append([]int(nil), t.headings...)
	if t.units >= 0 {
		rows = append(rows, t.units)
	}
	for _, h := range rows {
		first, last = min(first, v.rows[h].first), max(last, v.rows[h].last)
	}
	if len(t.headings) > 0 && v.g.text {
		last = max(last, int(v.rows[t.headings[len(t.headings)-1]].width)-1-v.span.first)
	}
	if v.g.text && v.span.first == 0 {
		first = 0 // blank cells at the beginning of all rows of a text are a column, too
	}
	few := max(1, t.columns.rows/100)
	if len(t.headings) == 0 || t.columns.rows <= 2 {
		few = 0
	}
	for c, n := range t.columns.counts {
		if n[none]+n[number]+n[temporal]+n[text] > few {
			first, last = min(first, c), max(last, c)
		}
	}
	return min(first, last), min(last, v.span.last-v.span.first)
}

// preamble adds the rows above a table.
func (v *view) preamble(r *cell.Region, from, to int) {
	for i := from; i < to; i++ {
		l := &v.rows[i]
		r.PreambleRows = append(r.PreambleRows, l.line)
		texts := v.g.textsOf(l.row)
		if len(texts) > 0 && strings.HasPrefix(fold(texts[0]), "sep=") {
			continue
		}
		r.Preamble = append(r.Preamble, pairs(l.row, texts, v.span.first, v.span.last)...)
	}
}
