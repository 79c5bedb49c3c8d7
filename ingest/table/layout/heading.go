package layout

import (
	"strconv"
	"strings"
	"unicode"

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
	if l.count == 1 && v.wide > 1 && v.loneWord(i) {
		return head{headings: []int{i}, units: -1, data: i + 1}, true
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

// loneWord reports whether a first row of one word and blank cells is the
// headings, all blank but one: the row below is data already.
func (v *view) loneWord(i int) bool {
	if i > 0 || !v.written(0) || len(v.rows) < 3 || !v.written(1) || v.gap(1) || strings.Contains(strings.TrimSpace(v.text(0, v.rows[0].first)), " ") {
		return false
	}
	c := v.below(1)
	_, typed := c.against(&v.rows[1])
	return typed > 0 && !v.headingLike(1, c) && v.rows[1].count*10 >= v.wide*8
}

// lone reports whether a row of one text is a heading all the same: the only
// one of its line, it stands above a column of numbers or dates.
func (v *view) lone(i int) bool {
	if v.loneWord(i) {
		return true
	}
	return v.written(i) && i+1 < len(v.rows) && v.written(i+1) && !v.gap(i+1) && v.rows[i].look(0).IsText() && v.rows[i+1].look(0).Typed()
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

// wordNumbers reports whether all texts of a row are one word and numbers that
// count on by one from 0 or 1.
func (v *view) wordNumbers(i int) bool {
	texts := v.cells(i)
	if len(texts) < 3 || len(texts)*10 < v.wide*9 {
		return false
	}
	prefix := strings.TrimRight(texts[0], "0123456789")
	first, err := strconv.Atoi(texts[0][len(prefix):])
	if err != nil || prefix == "" || first > 1 || !unicode.IsLetter([]rune(prefix)[0]) {
		return false
	}
	for k, t := range texts {
		if t != prefix+strconv.Itoa(first+k) {
			return false
		}
	}
	return true
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

func isPairRow(texts []string) bool {
	for i, t := range texts {
		if isPair(t) || i+1 < len(texts) && strings.HasSuffix(t, ":") {
			return true
		}
	}
	return false
}

// numbered reports whether a row is the numbers of the columns, 1, 2, 3 or 0, 1,
// 2, above rows that have texts; or the like after one word: V1, V2, V3.
func (v *view) numbered(i int) bool {
	l := &v.rows[i]
	if v.wordNumbers(i) {
		return true
	}
	first, ok := v.running(i)
	if !ok || first > 1 || l.texts > 0 || l.first > 1 || l.count != l.last-l.first+1 || l.count*10 < v.wide*9 || i+1 >= len(v.rows) {
		return false
	}
	_, again := v.running(i + 1)
	return !again && v.rows[i+1].texts > 0
}
