package around

import (
	"slices"
	"strconv"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/shape/words"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// headRows is how far down a sheet the heads of tables are looked at again.
const headRows = 20000

// Heads looks again at where headings end, with the words of the trade: a second
// line of "headings" that is a lift and its sets is the first row of data, a
// first row of data that is nothing but units is the line of units, and one of
// words that head columns, beside figures ("Lift, Load, 1.1, 1.2"), the headings;
// so is such a row above a table without headings. A row below the headings that
// only counts 1, 2, 3 under one of them numbers what that one heads.
func Heads(sheet *table.Sheet, tables []table.Region) error {
	at := 0
	last := int32(0)
	for i := range tables {
		last = max(last, tables[i].FirstData)
	}
	lines := make(map[int32][]string)
	for row, err := range sheet.Rows() {
		if err != nil {
			return err
		}
		if row.Line > min(last, headRows) {
			break
		}
		for at < len(tables) && tables[at].FirstData < row.Line {
			at++
		}
		if at == len(tables) {
			break
		}
		r := &tables[at]
		above := len(r.HeadingRows) == 0 && row.Line == r.FirstData-1 && slices.Contains(r.PreambleRows, row.Line)
		if row.Err != nil || row.Line != r.FirstData && !above && !slices.Contains(r.HeadingRows, row.Line) {
			continue
		}
		var texts []string
		for _, c := range r.In(&row) {
			texts = append(texts, strings.Clone(c.Text))
		}
		lines[row.Line] = texts
		if row.Line == r.FirstData {
			head(r, lines)
		}
	}
	return nil
}

// head mends the head of one table; lines are the texts of its rows.
func head(r *table.Region, lines map[int32][]string) {
	if n := len(r.HeadingRows); n > 1 && r.UnitsRow == 0 && isData(lines[r.HeadingRows[n-1]]) {
		r.FirstData, r.HeadingRows = r.HeadingRows[n-1], r.HeadingRows[:n-1]
		headings := make([]string, r.Columns())
		for _, line := range r.HeadingRows {
			for i, text := range lines[line] {
				headings[i] = strings.TrimSpace(headings[i] + " " + strings.TrimSpace(text))
			}
		}
		r.Headings = headings
		return
	}
	first := lines[r.FirstData]
	if above := lines[r.FirstData-1]; len(r.HeadingRows) == 0 && len(above) == r.Columns() && areHeadings(above) {
		r.HeadingRows, r.Headings = []int32{r.FirstData - 1}, above
		r.PreambleRows = slices.DeleteFunc(r.PreambleRows, func(line int32) bool { return line == r.FirstData-1 })
		r.Preamble = slices.DeleteFunc(r.Preamble, func(p table.Pair) bool { return p.Row == r.FirstData-1 })
		return
	}
	if len(r.HeadingRows) == 0 && r.FirstData != r.LastData && areHeadings(first) {
		r.HeadingRows, r.FirstData = []int32{r.FirstData}, r.FirstData+1
		r.Headings = make([]string, r.Columns())
		copy(r.Headings, first)
		return
	}
	if from, n := counts(first); n > 1 && len(r.HeadingRows) > 0 && r.FirstData != r.LastData && from < len(r.Headings) && r.Headings[from] != "" {
		head := r.Headings[from]
		for i := from; i < from+n && i < len(r.Headings); i++ {
			if i > from && r.Headings[i] != "" && r.Headings[i] != head {
				return
			}
		}
		for i := from; i < from+n && i < len(r.Headings); i++ {
			r.Headings[i] = head + " " + strings.TrimSpace(first[i])
		}
		r.HeadingRows, r.FirstData = append(r.HeadingRows, r.FirstData), r.FirstData+1
		return
	}
	if len(r.HeadingRows) > 0 && r.UnitsRow == 0 && r.FirstData != r.LastData && areUnits(first) {
		r.UnitsRow, r.FirstData = r.FirstData, r.FirstData+1
		r.Units = make([]string, r.Columns())
		copy(r.Units, first)
	}
}

// isData reports whether a row below headings is one of data: a cell is a lift, a
// day or a set in shorthand, and none a word of headings.
func isData(texts []string) bool {
	cells := 0
	for _, text := range texts {
		if _, err := number.Parse(text, number.AnyMark); err == nil || strings.TrimSpace(text) == "" {
			continue
		}
		if isCell(text) {
			cells++
		} else if words.Parse(text).Has != 0 {
			return false
		}
	}
	return cells > 0
}

// counts returns where a row that holds nothing but 1, 2, 3, … side by side
// begins, and how far it counts; 0 for other rows.
func counts(texts []string) (from, n int) {
	for i, text := range texts {
		text = strings.TrimSpace(text)
		switch {
		case text == "" && n == 0:
			from = i + 1
		case text == "":
			if slices.ContainsFunc(texts[i:], func(t string) bool { return strings.TrimSpace(t) != "" }) {
				return 0, 0
			}
			return from, n
		case text != strconv.Itoa(n+1):
			return 0, 0
		default:
			n++
		}
	}
	return from, n
}

// areHeadings reports whether a row of data without headings above it is one of
// headings: three cells or more, and all that are no figures, are words of them.
func areHeadings(texts []string) bool {
	n := 0
	for _, text := range texts {
		if _, err := number.Parse(text, number.AnyMark); err == nil || strings.TrimSpace(text) == "" {
			continue
		}
		bare, _, _ := unit.FromHeading(text)
		if h := words.Parse(bare); h.Words == 0 || h.Unknown > 0 || h.Has == 0 && isCell(text) {
			return false
		}
		n++
	}
	return n >= 3
}

func areUnits(texts []string) bool {
	n := 0
	for _, text := range texts {
		if text = strings.Trim(text, " \t()[]"); text == "" {
			continue
		}
		if _, ok := unit.Parse(text); !ok {
			return false
		}
		n++
	}
	return n > 0
}
