package around

import (
	"slices"
	"strings"
	"unicode"

	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
)

// labelRows is how many rows of a table are looked at before it is taken for one
// whose rows all stand for themselves.
const labelRows = 400

// RowLabels takes rows of a table that hold nothing but a day, a lift or a
// declared lifter for the labels of the rows below them:
//
//	Load,Reps,RPE
//	Monday 5 January,,
//	100,5,8
//
// A row that fills in nothing but the column of its own kind is one of data: its
// blanks are filled from above. What may be the name of a lifter whom the season
// does not declare comes back, the first of each table.
func RowLabels(sheet *table.Sheet, tables []table.Region, s *season.Season) ([]table.Pair, error) {
	names := make([]table.Pair, len(tables))
	var open []int
	for i := range tables {
		for _, l := range tables[i].Labels {
			if names[i].Value == "" && mayName(l.Value) {
				names[i] = l
			}
		}
		if r := &tables[i]; len(r.HeadingRows) > 0 && r.Columns() > 2 && r.FirstData > 0 {
			open = append(open, i)
		}
	}
	if len(open) == 0 {
		return names, nil
	}
	found := make([][]table.Pair, len(tables)) // labels
	wide := make([]int, len(tables))           // rows of three cells and more
	for row, err := range sheet.Rows() {
		if err != nil {
			return nil, err
		}
		busy := false
		for _, i := range open {
			r := &tables[i]
			if r.LastData != 0 && row.Line > r.LastData || len(found[i]) == 0 && row.Line > r.FirstData+labelRows {
				continue
			}
			busy = true
			if row.Err != nil || row.Line < r.FirstData || !r.Data(&row) {
				continue
			}
			at, n := -1, 0
			for k, c := range r.In(&row) {
				if !c.Blank() {
					n++
					if at < 0 {
						at = k
					}
				}
			}
			switch {
			case n >= 3:
				wide[i]++
			case n == 1:
				text := strings.TrimSpace(r.In(&row)[at].Text)
				p := table.Pair{Value: strings.Clone(text), Row: row.Line, Col: r.FirstCol + at + 1}
				switch under, _, _ := keyField(heading(r, at)); {
				case isRowLabel(text, under, s):
					found[i] = append(found[i], p)
				case names[i].Value == "" && under != column.Lifter && under != column.Note && mayName(text):
					names[i] = p
				}
			}
		}
		if !busy {
			break
		}
	}
	for _, i := range open {
		r := &tables[i]
		if len(found[i]) == 0 || wide[i] < len(found[i]) {
			continue
		}
		r.Labels = append(r.Labels, found[i]...)
		for _, p := range found[i] {
			r.NotData = append(r.NotData, p.Row)
		}
		slices.SortFunc(r.Labels, func(a, b table.Pair) int { return int(a.Row - b.Row) })
		slices.Sort(r.NotData)
	}
	return names, nil
}

func heading(r *table.Region, at int) string {
	if at < len(r.Headings) {
		return r.Headings[at]
	}
	return ""
}

// isRowLabel reports whether a text that stands alone in a row says something of
// the rows below: it is a day, a lift or a lifter, in a column of something else.
func isRowLabel(text string, under column.Field, s *season.Season) bool {
	fields := Name(text, "", s).Fields
	if key, value, ok := strings.Cut(text, ":"); ok {
		if f, _, ok := keyField(key); ok && sensible(f, strings.TrimSpace(value)) {
			return f != under
		}
	}
	for _, f := range fields {
		if f.Field == under || !column.SetOf(column.Date, column.Lift, column.Lifter).Has(f.Field) {
			return false
		}
	}
	return len(fields) > 0
}

// mayName reports whether a text can be the name of a lifter: two to four words
// of letters, each with a capital, none of them a word of the trade.
func mayName(text string) bool {
	w := strings.Fields(text)
	if len(w) < 2 || len(w) > 4 {
		return false
	}
	if _, _, ok := spelling.KnownLift(text); ok || words.Parse(text).Has != 0 {
		return false
	}
	for _, one := range w {
		letters := []rune(strings.Trim(one, ".,'’-"))
		if len(letters) == 0 || !unicode.IsUpper(letters[0]) || slices.ContainsFunc(letters, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' && r != '\'' && r != '’' }) {
			return false
		}
	}
	return true
}
