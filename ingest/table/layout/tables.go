package layout

import (
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

// find returns the tables of a view as positions.
func (v *view) find() []found {
	if v.g.pairs && v.wide == 2 {
		first := v.firstRow()
		return []found{v.body(first, head{units: -1, data: first})}
	}
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
	if len(all) > 0 {
		return all
	}
	if t, ok := v.onlyHeading(); ok {
		return []found{t}
	}
	if first := v.firstRow(); first < len(v.rows) && len(v.rows) > 1 {
		return []found{v.body(first, head{units: -1, data: first})}
	}
	return nil
}

// tables returns the tables of a view.
func (v *view) tables() []cell.Region {
	all := v.find()
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
	if a.looks != b.looks || a.kept < 0 || b.kept < 0 || v.span.first == 0 && v.span.last+1 >= len(v.g.textsOf(a.row)) {
		return false
	}
	for c := range a.last + 1 {
		if v.text(i, c) != v.text(j, c) {
			return false
		}
	}
	return true
}
