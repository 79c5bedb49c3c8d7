package table

import (
	"bufio"
	"io"
	"slices"
	"strings"
)

// WriteCells writes the tables of a sheet as CSV by RFC 4180, in UTF-8: the
// headings, if there are any (several lines of them joined by a blank), then the
// data rows, without preamble, units, repeated headings, comments, totals and
// footer. A row of one cell that names the rows below it is written too, unless
// it is a line without delimiters. Cells are written as read ([Cell.Text]), and
// blank headings stay blank. Rows that are short are filled up, so that all rows
// of a table have as many cells; a blank line parts tables.
func WriteCells(w io.Writer, s *Sheet, l Layout) error {
	b := bufio.NewWriter(w)
	for i := range l.Tables {
		if i > 0 {
			b.WriteString("\r\n")
		}
		if err := writeTable(b, s, &l.Tables[i], len(l.Tables) == 1); err != nil {
			return err
		}
	}
	return b.Flush()
}

// writeTable writes one table; alone says that all columns are its own.
func writeTable(b *bufio.Writer, s *Sheet, t *Region, alone bool) error {
	width := t.Columns()
	if alone {
		w, err := widest(s, t)
		if err != nil {
			return err
		}
		width = max(width, w)
	}
	if len(t.HeadingRows) > 0 {
		for c := range width {
			h := ""
			if c < len(t.Headings) {
				h = t.Headings[c]
			}
			writeCell(b, h, c, width)
		}
	}
	for row, err := range s.Rows() {
		if err != nil {
			return err
		}
		if t.LastData != 0 && row.Line > t.LastData {
			break
		}
		if !t.Data(&row) && !label(s, t, &row) {
			continue
		}
		for c := range width {
			text := ""
			if i := t.FirstCol + c; i < len(row.Cells) {
				text = row.Cells[i].Text
			}
			writeCell(b, text, c, width)
		}
	}
	return nil
}

// label reports whether a row names the rows below it, in a cell of its own.
func label(s *Sheet, t *Region, row *Row) bool {
	if _, text := s.source.(*textSource); text && len(row.Cells) < t.Columns() {
		return false
	}
	i, found := slices.BinarySearchFunc(t.Labels, row.Line, func(p Pair, line int32) int { return int(p.Row - line) })
	return found && !row.Cells[t.Labels[i].Col].Merged
}

// widest returns the columns up to the last that any data row fills.
func widest(s *Sheet, t *Region) (int, error) {
	width := 0
	for row, err := range s.Rows() {
		if err != nil {
			return 0, err
		}
		if !t.Data(&row) {
			continue
		}
		for i := len(row.Cells) - 1; i-t.FirstCol >= width; i-- {
			if !row.Cells[i].Blank() {
				width = i - t.FirstCol + 1
			}
		}
	}
	return width, nil
}

// writeCell writes a cell and what follows it. A row of one blank cell is
// quoted, else it would be a blank line.
func writeCell(b *bufio.Writer, text string, c, width int) {
	if c > 0 {
		b.WriteByte(',')
	}
	if strings.ContainsAny(text, "\",\r\n") || text == "" && width == 1 || strings.HasPrefix(text, " ") || strings.HasSuffix(text, " ") {
		b.WriteByte('"')
		b.WriteString(strings.ReplaceAll(text, `"`, `""`))
		b.WriteByte('"')
	} else {
		b.WriteString(text)
	}
	if c == width-1 {
		b.WriteString("\r\n")
	}
}
