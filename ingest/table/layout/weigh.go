package layout

import (
	"strings"
	"unicode"

	"repsift/ingest/table/cell"
)

// weigh counts what speaks for a row being the heading of the rows below it and
// what for its being one of them, a column each: words above values of another
// kind name them; a value above values alike, a text that comes again, an
// address of mail or of the web, a sign that all texts below have, are data.
func (v *view) weigh(i int) (heading, data int) {
	l := &v.rows[i]
	for c := range len(l.looks) {
		look := l.look(c)
		if look == cell.Nothing || look == cell.Null {
			continue
		}
		text := v.text(i, c)
		var looks [cell.Odd + 1]int
		all, again, signs := 0, false, ^uint16(0)
		for j := i + 1; j < len(v.rows) && j <= i+ahead; j++ {
			if below := v.rows[j].look(c); below != cell.Nothing && below != cell.Null && v.rows[j].flags&(comment|ruled) == 0 {
				looks[below]++
				all++
				signs &= signsOf(v.text(j, c))
				again = again || look.IsText() && text == v.text(j, c) && !v.sameRow(i, j)
			}
		}
		most := func(k cell.Look) bool { return 2*looks[k] > all }
		switch {
		case all == 0:
		case all > 2 && signs != 0 && look.IsText() && look != cell.Odd && most(look) && signsOf(text)&signs == signs && !again:
			data++
		case again, most(look) && (look == cell.Mixed && all > 1 || look == cell.Prose || look.Typed()), strings.ContainsRune(text, '@') && strings.ContainsRune(text, '.'), strings.Contains(text, "://"):
			data++
		case look.IsText() && strings.ContainsFunc(text, unicode.IsLetter) && !most(look) && (look == cell.Words || most(cell.Numeric) || most(cell.Temporal)):
			heading++
		}
	}
	return heading, data
}

// signsOf returns which of the signs that codes, names of files and addresses
// are built with a text has.
func signsOf(s string) uint16 {
	const signs = "._-/@:#&\\+"
	n := uint16(0)
	for i := range len(s) {
		if k := strings.IndexByte(signs, s[i]); k >= 0 {
			n |= 1 << k
		}
	}
	return n
}

// isRule reports whether a row is a line drawn with signs: "-----" in each cell.
func isRule(r *cell.Row) bool {
	cells := 0
	for i := range r.Cells {
		t := strings.TrimFunc(r.Cells[i].Text, cell.IsSpace)
		if t == "" {
			continue
		}
		if !cell.IsRule(t) {
			return false
		}
		cells++
	}
	return cells > 0
}
