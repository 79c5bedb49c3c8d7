package around

import (
	"strings"

	"repsift/ingest/shape/words"
	"repsift/ingest/table"
)

// ColumnBelow reads a table of one column below lines of keys and values:
//
//	Lifter,Zofia Kos
//	Lift,bench press
//
//	Sets
//	45kg x2
//
// Layout alone takes the last of those lines for headings, and what is below for
// notes.
func ColumnBelow(sheet *table.Sheet, tables []table.Region) error {
	if len(tables) != 1 || tables[0].FirstData != 0 || len(tables[0].HeadingRows) != 1 || len(tables[0].FooterRows) < 2 {
		return nil
	}
	r := &tables[0]
	pair := pairOf(r.Headings, r.HeadingRows[0], r.FirstCol)
	if f, _, ok := keyField(pair.Key); !ok || !sensible(f, pair.Value) {
		return nil
	}
	below := table.Region{FirstCol: r.FirstCol, LastCol: r.FirstCol, PreambleRows: append(r.PreambleRows, pair.Row), Preamble: append(r.Preamble, pair)}
	for row, err := range sheet.Rows() {
		switch {
		case err != nil:
			return err
		case row.Line <= pair.Row || row.Blank():
			continue
		}
		text, single := "", true
		for i, c := range row.Cells {
			if i == r.FirstCol {
				text = strings.TrimSpace(c.Text)
			} else if !c.Blank() {
				single = false
			}
		}
		switch {
		case row.Err != nil || !single || text == "":
			return nil
		case len(below.HeadingRows) == 0:
			if words.Parse(text).Has == 0 || isCell(text) {
				return nil
			}
			below.HeadingRows, below.Headings = []int32{row.Line}, []string{strings.Clone(text)}
		case !isCell(text):
			return nil
		default:
			if below.FirstData == 0 {
				below.FirstData = row.Line
			}
			below.LastData = row.Line
		}
	}
	if below.FirstData != 0 {
		tables[0] = below
	}
	return nil
}
