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
	rows   []row
	looks  []string // of rows, each different one once
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
	last     []seen // of the row above, by column: values repeat down the page
}

// seen is a text and what it looks like.
type seen struct {
	text string
	look cell.Look
}

// row is what is kept of a row.
type row struct {
	line  int32
	end   int32 // its last line
	width int32 // cells as written, of a text
	looks uint32
	hash  uint64
	texts []string // nil: not kept
	flags flags
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
	var h maphash.Hash
	h.SetSeed(g.seed)
	g.buf = g.buf[:0]
	kept := row{line: r.Line, end: r.Line + r.Lines - 1, width: int32(len(r.Cells))}
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
			h.WriteString(c.Text)
			h.WriteByte(byte(i))
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
	kept.hash = h.Sum64()
	kept.looks = g.intern(g.buf[:min(used, len(g.buf))])
	if g.budget > 0 && (len(g.rows) < keptFirst || typed*2 <= values) {
		g.budget -= size
		kept.texts = make([]string, most)
		for i := range kept.texts {
			kept.texts[i] = strings.Clone(r.Cells[i].Text[:min(len(r.Cells[i].Text), keptCell)])
		}
	}
	g.rows = append(g.rows, kept)
}

// isComment reports whether a row that begins with a text is a comment: by #,
// or, where it has nothing else, by one of the other usual signs.
func isComment(first string, values int) bool {
	if strings.HasPrefix(first, "#") {
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
	for n < len(g.rows) && len(g.rows[n].texts) > 1 && strings.HasPrefix(g.rows[n].texts[0], "#") {
		n++
	}
	if n < 2 || n == len(g.rows) || len(g.rows[n].texts) < 2 || g.rows[n].texts[0] != "" {
		return
	}
	for i := range n {
		g.rows[i].flags |= ruled
	}
}

func (g *grid) intern(looks []byte) uint32 {
	if id, ok := g.ids[string(looks)]; ok {
		return id
	}
	id := uint32(len(g.looks))
	s := string(looks)
	g.looks = append(g.looks, s)
	g.ids[s] = id
	g.budget -= len(s)
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
	written := width // blank cells at the end of all rows of a text are columns, too
	if g.text {
		for i := range g.rows {
			written = max(written, int(g.rows[i].width))
		}
	}
	whole := []span{{0, max(written-1, 0)}}
	used := make([]bool, width)
	for _, r := range g.rows {
		looks := g.looks[r.looks]
		if r.flags&spread != 0 || strings.Trim(looks, "\x00") != "" && len(strings.Trim(looks, "\x00")) == 1 {
			continue // titles stand anywhere
		}
		for i := range len(looks) {
			if looks[i] != byte(cell.Nothing) {
				used[i] = true
			}
		}
	}
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
	top := min(len(g.rows), apartRows)
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
	ta, tb := g.view(a, len(g.rows)).tables(), g.view(b, len(g.rows)).tables()
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
