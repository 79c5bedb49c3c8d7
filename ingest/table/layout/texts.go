package layout

import (
	"repsift/ingest/table/cell"
)

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
	full := v.written(i) && l.count == v.wide && !isPairRow(v.cells(i)) // and so are all rows like it
	for j := i + 1; j < len(v.rows) && n < ahead; j++ {
		r := &v.rows[j]
		sparse := v.complete(i) && r.last <= l.last && (v.written(i) && v.written(j) || v.usual == 0)
		if v.gap(j) && n > 1 || !sparse && (r.count == 1 && v.wide > 1 || !alikeText(l, r)) {
			break
		}
		full = full && v.written(j) && r.count == v.wide && !v.gap(j)
		most = max(most, r.count)
		n++
	}
	switch {
	case n == 1 && len(v.rows) > 1:
		return head{}, false
	case n > 1 && !(full && n > 2) && v.headingBelow(i+1, i+n+1):
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
