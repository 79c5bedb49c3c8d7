package source

import (
	"slices"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// lookFurther looks at the rows that the survey left out, for what it did not
// settle: the order of dates, decimal marks, kg or lb, how far a bar moves. Only what is in doubt is
// looked at.
func (s *Source) lookFurther() error {
	s.longer = false
	for _, sheet := range s.file.Sheets {
		var here []*Part
		seen := make(map[*kind]int)
		for _, p := range s.Parts {
			if p.sheet == sheet && p.kind.shape != nil {
				here = append(here, p)
			}
		}
		if len(here) == 0 {
			continue
		}
		for row, err := range sheet.Rows() {
			if err != nil {
				return err
			}
			for _, p := range here {
				if row.Err != nil || !p.Region.Data(&row) {
					continue
				}
				if seen[p.kind]++; seen[p.kind] > surveyRows {
					p.kind.lookAgain(&row)
				}
			}
		}
	}
	return nil
}

// lookAgain takes a row into account for what is asked of whole sources.
func (k *kind) lookAgain(row *table.Row) {
	for _, c := range k.Columns {
		if c.Index >= len(row.Cells) || row.Cells[c.Index].Kind != table.Text && row.Cells[c.Index].Kind != table.Number {
			continue
		}
		cell := &row.Cells[c.Index]
		s := c.Stats
		switch {
		case c.Field == column.Date, c.Field == column.Clock:
			if cell.Text != s.LastText {
				s.LastText = strings.Clone(cell.Text)
				s.Dates.Add(cell.Text)
			}
		case c.Field == column.Load && c.Unit.Quantity != unit.Load:
			v, err := number.Parse(cell.Text, number.Point)
			if cell.Kind == table.Number {
				v.V, err = cell.Num, nil
			}
			if err == nil && !slices.Contains(s.Values[max(0, len(s.Values)-8):], v.V) {
				s.Values = append(s.Values, v.V)
			}
		case (c.Field == column.Position || c.Field == column.MeanVelocity && k.ofSamples()) && c.UnitFrom == "": // a bar rests before it moves
			v, err := number.Parse(cell.Text, number.Point)
			if cell.Kind == table.Number {
				v.V, err = cell.Num, nil
			}
			if err == nil {
				s.Widen(v.V)
			}
		case len(s.Either) > 0 && cell.Kind == table.Text:
			s.Mark.Add(cell.Text)
		}
	}
}
