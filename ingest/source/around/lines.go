package around

import (
	"fmt"
	"strings"
	"unicode"

	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// LineLog is a log kept as plain text, a line a lift or a day.
type LineLog struct {
	Region table.Region // all of the sheet
	Labels []shape.Label
	Gives  column.Set // what labels and lines say: date, lift, lifter
	Dates  []string   // in the lines
	Name   table.Pair // the first line that may name a lifter whom the season does not declare
}

// What has shown no log by manyLines lines is none: in a log every second line
// holds sets, not one in fewSets.
const manyLines, fewSets = 2000, 20

// Lines recognises a sheet of one column whose lines are days, lifts and sets:
//
//	Mon 5 Jan 2026
//	Squat 60x5, 100x3, 140x5x3 @8
//
// Nil for any other sheet.
func Lines(sheet *table.Sheet, tables []table.Region, s *season.Season) (*LineLog, error) {
	for i := range tables {
		if tables[i].LastCol > 0 {
			return nil, nil
		}
	}
	if len(tables) == 0 {
		return nil, nil
	}
	log := &LineLog{Region: table.Region{FirstData: 1}}
	seen, lines, lifts, dates := 0, 0, 0, 0
	liftSaid, dateSaid := false, false
	sound := func() bool { return lines > 0 && 2*lifts >= lines && (dates > 0 || len(log.Labels) > 0) }
	for row, err := range sheet.Rows() {
		if err != nil {
			return nil, err
		}
		if row.Err != nil || len(row.Cells) == 0 || row.Cells[0].Blank() {
			continue
		}
		if seen++; seen == manyLines && (lines*fewSets < seen || !sound()) {
			return nil, nil // no log, and perhaps millions of lines
		}
		text := strings.Clone(strings.TrimSpace(row.Cells[0].Text))
		l := shape.ReadLine(text, s)
		dateSaid, liftSaid = dateSaid || l.Date != "", liftSaid || l.Lift != ""
		if l.Work != "" {
			lines++
			if liftSaid {
				lifts++
			}
			if dateSaid {
				dates++
			}
			if l.Date != "" {
				log.Dates = append(log.Dates, l.Date)
			}
			continue
		}
		from := fmt.Sprintf("line %d", row.Line)
		var fields []shape.Carried
		add := func(f column.Field, text string) {
			if text != "" {
				fields = append(fields, shape.Carried{Field: f, Text: text, From: from})
			}
		}
		add(column.Date, l.Date)
		add(column.Lift, l.Lift)
		name := l.Rest // beside a date, or alone
		if len(fields) == 0 {
			name = text
		}
		if key, value, ok := strings.Cut(text, ":"); ok && len(fields) == 0 {
			if f, u, ok := keyField(key); ok && sensible(f, strings.TrimSpace(value)) {
				fields = append(fields, shape.Carried{Field: f, Text: strings.TrimSpace(value), Unit: u, From: from})
				log.Gives = log.Gives.With(f)
			}
		} else if s.Declares(name) {
			add(column.Lifter, name)
			log.Gives = log.Gives.With(column.Lifter)
		} else if log.Name.Value == "" && mayName(name) {
			log.Name = table.Pair{Value: name, Row: row.Line}
		}
		if len(fields) > 0 {
			log.Labels = append(log.Labels, shape.Label{Row: row.Line, Fields: fields})
		}
		if len(fields) > 0 || strings.IndexFunc(text, unicode.IsDigit) < 0 {
			log.Region.NotData = append(log.Region.NotData, row.Line)
		}
	}
	if !sound() {
		return nil, nil
	}
	log.Gives = log.Gives.With(column.Lift)
	if dates > 0 {
		log.Gives = log.Gives.With(column.Date)
	}
	return log, nil
}
