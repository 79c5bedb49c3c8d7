package table

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"
	"golang.org/x/text/encoding"
)

var pollution = flag.String("pollution", "", "print what is read wrong under this pollution")

// pollutedTable is a plain table as it is written with one thing wrong.
type pollutedTable struct {
	delimiter, quote, escape, lineEnd string
	all                               bool // all cells in quotes
	encoding                          encoding.Encoding
	above, below                      []string   // lines as written
	headings                          [][]string // nil: none
	between                           []string   // lines below the headings
	rows                              [][]string
	blank                             string         // a line after each row
	raw                               map[int]string // rows written so, whatever their cells
	final                             string         // after the last line, instead of a line end
	tables                            int
	frame                             bool  // a delimiter before and after each row
	pad                               bool  // cells are filled up with blanks
	widths                            []int // of columns, where they are
	quoteHeadings                     bool
	outside                           bool // blanks stand around quoted cells
	unnamed                           bool // rows have one cell more than the headings, first
}

// line writes cells in the table's dialect.
func (p *pollutedTable) line(cells []string) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		c = strings.ReplaceAll(c, "\n", p.lineEnd)
		if p.frame || p.delimiter == "  " {
			out[i] = c
			continue
		}
		if p.all || strings.ContainsAny(c, p.quote+"\r\n") || strings.Contains(c, strings.TrimSpace(p.delimiter)) && strings.TrimSpace(p.delimiter) != "" ||
			strings.Contains(c, p.delimiter) || strings.TrimSpace(c) != c || c == "" && p.delimiter == " " {
			if p.escape == `\` {
				c = strings.ReplaceAll(c, `\`, `\\`)
			}
			c = p.quote + strings.ReplaceAll(c, p.quote, p.escaped()) + p.quote
			if p.outside {
				c = " " + c + " "
			}
		}
		out[i] = c
	}
	if p.pad {
		for i := range out {
			out[i] += strings.Repeat(" ", max(0, p.widths[i]-utf8.RuneCountInString(out[i])))
		}
	}
	if p.frame {
		return "| " + strings.Join(out, " | ") + " |"
	}
	return strings.TrimRight(strings.Join(out, p.delimiter), " ")
}

// measure finds the widths of columns for cells that are filled up; false where
// cells cannot be written so.
func (p *pollutedTable) measure() bool {
	p.widths = make([]int, len(p.rows[0]))
	for _, row := range append(slices.Clone(p.headings), p.rows...) {
		for i, c := range row {
			bare := p.delimiter == "  " && (c == "" || strings.Contains(c, "  ") || strings.ContainsAny(c, "\"'"))
			if bare || strings.Contains(c, "\n") {
				return false
			}
			p.widths[i] = max(p.widths[i], utf8.RuneCountInString(c))
		}
	}
	return true
}

func (p *pollutedTable) escaped() string {
	if p.escape == `\` {
		return `\` + p.quote
	}
	return p.quote + p.quote
}

// padded is a line of one cell with as many delimiters as a row has.
func (p *pollutedTable) padded(s string) string {
	return p.line(append([]string{s}, make([]string, len(p.rows[0])-1)...))
}

func (p *pollutedTable) each(f func([]string) []string) {
	for i := range p.headings {
		p.headings[i] = f(p.headings[i])
	}
	for i := range p.rows {
		p.rows[i] = f(p.rows[i])
	}
}

func (p *pollutedTable) damage(k int, f func(string) string) { p.raw[k] = f(p.line(p.rows[k])) }

// within damages a row in the middle at a delimiter in its middle.
func (p *pollutedTable) within(f func(s string, i int) string) {
	k := len(p.rows) / 2
	p.damage(k, func(s string) string {
		i := strings.Index(s[len(s)/3:], p.delimiter)
		if i < 0 {
			i = strings.Index(s, p.delimiter) - len(s)/3
		}
		if i += len(s) / 3; i < 1 || strings.Contains(s[:i], p.quote) {
			return s
		}
		return f(s, i)
	})
}

// groups puts lines of labels above the headings, one label over two columns.
func (p *pollutedTable) groups(n int) {
	for k := range n {
		labels := make([]string, len(p.headings[len(p.headings)-1]))
		for i := 0; i < len(labels); i += 2 {
			labels[i] = fmt.Sprintf("Group %c%d", 'A'+rune(i/2), k+1)
		}
		p.headings = slices.Insert(p.headings, 0, labels)
	}
}

// written is where things stand in the file.
type written struct {
	content     []byte
	headings    []int32
	first, last int32
}

func (p *pollutedTable) write() (written, bool) {
	var w written
	var b strings.Builder
	line := int32(1)
	put := func(s string) int32 {
		at := line
		b.WriteString(s + p.lineEnd)
		line += 1 + int32(strings.Count(s, p.lineEnd))
		return at
	}
	for _, s := range p.above {
		put(s)
	}
	all := p.all
	p.all = all || p.quoteHeadings
	for _, h := range p.headings {
		w.headings = append(w.headings, put(p.line(h)))
	}
	p.all = all
	for _, s := range p.between {
		put(s)
	}
	for i, row := range p.rows {
		s, ok := p.raw[i]
		if !ok {
			s = p.line(row)
		}
		at := put(s)
		if i == 0 {
			w.first = at
		}
		w.last = line - 1
		if p.blank != "" {
			put("")
		}
	}
	for _, s := range p.below {
		put(s)
	}
	text := strings.TrimSuffix(b.String(), p.lineEnd) + p.final
	if p.encoding == nil {
		w.content = []byte(text)
		return w, true
	}
	content, err := p.encoding.NewEncoder().Bytes([]byte(text))
	w.content = content
	return w, err == nil
}

// score is how often something was right.
type score struct{ n, dialect, heading, first, last, cells int }

// TestPollution reads plain tables of many kinds under one pollution each and
// counts how often the dialect, the headings, the first and the last data row
// and all cells of undamaged rows are right.
func TestPollution(t *testing.T) {
	archive, err := txtar.ParseFile("testdata/plain-tables.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all score
	for _, kind := range pollutions {
		var s score
		for _, file := range archive.Files {
			rows, err := csv.NewReader(bytes.NewReader(file.Data)).ReadAll()
			if err != nil {
				t.Fatal(file.Name, err)
			}
			p := &pollutedTable{delimiter: ",", quote: `"`, escape: `"`, lineEnd: "\n", headings: [][]string{rows[0]}, rows: rows[1:], raw: map[int]string{}, final: "-", tables: 1}
			if kind.do(p); len(rows[0]) == 1 && len(p.above)+len(p.between)+len(p.below) > 0 || len(rows[0]) < 3 && len(p.headings) > 1 {
				continue // what is above or below one column is told by no one
			}
			if p.final == "-" {
				p.final = p.lineEnd
			}
			if p.pad && !p.measure() || p.frame && bytes.ContainsAny(file.Data, "|\"") {
				continue
			}
			w, ok := p.write()
			if !ok {
				continue // not to be written in the encoding
			}
			before := s
			problem := s.read(p, w)
			if s.n-before.n != s.cells-before.cells || problem != "" {
				if *pollution == kind.name || *pollution == "all" {
					t.Logf("%s, %s: %s\n%s", kind.name, file.Name, problem, head(w.content, 600))
				}
			}
		}
		t.Logf("%-36s %3d tables: dialect %3d, headings %3d, first row %3d, last row %3d, cells %3d", kind.name, s.n, s.dialect, s.heading, s.first, s.last, s.cells)
		all.n, all.dialect, all.heading, all.first, all.last, all.cells = all.n+s.n, all.dialect+s.dialect, all.heading+s.heading, all.first+s.first, all.last+s.last, all.cells+s.cells
	}
	for _, x := range []struct {
		what  string
		right int
		least float64
	}{{"dialect", all.dialect, 99.8}, {"headings", all.heading, 97}, {"first row", all.first, 99}, {"last row", all.last, 99.5}, {"cells", all.cells, 99}} {
		share := 100 * float64(x.right) / float64(all.n)
		t.Logf("%d files: %s right in %.2f %%", all.n, x.what, share)
		if share < x.least {
			t.Errorf("%s right in %.2f %%, less than %v %%", x.what, share, x.least)
		}
	}
}

var breaks = strings.NewReplacer("\r\r\n", "\n", "\r\n", "\n", "\r", "\n")

// read reads a polluted table, counts what is right and says what is not.
func (s *score) read(p *pollutedTable, w written) string {
	s.n++
	f, err := Open(fstest.MapFS{"a.csv": {Data: w.content}}, "a.csv", Options{})
	if err != nil {
		return err.Error()
	}
	var problems []string
	check := func(what string, ok bool, count *int, got any) {
		if ok {
			*count++
		} else {
			problems = append(problems, fmt.Sprint(what, " ", got))
		}
	}
	width := len(p.rows0())
	delimiter := f.Delimiter
	switch {
	case f.Padding == "after":
		delimiter += " "
	case delimiter == "blanks" && p.delimiter == "  ":
		delimiter = p.delimiter
	}
	dialect := (delimiter == p.delimiter || width == 1) && (f.Quote == "" || f.Quote == p.quote) && (f.Escape == "" || f.Escape == p.escape || p.escape == `"` && f.Escape == p.quote)
	check("dialect", dialect, &s.dialect, fmt.Sprintf("%q %q %q", f.Delimiter, f.Quote, f.Escape))
	l, err := f.Sheets[0].Layout()
	if err != nil || len(l.Tables) == 0 {
		return fmt.Sprint("no table ", err)
	}
	r := l.Tables[0]
	names := len(p.headings) != 1 || len(r.HeadingRows) != 1 || slices.Equal(trimmed(r.Headings), trimmed(p.named()))
	check("headings", fmt.Sprint(r.HeadingRows) == fmt.Sprint(w.headings) && names, &s.heading, fmt.Sprintf("%v %.60q", r.HeadingRows, r.Headings))
	check("first row", r.FirstData == w.first, &s.first, r.FirstData)
	check("last row", r.LastData == w.last && len(l.Tables) == p.tables, &s.last, fmt.Sprint(r.LastData, " of ", len(l.Tables), " tables"))
	l.Tables = l.Tables[:1]
	var b bytes.Buffer
	if err := WriteCells(&b, f.Sheets[0], l); err != nil {
		return err.Error()
	}
	c := csv.NewReader(strings.NewReader(breaks.Replace(b.String())))
	c.FieldsPerRecord = -1
	got, err := c.ReadAll()
	if err != nil {
		return err.Error()
	}
	if len(r.HeadingRows) > 0 {
		got = got[1:]
	}
	same := len(got) == len(p.rows)
	for i := 0; same && i < len(got); i++ {
		if _, damaged := p.raw[i]; !damaged {
			if p.pad { // blanks within the delimiters belong to the cell
				for c := range got[i] {
					got[i][c] = strings.TrimRight(got[i][c], " ")
				}
			}
			same = slices.Equal(trimmed(got[i]), trimmed(p.rows[i]))
		}
	}
	check("cells", same, &s.cells, len(got))
	return strings.Join(problems, "; ")
}

// named is what the headings of one line are to be read as.
func (p *pollutedTable) named() []string {
	var all []string
	if p.unnamed {
		all = append(all, "")
	}
	for _, h := range p.headings[0] {
		all = append(all, strings.TrimSpace(strings.ReplaceAll(h, "\n", p.lineEnd)))
	}
	return all
}

// rows0 is the first row there is.
func (p *pollutedTable) rows0() []string {
	if len(p.rows) > 0 {
		return p.rows[0]
	}
	return p.headings[0]
}

// trimmed leaves out blank cells at the end.
func trimmed(row []string) []string {
	for len(row) > 0 && row[len(row)-1] == "" {
		row = row[:len(row)-1]
	}
	return row
}
