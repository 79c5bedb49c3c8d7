package layout

import (
	"strings"

	"repsift/ingest/table/cell"
)

// head is the beginning of a table, as positions in the view's rows.
type head struct {
	headings []int // ascending; none: a table without headings
	units    int   // -1: none
	data     int   // first data row; len(rows): none
	texts    bool  // recognised among texts alone
}

// ahead is how many rows below a row are looked at to learn what its columns
// hold.
const ahead = 25

// below returns what the columns hold in the rows after i, by those that have
// a number or date, up to the second gap, or the first below some.
func (v *view) below(i int) *columns {
	c := &columns{}
	gaps := 0
	for j := i + 1; j < len(v.rows) && j <= i+ahead; j++ {
		if v.gap(j) {
			if gaps++; gaps > 1 || c.rows > 1 {
				break
			}
		}
		// Texts below a row of data are data; those above may be headings.
		if l := &v.rows[j]; (l.typed > 0 || c.rows > 0 && gaps == 0 && v.written(j) && l.count == v.wide) && l.flags&(comment|ruled) == 0 && (l.count > 1 || v.wide == 1) {
			c.add(l)
		}
	}
	return c
}

// headingLike reports whether a row may be a heading of the columns: it has
// texts above numbers and dates, and no number or date, unless they count on or
// stand above another kind of value.
func (v *view) headingLike(i int, c *columns) bool {
	l := &v.rows[i]
	if l.flags&(broken|ruled) != 0 || l.flags&spread != 0 && v.wide > 1 {
		return false
	}
	if strong, _ := v.total(i); strong && l.count < v.wide {
		return false
	}
	texts, typed := c.against(l)
	if typed == 0 && texts > 0 {
		heading, data := v.weigh(i)
		return heading >= data
	}
	if v.numbered(i) {
		return true
	}
	if typed == 0 || l.texts == 0 && l.first == 0 {
		return false
	}
	if first, ok := v.running(i); ok {
		if i+1 == len(v.rows) || v.rows[i].hash == v.rows[i+1].hash {
			return true
		}
		below, again := v.running(i + 1)
		return !again || isYear(first) && !isYear(below)
	}
	// Dates or years above numbers: "squat, 2026-01-05, 2026-01-12".
	over := 0
	for col := range len(l.looks) {
		k := c.kind(col)
		if l.look(col) == cell.Temporal && k == number {
			over++
		} else if l.look(col).Typed() && k != none {
			return false
		}
	}
	return over > 1
}

// head returns the table that begins at row i, if one does.
func (v *view) head(i int) (head, bool) {
	l := &v.rows[i]
	if l.flags&ruled != 0 || l.flags&spread != 0 && v.wide > 1 || l.count == 1 && v.wide > 1 && l.first == 0 && !v.lone(i) {
		return head{}, false // a title
	}
	if v.above(i) || v.grouped(i) {
		return head{}, false
	}
	c := v.below(i)
	h, ok := v.typedHead(i, c)
	if !ok && v.wide == 1 && c.rows*2 < min(len(v.rows)-i-1, ahead) {
		return v.list(i), true
	}
	if !ok {
		h, ok = v.textHead(i)
	}
	if !ok {
		h, ok = v.headless(i)
	}
	if !ok || v.narrow(i, h) {
		return head{}, false
	}
	return h, true
}

// upper adds the lines of labels above headings, down from the first row that
// is free.
func (v *view) upper(h head, free int) head {
	for n := len(h.headings); n > 0 && n < 3 && h.headings[0] > free && v.grouped(h.headings[0]-1); n++ {
		h.headings = append([]int{h.headings[0] - 1}, h.headings...)
	}
	return h
}

// grouped reports whether a row holds nothing but labels of groups of the
// headings right below it.
func (v *view) grouped(i int) bool {
	if i+1 >= len(v.rows) || v.gap(i+1) {
		return false
	}
	u, l := &v.rows[i], &v.rows[i+1]
	if u.typed > 0 || u.count < 2 || isPairRow(v.cells(i)) {
		return false
	}
	if u.looks == l.looks && v.grouped(i+1) {
		return true
	}
	if u.count*10 > l.count*6 || v.pairAbove(u, l) || !v.groups(u, l) {
		return false
	}
	h, ok := v.typedHead(i+1, v.below(i+1))
	if !ok && v.complete(i+1) {
		h, ok = v.textHead(i + 1)
	}
	return ok && len(h.headings) > 0
}

// lone reports whether a row of one text is a heading all the same: the only
// one of its line, it stands above a column of numbers or dates.
func (v *view) lone(i int) bool {
	return v.written(i) && i+1 < len(v.rows) && v.written(i+1) && !v.gap(i+1) && v.rows[i].look(0).IsText() && v.rows[i+1].look(0).Typed()
}

// pairsAbove reports whether the rows up to a gap are names with values of
// several kinds, above a table of its own.
func (v *view) pairsAbove(i int) bool {
	kinds := map[kind]bool{}
	for k := i; k < len(v.rows) && k <= i+mostAbove; k++ {
		l := &v.rows[k]
		if k > i && v.gap(k) {
			if len(kinds) < 2 || k < i+2 {
				return false
			}
			h, ok := v.typedHead(k, v.below(k))
			if !ok {
				h, ok = v.textHead(k)
			}
			return ok && len(h.headings) > 0
		}
		if l.count != 2 || kindOf(l.look(l.first)) != text {
			return false
		}
		kinds[kindOf(l.look(l.last))] = true
	}
	return false
}

// list is the table of lines of text: all are data, but for a first word above
// words.
func (v *view) list(i int) head {
	h := head{units: -1, data: i, texts: true}
	if i > 0 || len(v.rows) < 3 || v.rows[0].look(v.rows[0].first) != cell.Words {
		return h
	}
	for j := 1; j < len(v.rows) && j <= ahead; j++ {
		if l := &v.rows[j]; l.look(l.first) != cell.Words || l.hash == v.rows[0].hash {
			return h
		}
	}
	h.headings, h.data = []int{0}, 1
	return h
}

// typedHead recognises headings above columns of numbers and dates.
func (v *view) typedHead(i int, c *columns) (head, bool) {
	if !v.headingLike(i, c) {
		return head{}, false
	}
	d := i + 1
	for d < len(v.rows) && d-i < 4 && v.headingLike(d, c) && !v.gap(d) && !v.label(d) && !v.sameRow(d, i) {
		if r := &v.rows[d]; r.typed > 0 && v.rows[d-1].count*10 >= r.count*6 {
			break // numbers that count on, but below headings: data
		}
		if heading, data := v.weigh(d); data > 0 && heading <= data {
			break
		}
		d++
	}
	h := head{units: -1, data: d}
	if v.wide == 1 && d > i+1 {
		return head{}, false // the last line above a column of numbers is its heading
	}
	if d == len(v.rows) || !v.dataAt(d, c) || v.gap(d) && v.headingLike(d, c) {
		return head{}, false
	}
	if u, l := &v.rows[i], &v.rows[d]; u.count*10 < l.count*6 && (isPairRow(v.cells(i)) || v.pairAbove(u, l) && !v.written(i)) {
		return head{}, false
	}
	// Three full rows of texts are a heading and data that has no numbers yet.
	if d-i >= 3 && v.complete(i) && v.complete(i+1) && v.complete(d-1) && !unitsRow(v.cells(i+1)) {
		h.headings, h.data = []int{i}, i+1
		return h, v.covers(h, c)
	}
	top := d - 1
	if top > i && unitsRow(v.cells(top)) {
		h.units = top
		top--
	}
	h.headings = []int{top}
	if top == i+1 && h.units < 0 && v.complete(i) && v.complete(top) && !c.most(v.rows[i].count) {
		// A second line of headings stands above numbers mostly.
		h.headings, h.data = []int{i}, top
		return h, v.covers(h, c)
	}
	if top == i+1 && v.complete(i) && v.rows[top].count*10 >= v.rows[i].count*8 && !v.distinct(top) {
		h.headings, h.data, h.units = []int{i}, top, -1 // words where numbers should be, the same twice
		return h, v.covers(h, c)
	}
	for top > i && v.joins(top-1, top) {
		top--
		h.headings = append([]int{top}, h.headings...)
	}
	if top != i || len(h.headings) > 3 {
		return head{}, false
	}
	return h, v.covers(h, c)
}

// dataAt reports whether a row is data of the columns: it has a number or date
// of theirs, or stands above a row that has, or names the rows below.
func (v *view) dataAt(d int, c *columns) bool {
	if v.wide == 1 || v.rows[d].count > 1 || v.label(d) {
		return true
	}
	if _, typed := c.against(&v.rows[d]); typed > 0 {
		return true
	}
	if d+1 == len(v.rows) || v.gap(d+1) {
		return false
	}
	_, typed := c.against(&v.rows[d+1])
	return typed > 0
}

// complete reports whether a row can be the only heading: it fills all columns
// between its first and last, with texts that differ, nearly as many as the
// fullest row has.
func (v *view) complete(i int) bool {
	l := &v.rows[i]
	return l.count == l.last-l.first+1 && l.count*10 >= v.wide*8 && !isPairRow(v.cells(i)) && v.distinct(i)
}

// label reports whether a row is one text in the first column: the name of the
// rows below it.
func (v *view) label(i int) bool {
	l := &v.rows[i]
	return l.count == 1 && l.texts == 1 && l.first == v.left && v.wide > 2
}

// covers reports whether half of the columns of numbers and dates have a
// heading.
func (v *view) covers(h head, c *columns) bool {
	typed, named := 0, 0
	for col := range len(c.counts) {
		if !c.typed(col) {
			continue
		}
		typed++
		for _, r := range h.headings {
			if v.rows[r].look(col) != cell.Nothing {
				named++
				break
			}
		}
	}
	return typed > 0 && named*2 >= typed
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

func isPairRow(texts []string) bool {
	for i, t := range texts {
		if isPair(t) || i+1 < len(texts) && strings.HasSuffix(t, ":") {
			return true
		}
	}
	return false
}

// numbered reports whether a row is the numbers of the columns, 1, 2, 3 or 0, 1,
// 2, above rows that have texts.
func (v *view) numbered(i int) bool {
	l := &v.rows[i]
	first, ok := v.running(i)
	if !ok || first > 1 || l.texts > 0 || l.first > 1 || l.count != l.last-l.first+1 || l.count*10 < v.wide*9 || i+1 >= len(v.rows) {
		return false
	}
	_, again := v.running(i + 1)
	return !again && v.rows[i+1].texts > 0
}

// textHead recognises a table of texts alone.
func (v *view) textHead(i int) (head, bool) {
	l := &v.rows[i]
	if v.numbered(i) {
		return head{headings: []int{i}, units: -1, data: i + 1}, true
	}
	if l.texts == 0 || l.typed > 0 || l.flags&broken != 0 || l.count == 1 && v.wide > 1 {
		return head{}, false
	}
	// How far do rows alike go on?
	n, most := 1, l.count
	first := &columns{}
	for j := i + 1; j < len(v.rows) && n < ahead; j++ {
		r := &v.rows[j]
		sparse := v.complete(i) && r.last <= l.last && (v.written(i) && v.written(j) || v.usual == 0)
		if v.gap(j) && n > 1 || !sparse && (r.count == 1 && v.wide > 1 || !alikeText(l, r)) {
			break
		}
		first.add(r)
		most = max(most, r.count)
		n++
	}
	switch {
	case n == 1 && len(v.rows) > 1:
		return head{}, false
	case n > 1 && v.headingBelow(i+1, i+n+1):
		return head{}, false // preamble
	case n == 1:
		return head{headings: []int{i}, units: -1, data: i + 1, texts: true}, true
	}
	for _, t := range v.cells(i) {
		if look := cell.OfText(t); look == cell.Prose || look == cell.Odd {
			return head{units: -1, data: i, texts: true}, true
		}
	}
	if heading, data := v.weigh(i); data > heading {
		return head{units: -1, data: i, texts: true}, true
	}
	if !v.distinct(i) && n > 2 && l.count > 1 && v.repeatsColumn(i, n) || l.count*10 < most*6 && !v.written(i) {
		return head{units: -1, data: i, texts: true}, true
	}
	return head{headings: []int{i}, units: -1, data: i + 1, texts: true}, true
}

// alikeText reports whether a row fills the columns of a row of texts.
func alikeText(a, b *line) bool {
	both := 0
	for i := range min(len(a.looks), len(b.looks)) {
		if a.look(i) != cell.Nothing && b.look(i) != cell.Nothing {
			both++
		}
	}
	return both*2 >= max(a.count, b.count)
}

// repeatsColumn reports whether a row's texts come again below in their columns:
// then it is data like them.
func (v *view) repeatsColumn(i, n int) bool {
	for c := range v.rows[i].last + 1 {
		t := v.text(i, c)
		for j := i + 1; j < i+n && t != ""; j++ {
			if v.text(j, c) == t {
				return true
			}
		}
	}
	return false
}

// headingBelow reports whether one of the rows is the heading of columns of
// numbers and dates.
func (v *view) headingBelow(from, to int) bool {
	for j := from; j < to && j < len(v.rows); j++ {
		if v.rows[j].count > 2 || v.wide <= 2 {
			if _, ok := v.typedHead(j, v.below(j)); ok {
				return true
			}
		}
	}
	return false
}

// headless recognises rows alike that have no heading.
func (v *view) headless(i int) (head, bool) {
	l := &v.rows[i]
	if l.typed == 0 || l.count == 1 && v.wide > 1 || l.flags&(broken|comment) != 0 {
		return head{}, false
	}
	if strong, maybe := v.total(i); strong || maybe {
		return head{}, false
	}
	h := head{units: -1, data: i}
	if len(v.rows) == 1 {
		if _, ok := v.running(i); ok && l.texts > 0 {
			h.headings, h.data = []int{i}, i+1
		}
		return h, true
	}
	if i+1 == len(v.rows) {
		return head{}, false
	}
	return h, similar(l, &v.rows[i+1]) || v.written(i) && v.written(i+1) && !v.gap(i+1) && l.count > 1 && v.agree(i, i+1)
}

// agree reports whether two rows have no column with values of two kinds, and
// one with values of one kind.
func (v *view) agree(i, j int) bool {
	both := false
	for c := range len(v.rows[i].looks) {
		a, b := kindOf(v.rows[i].look(c)), kindOf(v.rows[j].look(c))
		if a != none && b != none && a != b {
			return false
		}
		both = both || a != none && a == b
	}
	return both
}

// narrow reports whether what looks like a table of two columns is preamble: a
// wider table follows, its first column is text, and its values are of many
// kinds.
func (v *view) narrow(i int, h head) bool {
	if h.data >= len(v.rows) {
		return false
	}
	d := &v.rows[h.data]
	for _, k := range h.headings {
		if v.rows[k].count > 2 {
			return false
		}
	}
	if d.count > 2 || d.last-d.first > 1 || kindOf(d.look(d.first)) != text || v.usual == 2 && v.wide > 2 && v.written(h.data) {
		return false
	}
	if v.wide <= 2 {
		return v.pairsAbove(i)
	}
	same := 0
	for j := h.data; j < len(v.rows) && j < i+60; j++ {
		r := &v.rows[j]
		if r.count > 2 {
			return same < 4
		}
		if !v.gap(j) && r.count == 2 && kindOf(r.look(r.last)) == number {
			same++
		}
	}
	return false
}
