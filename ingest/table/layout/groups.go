package layout

import "repsift/ingest/table/cell"

// upper adds the lines of labels above headings, down from the first row that
// is free.
func (v *view) upper(h head, free int) head {
	for n := len(h.headings); n > 0 && n < 3 && h.headings[0] > free && v.grouped(h.headings[0]-1); n++ {
		h.headings = append([]int{h.headings[0] - 1}, h.headings...)
	}
	return h
}

// mostGroups is how many lines of labels may stand above headings.
const mostGroups = 2

// grouped reports whether a row holds nothing but labels of groups of the
// headings right below it.
func (v *view) grouped(i int) bool { return v.groupedAbove(i, mostGroups) }

// groupedAbove does so where as many lines of labels are left.
func (v *view) groupedAbove(i, left int) bool {
	if left == 0 {
		return false
	}
	if i+1 >= len(v.rows) || v.gap(i+1) {
		return false
	}
	u, l := &v.rows[i], &v.rows[i+1]
	if u.typed > 0 || u.count < 2 || isPairRow(v.cells(i)) {
		return false
	}
	if u.looks == l.looks && v.groupedAbove(i+1, left-1) {
		return true
	}
	base := l
	if i+2 < len(v.rows) && u.count < l.count && v.groupedAbove(i+1, left-1) {
		base = &v.rows[i+2] // groups of groups
	}
	if u.count*10 > base.count*6 || v.pairAbove(u, l) || !v.groups(u, base) {
		return false
	}
	if base != l {
		return true
	}
	h, ok := v.typedHead(i+1, v.below(i+1))
	if !ok && v.complete(i+1) {
		h, ok = v.textHead(i + 1)
	}
	return ok && len(h.headings) > 0
}

// joins reports whether a row is the upper line of the headings below it. Below
// labels of groups the headings are all there; else both lines are needed to
// name all columns.
func (v *view) joins(up, low int) bool {
	u, l := &v.rows[up], &v.rows[low]
	if v.gap(low) || isPairRow(v.cells(up)) {
		return false
	}
	if v.pairAbove(u, l) {
		return false
	}
	if v.complete(low) {
		if u.count*10 >= l.count*9 && u.flags&merged == 0 {
			return v.complete(up) // two full lines
		}
		return v.groups(u, l)
	}
	switch {
	case u.flags&merged != 0:
		return u.count > 1 || u.first > l.first
	case u.count*10 >= l.count*6 && u.count > 1:
		return true
	}
	// Labels of groups have blanks between them, or begin after the first column.
	gaps := u.last - u.first + 1 - u.count
	return u.first > l.first || u.count > 1 && gaps > 0
}

// pairAbove reports whether a row is a name and its value above others.
func (v *view) pairAbove(u, l *line) bool {
	return u.count == 2 && u.first == l.first && u.last == u.first+1 && l.count > 3 && u.flags&merged == 0
}

// groups reports whether the cells of a row are labels of groups of the columns
// below: each above a heading, and most of them above more than one.
func (v *view) groups(u, l *line) bool {
	labels, single := 0, 0
	for c := range len(u.looks) {
		if u.look(c) == cell.Nothing {
			continue
		}
		if l.look(c) == cell.Nothing {
			return false
		}
		labels++
		if u.look(c+1) != cell.Nothing || l.look(c+1) == cell.Nothing {
			single++
		}
	}
	return (labels > 1 || u.first > l.first || u.flags&merged != 0) && 2*single <= labels
}
