package rep

import "strconv"

// Place is where in the inputs something stands. Empty parts are left out of
// its text.
type Place struct {
	Source string // file, relative to the input root
	Sheet  string
	Row    int32  // 1-based line or row; 0: the whole file or sheet
	Column string // heading as written, else a spreadsheet column's letters
}

// String returns the place as messages begin with it:
// `exports/may.csv:214: column "Gewicht"`.
func (p Place) String() string {
	text := p.Source
	if p.Sheet != "" {
		text += " [" + p.Sheet + "]"
	}
	if p.Row > 0 {
		text += ":" + strconv.Itoa(int(p.Row))
	}
	if p.Column != "" {
		text += ": column " + strconv.Quote(p.Column)
	}
	return text
}

// Less orders places by source, sheet, row, column.
func (p Place) Less(q Place) bool {
	if p.Source != q.Source {
		return p.Source < q.Source
	}
	if p.Sheet != q.Sheet {
		return p.Sheet < q.Sheet
	}
	if p.Row != q.Row {
		return p.Row < q.Row
	}
	return p.Column < q.Column
}
