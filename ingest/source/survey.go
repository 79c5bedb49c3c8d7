// Package source makes out of an open file a source that can be decoded.
//
// [Survey] finds its tables, looks at their first rows and recognises columns
// and shapes (recognise.go); what columns do not say is looked for in lines
// above the tables, between their rows, in the names of sheet and file, in the
// season file (carry.go, keys.go, names.go). [Source.Settle] decides what single
// cells leave open, the order of dates, the decimal mark, units, whether sets or
// reps are written first, from the evidence of the whole source, else of its
// sisters, the other files of the same unit; and compiles a plan for each table.
// [Source.Decode] reads the rows.
//
// What stays open is an [Ask]: the source stops, and the message names the line
// to add to the season file. What was inferred is in Said; nothing is guessed in
// silence.
package source

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/source/around"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// surveyRows is how many rows of a kind of table are looked at to tell what its
// columns hold.
const surveyRows = 1000

// Source is one source as it is recognised, settled and decoded:
// [Survey], then [Source.Settle], then [Source.Decode].
type Source struct {
	Name     string
	Parts    []*Part // its tables, in order of sheet and row
	Said     []string
	Warnings []string
	Asks     []*Ask // open questions; where none of the source can be read, one of them is the error
	Device   string // nickname of the unit; empty until known

	file     *table.File
	season   *season.Season // may be nil
	declared season.Source
	kinds    []*kind
	sheets   int
	longer   bool // there are rows that the survey did not look at
	blocks   bool // it was read in blocks

	hints     date.Evidence // dates in lines above tables, whatever they are of
	corrected map[int]bool  // lines of the season file: corrections that were applied

	mark  number.DecimalMark
	order date.Order
	habit shorthand.Options
	loose unit.Unit // of loads in shorthand without one; the zero Unit where none are, or a column tells
}

// Part is one table of a source.
type Part struct {
	Sheet   string
	Shape   string // empty where it is none
	Why     string
	Columns []*column.Column // shared by tables with the same headings
	Region  *table.Region

	sheet  *table.Sheet
	kind   *kind
	base   []shape.Carried
	labels []shape.Label
	name   table.Pair // a row of nothing but what may be the name of a lifter
	plan   *shape.Plan
	ask    *Ask // what nothing says of it
	log    *around.LineLog
	timed  bool  // there are times of day without a zone
	rows   int   // looked at
	runs   []run // of its columns: how values follow each other
}

// run is how the values of a column of a table follow each other.
type run struct {
	last                     string
	first                    bool // the first row is filled
	blanks, repeats, changes int
}

func (r *run) add(row int, text string) {
	switch {
	case text == "":
		r.blanks++
		return
	case r.last == "":
		r.first = row == 0
	case text == r.last:
		r.repeats++
	default:
		r.changes++
	}
	r.last = text
}

// filledDown reports whether a value is written where it begins and left out
// where it goes on: it never stands twice below itself.
func (r *run) filledDown() bool {
	return r.first && r.blanks > 0 && r.repeats == 0 && r.blanks >= r.changes
}

// Carried returns what the surroundings of the table give: field, text and where
// that stands.
func (p *Part) Carried() (out [][3]string) {
	for _, b := range p.base {
		out = append(out, [3]string{b.Field.String(), b.Text, b.From})
	}
	return out
}

// around is everything that the surroundings of a table give, labels between its
// rows included.
func (p *Part) around(yield func(*shape.Carried) bool) {
	for i := range p.base {
		if !yield(&p.base[i]) {
			return
		}
	}
	for i := range p.labels {
		for j := range p.labels[i].Fields {
			if !yield(&p.labels[i].Fields[j]) {
				return
			}
		}
	}
}

// kind is what tables with the same headings have in common.
type kind struct {
	shape.Table
	key    string
	parts  []*Part
	shape  *shape.Shape
	why    string
	rivals []column.Rivalry
	lines  bool          // a log as plain text
	dates  date.Evidence // in its lines
}

func (s *Source) say(format string, args ...any) {
	s.Said = appendOnce(s.Said, fmt.Sprintf(format, args...))
}
func (s *Source) warn(format string, args ...any) {
	s.Warnings = appendOnce(s.Warnings, fmt.Sprintf(format, args...))
}

// asked keeps a question.
func (s *Source) asked(a *Ask) {
	for _, old := range s.Asks {
		if old.Place == a.Place && slices.Equal(old.Lines, a.Lines) {
			return
		}
	}
	s.Asks = append(s.Asks, a)
}

func appendOnce(list []string, text string) []string {
	for _, t := range list {
		if t == text {
			return list
		}
	}
	return append(list, text)
}

// Survey recognises the tables of a file, what their columns hold and of which
// shape they are. The error is an [*Ask], a [*Reread], or what stopped the file
// from being read.
func Survey(name string, file *table.File, s *season.Season) (*Source, error) {
	src := &Source{Name: name, file: file, season: s, declared: s.Source(name), sheets: len(file.Sheets)}
	src.Device = src.declared.Device
	src.declareSamples()
	for _, sheet := range file.Sheets {
		err := src.surveySheet(sheet)
		sheet.Forget()
		if err != nil {
			return src, err
		}
	}
	for _, k := range src.kinds {
		if err := src.recognise(k); err != nil {
			return src, err
		}
	}
	if err := src.checkDeclared(); err != nil {
		return src, err
	}
	if err := src.carry(); err != nil {
		return src, err
	}
	return src, src.encoding()
}

// surveySheet finds the tables of a sheet and looks at their first rows.
func (s *Source) surveySheet(sheet *table.Sheet) error {
	layout, err := sheet.Layout()
	if err != nil {
		return err
	}
	for _, said := range layout.Said {
		s.say("%s", said)
	}
	log, err := around.Lines(sheet, layout.Tables, s.season)
	if err != nil {
		return err
	}
	if log != nil {
		layout.Tables = []table.Region{log.Region}
	} else if err := around.Heads(sheet, layout.Tables); err != nil {
		return err
	} else if err := around.ColumnBelow(sheet, layout.Tables); err != nil {
		return err
	}
	tables, err := around.KeysAbove(sheet, around.Rejoin(layout.Tables))
	if err != nil {
		return err
	}
	names := make([]table.Pair, len(tables))
	if log == nil {
		if names, err = around.RowLabels(sheet, tables, s.season); err != nil {
			return err
		}
	}
	var here []*Part
	for i := range tables {
		r := &tables[i]
		p := &Part{Sheet: sheet.Name, Region: r, sheet: sheet, kind: s.kindOf(r), name: names[i]}
		p.kind.parts = append(p.kind.parts, p)
		p.Columns = p.kind.Columns
		p.base = around.Preamble(r, s.season)
		for _, pair := range r.Preamble {
			s.hints.Add(pair.Value)
		}
		p.labels = around.Labels(r, s.season)
		if log != nil {
			p.kind.lines, p.log, p.labels, p.name = true, log, log.Labels, log.Name
			for _, d := range log.Dates {
				p.kind.dates.Add(d)
			}
		}
		s.Parts = append(s.Parts, p)
		here = append(here, p)
	}
	if len(here) == 0 {
		return nil
	}
	walk := table.NewWalk(tables)
	for row, err := range sheet.Rows() {
		if err != nil {
			return err
		}
		in := walk.At(row.Line)
		busy := walk.More()
		for _, i := range in {
			switch p := here[i]; {
			case p.kind.Rows >= surveyRows:
				s.longer = true
			default:
				busy = true
				if row.Err == nil && p.Region.Data(&row) {
					p.look(&row)
				}
			}
		}
		if !busy {
			break
		}
	}
	for _, p := range here {
		for i := range p.runs {
			p.runs[i].last = "" // which would hold a piece of the file in memory
		}
	}
	return nil
}

// look takes a row of data into account.
func (p *Part) look(row *table.Row) {
	k := p.kind
	cell := func(c *column.Column) *table.Cell {
		if c.Index < len(row.Cells) {
			return &row.Cells[c.Index]
		}
		return &table.Cell{Kind: table.Blank}
	}
	filled, first := 0, ""
	for _, c := range k.Columns {
		if x := cell(c); !column.Blank(x) {
			if filled++; filled == 1 {
				first = x.Text
			}
		}
	}
	if filled == 0 || 3*filled <= len(k.Columns) && isTotal(first) {
		return // what a total sums up is not what its column holds
	}
	if p.runs == nil {
		p.runs = make([]run, len(k.Columns))
	}
	for i, c := range k.Columns {
		x := cell(c)
		if k.lines && x.Kind == table.Text {
			x = &table.Cell{Kind: table.Text, Text: shape.ReadLine(x.Text, nil).Work}
		}
		c.Stats.Add(x)
		text := ""
		if !column.Blank(x) {
			text = cmp.Or(x.Text, strconv.FormatFloat(x.Num, 'g', -1, 64))
		}
		p.runs[i].add(p.rows, text)
	}
	k.Rows++
	p.rows++
}

// kindOf returns the kind of a table with these headings.
func (s *Source) kindOf(r *table.Region) *kind {
	key := fmt.Sprintf("%d\x00%s", r.FirstCol, words.Fold(strings.Join(r.Headings, "\x00")))
	for _, k := range s.kinds {
		if k.key == key && len(k.Columns) == r.Columns() {
			return k
		}
	}
	k := &kind{key: key}
	for i := range r.Columns() {
		c := &column.Column{Index: r.FirstCol + i, Heading: letters(r.FirstCol + i), Stats: &column.Stats{}}
		if i < len(r.Headings) {
			if h := strings.Join(strings.Fields(r.Headings[i]), " "); h != "" {
				c.Heading, c.Named = h, true
			}
		}
		if i < len(r.Units) {
			c.UnitsRow = r.Units[i]
		}
		k.Columns = append(k.Columns, c)
	}
	s.kinds = append(s.kinds, k)
	return k
}

// letters returns a spreadsheet's name of a column: A, B, …, AA.
func letters(index int) string {
	name := ""
	for n := index + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}
