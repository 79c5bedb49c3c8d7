package layout

import (
	"math"
	"slices"
	"strings"

	"repsift/ingest/table/cell"
)

// view is a span of a grid's columns: the rows that hold something there.
type view struct {
	g *grid
	span
	rows  []line
	wide  int   // cells of the fullest row
	left  int   // first column that any row fills
	step  int32 // from row to row: 1, or more where blank lines stand between all rows
	usual int32 // cells as written of most rows of a text that has more than one; else 0
}

// line is a row within a view.
type line struct {
	*row
	*form
}

// form is what rows with the same looks have in common within a view.
type form struct {
	looks string // of the cells from the span's first column on
	count int    // cells that hold something
	first int    // column of the first and the last of them, in the view
	last  int
	typed int // numbers and dates
	texts int // texts
}

// formOf returns the form of looks in a span.
func formOf(looks string, s span) form {
	if len(looks) <= s.first {
		return form{}
	}
	f := form{looks: looks[s.first:min(s.last+1, len(looks))]}
	for j := range len(f.looks) {
		look := cell.Look(f.looks[j])
		if look == cell.Nothing {
			continue
		}
		if f.count == 0 {
			f.first = j
		}
		f.last = j
		f.count++
		if look.Typed() {
			f.typed++
		} else if look.IsText() {
			f.texts++
		}
	}
	return f
}

// view returns a span of the grid's first n rows.
func (g *grid) view(s span, n int) *view {
	v := &view{g: g, span: s, rows: make([]line, 0, n)}
	forms := make([]form, len(g.looks))
	for i, looks := range g.looks {
		forms[i] = formOf(looks, s)
	}
	for i := range n {
		r := g.rows.at(i)
		l := line{r, &forms[r.pattern]}
		if l.count == 0 {
			continue
		}
		v.rows = append(v.rows, l)
		v.wide = max(v.wide, l.count)
		if len(v.rows) == 1 || l.first < v.left {
			v.left = l.first
		}
	}
	v.step, v.usual = v.rhythm()
	return v
}

// rhythm returns the usual step from row to row and the usual number of cells
// that are written of a row.
func (v *view) rhythm() (step, usual int32) {
	steps, widths := counts{}, counts{}
	for i := range v.rows {
		if i > 0 {
			steps.add(v.rows[i].line - v.rows[i-1].end)
		}
		if w := v.rows[i].width; v.g.text && w > 1 {
			widths.add(w)
		}
	}
	step = 1
	for s, n := range steps.all() {
		if s > 1 && len(v.rows) > 4 && n*4 >= 3*(len(v.rows)-1) {
			step = s
		}
	}
	most := 0
	for w, n := range widths.all() {
		if n > most || n == most && w > usual {
			usual, most = w, n
		}
	}
	return step, usual
}

// counts counts numbers, which mostly are the one before once more.
type counts struct {
	n     map[int32]int
	last  int32
	again int // how often the last came and is not yet counted
}

func (c *counts) add(x int32) {
	if x != c.last || c.again == 0 {
		c.all()
		c.last = x
	}
	c.again++
}

func (c *counts) all() map[int32]int {
	if c.n == nil {
		c.n = map[int32]int{}
	}
	if c.again > 0 {
		c.n[c.last] += c.again
		c.again = 0
	}
	return c.n
}

// written reports whether a row of a text has as many cells as usual.
func (v *view) written(i int) bool { return v.usual > 0 && v.rows[i].width == v.usual }

// look returns the look of a row's cell, by its column in the view.
func (l *line) look(col int) cell.Look {
	if col >= len(l.looks) {
		return cell.Nothing
	}
	return cell.Look(l.looks[col])
}

// text returns the text of a row's cell; "" where it was not kept.
func (v *view) text(i, col int) string {
	t := v.g.textsOf(v.rows[i].row)
	if col += v.first; col < len(t) {
		return t[col]
	}
	return ""
}

// cells returns the row's texts that are not blank.
func (v *view) cells(i int) []string {
	var all []string
	for c := range v.rows[i].last + 1 {
		if v.rows[i].look(c) != cell.Nothing {
			all = append(all, v.text(i, c))
		}
	}
	return all
}

// gap reports whether blank rows stand before a row.
func (v *view) gap(i int) bool {
	return i > 0 && v.rows[i].line-v.rows[i-1].end > v.step
}

// kind reduces looks to what a column holds.
type kind uint8

const (
	none kind = iota // blank or null: fits anything
	number
	temporal
	text
)

func kindOf(l cell.Look) kind {
	switch {
	case l == cell.Numeric:
		return number
	case l == cell.Temporal:
		return temporal
	case l.IsText():
		return text
	}
	return none
}

// similar reports whether two rows may be of one table: they fill the same
// columns by half or more, and a quarter of those at most differ in kind.
func similar(a, b *line) bool {
	both, conflict, differ := 0, 0, 0
	for i := range min(len(a.looks), len(b.looks)) {
		x, y := kindOf(a.look(i)), kindOf(b.look(i))
		if a.look(i) != cell.Nothing && b.look(i) != cell.Nothing {
			both++
			if x != y && x != none && y != none {
				conflict++
			}
		}
	}
	differ = max(a.count, b.count)
	return both > 0 && both*2 >= differ && conflict*4 <= both
}

// columns is what the rows of a table hold in each column.
type columns struct {
	counts [][4]int // by kind, a column
	rows   int
	filled int // cells of all rows
	named  int // columns up to the last that has a heading
}

func (c *columns) add(l *line) {
	for len(c.counts) < len(l.looks) {
		c.counts = append(c.counts, [4]int{})
	}
	for i := range len(l.looks) {
		if l.look(i) != cell.Nothing {
			c.counts[i][kindOf(l.look(i))]++
		}
	}
	c.rows++
	c.filled += l.count
}

// kind returns what a column holds: numbers or dates where they are six of ten
// values or more.
func (c *columns) kind(col int) kind {
	if col >= len(c.counts) {
		return none
	}
	n := c.counts[col]
	all := n[number] + n[temporal] + n[text]
	switch {
	case all == 0:
		return none
	case n[number]*10 >= all*6:
		return number
	case n[temporal]*10 >= all*6:
		return temporal
	case (n[number]+n[temporal])*10 >= all*8:
		return number
	}
	return text
}

// used reports whether a column holds anything.
func (c *columns) used(col int) bool {
	return col < c.named || col < len(c.counts) && c.counts[col] != [4]int{}
}

// mean returns the usual number of cells of a row.
func (c *columns) mean() float64 { return float64(c.filled) / float64(max(c.rows, 1)) }

// against counts how a row stands to the columns of numbers and dates: cells of
// texts there, and cells of numbers and dates.
func (c *columns) against(l *line) (texts, typed int) {
	for i := range min(len(l.looks), len(c.counts)) {
		if c.typed(i) {
			switch kindOf(l.look(i)) {
			case text:
				texts++
			case number, temporal:
				typed++
			}
		}
	}
	return texts, typed
}

// typed reports whether a column holds numbers or dates.
func (c *columns) typed(col int) bool {
	k := c.kind(col)
	return k == number || k == temporal
}

// most reports whether half of so many columns hold numbers or dates.
func (c *columns) most(all int) bool {
	typed := 0
	for i := range c.counts {
		if c.typed(i) {
			typed++
		}
	}
	return 2*typed >= all
}

// fits reports whether a row may be one of the table's rows.
func (c *columns) fits(l *line) bool {
	known := 0
	for i := range len(l.looks) {
		if l.look(i) != cell.Nothing && c.used(i) {
			known++
		}
	}
	if known*2 < l.count {
		return false
	}
	texts, typed := c.against(l)
	mean := c.mean()
	switch {
	case typed > 0:
		return texts <= typed
	case texts > 0:
		return false
	case mean < 1.5:
		return true
	}
	return l.count >= 2 && float64(l.count) >= mean/3
}

// young reports whether too few rows are known to say that a row of about as
// many cells does not fit.
func (c *columns) young(l *line) bool {
	return c.rows < 3 && l.count > 1 && math.Abs(float64(l.count)-c.mean()) < 1
}

// total reports whether a row begins with the word of a total.
func (v *view) total(i int) (strong, maybe bool) {
	l := &v.rows[i]
	return cell.Total(v.text(i, l.first))
}

// running reports whether the numbers of a row count on by one, as headings of
// reps do, or are years that grow or fall, and the first of them.
func (v *view) running(i int) (first int, ok bool) {
	l := &v.rows[i]
	prev, at, n, fell := 0, 0, 0, false
	for c := range len(l.looks) {
		if l.look(c) != cell.Numeric {
			continue
		}
		x := 0
		s := strings.TrimSuffix(strings.TrimFunc(v.text(i, c), cell.IsSpace), ".0")
		for _, r := range s {
			if r < '0' || r > '9' || x > 9999 {
				return 0, false
			}
			x = 10*x + int(r-'0')
		}
		switch {
		case n == 0:
			first = x
		case x == prev+1 || x == prev+c-at:
		case !isYear(prev) || !isYear(x) || x == prev || n > 1 && fell != (x < prev):
			return 0, false
		default:
			fell = x < prev
		}
		prev, at = x, c
		n++
	}
	return first, n >= 3 || n == 2 && isYear(first)
}

func isYear(n int) bool { return n > 1800 && n < 2101 }

// distinct reports whether the row's texts differ from each other.
func (v *view) distinct(i int) bool {
	seen := map[string]bool{}
	for _, t := range v.cells(i) {
		t = fold(t)
		if seen[t] {
			return false
		}
		seen[t] = true
	}
	return true
}

func sortRegions(rs []cell.Region) {
	slices.SortStableFunc(rs, func(a, b cell.Region) int {
		if d := a.Top() - b.Top(); d != 0 {
			return int(d)
		}
		return a.FirstCol - b.FirstCol
	})
}
