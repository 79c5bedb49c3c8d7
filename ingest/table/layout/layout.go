// Package layout recognises where the tables of a sheet are.
//
// It sees the rows once and keeps of each what its cells look like
// ([cell.Look]), and the texts of those that may be headings or preamble. Then:
//
//  1. Columns that are blank all the way down part tables that stand side by
//     side, if the headings on both sides are alike or the tables end at
//     different rows.
//  2. A table begins with heading rows: texts over columns of values, each
//     column of values with a heading; or, where every row is text, with a row
//     of short texts that differ; or without headings, where rows alike follow
//     each other.
//  3. It goes on as long as rows look like those before. Odd rows among them are
//     data too: whoever reads the cells says what is wrong with them. The
//     headings once more, totals and comments are not.
//  4. Rows before the headings are preamble, rows after the data footer.
//
// It reads no values and knows no column's meaning, only the words of totals
// and of units.
package layout

import (
	"fmt"
	"iter"
	"strings"

	"repsift/ingest/table/cell"
)

// Options says what kind of sheet it is.
type Options struct {
	Text  bool  // rows of a text: each has the cells that were written, blank ones too
	Limit int   // rows looked at; 0: all
	Front int32 // lines at the top that are known to be no table
	Pairs bool  // rows are names and values, "name: value", where they have two cells
}

// Recognise returns the tables of a sheet. Errors are those of the rows.
func Recognise(rows iter.Seq2[cell.Row, error], opt Options) (cell.Layout, error) {
	g := newGrid(opt.Text)
	g.pairs = opt.Pairs
	cut := false
	for row, err := range rows {
		if err != nil {
			return cell.Layout{}, err
		}
		if opt.Limit > 0 && g.read >= opt.Limit {
			cut = true
			break
		}
		g.add(&row, row.Line <= opt.Front)
	}
	g.annotated()
	var l cell.Layout
	for _, span := range g.spans() {
		v := g.view(span, g.rows.len())
		l.Tables = append(l.Tables, v.tables()...)
	}
	sortRegions(l.Tables)
	if cut && len(l.Tables) > 0 {
		last := &l.Tables[len(l.Tables)-1]
		last.LastData = 0
		last.FooterRows = nil
	}
	l.Said = g.said()
	return l, nil
}

// said tells what a reader of the sheet cannot see.
func (g *grid) said() []string {
	var s []string
	if g.hidden > 0 {
		s = append(s, fmt.Sprintf("%s hidden and read all the same", plural(g.hidden, "row is", "rows are")))
	}
	if g.broken > 0 {
		s = append(s, fmt.Sprintf("%s damaged", plural(g.broken, "row is", "rows are")))
	}
	if g.rowNames {
		s = append(s, "rows have one cell more than there are headings: the first column is taken for the rows' names, without a heading")
	}
	if n := len(g.other); n > 0 {
		const shown = 5
		lines := strings.Trim(fmt.Sprint(g.other[:min(n, shown)]), "[]")
		if n > shown {
			lines += " …"
		}
		s = append(s, fmt.Sprintf("%s read by another delimiter than the rest, by which alone it has as many cells: line %s",
			plural(n, "line is", "lines are"), strings.ReplaceAll(lines, " ", ", ")))
	}
	return s
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
