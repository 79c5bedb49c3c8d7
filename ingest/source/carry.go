package source

import (
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/source/around"
	"repsift/ingest/unit"
)

// carry finds the fields that the surroundings of each table give. Nearest
// wins: lines above the table, the name of the sheet, of the file, what the
// season file declares for the source.
func (s *Source) carry() error {
	fromSeason := s.carriedBySeason()
	fromFile, err := s.carriedByName(around.Stem(s.Name), "file name")
	if err != nil {
		return err
	}
	s.carryDown()
	for _, p := range s.Parts {
		if p.kind.shape == nil {
			continue
		}
		fromSheet := around.Named{}
		if p.Sheet != "" && !around.Generic(p.Sheet) {
			if fromSheet, err = s.carriedByName(p.Sheet, "sheet name"); err != nil {
				return err
			}
		}
		above := p.base
		p.base = nil
		have := column.Set(0)
		for _, list := range [][]shape.Carried{above, fromSheet.Fields, fromFile.Fields, fromSeason} {
			for _, b := range list {
				if !have.Has(b.Field) && !(b.Field == column.Device && s.declared.Device != "") {
					have = have.With(b.Field)
					p.base = append(p.base, b)
				}
			}
		}
		if !have.Has(column.Lifter) && !p.kind.Has(column.Lifter) && s.sheetOfLifter(p, fromSheet.Rest) {
			name := fromSheet.Rest
			if len(fromSheet.Fields) == 0 {
				name = p.Sheet // with its comma: "Duarte, Ines"
			}
			p.base = append(p.base, shape.Carried{Field: column.Lifter, Text: name, From: "sheet name"})
			s.say("sheet %q is taken for the lifter %s", p.Sheet, name)
		}
		if !have.Has(column.Lifter) && !p.kind.Has(column.Lifter) && len(s.season.Lifters) == 1 && !slices.ContainsFunc(p.base, func(b shape.Carried) bool { return b.Field == column.Lifter }) {
			only := s.season.Lifters[0].Name
			p.base = append(p.base, shape.Carried{Field: column.Lifter, Text: only, From: "season file"})
			s.say("nothing says the lifter; the season file knows only %s", only)
		}
		slices.SortStableFunc(p.base, func(a, b shape.Carried) int { return int(a.Field) - int(b.Field) })
		for _, b := range p.base {
			if b.From == "file name" || b.From == "sheet name" {
				if !p.kind.Has(b.Field) {
					s.say("%s is read from the %s: %s", b.Field.Word(), b.From, b.Text)
				}
			}
		}
	}
	return nil
}

// carryDown gives the blocks of a sheet the lifter and day that stand above the
// first of them only: a session's export names them once.
func (s *Source) carryDown() {
	above := make(map[column.Field]shape.Carried)
	sheet := ""
	for _, p := range s.Parts {
		if p.Sheet != sheet {
			sheet = p.Sheet
			clear(above)
		}
		for _, f := range []column.Field{column.Lifter, column.Date} {
			i := slices.IndexFunc(p.base, func(b shape.Carried) bool { return b.Field == f })
			b, ok := above[f]
			switch {
			case i >= 0:
				above[f] = p.base[i]
			case ok && len(p.base) > 0 && p.kind.shape != nil && !p.kind.Has(f):
				p.base = append(p.base, b)
				s.say("the %s above the first block, %s, is that of the blocks below", f.Word(), b.Text)
			}
		}
	}
}

// carriedByName reads the name of a sheet or file, by the declared pattern
// where it has one.
func (s *Source) carriedByName(name, from string) (around.Named, error) {
	if s.declared.NameParts == "" {
		return around.Name(name, from, s.season), nil
	}
	pattern, err := season.ParseNameParts(s.declared.NameParts)
	if err != nil {
		return around.Named{}, fmt.Errorf("%s:%d: %w", s.season.File, s.declared.Line, err)
	}
	parts, err := pattern.Match(name, s.season)
	if err != nil {
		// The pattern may be meant for the sheets or for the file.
		return around.Name(name, from, s.season), nil
	}
	var out around.Named
	for f := column.Lifter; f < column.Known; f++ {
		if text, ok := parts[f.String()]; ok && around.Carryable.Has(f) {
			out.Fields = append(out.Fields, shape.Carried{Field: f, Text: text, From: from})
		}
	}
	return out, nil
}

// carriedBySeason returns what [[source]] says for rows that do not.
func (s *Source) carriedBySeason() []shape.Carried {
	d := &s.declared
	var out []shape.Carried
	add := func(f column.Field, text string) {
		if text != "" {
			out = append(out, shape.Carried{Field: f, Text: text, Unit: unit.SIOf(f.Quantity()), From: "season file"})
		}
	}
	add(column.Lifter, d.Lifter)
	add(column.Lift, d.Lift)
	add(column.Variant, d.Variant)
	if d.Date.OK {
		add(column.Date, d.Date.V.String())
	}
	if d.LoadKg.OK {
		add(column.Load, fmt.Sprintf("%g kg", d.LoadKg.V))
	}
	if d.Set.OK {
		add(column.SetNumber, fmt.Sprint(d.Set.V))
	}
	return out
}

// sheetOfLifter reports whether the name of a sheet is that of a lifter: there
// are several sheets of the same table, and every name is words.
func (s *Source) sheetOfLifter(p *Part, name string) bool {
	if name == "" || p.Sheet == "" || strings.ContainsAny(name, "0123456789") {
		return false
	}
	sheets := 0
	for _, other := range p.kind.parts {
		if other == p {
			sheets++
			continue
		}
		if other.Sheet != p.Sheet && !around.Generic(other.Sheet) {
			sheets++
		}
	}
	return sheets > 1 || strings.Contains(name, " ")
}

// complete checks that columns or surroundings of each table give what no rep
// can be filed without. A table that lacks something is left out with a warning
// where another is complete; where none is, that is asked.
func (s *Source) complete() *Ask {
	var first *Ask
	whole := false
	for _, p := range s.Parts {
		if p.kind.shape == nil {
			continue
		}
		if p.ask = s.lacks(p); p.ask == nil {
			whole = true
		} else if first == nil {
			first = p.ask
		}
	}
	if whole || first == nil {
		return nil
	}
	return first
}

// likeNames returns the first column that is no field and repeats few texts, as
// names of lifters do; nil where there is none.
func (k *kind) likeNames() *column.Column {
	for _, c := range k.Columns {
		if c.Field == column.Nothing && c.Named && c.Looks(column.Lifter) && 3*len(c.Stats.Distinct) <= c.Stats.Filled() {
			return c
		}
	}
	return nil
}

// firstLabels returns what the labels above the first row of data give.
func (p *Part) firstLabels() (out []shape.Carried) {
	for i, l := range p.labels {
		if i > 0 && l.Row > p.labels[i-1].Row+1 {
			break
		}
		out = append(out, l.Fields...)
	}
	return out
}

// lacks returns the question for what nothing says of a table; nil where it is
// complete.
func (s *Source) lacks(p *Part) *Ask {
	var lacking []column.Field
	for _, f := range []column.Field{column.Lifter, column.Date, column.Lift, column.Load} {
		is := func(b shape.Carried) bool { return b.Field == f }
		given := p.kind.Has(f) || p.log != nil && p.log.Gives.Has(f) || slices.ContainsFunc(p.base, is) || slices.ContainsFunc(p.firstLabels(), is)
		if !given && !(f == column.Load && (p.kind.Has(column.Work) || !p.kind.shape.NeedsLoad())) {
			lacking = append(lacking, f)
		}
	}
	if len(lacking) == 0 {
		return nil
	}
	examples := map[column.Field]string{column.Lifter: `lifter = "…"`, column.Date: `date = 2026-01-31`, column.Lift: `lift = "squat"`, column.Load: `load = 100`}
	a := &Ask{Place: rep.Place{Source: s.Name, Sheet: p.Sheet}}
	var what []string
	for _, f := range lacking {
		what = append(what, f.Word())
		a.Lines = append(a.Lines, examples[f])
	}
	a.All = len(lacking) > 1
	a.Problem = fmt.Sprintf("nothing says the %s: no column, no line above the table, no name", strings.Join(what, " or the "))
	if !a.All && p.log == nil {
		heading := `"its heading"`
		if lacking[0] == column.Lifter {
			if c := p.kind.likeNames(); c != nil {
				a.Problem += fmt.Sprintf("; column %q may hold it", c.Heading)
				heading = quote(c.Heading)
			}
		}
		a.Lines = append(a.Lines, fmt.Sprintf(`columns = { %s = %s }`, lacking[0], heading))
	}
	if lacking[0] == column.Lifter && len(lacking) == 1 && p.Sheet != "" && !around.Generic(p.Sheet) && !strings.ContainsAny(p.Sheet, "0123456789") {
		a.Problem += fmt.Sprintf("; sheet %q may be named after one", p.Sheet)
		a.Lines = append([]string{`name_parts = "{lifter}"`}, a.Lines...)
	}
	if lacking[0] == column.Lifter && p.name.Value != "" {
		a.Problem += fmt.Sprintf("; if rows such as row %d name the lifter of those below, declare [[lifter]] name = %s", p.name.Row, quote(p.name.Value))
	}
	if len(p.Region.HeadingRows) == 0 && p.log == nil {
		a.Problem += ", and the table has no headings"
	}
	if len(s.Parts) > 1 && p.Region.FirstData > 0 {
		a.Row = p.Region.FirstData
	}
	return a
}
