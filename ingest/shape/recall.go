package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// recall remembers what the numbers of one column were, by their texts: a
// column of speeds has some hundred different ones, however long it is. It is
// a table with one place for each hash, in which a later text takes the place
// of an earlier one.
type recall []recalled

type recalled struct {
	text    uint64 // packed; 0: none
	x, step float64
	code    rep.Code // of x in the table's column; 0: not known
}

const recallBits = 11

// pack returns a text of one to seven bytes as a number, its length above them;
// 0 for any other.
func pack(text string) uint64 {
	if len(text) > 7 {
		return 0
	}
	p := uint64(len(text)) << 56
	for i := range len(text) {
		p |= uint64(text[i]) << (8 * i)
	}
	return p
}

func (r recall) at(text uint64) *recalled { return &r[text*0x9e3779b97f4a7c15>>(64-recallBits)] }

// get returns what a text of the column was read as.
func (r recall) get(text uint64) *recalled {
	if len(r) == 0 || text == 0 {
		return nil
	}
	if e := r.at(text); e.text == text {
		return e
	}
	return nil
}

// put remembers what a text was read as.
func (r *recall) put(e recalled) {
	if e.text == 0 {
		return
	}
	if len(*r) == 0 {
		*r = make(recall, 1<<recallBits)
	}
	*r.at(e.text) = e
}

// recallFrom is the number of rows above which texts are worth remembering.
const recallFrom = 500

// recalled reads the cell of the plan's ith column of numbers by what the same
// text was before; false where that is not known.
func (d *Decoder) recalled(i int, c *Cell, cell *table.Cell) bool {
	if measures[c.Field] == nil || cell.Kind != table.Text || d.unitBeside(c) {
		return false
	}
	e := d.numbers[i].get(pack(cell.Text))
	if e == nil {
		return false
	}
	d.putMeasure(c, e.x, e.step)
	if k := coded[c.Field]; k > 0 {
		d.v.codes[k-1] = e.code
	}
	return true
}

// coded holds one more than the place of each field among the table's codes; 0
// for those that have none.
var coded = [column.Known + 1]uint8{column.Load: 1, column.MeanVelocity: 2, column.PeakVelocity: 3, column.ROM: 4, column.Concentric: 5}
