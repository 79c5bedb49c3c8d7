package tidy

import (
	"bytes"
	"io"
	"runtime"
	"strings"
	"unicode/utf8"

	"github.com/gocarina/gocsv"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/ahead"
)

// RepsCSV writes the named rows of t, in that order.
func RepsCSV(w io.Writer, t *rep.Table, rows []int32) error { return NewCSV(w).Reps(t, rows) }

// AsideCSV writes reps set aside, in the order given.
func AsideCSV(w io.Writer, t *rep.Table, aside []clean.Aside) error { return NewCSV(w).Aside(t, aside) }

// SetsCSV writes sets, in the order given.
func SetsCSV(w io.Writer, sets *rep.Sets) error { return NewCSV(w).Sets(sets) }

// UnreadCSV writes what could not be read, in the order given.
func UnreadCSV(w io.Writer, unread []rep.Unread) error {
	return writeCSV[unreadLine](NewCSV(w), []Unread{}, UnreadGrid(unread))
}

// CSV is a CSV file that is written some rows at a time, all of one table. The
// heading stands above the first ones.
type CSV struct {
	w      io.Writer
	headed bool
}

// NewCSV returns a file without rows.
func NewCSV(w io.Writer) *CSV { return &CSV{w: w} }

// Reps writes the named rows of t, in that order.
func (c *CSV) Reps(t *rep.Table, rows []int32) error {
	return writeCSV[repLine](c, []Rep{}, RepsGrid(t, rows))
}

// Aside writes reps set aside, in the order given.
func (c *CSV) Aside(t *rep.Table, aside []clean.Aside) error {
	return writeCSV[asideLine](c, []Aside{}, AsideGrid(t, aside))
}

// Sets writes sets, in the order given.
func (c *CSV) Sets(sets *rep.Sets) error { return writeCSV[setLine](c, []Set{}, SetsGrid(sets)) }

// Lines are rows whose cells are texts already, or nil. Of the row types, which
// give the heading, the library formats and copies every cell by reflection,
// which takes twice as long (BenchmarkReps). A line has a cell for each column.
type (
	repLine struct {
		Cells [34]any `csv:"cell" csv[]:"34"`
	}
	asideLine struct {
		Cells [38]any `csv:"cell" csv[]:"38"`
	}
	setLine struct {
		Cells [39]any `csv:"cell" csv[]:"39"`
	}
	unreadLine struct {
		Cells [7]any `csv:"cell" csv[]:"7"`
	}
)

func (l *repLine) cells() []any    { return l.Cells[:] }
func (l *asideLine) cells() []any  { return l.Cells[:] }
func (l *setLine) cells() []any    { return l.Cells[:] }
func (l *unreadLine) cells() []any { return l.Cells[:] }

// line is a row of L.
type line[L any] interface {
	*L
	cells() []any
}

// batch is how many rows are made at a time.
const batch = 512

// writeCSV writes the rows of a grid, and above them once the heading.
func writeCSV[L any, P line[L]](c *CSV, heading any, g *Grid) error {
	if !c.headed {
		c.headed = true
		var text bytes.Buffer
		if err := gocsv.MarshalCSV(heading, &lines{w: &text}); err != nil {
			return err
		}
		if _, err := text.WriteTo(c.w); err != nil {
			return err
		}
	}
	workers := make(chan *csvBatch[L, P], runtime.GOMAXPROCS(0))
	for range cap(workers) {
		workers <- &csvBatch[L, P]{}
	}
	type text struct {
		bytes []byte
		err   error
	}
	for _, t := range ahead.Of((g.Rows+batch-1)/batch, func(i int) text {
		b := <-workers
		defer func() { workers <- b }()
		err := b.fill(g, i*batch, min((i+1)*batch, g.Rows))
		return text{bytes.Clone(b.text.Bytes()), err}
	}) {
		if t.err != nil {
			return t.err
		}
		if _, err := c.w.Write(t.bytes); err != nil {
			return err
		}
	}
	return nil
}

// csvBatch is some rows and their text.
type csvBatch[L any, P line[L]] struct {
	columns []csvColumn
	rows    []L
	text    bytes.Buffer
}

// fill writes rows from…to-1.
func (b *csvBatch[L, P]) fill(g *Grid, from, to int) error {
	if b.rows == nil {
		b.rows, b.columns = make([]L, batch), make([]csvColumn, len(g.Columns))
	}
	for k, c := range g.Columns {
		b.columns[k].fill(c, g.sources[c.Name], from, to)
	}
	rows := b.rows[:to-from]
	for i := range rows {
		cells := P(&rows[i]).cells()
		for k := range b.columns {
			cells[k] = b.columns[k].cells[i]
		}
	}
	b.text.Reset()
	return gocsv.MarshalCSVWithoutHeaders(rows, &lines{w: &b.text})
}

// lines writes records as RFC 4180 has them. encoding/csv would not do: told
// to end lines in CRLF it changes line ends inside a text too.
type lines struct{ w *bytes.Buffer }

// Write writes one record. A field is quoted where it holds a separator of
// any kind, a quote, a line end or a blank at an end.
func (l *lines) Write(record []string) error {
	out := l.w.AvailableBuffer()
	for i, field := range record {
		if i > 0 {
			out = append(out, ',')
		}
		if plain(field) {
			out = append(out, field...)
			continue
		}
		out = append(out, '"')
		out = append(out, strings.ReplaceAll(field, `"`, `""`)...)
		out = append(out, '"')
	}
	l.w.Write(append(out, "\r\n"...))
	return nil
}

// plain reports whether a field may stand without quotes.
func plain(field string) bool {
	for i := range len(field) {
		if quoted[field[i]] {
			return false
		}
	}
	if field == "" || isSign(field[0]) && isSign(field[len(field)-1]) {
		return true
	}
	return strings.TrimSpace(field) == field
}

// quoted are the signs for which a field is quoted.
var quoted = [256]bool{',': true, ';': true, '|': true, '\t': true, '"': true, '\r': true, '\n': true}

// isSign reports whether an ASCII character leaves a mark on paper.
func isSign(c byte) bool { return c > ' ' && c < utf8.RuneSelf }

// Flush does nothing: there is nothing between this and the buffer.
func (l *lines) Flush() {}

// Error returns nil: a buffer takes everything.
func (l *lines) Error() error { return nil }
