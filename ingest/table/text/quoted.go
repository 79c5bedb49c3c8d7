package text

import (
	"strings"

	"repsift/ingest/table/cell"
)

// closing says which quotes close a quoted cell.
type closing uint8

const (
	beforeEnd   closing = iota // those before a delimiter or line end
	clean                      // likewise, but a cell that has another quote before was never in quotes
	undoubled                  // those before a delimiter or line end, and no quote is doubled: inner ones are not escaped
	beforeQuote                // those before a delimiter and another quote, or a line end: all cells are quoted
	atOnce                     // the first one; what follows belongs to the cell, which keeps its quotes
)

// reading is one way to read a row that has quotes.
type reading struct {
	cells    []cell.Cell
	end      int // of the row's text
	next     int // start of the next row
	lines    int32
	closed   bool // no quoted cell was left open
	stray    bool // a quote inside a cell was not doubled
	strayOff bool // likewise, in a line taken in after the first
}

// quick reads a line whose quoted cells begin and end next to delimiters and
// hold no quotes: nearly all lines with quotes do. false: it is not so.
func (s *Scanner) quick(start, end int) bool {
	d := &s.d
	if len(d.Delimiter) != 1 || d.Blanks > 0 || d.Lead || d.Trim {
		return false
	}
	delimiter, q := d.Delimiter[0], d.Quote
	cells, line := s.cells[:0], s.text[start:end]
	for i := 0; len(cells) < MaxColumns; i++ {
		from, to := i, 0
		if i < len(line) && line[i] == q {
			from++
			n := strings.IndexByte(line[from:], q)
			if n < 0 {
				return false
			}
			to = from + n
			i = to + 1
			if i < len(line) && line[i] != delimiter || d.Escape == '\\' && to > from && line[to-1] == '\\' {
				return false
			}
		} else {
			n := strings.IndexByte(line[i:], delimiter)
			if n < 0 {
				n = len(line) - i
			}
			to = i + n
			i = to
			if strings.IndexByte(line[from:to], q) >= 0 {
				return false
			}
		}
		if !s.bounds {
			cells = append(cells, textCell(line[from:to]))
		}
		if i >= len(line) {
			s.cells, s.quotes.Quoted = cells, true
			return true
		}
	}
	return false
}

// quoted reads the row at start, whose first line ends at end and has quotes.
// The cells are left in s.cells; it returns the end of the row's text and the
// start of the next row.
func (s *Scanner) quoted(row *cell.Row, start, end, next int) (int, int) {
	r := s.read(s.cells[:0], start, min(len(s.text), start+MaxLine), beforeEnd)
	s.cells = r.cells
	if !r.closed && !r.strayOff && r.end == len(s.text) {
		s.hitEnd = true
	}
	fits := s.d.Width == 0 || len(r.cells) == s.d.Width
	sound := r.closed && (r.lines == 1 || !r.strayOff && (fits || !s.swallows(end, r.end)))
	if s.d.Width > 0 && !fits && (r.stray || !sound) {
		u := s.read(s.spare[:0], start, end, undoubled)
		s.spare = u.cells
		if u.closed && len(u.cells) == s.d.Width {
			s.cells, s.spare = u.cells, s.cells
			return end, next
		}
		// Perhaps a quote that was taken to open a cell does not.
		c := s.read(s.spare[:0], start, min(len(s.text), start+MaxLine), clean)
		s.spare = c.cells
		if c.closed && len(c.cells) == s.d.Width && (c.lines == 1 || !s.swallows(end, c.end)) {
			s.cells, s.spare = c.cells, s.cells
			r, sound, fits = c, true, true
		}
	}
	if sound && (fits || !r.stray || r.lines > 1) {
		row.Lines = r.lines
		return r.end, r.next
	}
	// One line it is. The first reading that gives the usual number of cells
	// stands.
	first := s.read(s.cells[:0], start, end, beforeEnd)
	s.cells = first.cells
	if first.closed && (s.d.Width == 0 || len(first.cells) == s.d.Width) {
		return end, next
	}
	for _, c := range [...]closing{beforeQuote, atOnce} {
		r := s.read(s.spare[:0], start, end, c)
		if r.closed && len(r.cells) == s.d.Width {
			s.cells, s.spare = r.cells, s.cells
			return end, next
		}
		s.spare = r.cells
	}
	if first.closed {
		return end, next
	}
	s.cells = s.split(s.cells[:0], s.text[start:end])
	if len(s.cells) != s.d.Width {
		row.Err = &cell.RowError{
			Problem: "a quote is opened and not closed in this line; correct the line",
			Text:    excerpt(s.text[start:end]),
		}
	}
	return end, next
}

// read reads the row at start, looking no further than limit.
func (s *Scanner) read(cells []cell.Cell, start, limit int, c closing) reading {
	r := reading{cells: cells, lines: 1, closed: true}
	text, i := s.text[:limit], start
	if s.d.Blanks > 0 {
		i = skipBlanks(text, i) // those at both ends of a line part nothing
	}
	for len(r.cells) <= MaxColumns {
		i = s.field(&r, text, i, c)
		if i >= len(text) || !r.closed {
			i = min(i, len(text))
			r.end, r.next = i, i
			if limit < len(s.text) && i == limit && !isBreak(s.text[i]) {
				r.closed = false // the row goes on past the limit
			}
			return r
		}
		if isBreak(text[i]) {
			r.end, r.next = i, i+breakLen(s.text[i:])
			return r
		}
		i = s.past(text, i)
		switch {
		case s.d.Blanks > 0 && i < len(text) && isBreak(text[i]):
			r.end, r.next = i, i+breakLen(s.text[i:])
			return r
		case i >= len(text):
			if s.d.Blanks == 0 {
				r.cells = append(r.cells, cell.Cell{}) // a delimiter ends the text
			}
			r.end, r.next = i, i
			return r
		}
	}
	// Far too many cells: the caller says so; find where the row ends.
	for i < len(text) && !isBreak(text[i]) {
		i++
	}
	r.end, r.next = i, i
	if i < len(text) {
		r.next += breakLen(s.text[i:])
	}
	return r
}

func isBreak(b byte) bool { return b == '\n' || b == '\r' }

// delimits reports whether a delimiter stands at i.
func (s *Scanner) delimits(text string, i int) bool {
	if s.d.Blanks > 0 {
		j := i
		for j < len(text) && (text[j] == ' ' || text[j] == '\t') {
			j++
		}
		return j-i >= s.d.Blanks || j > i && strings.IndexByte(text[i:j], '\t') >= 0
	}
	return s.d.Delimiter != "" && strings.HasPrefix(text[i:], s.d.Delimiter)
}

// past returns where the cell after the delimiter at i begins.
func (s *Scanner) past(text string, i int) int {
	if s.d.Blanks > 0 {
		return skipBlanks(text, i)
	}
	i += len(s.d.Delimiter)
	if s.d.Lead {
		i = skipBlanks(text, i)
	}
	return i
}

func skipBlanks(text string, i int) int {
	for i < len(text) && (text[i] == ' ' || text[i] == '\t') {
		i++
	}
	return i
}

// pad returns the first position at or after i that is no blank, unless a
// delimiter of blanks stands before it.
func (s *Scanner) pad(text string, i int) int {
	if i < len(text) && text[i] != ' ' && text[i] != '\t' {
		return i
	}
	for i < len(text) && (text[i] == ' ' || text[i] == '\t') && !s.delimits(text, i) {
		i++
	}
	return i
}

// field reads the cell at i and returns where its delimiter, its line end or
// the end of the text stands.
func (s *Scanner) field(r *reading, text string, i int, c closing) int {
	if open := s.pad(text, i); open < len(text) && text[open] == s.d.Quote {
		if end, ok := s.inQuotes(r, text, open, c); ok {
			return end
		}
		if !r.closed && c != clean {
			return len(text)
		}
		r.closed = true
	}
	end := s.cellEnd(text, i)
	if strings.IndexByte(text[i:end], s.d.Quote) >= 0 {
		r.stray = true
	}
	value := text[i:end]
	if s.d.Trim {
		value = strings.Trim(value, " ")
	}
	r.cells = append(r.cells, textCell(value))
	return end
}

// cellEnd returns where the next delimiter or line end stands.
func (s *Scanner) cellEnd(text string, i int) int {
	if len(s.d.Delimiter) == 1 && s.d.Blanks == 0 {
		for b := s.d.Delimiter[0]; i < len(text) && text[i] != b && !isBreak(text[i]); i++ {
		}
		return i
	}
	for i < len(text) && !isBreak(text[i]) && !s.delimits(text, i) {
		i++
	}
	return i
}

// inQuotes reads the quoted cell whose quote opens at open.
func (s *Scanner) inQuotes(r *reading, text string, open int, c closing) (end int, ok bool) {
	q := s.d.Quote
	escaped := false
	for i := open + 1; ; {
		n := strings.IndexByte(text[i:], q)
		if n < 0 {
			r.closed = false
			return len(text), false
		}
		if s.d.Escape == '\\' && oddBackslashes(text[i:i+n]) {
			escaped = true
			i += n + 1
			continue
		}
		i += n
		after := s.pad(text, i+1)
		switch {
		case i+1 < len(text) && text[i+1] == q && c != undoubled && !s.closesEmpty(text, i) && !(c == atOnce && s.ends(text, s.pad(text, i+2), c)):
			escaped = true
			i += 2
			continue
		case c == atOnce:
			return s.literal(r, text, open, i+1)
		case !s.ends(text, after, c):
			r.stray = true
			if c == clean {
				return open, false
			}
			if strings.ContainsAny(text[open:i], "\n\r") {
				r.strayOff = true
				r.closed = false
				return len(text), false
			}
			i++
			continue
		}
		value := text[open+1 : i]
		r.lines += countBreaks(value)
		s.quotes.Quoted = true
		if escaped {
			s.quotes.Escaped = true
			value = s.unescape(value)
		}
		r.cells = append(r.cells, textCell(value))
		return after, true
	}
}

// closesEmpty reports whether the two quotes at i are no doubled quote: where a
// backslash escapes, they are the end of a cell and something odd.
func (s *Scanner) closesEmpty(text string, i int) bool {
	return s.d.Escape == '\\' && s.ends(text, s.pad(text, i+1), beforeEnd)
}

// ends reports whether a quoted cell may end before i.
func (s *Scanner) ends(text string, i int, c closing) bool {
	if i >= len(text) || isBreak(text[i]) {
		return true
	}
	if !s.delimits(text, i) {
		return false
	}
	if c == beforeQuote {
		next := s.pad(text, s.past(text, i))
		return next < len(text) && text[next] == s.d.Quote
	}
	return true
}

// literal reads a cell that has more after its closing quote: it is kept as
// written up to the next delimiter or line end.
func (s *Scanner) literal(r *reading, text string, open, i int) (end int, ok bool) {
	from := i
	i = s.cellEnd(text, i)
	value := text[open:i]
	if cell.IsBlank(text[from:i]) {
		value = s.unescape(text[open+1 : from-1])
	} else {
		r.stray = true
	}
	r.lines += countBreaks(value)
	r.cells = append(r.cells, textCell(value))
	return i, true
}

// unescape replaces doubled quotes, and with a backslash style the quotes and
// backslashes that it escapes.
func (s *Scanner) unescape(value string) string {
	q := string(s.d.Quote)
	if s.d.Escape == '\\' {
		return strings.NewReplacer(`\`+q, q, `\\`, `\`, q+q, q).Replace(value)
	}
	return strings.ReplaceAll(value, q+q, q)
}

// oddBackslashes reports whether a text ends with an odd number of backslashes.
func oddBackslashes(s string) bool {
	n := len(s)
	for n > 0 && s[n-1] == '\\' {
		n--
	}
	return (len(s)-n)%2 == 1
}

// countBreaks returns the number of line breaks in a text.
func countBreaks(s string) int32 {
	n := int32(0)
	for i := 0; i < len(s); {
		if !isBreak(s[i]) {
			i++
			continue
		}
		i += breakLen(s[i:])
		n++
	}
	return n
}
