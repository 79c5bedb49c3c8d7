package layout

import (
	"math"
	"slices"
	"strings"

	"repsift/ingest/table/cell"
)

// found is a table as positions in the view's rows.
type found struct {
	head
	start   int // first heading, else first data row
	next    int // first row after the data
	last    int // last data row; -1: none
	notData []int
	labels  []int
	columns *columns
}

// tables returns the tables of a view.
func (v *view) tables() []cell.Region {
	var all []found
	for i := 0; i < len(v.rows); {
		h, ok := v.head(i)
		if !ok {
			i++
			continue
		}
		done := 0
		if n := len(all); n > 0 {
			done = all[n-1].next
		}
		h = v.skip(v.upper(h, done))
		if len(h.headings) > 0 {
			i = h.headings[0]
		}
		t := v.body(i, h)
		all = append(all, t)
		i = max(t.next, i+1)
	}
	if len(all) == 0 {
		if t, ok := v.onlyHeading(); ok {
			all = append(all, t)
		} else if first := v.firstRow(); first < len(v.rows) && len(v.rows) > 1 {
			all = append(all, v.body(first, head{units: -1, data: first}))
		}
	}
	out := make([]cell.Region, len(all))
	free := 0 // first row that belongs to no table yet
	for k := range all {
		t := &all[k]
		out[k] = v.region(t)
		v.preamble(&out[k], free, t.start)
		free = t.next
		end := len(v.rows)
		if k+1 < len(all) {
			end = v.footEnd(t.next, all[k+1].start)
		}
		for ; free < end; free++ {
			out[k].FooterRows = append(out[k].FooterRows, v.rows[free].line)
		}
	}
	return out
}

// skip leaves out the rows between headings and data that are neither: a line
// drawn with signs, the same headings once more.
func (v *view) skip(h head) head {
	for len(h.headings) > 0 && h.data < len(v.rows) {
		n := v.headingAgain(h.data, h)
		if n == 0 && v.rows[h.data].flags&ruled != 0 {
			n = 1
		}
		if n == 0 {
			break
		}
		h.data += n
	}
	return h
}

// firstRow returns the first row that is no comment and no line drawn.
func (v *view) firstRow() int {
	i := 0
	for i < len(v.rows) && v.rows[i].flags&(comment|ruled) != 0 {
		i++
	}
	return i
}

// onlyHeading finds the headings of a table without data: the last row of
// several texts.
func (v *view) onlyHeading() (found, bool) {
	for i := len(v.rows) - 1; i >= 0; i-- {
		if l := &v.rows[i]; l.texts > 1 && l.typed == 0 && l.count == v.wide {
			h := head{headings: []int{i}, units: -1, data: len(v.rows)}
			return found{head: h, start: i, next: i + 1, last: -1, columns: &columns{}}, true
		}
	}
	return found{}, false
}

// footEnd returns where the rows between two tables cease to be the footer of
// the upper one: at the first gap, or at the first "Name: X".
func (v *view) footEnd(from, to int) int {
	for i := from; i < to; i++ {
		if v.gap(i) {
			return i
		}
		strong, maybe := v.total(i)
		if !strong && !maybe {
			return i
		}
	}
	return to
}

// body follows the data of a table to its end.
func (v *view) body(start int, h head) found {
	t := found{head: h, start: start, next: h.data, last: -1, columns: &columns{}}
	for _, k := range h.headings {
		t.columns.named = max(t.columns.named, v.rows[k].last+1)
	}
	pending := 0 // rows since the last data row that may be a footer
	var held []int
	for j := h.data; j < len(v.rows); j++ {
		l := &v.rows[j]
		if l.flags&(comment|ruled) != 0 {
			held = append(held, j)
			continue
		}
		if n := v.headingAgain(j, h); n > 0 && t.columns.rows > 0 && (pending == 0 || v.onlyNotes(t.last+1, j)) {
			for k := range n {
				held = append(held, j+k)
			}
			j += n - 1
			continue
		}
		if v.isLabel(j, t.columns) && (t.columns.rows == 0 || v.resumes(j, &t)) {
			held = append(held, j)
			t.labels = append(t.labels, j)
			continue
		}
		if t.last >= 0 && v.gap(j) && v.above(j) {
			break
		}
		like := t.columns.rows == 0 || t.columns.fits(l) || v.jotted(j, t.columns)
		fits := like || v.belongs(j, &t)
		if v.wide == 1 && h.texts {
			fits = true // a list of lines goes on to the end
		} else if t.columns.rows > 0 && (!like || v.gap(j)) {
			if g, ok := v.head(j); ok && v.starts(j, g, &t, fits) {
				break
			}
		}
		fits = (fits || t.columns.young(l)) && !(t.columns.rows > 0 && v.remark(j, &t))
		strong, maybe := v.total(j)
		// A total has fewer cells, or stands in a column of numbers or dates.
		few := float64(l.count) < t.columns.mean() || t.columns.typed(l.first)
		switch {
		case t.columns.rows == 0:
		case strong && (few || !v.resumes(j, &t)), maybe && few && !v.resumes(j, &t):
			held = append(held, j)
			pending++
			continue
		case !fits && !v.resumes(j, &t):
			pending = len(v.rows)
		}
		if pending == len(v.rows) {
			break
		}
		// Data: what was held back lies inside the table.
		t.notData = append(t.notData, held...)
		held, pending = held[:0], 0
		t.columns.add(l)
		t.last, t.next = j, j+1
	}
	n := len(t.labels)
	if n > 1 && t.labels[n-1] == t.last+1 && v.written(t.last+1) && !v.gap(t.last+1) && v.rows[t.last+1].look(v.left) == cell.Words && !isRemark(v.text(t.last+1, v.left)) {
		t.last, t.next = t.last+1, t.last+2 // one more of the rows that hold a name alone
	}
	for ; n > 0 && t.labels[n-1] >= t.next; n-- {
		t.labels = t.labels[:n-1]
	}
	return t
}

// belongs reports whether a row of a text that does not look like those above is
// one of them all the same: it follows them, and has as many cells as usual, or
// was cut or torn.
func (v *view) belongs(j int, t *found) bool {
	l := &v.rows[j]
	switch {
	case v.gap(j) || l.flags&broken != 0 && l.count == 1:
		return false
	case v.usual == 0: // a sheet: one text where numbers stand
		texts, _ := t.columns.against(l)
		return t.columns.rows > 1 && l.count > 1 && float64(l.count) > t.columns.mean()-1 && texts < 2
	case l.count > 1:
		return true
	case v.written(j):
		return l.first > v.left || v.wide < 3 || j+1 == len(v.rows) && l.look(l.first) != cell.Prose
	}
	// The beginning of a row, and nothing more of it.
	return j+1 == len(v.rows) && (l.width > 1 || !strings.ContainsAny(strings.TrimSpace(v.text(j, l.first)), " \t"))
}

// remark reports whether a row at the end of the data is none: it begins with a
// word of remarks, or stands apart and has fewer cells than a row is written
// with.
func (v *view) remark(j int, t *found) bool {
	l := &v.rows[j]
	apart := v.gap(j) && v.usual > 0 && !v.written(j) && float64(l.count) < t.columns.mean()
	first := v.text(j, l.first)
	said := isRemark(first) && (v.gap(j) || 2*l.count <= v.wide+1) || l.count == 1 && v.wide > 1 && isClosing(first)
	return (apart || said) && !v.resumes(j, t)
}

// isLabel reports whether a row names the rows below it. Shorthand in a column
// of texts is data.
func (v *view) isLabel(j int, c *columns) bool {
	l := &v.rows[j]
	return v.label(j) && (l.look(l.first) != cell.Mixed || c.kind(l.first) != text)
}

// jotted reports whether a row is nothing but a set in shorthand, below others
// like it: all else is as in the row above.
func (v *view) jotted(j int, c *columns) bool {
	l := &v.rows[j]
	if v.gap(j) || l.count != 1 || v.usual > 0 && !v.written(j) || c.kind(l.first) != text || c.counts[l.first][text] < 3 {
		return false
	}
	// "165lbsx2" looks like a number with a unit.
	return l.look(l.first) == cell.Mixed || l.look(l.first) == cell.Numeric && strings.ContainsAny(v.text(j, l.first), "xX×@")
}

// starts reports whether a head found inside a table is another table. Without
// blank rows before it, it has to differ clearly.
func (v *view) starts(j int, g head, t *found, fits bool) bool {
	l := &v.rows[j]
	switch {
	case len(g.headings) == 0:
		return !fits && v.gap(j) && !v.resumes(j, t)
	case g.texts && fits && (v.written(j) || math.Abs(float64(l.count)-t.columns.mean()) < 1):
		return false // texts like those above
	case !v.gap(j) && v.goesOn(j, g.data, t):
		return false // an odd row
	case v.gap(j):
		return len(t.headings) == 0 || v.rows[g.headings[0]].hash != v.rows[t.headings[0]].hash || !fits
	case g.texts, t.columns.young(l) && l.count <= 2:
		return math.Abs(float64(l.count)-t.columns.mean()) >= 2
	}
	return true
}

// goesOn reports whether the row below a row of texts is one of the table's
// again, so that the texts are an odd row and no headings: unless they stand in
// all of several columns of numbers and dates.
func (v *view) goesOn(j, below int, t *found) bool {
	if below >= len(v.rows) || v.gap(below) || v.usual > 0 && !v.written(below) {
		return false
	}
	if t.columns.rows < 3 && v.written(j) {
		return true // too little is known to tell
	}
	if !t.columns.fits(&v.rows[below]) {
		return false
	}
	texts, _ := t.columns.against(&v.rows[j])
	return texts < 2 || t.columns.rows < 3 || !v.complete(j)
}

// headingAgain returns how many rows at j are the table's headings once more.
func (v *view) headingAgain(j int, h head) int {
	n := 0
	for _, k := range h.headings {
		if j+n >= len(v.rows) || !v.sameRow(j+n, k) {
			return 0
		}
		n++
	}
	if n > 0 && h.units >= 0 && j+n < len(v.rows) && v.sameRow(j+n, h.units) {
		n++
	}
	return n
}

// sameRow reports whether two rows hold the same texts in the view.
func (v *view) sameRow(i, j int) bool {
	a, b := &v.rows[i], &v.rows[j]
	if a.hash == b.hash {
		return true
	}
	if a.looks != b.looks || a.row.texts == nil || b.row.texts == nil || v.span.first == 0 && v.span.last+1 >= len(a.row.texts) {
		return false
	}
	for c := range a.last + 1 {
		if v.text(i, c) != v.text(j, c) {
			return false
		}
	}
	return true
}

// onlyNotes reports whether the rows hold no "Name: X" and no title: then a
// repeated heading below them goes on with the same table.
func (v *view) onlyNotes(from, to int) bool {
	for i := from; i < to; i++ {
		if v.rows[i].flags&comment == 0 {
			if strong, maybe := v.total(i); !strong && !maybe {
				return false
			}
		}
	}
	return true
}

// resumes reports whether data of the table goes on within a few rows after j,
// before another table begins and before a second gap.
func (v *view) resumes(j int, t *found) bool {
	const rows = 6
	gaps := 0
	for k := j + 1; k < len(v.rows) && k <= j+rows; k++ {
		if v.gap(k) {
			if gaps++; gaps > 1 {
				return false
			}
		}
		if v.headingAgain(k, t.head) > 0 {
			return false
		}
		strong, maybe := v.total(k)
		if t.columns.fits(&v.rows[k]) && !strong && !(maybe && t.columns.typed(v.rows[k].first)) {
			return true
		}
		if h, ok := v.head(k); ok && len(h.headings) > 0 {
			return false
		}
	}
	return false
}

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
	for i, h := range t.headings {
		r.HeadingRows = append(r.HeadingRows, v.rows[h].line)
		if lone {
			v.name(r.Headings, h, first+1, nil)
		} else {
			v.name(r.Headings, h, first, t.headings[i+1:])
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
		if len(l.row.texts) > 0 && strings.HasPrefix(fold(l.row.texts[0]), "sep=") {
			continue
		}
		r.Preamble = append(r.Preamble, pairs(l.row, v.span.first, v.span.last)...)
	}
}
