package source

import (
	"fmt"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
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
	Device   string // nickname of the unit; empty until known

	file     *table.File
	season   *season.Season // may be nil
	declared season.Source
	kinds    []*kind
	sheets   int
	longer   bool // there are rows that the survey did not look at

	hints     date.Evidence // dates in lines above tables, whatever they are of
	corrected map[int]bool  // lines of the season file: corrections that were applied

	mark  number.DecimalMark
	order date.Order
	habit shorthand.Options
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
	plan   *shape.Plan
	ask    *Ask // what nothing says of it
	timed  bool // there are times of day without a zone
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
}

func (s *Source) say(format string, args ...any) {
	s.Said = appendOnce(s.Said, fmt.Sprintf(format, args...))
}
func (s *Source) warn(format string, args ...any) {
	s.Warnings = appendOnce(s.Warnings, fmt.Sprintf(format, args...))
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
// shape they are. The error is an [*Ask], or what stopped the file from being
// read.
func Survey(name string, file *table.File, s *season.Season) (*Source, error) {
	src := &Source{Name: name, file: file, season: s, declared: s.Source(name), sheets: len(file.Sheets)}
	src.Device = src.declared.Device
	for _, sheet := range file.Sheets {
		if err := src.surveySheet(sheet); err != nil {
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
	return src, src.carry()
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
	var here []*Part
	for i := range layout.Tables {
		r := &layout.Tables[i]
		p := &Part{Sheet: sheet.Name, Region: r, sheet: sheet, kind: s.kindOf(r)}
		p.kind.parts = append(p.kind.parts, p)
		p.Columns = p.kind.Columns
		p.base = s.preamble(r)
		for _, pair := range r.Preamble {
			s.hints.Add(pair.Value)
		}
		p.labels = s.labels(r)
		s.Parts = append(s.Parts, p)
		here = append(here, p)
	}
	if len(here) == 0 {
		return nil
	}
	for row, err := range sheet.Rows() {
		if err != nil {
			return err
		}
		busy := false
		for _, p := range here {
			switch r := p.Region; {
			case r.LastData != 0 && row.Line > r.LastData || r.FirstData == 0:
			case p.kind.Rows >= surveyRows:
				s.longer = true
			default:
				busy = true
				if row.Err == nil && r.Data(&row) {
					p.kind.look(&row)
				}
			}
		}
		if !busy {
			break
		}
	}
	return nil
}

// look takes a row of data into account.
func (k *kind) look(row *table.Row) {
	filled := false
	for _, c := range k.Columns {
		if c.Index < len(row.Cells) && !column.Blank(&row.Cells[c.Index]) {
			filled = true
			break
		}
	}
	if !filled {
		return
	}
	k.Rows++
	for _, c := range k.Columns {
		cell := &table.Cell{Kind: table.Blank}
		if c.Index < len(row.Cells) {
			cell = &row.Cells[c.Index]
		}
		c.Stats.Add(cell)
	}
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

// recognise finds the fields of a kind's columns and its shape.
func (s *Source) recognise(k *kind) error {
	for _, c := range k.Columns {
		c.Samples = c.Stats.Samples()
		c.Guess()
		for field, heading := range s.declared.Columns {
			f, ok := column.FieldOf(field)
			if ok && c.Named && words.Fold(heading) == words.Fold(c.Heading) {
				c.Field, c.Score, c.Evidence = f, column.Declared, "declared in the season file"
			}
		}
	}
	column.Across(k.Columns)
	k.rivals = column.Assign(k.Columns)
	k.fullName()
	k.shape, k.why = shape.Of(&k.Table, s.declared.Shape)
	if k.shape != nil {
		k.shape.Recount(&k.Table)
	}
	for _, p := range k.parts {
		if k.shape != nil {
			p.Shape, p.Why = k.shape.Name, k.why
		}
	}
	if k.shape == nil {
		return nil
	}
	var idle []string
	for _, c := range k.Columns {
		if c.Field == column.Nothing && c.Named && c.Stats.Filled() > 0 {
			idle = append(idle, quote(c.Heading))
		}
	}
	if len(idle) > 0 {
		s.say("not read, because nothing tells what it is: %s", strings.Join(idle, ", "))
	}
	return s.resolve(k)
}

// resolve settles columns that compete for a field, or asks.
func (s *Source) resolve(k *kind) error {
	for _, r := range k.rivals {
		a, b := r.First, r.Second
		if a.Field == r.Field && b.Field == r.Field {
			continue // read together
		}
		if r.Field == column.Known || r.Field == column.Note || r.Field == column.Clock {
			continue
		}
		switch {
		case b.Stats.Filled() == 0:
		case a.Stats.Filled() == 0:
			a.Field, b.Field = column.Nothing, r.Field
			b.Score, b.Evidence = a.Score, fmt.Sprintf("column %q is empty", a.Heading)
		case same(a, b):
			s.say("columns %q and %q both hold the %s and say the same; %q is read", a.Heading, b.Heading, r.Field.Word(), a.Heading)
		default:
			return &Ask{
				Place:   rep.Place{Source: s.Name, Column: a.Heading},
				Problem: fmt.Sprintf("this column and %q both look like the %s and differ", b.Heading, r.Field.Word()),
				Lines: []string{fmt.Sprintf("columns = { %s = %s }", r.Field, quote(a.Heading)),
					fmt.Sprintf("columns = { %s = %s }", r.Field, quote(b.Heading))},
			}
		}
	}
	return nil
}

// fullName reads a column of given names and one of family names together.
func (k *kind) fullName() {
	var given, family *column.Column
	for _, c := range k.Columns {
		switch h := c.Words.Has; {
		case c.Score >= column.Declared || !h.Has(words.Name):
		case h.Has(words.Given):
			given = c
		case h.Has(words.Family), family == nil && c.Field == column.Lifter && !h.Has(words.Lifter):
			family = c
		}
	}
	if given == nil || family == nil {
		return
	}
	for _, c := range k.Columns {
		if c.Field == column.Lifter && c != given && c != family {
			return // a column of whole names
		}
	}
	given.Field, given.Nth, given.Score = column.Lifter, 0, 1
	family.Field, family.Nth, family.Score = column.Lifter, 2, 1
	given.Evidence = "given names"
	family.Evidence = fmt.Sprintf("the family names behind column %q", given.Heading)
}

// same reports whether two columns say the same, each in its own unit.
func same(a, b *column.Column) bool {
	x, y := a.Stats.Values, b.Stats.Values
	if len(x) == 0 && len(y) == 0 {
		if len(a.Stats.Distinct) != len(b.Stats.Distinct) {
			return false
		}
		for i := range a.Stats.Distinct {
			if a.Stats.Distinct[i].Text != b.Stats.Distinct[i].Text {
				return false
			}
		}
		return true
	}
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		u, v := a.Unit.SI(x[i]), b.Unit.SI(y[i])
		if d := u - v; d > 0.006*u || -d > 0.006*u {
			return false
		}
	}
	return true
}

// checkDeclared asks where a heading that the season file names is nowhere.
func (s *Source) checkDeclared() error {
	for f := column.Lifter; f < column.Known; f++ {
		heading, ok := s.declared.Columns[f.String()]
		if !ok {
			continue
		}
		found := false
		var all []string
		for _, k := range s.kinds {
			for _, c := range k.Columns {
				found = found || c.Named && words.Fold(c.Heading) == words.Fold(heading)
				if c.Named {
					all = append(all, quote(c.Heading))
				}
			}
		}
		if !found {
			return &Ask{Place: rep.Place{Source: s.Name}, Problem: fmt.Sprintf(
				"%s:%d declares columns = { %s = %s }, but there is no such heading; the file has %s",
				s.season.File, s.declared.Line, f, quote(heading), strings.Join(all, ", "))}
		}
	}
	return nil
}

// Clear reports whether the source is complete and two or more headings of a
// table were understood: whether it was surely opened the right way.
func (s *Source) Clear() bool {
	if s.Complete() != nil {
		return false
	}
	for _, k := range s.kinds {
		n := 0
		for _, c := range k.Columns {
			if c.Named && c.Words.Has != 0 {
				n++
			}
		}
		if k.shape != nil && n >= 2 {
			return true
		}
	}
	return false
}
