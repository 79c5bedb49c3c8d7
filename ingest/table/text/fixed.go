package text

import (
	"strings"
	"unicode/utf8"

	"repsift/ingest/table/cell"
)

// Columns of fixed width. Where cells may be blank, or hold single blanks, runs
// of blanks do not tell where columns are; the places that are blank in all
// lines do.

// What a text has to show to be read so: lines, columns, and that a column is
// filled in a fourth of the lines and its cells stand to the left or right of it
// in nine of ten.
const (
	fixedLines   = 5
	fixedColumns = 3
)

// cutsOf returns where the columns of a text begin, in characters; nil if it has
// no columns of fixed width. Up to three lines at the top may be of another
// kind.
func cutsOf(body string) []int {
	if !strings.Contains(body, "  ") || strings.IndexByte(body, '\t') >= 0 || strings.Contains(body, ` "`) {
		return nil // quotes are for texts with delimiters
	}
	var lines [][]rune
	for line := range strings.FieldsFuncSeq(body, func(r rune) bool { return r == '\n' || r == '\r' }) {
		if len(lines) == sampleRows {
			break
		}
		if line = strings.TrimRight(line, " "); line != "" && line[0] != '#' && len(line) < 4096 {
			lines = append(lines, []rune(line))
		}
	}
	for skip := 0; skip <= 3 && len(lines)-skip >= fixedLines; skip++ {
		if cuts := cutsBelow(lines[skip:]); cuts != nil {
			return cuts
		}
	}
	return nil
}

// cutsBelow returns the columns of lines all of which have them.
func cutsBelow(lines [][]rune) []int {
	width := 0
	for _, l := range lines {
		width = max(width, len(l))
	}
	used := make([]bool, width)
	for _, l := range lines {
		for i, r := range l {
			used[i] = used[i] || r != ' '
		}
	}
	var cuts, ends []int
	for i, u := range used {
		if u && (i == 0 || !used[i-1]) {
			cuts = append(cuts, i)
			ends = append(ends, i)
		}
		if u {
			ends[len(ends)-1] = i + 1
		}
	}
	if len(cuts) < fixedColumns {
		return nil
	}
	for c, from := range cuts {
		left, right, filled := 0, 0, 0
		for _, l := range lines {
			if len(l) <= from || cell.IsBlank(string(l[from:min(ends[c], len(l))])) {
				continue
			}
			filled++
			if l[from] != ' ' {
				left++
			}
			if len(l) >= ends[c] && l[ends[c]-1] != ' ' {
				right++
			}
		}
		if max(left, right)*10 < filled*9 || filled*4 < len(lines) {
			return nil
		}
	}
	cuts[0] = 0
	return cuts
}

// splitFixed appends the cells of a line of fixed columns; false if a word
// stands across the beginning of a column.
func splitFixed(cells []cell.Cell, line string, cuts []int) ([]cell.Cell, bool) {
	n, next, from, at := len(cells), 1, 0, 0
	before := byte(' ')
	for i := 0; i < len(line); {
		if next < len(cuts) && at == cuts[next] {
			if before != ' ' {
				return cells[:n], false
			}
			cells = append(cells, textCell(strings.Trim(line[from:i], " ")))
			from = i
			next++
		}
		before = line[i]
		if before < utf8.RuneSelf {
			i++
		} else {
			_, size := utf8.DecodeRuneInString(line[i:])
			i += size
		}
		at++
	}
	cells = append(cells, textCell(strings.Trim(line[from:], " ")))
	for len(cells)-n < len(cuts) {
		cells = append(cells, cell.Cell{})
	}
	return cells, true
}
