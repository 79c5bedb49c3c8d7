// Package table turns files into cells with places: text tables of any
// dialect and workbooks, read as people have them.
//
// The steps are:
//
//  1. [Open] looks at the first bytes: a workbook, a text, or something that
//     cannot be read, with an error that says how to save it.
//  2. Of a text the encoding, the delimiter, the quote and the escape style are
//     recognised from a sample, where [Options] does not declare them.
//  3. [Sheet.Rows] streams the rows of a sheet. Every line of a text is in
//     exactly one row, blank and broken lines too.
//  4. [Sheet.Layout] says where the tables are: preamble, headings, units, data,
//     footer.
//
// What was recognised is in the fields of [File] and in words in [File.Said].
//
// The package knows nothing of bar speed: it does not parse numbers or dates of
// texts, and does not know what a column means.
package table

import (
	"fmt"
	"io/fs"
	"iter"
)

// Options declares what is known about a file; empty means recognised.
type Options struct {
	Encoding  string // as in web pages: "utf-8", "utf-16le", "windows-1252", "iso-8859-2", "macintosh", …
	Delimiter string // one character, or "blanks" for runs of blanks
	Decimal   string // decimal mark of numbers, "." or ",": evidence for the delimiter
	Quote     string // `"`, `'` or "none"
	MaxBytes  int64  // of unpacked content; 0 means [DefaultMaxBytes]
}

// Limits on what a file may hold. They are far above any table and stop files
// made to exhaust a machine.
const (
	DefaultMaxBytes int64 = 64 << 30 // of text, unpacked
	MaxLine               = 1 << 20  // bytes of one row of a text
	MaxColumns            = 1 << 15  // cells of one row; a spreadsheet has at most 16,384
)

// File is an open source: what was recognised, and its sheets.
type File struct {
	Name      string
	Format    string // "text" or "xlsx"
	Encoding  string // of a text: "UTF-8", "Windows-1252", …
	BOM       bool   // the text begins with a byte order mark
	Delimiter string // of a text: one character, ", " or "blanks"; "" where every row is one cell
	Quote     string // of a text: `"`, `'` or "" where nothing is quoted
	Escape    string // of a text: the quote itself where quotes are doubled, `\`, or ""
	LineEnd   string // of a text: "LF", "CRLF", "CR" or "mixed"
	Sheets    []*Sheet
	Said      []string // inferences and hidden things, each a sentence
}

// Sheet is one grid of cells: a sheet of a workbook, or a whole text.
type Sheet struct {
	Name     string // "" for a text
	Hidden   bool
	Date1904 bool // serials count from 1904

	source rowSource
}

// rowSource gives the rows of a sheet, from the top on each call.
type rowSource interface {
	rows() iter.Seq2[Row, error]
	layout(*Sheet) (Layout, error)
}

// Rows returns the rows of the sheet in order. Each call starts from the top.
// Cells of a row are valid until the next row; texts stay valid but hold a
// block of the file in memory: clone what is kept. A spreadsheet's rows without
// cells are left out (Line tells); a text's blank lines are rows without cells.
// The error is of reading, and the last thing that is yielded: broken lines are
// rows with Err.
func (s *Sheet) Rows() iter.Seq2[Row, error] { return s.source.rows() }

// Layout recognises the tables of the sheet. Small files are looked at whole,
// large texts at their head and tail: there the last table is open at its end
// and [Region.Data] tells headings that are repeated further down.
func (s *Sheet) Layout() (Layout, error) { return s.source.layout(s) }

// Row is one record: a line of a text, or several where a quoted cell holds
// line breaks; a row of a spreadsheet.
type Row struct {
	Line   int32 // 1-based, of the first line
	Lines  int32 // lines that the row spans, at least 1
	Cells  []Cell
	Err    *RowError // malformed; Cells hold what could be read
	Hidden bool      // hidden in the spreadsheet
}

// Blank reports whether no cell holds anything but blanks.
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
	Text    string // the line as written, cut to 200 bytes
}

// Error implements error.
func (e *RowError) Error() string { return e.Problem }

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
	Num    float64 // of a number; the serial of a date; 1 or 0 of a bool
	Kind   Kind
	Merged bool // takes its value from the merged range it is part of, but for the first cell
}

// Blank reports whether the cell holds nothing but blanks.
func (c *Cell) Blank() bool { return c.Kind == Blank || c.Kind == Text && blankText(c.Text) }

// blankText reports whether a text has only blanks, non-breaking ones too.
func blankText(s string) bool {
	for i, r := range s {
		switch r {
		case ' ', '\t', '\n', '\r', '\v', '\f', 0, 0xA0, 0x2007, 0x202F, 0x2009, 0x200B, 0xFEFF:
		default:
			_ = i
			return false
		}
	}
	return true
}

// Layout is where the tables of a sheet are.
type Layout struct {
	Tables []Region // in order of rows, then columns; nil: no table
	Said   []string // inferences and hidden things, each a sentence
}

// Region is one table of a sheet.
type Region struct {
	Preamble     []Pair  // "Name: X" and the like in the rows above
	PreambleRows []int32 // rows between the table above and this one that hold something

	HeadingRows []int32  // 0 to 3 rows
	Headings    []string // one a column; of several rows joined by a blank; "" where there is none
	UnitsRow    int32    // 0: none
	Units       []string // one a column where UnitsRow is not 0, else nil

	FirstData, LastData int32   // rows; 0 both: no data; LastData 0 alone: to the end
	NotData             []int32 // rows between them that hold something but no data: repeated headings, subtotals, comments
	FooterRows          []int32 // totals and remarks after the data

	FirstCol, LastCol int // 0-based columns, both included
}

// Pair is a preamble line that gives a value its name. A line that gives none
// has Key "".
type Pair struct {
	Key, Value string
	Row        int32
	Col        int // of the value
}

// Columns returns the number of columns.
func (r *Region) Columns() int { return r.LastCol - r.FirstCol + 1 }

// OpenError is a source that cannot be read as a table.
type OpenError struct {
	Name    string
	Problem string // what is wrong and what to do
	Err     error  // cause, may be nil
}

// Error implements error.
func (e *OpenError) Error() string { return fmt.Sprintf("%s: %s", e.Name, e.Problem) }

// Unwrap returns the cause.
func (e *OpenError) Unwrap() error { return e.Err }

// Open opens a source and recognises what it is. Close is not needed: nothing
// stays open between calls.
func Open(fsys fs.FS, name string, opt Options) (*File, error) {
	return nil, &OpenError{Name: name, Problem: "reading of tables is not written yet"}
}

// Data reports whether a row is one of the region's data rows: within it, with
// something in its columns, and neither a repeated heading nor listed in
// NotData. Rows have to be asked about in order.
func (r *Region) Data(row *Row) bool {
	if r.FirstData == 0 || row.Line < r.FirstData || r.LastData != 0 && row.Line > r.LastData {
		return false
	}
	return !row.Blank()
}
