// Package book writes season.xlsx: a workbook a coach opens in any spreadsheet
// program and goes on working in.
//
// The sheets, in order: contents (what is where, what became of every row);
// profiles (a row a lifter and lift); one sheet a lifter (key numbers, tables
// and native charts of each lift, and the points behind the charts); sets, reps, set aside and unread (the tidy
// tables, each a spreadsheet table with filters under a frozen heading);
// codebook (what every column means).
//
// Dates are dates, numbers are numbers in SI with the unit in the heading, and
// a text is a text: nothing that came from a source is ever a formula. A table
// of more rows than a spreadsheet program works with is left out, and so are the lifters' own sheets
// where there are more than a workbook is good for; the first sheet says so.
//
// The bytes depend on nothing but the content: no clock, no map order.
package book

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/tidy"
)

// Book is what the workbook is made from.
type Book struct {
	Season string // its name; may be empty
	Result *clean.Result

	// Reps, Aside and Sets are the tables where the Result does not hold them.
	Reps, Aside, Sets *tidy.Grid

	Profiles *profile.Profiles

	// TmpDir is where long sheets are kept while they are written; empty: the
	// system's folder. They hold names and numbers of people.
	TmpDir string
}

const (
	// MaxRows is how many rows a sheet gets, the heading among them. The format
	// allows 1,048,576; but a table of so many columns takes a spreadsheet program
	// minutes to open long before that, and us longer to write than all the rest.
	MaxRows = 200_000
	// MaxLifters is how many lifters get a sheet of their own. More tabs than
	// this nobody finds a name in; their pages and the sheet of profiles do.
	MaxLifters = 200
)

// Write writes the workbook, to the end or until ctx ends.
func Write(ctx context.Context, w io.Writer, b *Book) error { return write(ctx, w, b, MaxRows) }

func write(ctx context.Context, w io.Writer, b *Book, maxRows int) error {
	p := &print{ctx: ctx, File: excelize.NewFile(excelize.Options{TmpDir: b.TmpDir}), styles: map[string]int{}}
	defer p.Close() // takes its temporary files away
	tables := b.tables()
	names := b.sheetNames(tables)
	if err := p.SetSheetName("Sheet1", names.contents); err != nil {
		return err
	}
	for _, name := range names.inOrder(tables) {
		if _, err := p.NewSheet(name); err != nil {
			return err
		}
	}
	if err := p.contents(b, names, tables, maxRows); err != nil {
		return fmt.Errorf("sheet contents: %w", err)
	}
	for i, name := range names.lifters {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := p.lifter(name, &b.Profiles.Lifters[i]); err != nil {
			return fmt.Errorf("sheet of %s: %w", b.Profiles.Lifters[i].Name, err)
		}
	}
	for _, t := range tables {
		if err := p.table(t, maxRows); err != nil {
			return fmt.Errorf("sheet %s: %w", t.sheet, err)
		}
	}
	p.SetZipWriter(func(io.Writer) excelize.ZipWriter { return newArchive(w) })
	return p.File.Write(io.Discard) // the archive writes to w
}

// print is a workbook in the making.
type print struct {
	*excelize.File
	ctx    context.Context
	styles map[string]int
}

// table is one of the long sheets.
type table struct {
	sheet, about string
	file         string // of the output folder, which has the same and more
	columns      []column
	rows         int
	cells        func(dst []tidy.Cell, i int) []tidy.Cell
}

// column is one column of a table.
type column struct {
	heading string
	format  string // number format; empty: general
	width   float64
}

func (b *Book) tables() []*table {
	r := b.Result
	reps, aside, sets := b.Reps, b.Aside, b.Sets
	if reps == nil {
		reps, aside, sets = tidy.RepsGrid(r.Reps, r.Kept), tidy.AsideGrid(r.Reps, r.Aside), tidy.SetsGrid(&r.Sets)
	}
	return []*table{
		profiles(b.Profiles),
		ofGrid("sets", "one row per set, logged sets that stand alone among them", "sets.parquet", sets),
		ofGrid("reps", "one row per rep that counts", "reps.parquet", reps),
		ofGrid("set aside", "one row per rep that was set aside, and why", "set_aside.parquet", aside),
		ofGrid("unread", "what could not be read, and what to do about it", "unread.csv", tidy.UnreadGrid(r.Unread)),
		codebook(),
	}
}

// ofGrid returns a tidy table as a sheet.
func ofGrid(sheet, about, file string, g *tidy.Grid) *table {
	return &table{sheet, about, file, columnsOf(g.Columns), g.Rows, func(dst []tidy.Cell, i int) []tidy.Cell {
		dst = dst[:0]
		for c := range g.Columns {
			dst = append(dst, g.Cell(c, i))
		}
		return dst
	}}
}

// The cells of tables of our own.
func word(text string) tidy.Cell { return tidy.Cell{Kind: tidy.Words, Text: text} }
func whole(n int) tidy.Cell      { return tidy.Cell{Kind: tidy.Whole, Int: int64(n)} }
func real(x float64) tidy.Cell   { return tidy.Cell{Kind: tidy.Number, Float: x} }
func dateOf(d rep.Day) tidy.Cell { return tidy.Cell{Kind: tidy.Date, Int: int64(d)} }

// columnsOf returns the columns of a tidy table as a sheet shows them.
func columnsOf(columns []rep.Column) []column {
	var out []column
	for _, c := range columns {
		out = append(out, column{Heading(c), format(c), width(c)})
	}
	return out
}

// Heading returns a column's name in words, its unit behind it: load_kg is
// "Load (kg)".
func Heading(c rep.Column) string {
	name := c.Name
	switch c.Unit {
	case "kg", "m/s", "m", "s":
		name = strings.TrimSuffix(name, "_"+strings.ReplaceAll(c.Unit, "/", "_"))
	}
	words := strings.Split(name, "_")
	for i, w := range words {
		if w == "rpe" || w == "rom" {
			words[i] = strings.ToUpper(w)
		}
	}
	words[0] = strings.ToUpper(words[0][:1]) + words[0][1:]
	heading := strings.Join(words, " ")
	if name != c.Name {
		heading += " (" + c.Unit + ")"
	}
	return heading
}

// Number formats. Years come first: no order of day and month is taken
// wrongly anywhere.
const (
	asDate   = "yyyy-mm-dd"
	asMoment = "yyyy-mm-dd hh:mm:ss"
	asSpeed  = "0.00#"
	asLoad   = "0.0##"
	asRPE    = "0.0#"
	asShare  = "0 %"
)

func format(c rep.Column) string {
	switch {
	case c.Type == rep.Date:
		return asDate
	case c.Type == rep.Timestamp:
		return asMoment
	case c.Unit == "kg":
		return asLoad
	case c.Name == "velocity_loss":
		return asShare
	case strings.Contains(c.Name, "rpe") && c.Type == rep.Float64:
		return asRPE
	case c.Type == rep.Float64:
		return asSpeed
	}
	return ""
}

func width(c rep.Column) float64 {
	switch c.Name {
	case "reason", "problem", "logged_text":
		return 60
	case "source", "log_source", "text", "lifter":
		return 24
	case "rep_id", "performed_at":
		return 20
	}
	return max(9, min(float64(len(Heading(c)))+4, 18))
}

// codebook is the table of all columns of all tables.
func codebook() *table {
	type line struct {
		table string
		rep.Column
	}
	var lines []line
	for _, t := range []struct {
		name    string
		columns []rep.Column
	}{{"sets", rep.SetColumns}, {"reps", rep.Columns}, {"set_aside", rep.AsideColumns}, {"unread", rep.UnreadColumns}} {
		for _, c := range t.columns {
			lines = append(lines, line{t.name, c})
		}
	}
	return &table{"codebook", "what every column means", "README.md", []column{{"Table", "", 12}, {"Heading here", "", 26}, {"Name in the files", "", 30},
		{"Unit", "", 18}, {"May be empty", "", 14}, {"Meaning", "", 90}}, len(lines),
		func(dst []tidy.Cell, i int) []tidy.Cell {
			l := lines[i]
			var unit, empty tidy.Cell
			if l.Unit != "" {
				unit = word(l.Unit)
			}
			if l.Null {
				empty = word("yes")
			}
			return append(dst[:0], word(l.table), word(Heading(l.Column)), word(l.Name), unit, empty, word(l.Meaning))
		}}
}
