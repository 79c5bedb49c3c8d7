package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
)

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

	corrected map[int]bool // lines of the season file: corrections that were applied

	mark  number.DecimalMark
	order date.Order
	habit shorthand.Options
}

// Part is one table of a source.
type Part struct {
	Sheet   string
	Shape   string // empty where it is none
	Why     string
	Columns []*Column // shared by tables with the same headings
	Region  *table.Region

	sheet *table.Sheet
	kind  *kind
	base  []carried
	plan  *Plan
}

// Carried returns what the surroundings of the table give: field, text and where
// that stands.
func (p *Part) Carried() (out [][3]string) {
	for _, b := range p.base {
		out = append(out, [3]string{b.field.String(), b.text, b.from})
	}
	return out
}

// column returns the column that holds a field, nil for none.
func (p *Part) column(f Field) *Column { return p.kind.column(f) }

// kind is what tables with the same headings have in common.
type kind struct {
	key     string
	columns []*Column
	parts   []*Part
	shape   *shape
	why     string
	rivals  []rivalry
	rows    int // surveyed
}

func (k *kind) column(f Field) *Column {
	for _, c := range k.columns {
		if c.Field == f {
			return c
		}
	}
	return nil
}

func (k *kind) has(f Field) bool { return k.column(f) != nil }

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
		p.Columns = p.kind.columns
		p.base = s.preamble(r)
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
			case p.kind.rows >= surveyRows:
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
	for _, c := range k.columns {
		if c.Index < len(row.Cells) && !blank(&row.Cells[c.Index]) {
			filled = true
			break
		}
	}
	if !filled {
		return
	}
	k.rows++
	for _, c := range k.columns {
		cell := &table.Cell{Kind: table.Blank}
		if c.Index < len(row.Cells) {
			cell = &row.Cells[c.Index]
		}
		c.stats.add(cell)
	}
}

// kindOf returns the kind of a table with these headings.
func (s *Source) kindOf(r *table.Region) *kind {
	key := fmt.Sprintf("%d\x00%s", r.FirstCol, words.Fold(strings.Join(r.Headings, "\x00")))
	for _, k := range s.kinds {
		if k.key == key && len(k.columns) == r.Columns() {
			return k
		}
	}
	k := &kind{key: key}
	for i := range r.Columns() {
		c := &Column{Index: r.FirstCol + i, Heading: letters(r.FirstCol + i), stats: &stats{}}
		if i < len(r.Headings) {
			if h := strings.Join(strings.Fields(r.Headings[i]), " "); h != "" {
				c.Heading, c.named = h, true
			}
		}
		if i < len(r.Units) {
			c.unitsRow = r.Units[i]
		}
		k.columns = append(k.columns, c)
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
	for _, c := range k.columns {
		c.Samples = c.stats.samples()
		c.guess()
		for field, heading := range s.declared.Columns {
			f, ok := FieldOf(field)
			if ok && c.named && words.Fold(heading) == words.Fold(c.Heading) {
				c.Field, c.score, c.Evidence = f, declared, "declared in the season file"
			}
		}
	}
	across(k.columns)
	k.rivals = assign(k.columns)
	p := &Part{kind: k, Columns: k.columns}
	if name := s.declared.Shape; name != "" && shapeOf(name) != nil {
		k.shape, k.why = shapeOf(name), "declared in the season file"
	} else {
		best := 0.0
		for _, sh := range shapes {
			if score, why := sh.fits(p); score > best {
				best, k.shape, k.why = score, sh, why
			}
		}
	}
	k.recount()
	for _, p := range k.parts {
		if k.shape != nil {
			p.Shape, p.Why = k.shape.name, k.why
		}
	}
	if k.shape == nil {
		return nil
	}
	return s.resolve(k)
}

// recount settles by the shape what "Sets" and "Reps" count: in rep rows they
// say which set and rep a line is, in set rows how many it stands for.
func (k *kind) recount() {
	move := func(from, to Field, when bool) {
		if c := k.column(from); c != nil && when && !k.has(to) && c.score < declared {
			c.Field = to
		}
	}
	counts := func(f Field) bool {
		c := k.column(f)
		return c != nil && c.stats.share(c.stats.runs) > 0.6
	}
	switch k.shape {
	case &repRows:
		move(Sets, SetNumber, true)
		move(Reps, RepNumber, counts(Reps))
	case &setRows:
		c := k.column(SetNumber)
		move(SetNumber, Sets, c != nil && c.words.Plural && k.has(Reps) && !(counts(SetNumber) && c.stats.quantile(1) > 1))
	}
}

// resolve settles columns that compete for a field, or asks.
func (s *Source) resolve(k *kind) error {
	for _, r := range k.rivals {
		a, b := r.first, r.second
		if r.field == Known || r.field == Note || r.field == Clock {
			continue
		}
		switch {
		case b.stats.filled() == 0:
		case a.stats.filled() == 0:
			a.Field, b.Field = Nothing, r.field
			b.score, b.Evidence = a.score, fmt.Sprintf("column %q is empty", a.Heading)
		case same(a, b):
			s.say("columns %q and %q both hold the %s and say the same; %q is read", a.Heading, b.Heading, fields[r.field].word, a.Heading)
		default:
			return &Ask{
				Place:   rep.Place{Source: s.Name, Column: a.Heading},
				Problem: fmt.Sprintf("this column and %q both look like the %s and differ", b.Heading, fields[r.field].word),
				Lines: []string{fmt.Sprintf("columns = { %s = %s }", r.field, quote(a.Heading)),
					fmt.Sprintf("columns = { %s = %s }", r.field, quote(b.Heading))},
			}
		}
	}
	return nil
}

// same reports whether two columns say the same, each in its own unit.
func same(a, b *Column) bool {
	x, y := a.stats.values, b.stats.values
	if len(x) == 0 && len(y) == 0 {
		if len(a.stats.distinct) != len(b.stats.distinct) {
			return false
		}
		for i := range a.stats.distinct {
			if a.stats.distinct[i].text != b.stats.distinct[i].text {
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
	for _, d := range fields {
		heading, ok := s.declared.Columns[d.name]
		if !ok || d.name == "" {
			continue
		}
		found := false
		var all []string
		for _, k := range s.kinds {
			for _, c := range k.columns {
				found = found || c.named && words.Fold(c.Heading) == words.Fold(heading)
				if c.named {
					all = append(all, quote(c.Heading))
				}
			}
		}
		if !found {
			return &Ask{Place: rep.Place{Source: s.Name}, Problem: fmt.Sprintf(
				"%s:%d declares columns = { %s = %s }, but there is no such heading; the file has %s",
				s.season.File, s.declared.Line, d.name, quote(heading), strings.Join(all, ", "))}
		}
	}
	return nil
}
