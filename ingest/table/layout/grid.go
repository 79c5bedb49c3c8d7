package layout

import (
	"hash/maphash"
	"strings"
	"unicode"

	"repsift/ingest/table/cell"
)

// Bounds on what is kept of a sheet.
const (
	keptColumns = 512      // looks and texts of a row, once the budget is spent
	keptText    = 32 << 20 // bytes of looks and texts of all rows
	keptFirst   = 200      // rows whose texts are kept in any case
	keptCell    = 300      // bytes of one text
)

// grid is what is kept of a sheet: its rows that are not blank.
type grid struct {
	text   bool
	rows   rows
	texts  [][]string // of the rows whose texts are kept
	looks  []string   // of rows, each different one once
	ids    map[string]uint32
	seed   maphash.Seed
	budget int
	read   int // rows, blank ones too
	hidden int
	broken int
	other  []int32 // rows read by another delimiter
	pairs  bool    // each row is a name and its value

	rowNames bool // rows have a name that no heading stands over
	buf      []byte
	whole    []byte // texts of the row, to be hashed
	last     []seen // of the row above, by column: values repeat down the page
	above    uint32 // pattern of the row above
}

// seen is a text and what it looks like.
type seen struct {
	text string
	look cell.Look
}

// row is what is kept of a row. It has no pointers, so that the many rows of a
// long table are nothing to the garbage collector.
type row struct {
	hash    uint64
	line    int32
	end     int32  // its last line
	width   int32  // cells as written, of a text
	pattern uint32 // its looks in the grid
	kept    int32  // its texts in the grid; -1: not kept
	flags   flags
}

// rows are kept in pieces, so that they are not copied as they become more.
type rows struct {
	pieces [][]row
	n      int
}

const pieceRows = 1 << 10

func (r *rows) len() int { return r.n }

func (r *rows) at(i int) *row { return &r.pieces[i/pieceRows][i%pieceRows] }

func (r *rows) add(next row) {
	at := r.n / pieceRows
	if at == len(r.pieces) {
		r.pieces = append(r.pieces, nil)
		if at > 0 { // most sheets are short: the first grows
			r.pieces[at] = make([]row, pieceRows)
		}
	}
	if at == 0 {
		r.pieces[0] = append(r.pieces[0], next)
	} else {
		r.pieces[at][r.n%pieceRows] = next
	}
	r.n++
}

type flags uint8

const (
	broken  flags = 1 << iota
	comment       // begins with #
	merged        // has cells of a range merged across columns
	spread        // likewise, and the range is all the row has
	ruled         // a line drawn with signs, or one about the table: no row of it
)

func newGrid(text bool) *grid {
	return &grid{text: text, ids: map[string]uint32{}, seed: maphash.MakeSeed(), budget: keptText}
}

// add takes in the next row; one of front matter counts as a comment.
func (g *grid) add(r *cell.Row, front bool) {
	g.read++
	if r.Hidden {
		g.hidden++
	}
	if r.Err != nil {
		g.broken++
	}
	if r.Other {
		g.other = append(g.other, r.Line)
	}
	g.buf, g.whole = g.buf[:0], g.whole[:0]
	kept := row{line: r.Line, end: r.Line + r.Lines - 1, width: int32(len(r.Cells)), kept: -1}
	used, typed, filled, values := 0, 0, 0, 0
	most := len(r.Cells)
	if g.budget <= 0 {
		most = min(most, keptColumns)
	}
	size := 0
	for i := range r.Cells {
		c := &r.Cells[i]
		look := cell.Nothing
		if i < most {
			look = g.look(c, i)
		} else if !c.Blank() {
			look = cell.Words
		}
		if c.Merged && i > 0 && r.Cells[i-1].Text == c.Text {
			kept.flags |= merged
			look = cell.Nothing // across: the range is one cell
			filled++
		}
		if look != cell.Nothing {
			used = i + 1
			values++
			g.whole = append(append(g.whole, c.Text...), byte(i))
			size += min(len(c.Text), keptCell) + 16
		}
		if look.Typed() {
			typed++
		}
		if i < most {
			g.buf = append(g.buf, byte(look))
		}
	}
	if used == 0 {
		return
	}
	if values == 1 && filled > 0 {
		kept.flags |= spread
	}
	if r.Err != nil {
		kept.flags |= broken
	}
	if first := firstText(r); front || isComment(first, values) || values == 1 && isPage(first) {
		kept.flags |= comment
	}
	if typed == 0 && isRule(r) {
		kept.flags |= ruled
	}
	kept.hash = maphash.Bytes(g.seed, g.whole)
	kept.pattern = g.intern(g.buf[:min(used, len(g.buf))])
	if g.budget > 0 && (g.rows.len() < keptFirst || typed*2 <= values) {
		g.budget -= size
		kept.kept = int32(len(g.texts))
		g.texts = append(g.texts, textsOf(r.Cells[:most]))
	}
	g.rows.add(kept)
}

// textsOf returns copies of the texts of cells, one string for all of them.
func textsOf(cells []cell.Cell) []string {
	size := 0
	for i := range cells {
		size += min(len(cells[i].Text), keptCell)
	}
	var all strings.Builder
	all.Grow(size)
	for i := range cells {
		all.WriteString(cells[i].Text[:min(len(cells[i].Text), keptCell)])
	}
	texts, rest := make([]string, len(cells)), all.String()
	for i := range cells {
		n := min(len(cells[i].Text), keptCell)
		texts[i], rest = rest[:n], rest[n:]
	}
	return texts
}

// textsOf returns the texts of a row; nil where they were not kept.
func (g *grid) textsOf(r *row) []string {
	if r.kept < 0 {
		return nil
	}
	return g.texts[r.kept]
}

// isComment reports whether a row that begins with a text is a comment: by #,
// or, where it has nothing else, by one of the other usual signs.
func isComment(first string, values int) bool {
	if first == "" || first[0] >= '0' && first[0] <= '9' {
		return false
	}
	if first[0] == '#' {
		return len(first) > 1 && (first[1] < '0' || first[1] > '9')
	}
	for _, sign := range [...]string{"//", "%", "--", "!", ";"} {
		if rest, ok := strings.CutPrefix(first, sign); ok && values == 1 {
			return strings.HasPrefix(rest, " ") || sign != "!" && rest != "" && unicode.IsLetter(rune(rest[0]))
		}
	}
	return false
}

// look returns what a cell of a column looks like.
func (g *grid) look(c *cell.Cell, col int) cell.Look {
	if c.Kind != cell.Text {
		return cell.Of(c)
	}
	if n := len(c.Text); n > 0 && n <= len("1234.567") && c.Text[0] >= '0' && c.Text[0] <= '9' {
		return cell.OfText(c.Text) // sooner done than remembered
	}
	for len(g.last) <= col {
		g.last = append(g.last, seen{})
	}
	l := &g.last[col]
	if l.text != c.Text {
		*l = seen{c.Text, cell.OfText(c.Text)}
	}
	return l.look
}

func firstText(r *cell.Row) string {
	for i := range r.Cells {
		if !r.Cells[i].Blank() {
			return strings.TrimLeftFunc(r.Cells[i].Text, cell.IsSpace)
		}
	}
	return ""
}

// annotated finds the rows at the top that describe the table below: each begins
// with # or #name in a first column that is blank below.
func (g *grid) annotated() {
	n := 0
	for ; n < g.rows.len(); n++ {
		if t := g.textsOf(g.rows.at(n)); len(t) < 2 || !strings.HasPrefix(t[0], "#") {
			break
		}
	}
	if n < 2 || n == g.rows.len() {
		return
	}
	if t := g.textsOf(g.rows.at(n)); len(t) < 2 || t[0] != "" {
		return
	}
	for i := range n {
		g.rows.at(i).flags |= ruled
	}
}

func (g *grid) intern(looks []byte) uint32 {
	if len(g.looks) > 0 && g.looks[g.above] == string(looks) {
		return g.above
	}
	id, ok := g.ids[string(looks)]
	if !ok {
		id = uint32(len(g.looks))
		s := string(looks)
		g.looks = append(g.looks, s)
		g.ids[s] = id
		g.budget -= len(s)
	}
	g.above = id
	return id
}

// Tables side by side: how many columns' groups there may be, and rows that are
// looked at for their headings.
const (
	mostApart = 64
	apartRows = 400
)

// span is a range of columns, both included.
type span struct{ first, last int }

// spans returns the columns of tables that stand side by side; one span where
// there is nothing to part.
func (g *grid) spans() []span {
	width := 0
	for _, l := range g.looks {
		width = max(width, len(l))
	}
	written := width                   // blank cells at the end of all rows of a text are columns, too
	rows := make([]bool, len(g.looks)) // looks that rows have that are no titles
	for i := range g.rows.len() {
		r := g.rows.at(i)
		if g.text {
			written = max(written, int(r.width))
		}
		rows[r.pattern] = rows[r.pattern] || r.flags&spread == 0
	}
	used := make([]bool, width)
	for form, looks := range g.looks {
		if !rows[form] || len(strings.Trim(looks, "\x00")) == 1 {
			continue // titles stand anywhere
		}
		for i := range len(looks) {
			used[i] = used[i] || looks[i] != byte(cell.Nothing)
		}
	}
	whole := []span{{0, max(written-1, 0)}}
	var all []span
	for i := 0; i < width; i++ {
		if !used[i] {
			continue
		}
		if n := len(all); n > 0 && all[n-1].last == i-1 {
			all[n-1].last = i
		} else {
			all = append(all, span{i, i})
		}
	}
	if len(all) < 2 || len(all) > mostApart {
		return whole
	}
	out := []span{all[0]}
	for _, s := range all[1:] {
		prev := &out[len(out)-1]
		if g.apart(*prev, s) {
			out = append(out, s)
		} else {
			prev.last = s.last
		}
	}
	if len(out) == 1 {
		return whole
	}
	out[0].first = 0
	out[len(out)-1].last = width - 1
	return out
}

// apart reports whether the columns of two spans are tables of their own: each
// begins with a row of texts, and half of the texts are the same, or one ends
// three or more rows before the other.
func (g *grid) apart(a, b span) bool {
	top := min(g.rows.len(), apartRows)
	x, y := g.view(a, top).firstTable(), g.view(b, top).firstTable()
	if x == nil || y == nil {
		return false
	}
	names := map[string]bool{}
	for _, h := range x.Headings {
		names[fold(h)] = true
	}
	same, all := 0, 0
	for _, h := range y.Headings {
		if h == "" {
			continue
		}
		all++
		if names[fold(h)] {
			same++
		}
	}
	if all > 0 && same*2 >= all {
		return true
	}
	if x.HeadingRows[0] != y.HeadingRows[0] {
		return true
	}
	ta, tb := g.view(a, g.rows.len()).tables(), g.view(b, g.rows.len()).tables()
	lastA, lastB := ta[len(ta)-1].LastData, tb[len(tb)-1].LastData
	return max(lastA-lastB, lastB-lastA) >= 3
}

// firstTable returns the first table of a view, if it has headings and data.
func (v *view) firstTable() *cell.Region {
	all := v.tables()
	if len(all) == 0 || len(all[0].HeadingRows) == 0 || all[0].FirstData == 0 {
		return nil
	}
	return &all[0]
}

func fold(s string) string { return strings.ToLower(strings.TrimFunc(s, cell.IsSpace)) }
