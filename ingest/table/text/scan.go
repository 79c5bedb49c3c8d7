package text

import (
	"fmt"
	"math/bits"
	"strings"

	"repsift/ingest/table/cell"
)

// Scanner cuts a block of text into rows. The zero Scanner is not ready: use
// [Dialect.Scan].
type Scanner struct {
	d    Dialect
	text string
	pos  int
	line int32

	// The next LF, CR and quote at or after pos; len(text) where there is none.
	lf, cr, quote int

	cells  []cell.Cell
	spare  []cell.Cell // of other readings of a line
	hitEnd bool        // a quoted cell was open at the end of the text
	strict bool        // rows of other delimiters are left as they are
	inner  bool        // a line is read once more
	quotes Quotes
	bounds bool // only where rows end is asked for: cells of rows without quotes are left out
}

// Quotes is what was seen of quotes.
type Quotes struct{ Quoted, Escaped bool }

// Scan returns a scanner of a block that begins at a row, with the number of
// its first line.
func (d Dialect) Scan(text string, line int32) *Scanner {
	s := &Scanner{d: d}
	s.Reset(text, line)
	return s
}

// Reset makes the scanner read another block.
func (s *Scanner) Reset(text string, line int32) {
	s.text, s.pos, s.line = text, 0, line
	s.lf, s.cr, s.quote = -1, -1, -1
	if s.d.Quote == 0 {
		s.quote = len(text)
	}
	s.hitEnd = false
}

// Next reads a row; false at the end of the block. The cells are valid until
// the next call.
func (s *Scanner) Next(row *cell.Row) bool {
	if s.pos >= len(s.text) {
		return false
	}
	row.Line, row.Lines, row.Hidden, row.Other = s.line, 1, false, false
	if row.Err != nil {
		row.Err = nil
	}
	start := s.pos
	end, next := s.lineEnd(start)
	if s.quote < start {
		s.quote = find(s.text, start, s.d.Quote)
	}
	switch {
	case end-start > MaxLine:
		row.Err = tooLong(s.text[start:end])
		s.cells = append(s.cells[:0], textCell(row.Err.Text))
	case s.quote >= end:
		if s.cells = s.cells[:0]; !s.bounds {
			s.cells = s.split(s.cells, s.text[start:end])
		}
	case s.quick(start, end):
	default:
		end, next = s.quoted(row, start, end, next)
	}
	if len(s.cells) == 1 && s.d.Width > 1 && !s.bounds && !s.inner {
		row.Other = s.alone(start, s.text[start:end])
	}
	if len(s.cells) > MaxColumns {
		s.cells = s.cells[:MaxColumns]
		row.Err = &cell.RowError{
			Problem: fmt.Sprintf("more than %d cells in a row, which no table has; the row is left out: see whether its delimiter or line ends are damaged", MaxColumns),
			Text:    excerpt(s.text[start:end]),
		}
	}
	s.pos = next
	s.line += row.Lines
	row.Cells = s.cells
	if n := len(s.cells); s.d.Framed && n > 2 && s.cells[0].Blank() && s.cells[n-1].Blank() {
		row.Cells = s.cells[1 : n-1]
	}
	return true
}

// lineEnd returns the end of the line that begins at from, and the start of
// the next. Lines end with LF, CRLF, CR, or CRCRLF, which faulty transfers make
// of CRLF.
func (s *Scanner) lineEnd(from int) (end, next int) {
	if s.lf < from {
		s.lf = find(s.text, from, '\n')
	}
	if s.cr < from {
		s.cr = find(s.text, from, '\r')
	}
	if s.lf < s.cr {
		return s.lf, s.lf + 1
	}
	end = s.cr
	if end == len(s.text) {
		return end, end
	}
	return end, end + breakLen(s.text[end:])
}

// breakLen returns the length of the line break that a text begins with.
func breakLen(s string) int {
	switch {
	case strings.HasPrefix(s, "\r\n"):
		return 2
	case strings.HasPrefix(s, "\r\r\n"):
		return 3
	}
	return 1
}

// find returns the position of a byte at or after from, or the text's length.
func find(text string, from int, b byte) int {
	if i := strings.IndexByte(text[from:], b); i >= 0 {
		return from + i
	}
	return len(text)
}

func textCell(s string) cell.Cell {
	if s == "" {
		return cell.Cell{}
	}
	return cell.Cell{Text: s, Kind: cell.Text}
}

// split appends the cells of a line without quotes. An empty line has none.
func (s *Scanner) split(cells []cell.Cell, line string) []cell.Cell {
	if line == "" {
		return cells
	}
	d := &s.d
	switch {
	case d.Trim:
		for len(cells) <= MaxColumns {
			i := strings.Index(line, d.Delimiter)
			if i < 0 {
				break
			}
			cells = append(cells, textCell(strings.Trim(line[:i], " ")))
			line = line[i+len(d.Delimiter):]
		}
		return append(cells, textCell(strings.Trim(line, " ")))
	case d.Blanks > 0:
		if d.Cuts != nil {
			if fixed, ok := splitFixed(cells, line, d.Cuts); ok {
				return fixed
			}
		}
		return splitBlanks(cells, line, d.Blanks)
	case d.Delimiter == "":
		return append(cells, textCell(line))
	case d.Escape == '\\' && d.Quote == 0 && strings.IndexByte(line, '\\') >= 0:
		return s.splitEscaped(cells, line)
	case len(d.Delimiter) == 1 && !d.Lead:
		return splitByte(cells, line, d.Delimiter[0])
	}
	for len(cells) <= MaxColumns {
		i := strings.Index(line, d.Delimiter)
		if i < 0 {
			break
		}
		cells = append(cells, textCell(line[:i]))
		line = s.lead(line[i+len(d.Delimiter):])
	}
	return append(cells, textCell(line))
}

// splitByte appends the cells of a line that a byte parts. Cells are short, so it
// looks for the byte in eight of the line at a time: those of a word w in which
// it stands are zero in w^same, and have their highest bit set in hits (Warren
// 2013, Hacker's Delight, 6-1).
func splitByte(cells []cell.Cell, line string, b byte) []cell.Cell {
	const ones, low = 0x0101010101010101, 0x7f7f7f7f7f7f7f7f
	same := uint64(b) * ones
	from, i := 0, 0
	for ; i+8 <= len(line) && len(cells) <= MaxColumns; i += 8 {
		w := line[i : i+8]
		x := same ^ (uint64(w[0]) | uint64(w[1])<<8 | uint64(w[2])<<16 | uint64(w[3])<<24 |
			uint64(w[4])<<32 | uint64(w[5])<<40 | uint64(w[6])<<48 | uint64(w[7])<<56)
		for hits := ^((x&low + low) | x | low); hits != 0; hits &= hits - 1 {
			at := i + bits.TrailingZeros64(hits)/8
			cells = append(cells, textCell(line[from:at]))
			from = at + 1
		}
	}
	for ; i < len(line) && len(cells) <= MaxColumns; i++ {
		if line[i] == b {
			cells = append(cells, textCell(line[from:i]))
			from = i + 1
		}
	}
	return append(cells, textCell(line[from:]))
}

// lead cuts off the blanks that belong to the delimiter before them.
func (s *Scanner) lead(line string) string {
	if s.d.Lead {
		return strings.TrimLeft(line, " ")
	}
	return line
}

// splitEscaped appends the cells of a line where a backslash takes the
// delimiter's meaning away.
func (s *Scanner) splitEscaped(cells []cell.Cell, line string) []cell.Cell {
	d := s.d.Delimiter
	var b strings.Builder
	for i := 0; len(cells) <= MaxColumns; {
		switch {
		case i >= len(line):
			return append(cells, textCell(b.String()))
		case line[i] == '\\' && i+1 < len(line) && (line[i+1] == '\\' || strings.HasPrefix(line[i+1:], d)):
			b.WriteByte(line[i+1])
			i += 2
		case strings.HasPrefix(line[i:], d):
			cells = append(cells, textCell(b.String()))
			b.Reset()
			i += len(d)
		default:
			b.WriteByte(line[i])
			i++
		}
	}
	return cells
}

// splitBlanks appends the cells of a line where runs of at least n blanks, or a
// tab, part cells. Blanks at both ends of the line are no cells.
func splitBlanks(cells []cell.Cell, line string, n int) []cell.Cell {
	line = strings.Trim(line, " \t")
	start := 0
	for i := 0; i < len(line) && len(cells) <= MaxColumns; {
		if line[i] != ' ' && line[i] != '\t' {
			i++
			continue
		}
		end, tab := i, false
		for line[end] == ' ' || line[end] == '\t' {
			tab = tab || line[end] == '\t'
			end++
		}
		if end-i >= n || tab {
			cells = append(cells, textCell(line[start:i]))
			start = end
		}
		i = end
	}
	if start < len(line) {
		cells = append(cells, textCell(line[start:]))
	}
	return cells
}

func tooLong(line string) *cell.RowError {
	return &cell.RowError{
		Problem: fmt.Sprintf("a line of more than %d bytes; the row is left out: see whether its line ends are damaged", MaxLine),
		Text:    excerpt(line),
	}
}

// excerpt returns the beginning of a line for messages.
func excerpt(line string) string {
	const most = 200
	if len(line) > most {
		line = strings.ToValidUTF8(line[:most], "")
	}
	return strings.Clone(line)
}
