package book

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"repsift/ingest/rep"
	"repsift/report/tidy"
)

// table streams one of the long sheets: a frozen heading, a row a row, and a
// spreadsheet table around them, which has the filters and a name that charts
// and formulas of the coach's own can use.
func (p *print) table(t *table, maxRows int) error {
	if err := p.pageAcross(t.sheet); err != nil {
		return err
	}
	w, err := p.NewStreamWriter(t.sheet)
	if err != nil {
		return err
	}
	styles := make([]int, len(t.columns))
	for i, c := range t.columns {
		if err := w.SetColWidth(i+1, i+1, c.width); err != nil {
			return err
		}
		if styles[i], err = p.style(cellStyle{format: c.format}); err != nil {
			return err
		}
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	head, err := p.style(heading)
	if err != nil {
		return err
	}
	row := make([]any, len(t.columns))
	for i, c := range t.columns {
		row[i] = excelize.Cell{StyleID: head, Value: c.heading}
	}
	if err := w.SetRow("A1", row, excelize.RowOpts{Height: 32}); err != nil {
		return err
	}
	if t.rows >= maxRows {
		note := fmt.Sprintf("%d rows are more than a spreadsheet works with; they are all in %s.", t.rows, t.file)
		if err := w.SetRow("A2", []any{note}); err != nil {
			return err
		}
		return w.Flush()
	}
	var cells []tidy.Cell
	for i := range t.rows {
		if i%1024 == 0 && p.ctx.Err() != nil {
			return p.ctx.Err()
		}
		cells = t.cells(cells, i)
		for j := range cells {
			row[j] = excelize.Cell{StyleID: styles[j], Value: value(&cells[j])}
		}
		at, err := excelize.CoordinatesToCellName(1, i+2)
		if err != nil {
			return err
		}
		if err := w.SetRow(at, row); err != nil {
			return err
		}
	}
	last, err := excelize.CoordinatesToCellName(len(t.columns), max(t.rows, 1)+1)
	if err != nil {
		return err
	}
	err = w.AddTable(&excelize.Table{Range: "A1:" + last, Name: strings.ReplaceAll(t.sheet, " ", "_"), StyleName: "TableStyleLight1"})
	if err != nil {
		return err
	}
	return w.Flush()
}

// value returns a cell as the library takes it. Days and moments become
// serial numbers, which the number format of their column shows as dates.
func value(c *tidy.Cell) any {
	switch c.Kind {
	case tidy.Words:
		return text(c.Text)
	case tidy.Number:
		return c.Float
	case tidy.Whole:
		return c.Int
	case tidy.Truth:
		return c.Int == 1
	case tidy.Date:
		return serial(rep.Day(c.Int))
	case tidy.Moment:
		return float64(c.Int)/86_400_000 + epoch
	}
	return nil
}

// epoch is 1970-01-01 as a serial number of the 1900 date system.
const epoch = 25569

func serial(d rep.Day) int { return int(d) + epoch }

// longest is how many UTF-16 units a cell holds.
const longest = 32767

// text returns a text that a cell can hold: line ends are line feeds, signs
// that XML does not know are replaced. A text of the form _x0041_, which
// spreadsheets would take for an escaped sign, is escaped by the library.
func text(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\r':
			return '\n'
		case r == '\t' || r == '\n':
			return r
		case r < ' ', r == '\uFFFE', r == '\uFFFF':
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	if len(s) <= longest {
		return s
	}
	n := 0
	for i, r := range s {
		if n += 1 + b2i(r > 0xFFFF); n > longest-1 {
			return s[:i] + "…"
		}
	}
	return s
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
