package xlsx

import (
	"fmt"
	"io"
	"iter"
	"math"
	"strconv"
	"strings"

	"repsift/ingest/table/cell"
)

// Size of a sheet by the format, and a bound on merged ranges across.
const (
	maxRows    = 1 << 20
	maxColumns = 1 << 14
	maxAcross  = 1 << 10
)

// Notes counts what a reader of a sheet does not see in its cells.
type Notes struct {
	HiddenColumns int
	NoValue       int // formulas without a stored value
}

// Rows returns the rows of the sheet that have a value, and fills in notes. The
// cells of a row are valid until the next. Merged ranges give their value to
// each of their cells in such rows; they are looked for where they are not
// known. The error is of damage, and comes last.
func (s *Sheet) Rows(notes *Notes, m *Merged) iter.Seq2[cell.Row, error] {
	return func(yield func(cell.Row, error) bool) {
		if err := s.book.readStrings(); err != nil {
			yield(cell.Row{}, err)
			return
		}
		if !m.known {
			if err := s.findMerged(m); err != nil {
				yield(cell.Row{}, err)
				return
			}
		}
		s.rows(notes, m.all, yield, nil)
	}
}

// Bare returns the rows as if no ranges were merged. Which are is known when
// they have been read to the end, without reading the sheet once more.
func (s *Sheet) Bare(notes *Notes, m *Merged) iter.Seq2[cell.Row, error] {
	return func(yield func(cell.Row, error) bool) {
		if err := s.book.readStrings(); err != nil {
			yield(cell.Row{}, err)
			return
		}
		s.rows(notes, nil, yield, m.read)
	}
}

// rows yields the rows, and shows what stands behind them.
func (s *Sheet) rows(notes *Notes, merged []area, yield func(cell.Row, error) bool, behind func(*scanner)) {
	r, err := s.book.open(s.part, maxSheet)
	if err != nil {
		yield(cell.Row{}, err)
		return
	}
	defer r.Close()
	*notes = Notes{}
	rr := reader{s: newScanner(r), book: s.book, merges: &merges{all: merged}, notes: notes}
	for {
		row, ok, err := rr.next()
		switch {
		case err != nil:
			err = fmt.Errorf("sheet %q is damaged after row %d (%w); open the workbook in a spreadsheet program and save it again", s.Name, rr.row, err)
			yield(cell.Row{}, err)
			return
		case !ok:
			if behind != nil {
				behind(rr.s)
			}
			return
		case !yield(row, nil):
			return
		}
	}
}

// reader reads the rows of a sheet's XML.
type reader struct {
	s      *scanner
	book   *Book
	merges *merges
	notes  *Notes
	row    int // number of the last row
	hidden bool

	cells []cell.Cell
	raw   []rawCell
	arena []byte // texts of the row

	serial struct { // last date written
		num  float64
		f    format
		text string
	}
}

// rawCell is a cell whose text lies in the arena.
type rawCell struct {
	col      int
	from, to int
	style    int
	kind     byte // first letter of its type; 0: a number
	formula  bool
	valued   bool // a value is stored, if a blank one
	shared   bool
}

// next returns the next row that has a value; false at the end of the cells.
func (r *reader) next() (cell.Row, bool, error) {
	for {
		t, err := r.s.next()
		switch {
		case err == io.EOF:
			return cell.Row{}, false, nil
		case err != nil:
			return cell.Row{}, false, err
		case t == tagEnd && string(r.s.name) == "sheetData":
			return cell.Row{}, false, nil
		case t != tagStart:
			continue
		case string(r.s.name) == "col":
			r.column()
		case string(r.s.name) == "row":
			single := r.s.single
			if err := r.startRow(); err != nil {
				return cell.Row{}, false, err
			}
			if !single {
				if err := r.readRow(); err != nil {
					return cell.Row{}, false, err
				}
			}
			if r.finish() {
				return cell.Row{Line: int32(r.row), Lines: 1, Cells: r.cells, Hidden: r.hidden}, true, nil
			}
		}
	}
}

// column notes hidden columns.
func (r *reader) column() {
	if isTrue(r.s.attr("hidden")) {
		from, to := number(r.s.attr("min")), number(r.s.attr("max"))
		if to-from < maxColumns/2 { // else all that is not used is hidden
			r.notes.HiddenColumns += max(to-from+1, 0)
		}
	}
}

// number reads a whole number; 0 if it is none.
func number(b []byte) int {
	n := 0
	for _, c := range b {
		if c < '0' || c > '9' || n > 1<<30 {
			return 0
		}
		n = 10*n + int(c-'0')
	}
	return n
}

func (r *reader) startRow() error {
	n := number(r.s.attr("r"))
	if n <= r.row {
		n = r.row + 1 // not said, or out of order
	}
	if n > maxRows {
		return fmt.Errorf("row %d is beyond the last that a sheet has", n)
	}
	r.row = n
	r.hidden = isTrue(r.s.attr("hidden"))
	r.raw, r.arena = r.raw[:0], r.arena[:0]
	return nil
}

// readRow reads the cells up to the row's end.
func (r *reader) readRow() error {
	col := -1
	for {
		t, err := r.s.next()
		if err != nil {
			return eof(err)
		}
		switch {
		case t == tagEnd && string(r.s.name) == "row":
			return nil
		case t == tagStart && string(r.s.name) == "c":
			col++
			ref, kind, style := r.s.cellAttributes()
			if c, ok := columnOf(ref); ok {
				col = c
			}
			c := rawCell{col: col, style: number(style), from: len(r.arena)}
			if len(kind) > 0 && string(kind) != "n" {
				c.kind = kind[0]
				c.shared = string(kind) == "s"
			}
			if !r.s.single {
				if err := r.readCell(&c); err != nil {
					return eof(err)
				}
			}
			c.to = len(r.arena)
			if col < maxColumns {
				r.raw = append(r.raw, c)
			}
		}
	}
}

func eof(err error) error {
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}

// columnOf reads the letters of a cell's name, "C7" → 2.
func columnOf(ref []byte) (int, bool) {
	n := 0
	for i, c := range ref {
		switch {
		case c >= 'A' && c <= 'Z':
			n = 26*n + int(c-'A') + 1
		case c >= 'a' && c <= 'z':
			n = 26*n + int(c-'a') + 1
		default:
			return n - 1, i > 0 && n <= maxColumns
		}
		if n > maxColumns {
			return maxColumns, true
		}
	}
	return n - 1, n > 0
}

// readCell appends a cell's value to the arena, up to the cell's end.
func (r *reader) readCell(c *rawCell) error {
	in := false
	for {
		t, err := r.s.next()
		if err != nil {
			return err
		}
		switch {
		case t == chars:
			if in {
				r.arena = r.s.appendText(r.arena)
			}
		case t == tagEnd && string(r.s.name) == "c":
			if c.kind == 's' || c.kind == 'i' {
				r.arena = unescape(r.arena, c.from)
			}
			return nil
		case string(r.s.name) == "v":
			in = t == tagStart && !r.s.single
			c.valued = true
		case string(r.s.name) == "f":
			c.formula = true
		case t == tagStart && string(r.s.name) == "is" && !r.s.single:
			if r.arena, err = r.s.texts(r.arena, "is"); err != nil {
				return err
			}
			c.kind = 'i'
		}
	}
}

// finish makes cells of what was read, merged ranges filled in; false if the
// row has no value.
func (r *reader) finish() bool {
	text := string(r.arena)
	clear(r.cells)
	r.cells = r.cells[:0] // beyond them all is blank: see grow
	any := false
	for i := range r.raw {
		c := &r.raw[i]
		v := r.value(c, text[c.from:c.to])
		if v.Kind == cell.Blank {
			continue
		}
		any = true
		r.cells = grow(r.cells, c.col+1)
		r.cells[c.col] = v
	}
	if any {
		r.cells = r.merges.fill(r.cells, r.row)
	}
	return any
}

// grow lengthens a row; what is added is blank.
func grow(cells []cell.Cell, n int) []cell.Cell {
	if n <= len(cells) {
		return cells
	}
	if n <= cap(cells) {
		return cells[:n]
	}
	longer := make([]cell.Cell, n, max(2*cap(cells), n, 16))
	copy(longer, cells)
	return longer
}

// value makes a cell of its type, style and text.
func (r *reader) value(c *rawCell, text string) cell.Cell {
	if c.from == c.to {
		if c.formula && !(c.valued && c.kind == 's') {
			r.notes.NoValue++
		}
		return cell.Cell{}
	}
	switch {
	case c.shared:
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 0 || n >= len(r.book.strings) || r.book.strings[n] == "" {
			return cell.Cell{}
		}
		return cell.Cell{Text: r.book.strings[n], Kind: cell.Text}
	case c.kind == 'b':
		if isTrue([]byte(strings.TrimSpace(text))) {
			return cell.Cell{Text: "TRUE", Num: 1, Kind: cell.Bool}
		}
		return cell.Cell{Text: "FALSE", Kind: cell.Bool}
	case c.kind == 'e':
		return cell.Cell{Text: text, Kind: cell.Error}
	case c.kind == 'd':
		serial, ok := serialOf(text, r.book.Date1904)
		if !ok {
			return cell.Cell{Text: text, Kind: cell.Text}
		}
		return cell.Cell{Text: r.written(text, c.style), Num: serial, Kind: cell.Date}
	case c.kind != 0:
		return cell.Cell{Text: text, Kind: cell.Text}
	}
	text = strings.TrimSpace(text)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return cell.Cell{Text: text, Kind: cell.Text}
	}
	if c.style < len(r.book.styles) && r.book.styles[c.style] != plain {
		if iso, ok := r.iso(x, r.book.styles[c.style]); ok {
			return cell.Cell{Text: iso, Num: x, Kind: cell.Date}
		}
	}
	return cell.Cell{Text: shortest(text, x), Num: x, Kind: cell.Number}
}

// written is an ISO date as it is shown: without T and Z, and without midnight
// where its style is that of a day.
func (r *reader) written(text string, style int) string {
	day, clock, ok := strings.Cut(strings.TrimSuffix(text, "Z"), "T")
	moments := style < len(r.book.styles) && r.book.styles[style] == moment
	if !ok || strings.Trim(clock, "0:.") == "" && !moments {
		return day
	}
	return day + " " + clock
}

// shortest writes a number as short as it can be without being another:
// workbooks store 4.4 as 4.4000000000000004, and 0.001 as 1E-3.
func shortest(text string, x float64) string {
	if len(text) < 17 && !strings.ContainsAny(text, "Ee") || strings.Trim(text, "0123456789") == "" || math.IsInf(x, 0) || math.IsNaN(x) {
		return text
	}
	if a := math.Abs(x); a >= 1e15 || a < 1e-6 && a > 0 {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// iso writes a serial, remembering the last: days repeat from row to row.
func (r *reader) iso(x float64, f format) (string, bool) {
	if r.serial.text != "" && r.serial.num == x && r.serial.f == f {
		return r.serial.text, true
	}
	text, ok := isoText(x, f, r.book.Date1904)
	if ok {
		r.serial.num, r.serial.f, r.serial.text = x, f, text
	}
	return text, ok
}
