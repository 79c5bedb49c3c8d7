package shape

import (
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/unit"
)

// carry finds the fields that the surroundings of each table give. Nearest
// wins: lines above the table, the name of the sheet, of the file, what the
// season file declares for the source.
func (s *Source) carry() error {
	fromSeason := s.carriedBySeason()
	fromFile, err := s.carriedByName(stem(s.Name), "file name")
	if err != nil {
		return err
	}
	for _, p := range s.Parts {
		if p.kind.shape == nil {
			continue
		}
		fromSheet := named{}
		if p.Sheet != "" && !generic(p.Sheet) {
			if fromSheet, err = s.carriedByName(p.Sheet, "sheet name"); err != nil {
				return err
			}
		}
		above := p.base
		p.base = nil
		have := fieldSet(0)
		for _, list := range [][]carried{above, fromSheet.fields, fromFile.fields, fromSeason} {
			for _, b := range list {
				if !have.has(b.field) && !(b.field == Device && s.declared.Device != "") {
					have = have.with(b.field)
					p.base = append(p.base, b)
				}
			}
		}
		if !have.has(Lifter) && !p.kind.has(Lifter) && s.sheetOfLifter(p, fromSheet.rest) {
			p.base = append(p.base, carried{Lifter, fromSheet.rest, unit.Unit{}, "sheet name"})
			s.say("sheet %q is taken for the lifter %s", p.Sheet, fromSheet.rest)
		}
		slices.SortStableFunc(p.base, func(a, b carried) int { return int(a.field) - int(b.field) })
		for _, b := range p.base {
			if b.from == "file name" || b.from == "sheet name" {
				if !p.kind.has(b.field) {
					s.say("%s is read from the %s: %s", fields[b.field].word, b.from, b.text)
				}
			}
		}
	}
	return nil
}

// carriedByName reads the name of a sheet or file, by the declared pattern
// where it has one.
func (s *Source) carriedByName(name, from string) (named, error) {
	if s.declared.NameParts == "" {
		return readName(name, from, s.season), nil
	}
	pattern, err := season.ParseNameParts(s.declared.NameParts)
	if err != nil {
		return named{}, fmt.Errorf("%s:%d: %w", s.season.File, s.declared.Line, err)
	}
	parts, err := pattern.Match(name, s.season)
	if err != nil {
		// The pattern may be meant for the sheets or for the file.
		return readName(name, from, s.season), nil
	}
	var out named
	for f := Lifter; f < Known; f++ {
		if text, ok := parts[f.String()]; ok && carryable.has(f) {
			out.fields = append(out.fields, carried{f, text, unit.Unit{}, from})
		}
	}
	return out, nil
}

// carriedBySeason returns what [[source]] says for rows that do not.
func (s *Source) carriedBySeason() []carried {
	d := &s.declared
	var out []carried
	add := func(f Field, text string) {
		if text != "" {
			out = append(out, carried{f, text, unit.SIOf(fields[f].quantity), "season file"})
		}
	}
	add(Lifter, d.Lifter)
	add(Lift, d.Lift)
	add(Variant, d.Variant)
	if d.Date.OK {
		add(Date, d.Date.V.String())
	}
	if d.LoadKg.OK {
		add(Load, fmt.Sprintf("%g kg", d.LoadKg.V))
	}
	if d.Set.OK {
		add(SetNumber, fmt.Sprint(d.Set.V))
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
		if other.Sheet != p.Sheet && !generic(other.Sheet) {
			sheets++
		}
	}
	return sheets > 1 || strings.Contains(name, " ")
}

// complete asks for what neither columns nor surroundings of a table give.
func (s *Source) complete() error {
	for _, p := range s.Parts {
		if p.kind.shape == nil || p.kind.shape == &samples {
			continue
		}
		for _, f := range append(slices.Clone(identity), Load) {
			given := p.kind.has(f) || slices.ContainsFunc(p.base, func(b carried) bool { return b.field == f })
			if given || f == Load && (p.kind.has(Work) || p.kind.shape == &setRows) {
				continue
			}
			example := map[Field]string{Lifter: `lifter = "…"`, Date: `date = 2026-01-31`, Lift: `lift = "squat"`, Load: `load = 100`}[f]
			a := &Ask{
				Place:   rep.Place{Source: s.Name, Sheet: p.Sheet},
				Problem: fmt.Sprintf("nothing says the %s: no column, no line above the table, no name", fields[f].word),
				Lines:   []string{example, fmt.Sprintf(`columns = { %s = "its heading" }`, f)},
			}
			if len(p.Region.HeadingRows) == 0 {
				a.Problem += ", and there are no headings"
			}
			return a
		}
	}
	return nil
}
