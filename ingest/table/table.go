// Package table turns files into cells with places: text tables of any
// dialect and workbooks, read as people have them.
//
// The steps are:
//
//  1. [Open] looks at the first bytes: a workbook, a text, or something that
//     cannot be read, with an error that says how to save it.
//  2. Of a text the encoding (package charset), the delimiter, the quote and
//     the escape style (package text) are recognised from a sample, where
//     [Options] does not declare them.
//  3. [Sheet.Rows] streams the rows of a sheet. Every line of a text is in
//     exactly one row, blank and broken lines too.
//  4. [Sheet.Layout] says where the tables are (package layout): preamble,
//     headings, units, data, footer.
//
// What was recognised is in the fields of [File] and in words in [File.Said].
//
// The package knows nothing of bar speed: it does not read numbers or dates in
// texts, and does not know what a column means.
package table

import (
	"iter"

	"repsift/ingest/table/cell"
	"repsift/ingest/table/charset"
)

// Cells, rows and where tables lie; see package cell.
type (
	Cell     = cell.Cell
	Kind     = cell.Kind
	Row      = cell.Row
	RowError = cell.RowError
	Layout   = cell.Layout
	Region   = cell.Region
	Pair     = cell.Pair
	Walk     = cell.Walk
)

// NewWalk returns a walk of tables in order of their rows; see [cell.Walk].
func NewWalk(tables []Region) *Walk { return cell.NewWalk(tables) }

// Kinds of cells. Cells of a text are Text or Blank.
const (
	Blank  = cell.Blank
	Text   = cell.Text
	Number = cell.Number
	Date   = cell.Date
	Bool   = cell.Bool
	Error  = cell.Error
)

// Options declares what is known about a file; empty means recognised.
type Options struct {
	Encoding  string // as in web pages: "utf-8", "utf-16le", "windows-1252", "iso-8859-2", "macintosh", …
	Delimiter string // one or more characters, or "blanks" for runs of blanks
	Quote     string // `"`, `'` or "none"
	Decimal   string // decimal mark of numbers, "." or ",": evidence for the delimiter
	MaxBytes  int64  // of unpacked content; 0 means [DefaultMaxBytes]
}

// DefaultMaxBytes is how much of a text is read at most, unpacked: far above
// any table, and an end to files made to keep a machine busy.
const DefaultMaxBytes int64 = 64 << 30

// File is an open source: what was recognised, and its sheets.
type File struct {
	Name      string
	Format    string // "text" or "xlsx"
	Encoding  string // of a text: "UTF-8", "Windows-1252", …
	BOM       bool   // the text begins with a byte order mark
	Delimiter string // of a text: the character or characters, or "blanks"; "" where every row is one cell
	Padding   string // of a text: blanks beside the delimiter that belong to no cell: "after" it, "around" it, or ""
	Quote     string // of a text: `"` or `'`; "" where nothing was seen in quotes
	Escape    string // of a text: the quote where it is doubled, or `\`; "" where none was seen
	LineEnd   string // of a text: "LF", "CRLF", "CR", "mixed"; "" where there is one line
	Sheets    []*Sheet
	Said      []string // inferences and hidden things, each a sentence
	Rivals    []Rival  // encodings of a text that fit nearly as well

	seen *[256]bool // bytes that a text has; nil: not looked for
}

// Rival is an encoding that a text may be in as well as in the one recognised.
type Rival struct {
	Encoding, Not string // as [Options] has them: it, and the one recognised
	other, own    charset.Charset
}

// Reread returns a text of the file as it is in the rival's encoding.
func (r *Rival) Reread(text string) string { return r.own.Reread(text, r.other) }

// Sheet is one grid of cells: a sheet of a workbook, or a whole text.
type Sheet struct {
	Name     string // "" for a text
	Hidden   bool
	Date1904 bool // serials count from 1904

	source source
	layout *Layout
	head   *firstRows // nil: not kept
}

// source gives the rows of a sheet, from the top on each call.
type source interface {
	rows() iter.Seq2[Row, error]
	recognise(*firstRows) (Layout, error) // keeps the head as it reads
}

// Rows returns the rows of the sheet in order. Each call starts from the top.
// The cells of a row are valid until the next row; their texts stay valid but
// hold a block of the file in memory: clone what is kept. A text's blank lines
// are rows without cells; of a spreadsheet, rows without cells are left out. An
// error is of reading, and is yielded last: broken lines are rows with Err.
// After Layout the first rows are those that it has read.
func (s *Sheet) Rows() iter.Seq2[Row, error] {
	if s.head != nil {
		return s.head.before(s.source.rows())
	}
	return s.source.rows()
}

// Layout recognises the tables of the sheet, once. It looks at the whole sheet,
// but at the head only of a text of more than [HeadBytes]: there the last table
// is open at its end, and [Region.Data] tells headings that are repeated. Safe
// for one goroutine a sheet.
func (s *Sheet) Layout() (Layout, error) {
	if s.layout == nil {
		h := &firstRows{}
		l, err := s.source.recognise(h)
		if err != nil {
			return Layout{}, err
		}
		s.layout, s.head = &l, h
	}
	return *s.layout, nil
}

// Forget lets go of the first rows, which Layout keeps so that they need not be
// read again.
func (s *Sheet) Forget() { s.head = nil }
