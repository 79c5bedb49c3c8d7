package text

import (
	"slices"
	"strings"
	"unicode"

	"repsift/ingest/table/cell"
)

// hashLines counts the lines that begin as comments do, the first left out.
func hashLines(body string) int { return strings.Count(body, "\n#") + strings.Count(body, "\r#") }

// sentences reports whether the delimiter is what stands between words: a blank
// where few cells are numbers, or a mark in a minority of the lines that is
// followed by a blank.
func (t *trial) sentences(rows []tried, body string) bool {
	d := t.d
	if d.Blanks > 1 || t.regular(rows) {
		return false
	}
	if d.Delimiter == " " || d.Blanks == 1 {
		return t.typed*10 < t.cells*3
	}
	return d.Delimiter != "" && t.width == 1 && strings.Count(body, d.Delimiter+" ")*10 >= strings.Count(body, d.Delimiter)*9
}

// regular reports whether nearly all rows have as many cells, and so many that
// this comes of no chance: three in four rows or more, or two where quotes are.
func (t *trial) regular(rows []tried) bool {
	if t.width < 2 || t.quoted == 0 && (t.width < 3 || len(rows) < 4) {
		return false
	}
	usual := 0
	for _, r := range rows {
		if r.width == t.width {
			usual++
		}
	}
	return usual*10 >= len(rows)*9
}

// glued reports whether a text without letters has a possible delimiter right
// between two digits: "755 222,5".
func glued(s string) bool {
	found := false
	for i, r := range s {
		switch r {
		case ' ', ':', ';', '|', '\t':
			found = found || i > 0 && i+1 < len(s) && isDigit(s[i-1]) && isDigit(s[i+1])
		default:
			if unicode.IsLetter(r) {
				return false
			}
		}
	}
	return found
}

// purityOf returns for each row width how far its columns hold one kind of
// value, in [0,1]: the mean over the columns of the largest share of numbers,
// of dates or of texts. Blanks and nulls count for nothing. The first row of a
// width may be its heading and does not count where there are others.
func purityOf(rows []tried) map[int]float64 {
	type column [3]int
	first := map[int]bool{}
	columns := map[int][]column{}
	for _, r := range rows {
		if columns[r.width] == nil {
			columns[r.width] = make([]column, r.width)
		}
		if !first[r.width] {
			first[r.width] = true
			continue
		}
		for i, l := range r.looks {
			switch {
			case l == cell.Numeric:
				columns[r.width][i][0]++
			case l == cell.Temporal:
				columns[r.width][i][1]++
			case l.IsText():
				columns[r.width][i][2]++
			}
		}
	}
	purity := map[int]float64{}
	for width, cs := range columns {
		sum, n := 0.0, 0
		for _, c := range cs {
			if all := c[0] + c[1] + c[2]; all > 0 {
				sum += float64(max(c[0], c[1], c[2])) / float64(all)
				n++
			}
		}
		purity[width] = 0.9 // a row of its own says little
		if n > 0 {
			purity[width] = sum / float64(n)
		}
	}
	return purity
}

// padded reports whether blanks serve to line up columns or fill up lines, so
// that no single one of them is a delimiter: half of the rows have blank cells,
// and either rows differ in length or a column has nothing else.
func padded(rows []tried, width int) bool {
	blank, usual := 0, 0
	columns := make([]int, width)
	for _, r := range rows {
		has := false
		for i, l := range r.looks {
			if l == cell.Nothing {
				has = true
				if r.width == width {
					columns[i]++
				}
			}
		}
		if r.width == width {
			usual++
		}
		if has {
			blank++
		}
	}
	return 2*blank >= len(rows) && (usual*5 < len(rows)*4 || width > 0 && slices.Max(columns)*10 >= usual*9)
}

// tornDecimals reports whether the comma of a one-comma table is a decimal
// mark: digits on both sides in every row, and a first line without it, or
// fractions that begin with 0, or nothing but 0 before the comma.
func tornDecimals(rows []tried, body string) bool {
	two := 0
	for i, r := range rows {
		if r.width > 2 || r.width == 1 && i > 0 {
			return false
		}
		if r.width == 2 {
			if r.looks[0] != cell.Numeric || r.looks[1] != cell.Numeric {
				return false
			}
			two++
		}
	}
	before, after := false, false // something else than 0 stands before, 0 after
	for i := 1; i+1 < len(body); i++ {
		if body[i] == ',' {
			before = before || body[i-1] != '0' || i > 1 && isDigit(body[i-2])
			after = after || body[i+1] == '0' && i+2 < len(body) && isDigit(body[i+2])
		}
	}
	return two > 0 && (rows[0].width == 1 || after || !before && two > 2)
}

// tornTimes reports whether most colons of a text stand inside times.
func tornTimes(body string) bool {
	all, times := 0, 0
	for i := 1; i+1 < len(body); i++ {
		if body[i] == ':' {
			all++
			if isDigit(body[i-1]) && isDigit(body[i+1]) && i+2 < len(body) && isDigit(body[i+2]) && (i+3 == len(body) || !isDigit(body[i+3])) {
				times++
			}
		}
	}
	return times*2 > all
}
