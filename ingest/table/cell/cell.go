// Package cell holds what readers of texts and workbooks and the recognition of
// tables share: cells, rows, and where tables lie. Package table passes these
// types on under its own name.
package cell

import "unicode/utf8"

// Kind is what a cell holds.
type Kind uint8

// Kinds of cells. Cells of a text are Text or Blank.
const (
	Blank Kind = iota
	Text
	Number
	Date // a date, a time of day, both, or a duration in days
	Bool
	Error
)

// String returns the kind in a word.
func (k Kind) String() string {
	return [...]string{"blank", "text", "number", "date", "bool", "error"}[k]
}

// Cell is one cell.
type Cell struct {
	// Text is what is written: of a number the digits as stored, of a date its
	// ISO form, of a bool TRUE or FALSE, of an error its text: "#DIV/0!".
	Text   string
	Num    float64 // of a number; the serial of a date, in days; 1 or 0 of a bool
	Kind   Kind
	Merged bool // takes its value from the first cell of its merged range
}

// Blank reports whether the cell holds nothing but blanks.
func (c *Cell) Blank() bool {
	return c.Kind == Blank || c.Kind == Text && IsBlank(c.Text)
}

// IsBlank reports whether a text has nothing but blanks, non-breaking and thin
// ones among them.
func IsBlank(s string) bool {
	if s != "" && visible(s[0]) {
		return false
	}
	for _, r := range s {
		if !IsSpace(r) {
			return false
		}
	}
	return true
}

// visible reports whether a byte is an ASCII character that is no blank.
func visible(b byte) bool { return b > ' ' && b < utf8.RuneSelf }

// IsSpace reports whether a character prints as nothing.
func IsSpace(r rune) bool {
	switch r {
	case ' ', '\t', '\n', '\r', '\v', '\f', 0, 0xA0, 0x2007, 0x2009, 0x200B, 0x202F, 0x3000, 0xFEFF:
		return true
	}
	return false
}

// Row is one record: a line of a text, or several where a quoted cell holds
// line breaks; a row of a spreadsheet.
type Row struct {
	Line   int32 // 1-based, of the first line
	Lines  int32 // lines that the row spans, at least 1
	Cells  []Cell
	Err    *RowError // malformed; Cells hold what could be read
	Hidden bool      // hidden in the spreadsheet
	Other  bool      // read by another delimiter than the rest, which only so has as many cells
}

// Blank reports whether no cell of the row holds anything but blanks.
func (r *Row) Blank() bool {
	for i := range r.Cells {
		if !r.Cells[i].Blank() {
			return false
		}
	}
	return true
}

// RowError says what is wrong with a row.
type RowError struct {
	Problem string // one sentence, with what to do
	Text    string // the line as written, cut where it is long
}

// Error implements error.
func (e *RowError) Error() string { return e.Problem }
