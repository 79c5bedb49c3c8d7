package screen

import (
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// Table is a table of short texts. The first column is flush left and gives
// way where the terminal is too narrow; Left names further flush-left columns,
// the last of which wraps.
type Table struct {
	Head []string
	Rows [][]string
	Foot []string // a row under a rule; nil for none
	Left map[int]bool
}

// gap stands between columns.
const gap = "  "

// Render returns the table as lines of at most w cells. Columns are as wide as
// they need; the first is cut in its middle where that is too much, since file
// names differ at both ends.
func (t Table) Render(w int) []string {
	wide := make([]int, len(t.Head))
	all := append([][]string{t.Head}, t.Rows...)
	if t.Foot != nil {
		all = append(all, t.Foot)
	}
	for _, row := range all {
		for i, cell := range row {
			wide[i] = max(wide[i], cells(cell))
		}
	}
	last := len(wide) - 1
	total := len(gap) * last
	for _, n := range wide {
		total += n
	}
	if over := total - w; over > 0 && t.Left[last] {
		cut := min(over, max(0, wide[last]-24))
		wide[last] -= cut
		total -= cut
	}
	if over := total - w; over > 0 {
		wide[0] = max(12, wide[0]-over)
	}
	var lines []string
	for _, row := range t.withRules(wide) {
		lines = append(lines, t.line(row, wide)...)
	}
	return lines
}

// withRules returns head, rule, rows and foot in order; a rule is a nil row.
func (t Table) withRules(wide []int) [][]string {
	rows := append([][]string{t.Head, nil}, t.Rows...)
	if t.Foot != nil {
		rows = append(rows, nil, t.Foot)
	}
	return rows
}

func (t Table) line(row []string, wide []int) []string {
	if row == nil {
		n := len(gap) * (len(wide) - 1)
		for _, w := range wide {
			n += w
		}
		return []string{strings.Repeat("─", n)}
	}
	last := len(row) - 1
	var b strings.Builder
	for i, cell := range row[:last] {
		cell = Cut(cell, wide[i])
		pad := strings.Repeat(" ", wide[i]-cells(cell))
		if i == 0 || t.Left[i] {
			b.WriteString(cell + pad)
		} else {
			b.WriteString(pad + cell)
		}
		b.WriteString(gap)
	}
	if !t.Left[last] {
		return []string{b.String() + strings.Repeat(" ", max(0, wide[last]-cells(row[last]))) + row[last]}
	}
	indent := strings.Repeat(" ", cells(b.String()))
	var lines []string
	for i, part := range Wrap(row[last], wide[last]) {
		if i == 0 {
			lines = append(lines, strings.TrimRight(b.String()+part, " "))
		} else {
			lines = append(lines, indent+part)
		}
	}
	return lines
}

// Cut returns text in at most w cells, its middle replaced by "…".
func Cut(text string, w int) string {
	if cells(text) <= w {
		return text
	}
	r := []rune(text)
	head, tail := (w-1)/2, w-1-(w-1)/2
	for head+tail > 0 && cells(string(r[:head]))+cells(string(r[len(r)-tail:]))+1 > w {
		if head >= tail {
			head--
		} else {
			tail--
		}
	}
	return string(r[:head]) + "…" + string(r[len(r)-tail:])
}

// Wrap breaks text at blanks into lines of at most w cells; a longer word is
// left whole. It returns at least one line.
func Wrap(text string, w int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case cells(line)+1+cells(word) <= w:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}

// cells returns how many cells of a terminal a text fills.
func cells(text string) int {
	n := 0
	for _, r := range text {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case width.LookupRune(r).Kind() == width.EastAsianWide, width.LookupRune(r).Kind() == width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}

// Clean returns text with everything taken out that could command a terminal
// or reorder a line: control characters and direction marks become "·". Text
// of the inputs passes through it before it is shown.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar || unicode.Is(unicode.Bidi_Control, r) ||
			r == '\u2028' || r == '\u2029' {
			return '·'
		}
		return r
	}, text)
}
