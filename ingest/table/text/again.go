package text

import (
	"strings"

	"repsift/ingest/table/cell"
)

// alone reads a row of one cell once more: a line that was put in quotes as a
// whole, as spreadsheets do to lines of another delimiter where theirs stands in
// them; or a line of another delimiter. It stands if it has the usual number of
// cells. It reports whether that is by another delimiter.
func (s *Scanner) alone(start int, line string) bool {
	if s.d.Delimiter == "" {
		return false
	}
	if s.d.Quote != 0 && s.text[start] == s.d.Quote && strings.Contains(s.cells[0].Text, s.d.Delimiter) {
		if s.d.Width == 2 && !strings.ContainsAny(s.cells[0].Text, "\"") && !strings.ContainsAny(strings.ReplaceAll(s.cells[0].Text, s.d.Delimiter, ""), ";,\t|") {
			return false // "Peña, Íñigo", "67,5 x 4 @ 8": one cell of a table of two columns
		}
		s.again(s.d, s.cells[0].Text)
		return false
	}
	if s.strict {
		return false
	}
	for _, delimiter := range [...]string{";", ",", "\t", "|"} {
		if s.d.Width > 2 && delimiter != s.d.Delimiter && strings.Count(line, delimiter) >= s.d.Width-1 && 2*strings.Count(line, delimiter+" ") <= s.d.Width-1 {
			d := s.d
			if d.Delimiter = delimiter; s.again(d, line) {
				return true
			}
		}
	}
	return false
}

// again reads a line by a dialect; false if it has not the usual number of
// cells.
func (s *Scanner) again(d Dialect, text string) bool {
	var row cell.Row
	d.Lead, d.Trim, d.Framed = false, false, false
	line := d.Scan(text, 1)
	line.inner = true
	if !line.Next(&row) || row.Err != nil || line.pos != len(line.text) || len(line.cells) != s.d.Width {
		return false
	}
	s.cells = line.cells
	return true
}

// swallows reports whether one of the lines between two ends of lines is a
// whole row of its own: then the quote that took it in was never closed.
func (s *Scanner) swallows(from, to int) bool {
	if s.d.Width < 2 {
		return false
	}
	for line := range strings.FieldsFuncSeq(s.text[from:to], func(r rune) bool { return r == '\n' || r == '\r' }) {
		if strings.IndexByte(line, s.d.Quote) < 0 {
			if s.spare = s.split(s.spare[:0], line); len(s.spare) == s.d.Width {
				return true
			}
		}
	}
	return false
}
