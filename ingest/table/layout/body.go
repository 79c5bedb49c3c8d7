package layout

import (
	"math"
	"strings"

	"repsift/ingest/table/cell"
)

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
		if v.isTotal(j, &t) {
			held = append(held, j)
			pending++
			continue
		}
		if t.columns.rows > 0 && !fits && !v.resumes(j, &t) {
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

// isTotal reports whether a row is one of totals or of other figures about the
// rows above. It has fewer cells than they, or its word stands in a column of
// numbers or dates, or nothing follows it.
func (v *view) isTotal(j int, t *found) bool {
	l := &v.rows[j]
	strong, maybe := v.total(j)
	if t.columns.rows == 0 || !strong && !maybe {
		return false
	}
	few := float64(l.count) < t.columns.mean() || t.columns.typed(l.first)
	switch {
	case strong && v.named(l, t.columns) && v.resumes(j, t):
		return false // a row that happens to be called so
	case strong:
		return few || !v.resumes(j, t)
	case few:
		return !v.resumes(j, t)
	}
	return t.columns.rows >= 4 && v.figures(j)
}

// named reports whether a row fills all of several columns of texts, as totals do
// not.
func (v *view) named(l *line, c *columns) bool {
	texts := 0
	for i := range c.counts {
		if c.kind(i) != text {
			continue
		}
		if l.look(i) == cell.Nothing {
			return false
		}
		texts++
	}
	return texts > 1
}

// figures reports whether the rows from j on up to the end or a gap all begin
// with words of totals, several of them or one that is no name: Mean, SD.
func (v *view) figures(j int) bool {
	k := j
	for ; k < len(v.rows) && (k == j || !v.gap(k)); k++ {
		if strong, maybe := v.total(k); !strong && !maybe {
			return false
		}
	}
	return k > j+1 || cell.Figure(v.text(j, v.rows[j].first))
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
