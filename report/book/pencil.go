package book

import (
	"github.com/xuri/excelize/v2"

	"repsift/ingest/rep"
	"repsift/profile"
)

// pencil writes single cells of a short sheet. After an error it does nothing
// more; err tells the first.
type pencil struct {
	p     *print
	sheet string
	err   error
}

// put writes one cell. A nil, a number that cannot be said and an empty text
// leave it empty but styled.
func (c *pencil) put(col, row int, v any, s cellStyle) {
	if c.err != nil {
		return
	}
	var at string
	if at, c.err = excelize.CoordinatesToCellName(col, row); c.err != nil {
		return
	}
	var id int
	if id, c.err = c.p.style(s); c.err != nil {
		return
	}
	if c.err = c.p.SetCellStyle(c.sheet, at, at, id); c.err != nil {
		return
	}
	switch v := v.(type) {
	case nil:
	case string:
		if v != "" {
			c.err = c.p.SetCellStr(c.sheet, at, text(v))
		}
	case rep.Day:
		c.err = c.p.SetCellInt(c.sheet, at, int64(serial(v)))
	case profile.Number:
		if v.OK() {
			c.err = c.p.SetCellFloat(c.sheet, at, float64(v), -1, 64)
		}
	default:
		c.err = c.p.SetCellValue(c.sheet, at, v)
	}
}

// widths sets the widths of columns from the first on.
func (c *pencil) widths(all ...float64) {
	for i, w := range all {
		if c.err != nil {
			return
		}
		var name string
		if name, c.err = excelize.ColumnNumberToName(i + 1); c.err == nil {
			c.err = c.p.SetColWidth(c.sheet, name, name, w)
		}
	}
}

// grid is a small table on a sheet: its heading and the formats of its columns.
type grid struct {
	title   string
	heads   []string
	formats []string
	rows    [][]any
}

// draw writes a grid with its upper left corner at col, row and returns the
// row behind it and one blank row. A grid without rows is left out.
func (c *pencil) draw(col, row int, g grid) int {
	if len(g.rows) == 0 {
		return row
	}
	c.put(col, row, g.title, caption)
	row++
	long := false
	for i, h := range g.heads {
		c.put(col+i, row, h, heading)
		long = long || len(h) > 12
	}
	if long && c.err == nil {
		c.err = c.p.SetRowHeight(c.sheet, row, 30) // for two lines
	}
	row++
	for _, cells := range g.rows {
		for i, v := range cells {
			c.put(col+i, row, v, cellStyle{format: g.formats[i]})
		}
		row++
	}
	return row + 1
}
