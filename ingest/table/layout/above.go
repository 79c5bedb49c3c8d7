package layout

import "repsift/ingest/table/cell"

// mostAbove is how many lines with a name and a value may stand above a table.
const mostAbove = 9

// above reports whether a row is one of the lines with a name and a value above
// a table, without a blank line between: "Lift", "squat" above "Rep", "Speed"
// above rows that begin with a number. In a narrow table they are as wide as
// its rows.
func (v *view) above(i int) bool {
	for k := i; k < len(v.rows) && k <= i+mostAbove; k++ {
		l := &v.rows[k]
		switch {
		case k > i && (v.gap(k) || l.flags&ruled != 0 || unitsRow(v.cells(k))), l.look(l.first).Typed():
			return false
		case k > i && l.typed == 0 && l.count > 1 && (v.wide == 2 || l.count > 2) && v.countsOn(k+1):
			return true
		case l.count > 2:
			return false
		}
	}
	return false
}

// countsOn reports whether a row begins with a number and holds nothing but
// values, or is a line of units above one that does.
func (v *view) countsOn(i int) bool {
	if i+1 < len(v.rows) && !v.gap(i) && unitsRow(v.cells(i)) {
		i++
	}
	if i >= len(v.rows) || v.gap(i) {
		return false
	}
	l := &v.rows[i]
	for c := range len(l.looks) {
		switch l.look(c) {
		case cell.Words, cell.Prose:
			return false
		}
	}
	return l.look(l.first) == cell.Numeric && l.count > 1
}
