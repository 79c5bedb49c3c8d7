package table

import (
	"bufio"
	"bytes"
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
	for i := 0; i < len(l.Tables); {
		n := together(l.Tables[i:])
		p := pass{b: b, sheet: s, tables: l.Tables[i : i+n], first: i == 0, alone: len(l.Tables) == 1}
		if err := p.write(); err != nil {
			return err
		}
		i += n
	}
	return b.Flush()
}

// heldRows is how many rows of a table are held at most until the one beside it
// has ended.
const heldRows = 100_000

// together returns how many tables are written in one pass over the rows: those
// below each other, and those beside others that are not too long to be held.
func together(tables []Region) int {
	last, open := int32(0), false
	for i := range tables {
		t := &tables[i]
		if beside := i > 0 && (open || t.Top() <= last); beside && (t.LastData == 0 || t.LastData-t.Top() > heldRows) {
			return i
		}
		last, open = max(last, t.LastData), open || t.FirstData != 0 && t.LastData == 0
	}
	return len(tables)
}

// pass writes tables of a sheet in order, in one pass over its rows. Those that
// begin before all above are written are held.
type pass struct {
	b      *bufio.Writer
	sheet  *Sheet
	tables []Region
	first  bool // of the sheet's tables, the first is among them
	alone  bool // it is the only one: all columns are its own

	at    int // table that is being written
	width []int
	held  map[int]*held
}

type held struct {
	content bytes.Buffer
	b       *bufio.Writer
}

func (p *pass) write() error {
	p.held, p.width = map[int]*held{}, make([]int, len(p.tables))
	for i := range p.tables {
		p.width[i] = p.tables[i].Columns()
	}
	if p.alone {
		w, err := widest(p.sheet, &p.tables[0])
		if err != nil {
			return err
		}
		p.width[0] = max(p.width[0], w)
	}
	p.begin()
	walk := NewWalk(p.tables)
	for row, err := range p.sheet.Rows() {
		if err != nil {
			return err
		}
		for p.at < len(p.tables) && ended(&p.tables[p.at], row.Line) {
			p.end()
		}
		if p.at == len(p.tables) {
			return nil
		}
		for _, i := range walk.At(row.Line) {
			if t := &p.tables[i]; t.Data(&row) || label(p.sheet, t, &row) {
				p.row(i, &row)
			}
		}
	}
	for p.at < len(p.tables) {
		p.end()
	}
	return nil
}

// ended reports whether a table has no more rows from a line on.
func ended(t *Region, line int32) bool {
	return t.FirstData == 0 || t.LastData != 0 && t.LastData < line
}

// begin writes the headings of the table that comes next, and what was held of
// it.
func (p *pass) begin() {
	if !p.first || p.at > 0 {
		p.b.WriteString("\r\n")
	}
	t, width := &p.tables[p.at], p.width[p.at]
	if len(t.HeadingRows) > 0 {
		for c := range width {
			h := ""
			if c < len(t.Headings) {
				h = t.Headings[c]
			}
			writeCell(p.b, h, c, width)
		}
	}
	if h := p.held[p.at]; h != nil {
		h.b.Flush()
		p.b.Write(h.content.Bytes())
		delete(p.held, p.at)
	}
}

// end moves on to the next table.
func (p *pass) end() {
	if p.at++; p.at < len(p.tables) {
		p.begin()
	}
}

// row writes a row of a table, or holds it.
func (p *pass) row(i int, row *Row) {
	b := p.b
	if i != p.at {
		h := p.held[i]
		if h == nil {
			h = &held{}
			h.b = bufio.NewWriter(&h.content)
			p.held[i] = h
		}
		b = h.b
	}
	t, width := &p.tables[i], p.width[i]
	for c := range width {
		text := ""
		if k := t.FirstCol + c; k < len(row.Cells) {
			text = row.Cells[k].Text
		}
		writeCell(b, text, c, width)
	}
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
