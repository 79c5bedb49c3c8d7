package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
)

// recall remembers what the numbers of one column were, by their texts: a
// column of speeds has some hundred different ones, however long it is. It is
// a table with one place for each hash, in which a later text takes the place
// of an earlier one.
type recall [recallSize]recalled

type recalled struct {
	text    uint64 // packed; 0: none
	x, step float64
	code    rep.Code // of x in the table's column; 0: not known
}

const recallSize = 1 << 11

// pack returns a text of one to seven bytes as a number, its length above them;
// 0 for any other.
func pack(text string) uint64 {
	n := len(text)
	switch {
	case n == 0 || n > 7:
		return 0
	case n >= 4: // two times four bytes, which overlap
		return uint64(n)<<56 | four(text) | four(text[n-4:])<<(8*(n-4))
	}
	p := uint64(n) << 56
	for i := range n {
		p |= uint64(text[i]) << (8 * i)
	}
	return p
}

func four(text string) uint64 {
	_ = text[3]
	return uint64(text[0]) | uint64(text[1])<<8 | uint64(text[2])<<16 | uint64(text[3])<<24
}

// at returns the place of a text. Numbers that differ in their last three digits
// lie side by side: a column's usual ones do not push each other out, and are
// near each other in memory.
func (r *recall) at(text uint64) *recalled {
	d := text << (64 - 8*(text>>56)) & 0x0f0f0f0f0f0f0f0f // digits, the last one highest
	d = (d*10 + d>>8) & 0x00ff00ff00ff00ff                // by twos
	d = d*100 + d>>16                                     // by fours
	return &r[(uint64(uint16(d>>32))+1000*uint64(uint16(d)))%recallSize]
}

// get returns what a text of the column was read as.
func (r *recall) get(text uint64) *recalled {
	if r == nil || text == 0 {
		return nil
	}
	if e := r.at(text); e.text == text {
		return e
	}
	return nil
}

// put remembers what a text was read as.
func (c *known) put(e recalled) {
	if e.text == 0 {
		return
	}
	if c.numbers == nil {
		c.numbers = new(recall)
	}
	*c.numbers.at(e.text) = e
}

// recallFrom is the number of rows above which texts are worth remembering.
const recallFrom = 500

// known is a column of the plan, and what is known of its cells.
type known struct {
	Cell
	short   short
	code    uint8      // one more than the place among the table's codes; 0: it has none
	has     column.Set // its field alone
	numbers *recall    // of a column of numbers; nil until there are some
	to      place      // likewise
	names   bool       // it is one of names, and rows are told apart by them
	text    memo       // of a column of names: of the row above
	parse   parser
}

// short says how texts of a column can be read without a closer look.
type short uint8

const (
	noShort     short = iota
	sameNumber        // by what the same text was before
	sameDay           // a time on the day of the row above
	plainNumber       // a few digits
)

// know fills in the columns of the plan.
func (d *Decoder) know() {
	p := d.plan
	repRow := p.Shape == &repRows && !p.Lines
	d.alike.on = repRow && !p.Fills()
	d.whole = !repRow
	d.columns = make([]known, len(p.Cells))
	for i := range p.Cells {
		cell := &p.Cells[i]
		c := &d.columns[i]
		*c = known{Cell: *cell, parse: parsers[cell.Field], code: coded[cell.Field], has: column.SetOf(cell.Field)}
		switch f := cell.Field; {
		case measures[f] != nil:
			if c.short = sameNumber; cell.Nth == 0 {
				c.to = measures[f](&d.v)
			}
		case f == column.Date:
			c.short = sameDay
		case f == column.SetNumber || f == column.RepNumber:
			c.short = plainNumber
		}
		if d.alike.on && names.Has(cell.Field) {
			c.names = true
			d.alike.columns = append(d.alike.columns, c)
		} else if !ofOneRep.Has(cell.Field) || cell.Nth > 0 {
			d.whole = true
		}
	}
}

// again reads the text of a column's cell the short way; false where it has to
// be read in full.
func (d *Decoder) again(c *known, text string) bool {
	v := &d.v
	switch c.short {
	case sameNumber:
		e := c.numbers.get(pack(text))
		if e == nil || d.unitBeside(&c.Cell) {
			return false
		}
		if c.Nth > 0 {
			d.nthPut(&c.Cell, e.x, e.step)
			break
		}
		c.to.put(e.x, e.step)
		if c.code > 0 {
			v.codes[c.code-1] = e.code
		}
	case sameDay:
		day, at, ok := d.text.dates.On(text, &d.zone)
		if !ok {
			return false
		}
		v.Date, v.PerformedAt = day, rep.Some(at)
	case plainNumber:
		if len(text) > 4 {
			return false
		}
		n := int32(0)
		for i := range len(text) {
			digit := text[i] - '0'
			if digit > 9 {
				return false
			}
			n = 10*n + int32(digit)
		}
		if c.Field == column.SetNumber {
			v.SetMark = rep.Some(n)
		} else {
			v.RepRecorded = rep.Some(n)
		}
	default:
		return false
	}
	return true
}

// coded holds one more than the place of each field among the table's codes; 0
// for those that have none.
var coded = [column.Known + 1]uint8{column.Load: 1, column.MeanVelocity: 2, column.PeakVelocity: 3, column.ROM: 4, column.Concentric: 5}
