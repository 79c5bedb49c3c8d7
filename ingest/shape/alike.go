package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// alike tells rows that name the same lifter, lift and rigging as the row
// before: those of a set do. Names are read once for them, and filed once.
type alike struct {
	on      bool     // names of a row are told by its own cells of names
	columns []*known // of names

	learnt bool // from the row before, as follows
	odd    bool // the row in the making has names in cells of no text
	filled bool
	have   column.Set

	bar, tether string // before rigging is looked up

	alone bool    // the table is filled by this decoder only
	filed bool    // its last row has these names, and
	day   rep.Day // this day, on which the rigging may rest
}

// names are the fields that name, by texts.
var names = column.SetOf(column.Lifter, column.Lift, column.Variant, column.Bar, column.Tether, column.Device)

// row reports whether a row has the same texts in its columns of names as the
// row before.
func (a *alike) row(cells []table.Cell) bool {
	same, odd := a.learnt, false
	for _, c := range a.columns {
		text := ""
		if c.Index < len(cells) {
			switch cell := &cells[c.Index]; cell.Kind {
			case table.Text:
				text = cell.Text
			case table.Blank:
			default:
				same, odd = false, true
			}
		}
		if !c.text.is(text) {
			same = false
			c.text.put(text)
		}
	}
	if !same {
		a.odd, a.filled, a.filed = odd, false, false
	}
	return same
}

// learn keeps the names of a row that has been read.
func (a *alike) learn(v *values) {
	a.learnt = !a.odd
	a.have = v.have & names
	a.bar, a.tether = v.Bar, v.Tether
}

// give gives the row, which still has the names of the row before, the rigging
// that its cells name.
func (a *alike) give(v *values) {
	if v.Bar != a.bar {
		v.Bar = a.bar
	}
	if v.Tether != a.tether {
		v.Tether = a.tether
	}
}

// forget makes the next row one whose names are read.
func (a *alike) forget() { a.learnt, a.filed = false, false }

// file reports whether the row is filed behind one of the same names, and makes
// it the one before.
func (a *alike) file(day rep.Day) (like bool) {
	like = a.filed && day == a.day
	a.filed, a.day = a.alone, day
	return like
}

// Into changes the sink, whose table is empty and is not read before it is
// sealed.
func (d *Decoder) Into(out *Sink) {
	d.out = out
	out.Reps.Code(d.coders)
	d.alike.alone, d.alike.filed = d.alike.on, false
}
