package cell

import (
	"slices"
	"strings"
)

// Layout is where the tables of a sheet are.
type Layout struct {
	Tables []Region // in order of rows, then columns; nil: no table
	Said   []string // inferences and hidden things, each a sentence
}

// Region is one table of a sheet.
type Region struct {
	Preamble     []Pair  // "Name: X" and the like in the rows above
	PreambleRows []int32 // rows between the table above and this one that hold something

	HeadingRows []int32  // none to three rows
	Headings    []string // one a column; of several rows joined by a blank; "" where there is none
	UnitsRow    int32    // 0: none
	Units       []string // one a column where UnitsRow is not 0, else nil

	FirstData, LastData int32   // rows; both 0: no data; LastData 0 alone: to the end
	NotData             []int32 // rows between them that hold something but no data: repeated headings, subtotals, comments
	Labels              []Pair  // rows of NotData that are one text: a heading of the rows below, without Key
	FooterRows          []int32 // totals and remarks after the data

	FirstCol, LastCol int // 0-based columns, both included
}

// Pair is a preamble line that gives a value its name. A line that gives none
// has an empty Key.
type Pair struct {
	Key, Value string
	Row        int32
	Col        int // of the value, 0-based
}

// Top returns the first row of headings or data.
func (r *Region) Top() int32 {
	if len(r.HeadingRows) > 0 {
		return r.HeadingRows[0]
	}
	return r.FirstData
}

// Columns returns the number of columns.
func (r *Region) Columns() int { return r.LastCol - r.FirstCol + 1 }

// In returns the row's cells in the region's columns, fewer where the row is
// short.
func (r *Region) In(row *Row) []Cell {
	if len(row.Cells) <= r.FirstCol {
		return nil
	}
	return row.Cells[r.FirstCol:min(r.LastCol+1, len(row.Cells))]
}

// Data reports whether a row is one of the region's data rows: within it, with
// something in its columns, neither listed in NotData nor a repeated heading,
// nor, where the table was not followed to its end, a total.
func (r *Region) Data(row *Row) bool {
	if r.FirstData == 0 || row.Line < r.FirstData || r.LastData != 0 && row.Line > r.LastData {
		return false
	}
	if len(r.NotData) > 0 {
		if _, found := slices.BinarySearch(r.NotData, row.Line); found {
			return false
		}
	}
	cells := r.In(row)
	first := 0
	for first < len(cells) && cells[first].Blank() {
		first++
	}
	if first == len(cells) || r.repeats(cells) {
		return false
	}
	return r.LastData != 0 || !r.total(cells[first:])
}

// total reports whether cells, of which the first is filled, are those of a row
// of totals: no word for one begins with a digit.
func (r *Region) total(cells []Cell) bool {
	text := cells[0].Text
	if text != "" && text[0]-'0' <= 9 {
		return false
	}
	filled := 0
	for i := 0; i < len(cells) && 2*filled < r.Columns(); i++ {
		if !cells[i].Blank() {
			filled++
		}
	}
	surely := false
	if 2*filled < r.Columns() {
		surely, _ = Total(text)
	}
	return surely
}

// repeats reports whether the cells are the headings once more.
func (r *Region) repeats(cells []Cell) bool {
	if len(r.HeadingRows) != 1 {
		return false
	}
	for i, h := range r.Headings {
		text := ""
		if i < len(cells) {
			text = cells[i].Text
		}
		if text != h && Trim(text) != h {
			return false
		}
	}
	return true
}

// Trim returns a text without blanks around it.
func Trim(s string) string {
	if n := len(s); n > 0 && visible(s[0]) && visible(s[n-1]) {
		return s
	}
	return strings.TrimFunc(s, IsSpace)
}
