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

	"github.com/rogpeppe/go-internal/txtar"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
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
}

// pollutions are the kinds of damage that studies of real files name: G.
// Vitagliano et al., Pollock: a data loading benchmark, PVLDB 16 (2023); G. van
// den Burg et al., Wrangling messy CSV files, DMKD 33 (2019).
var pollutions = []struct {
	name string
	do   func(p *pollutedTable)
}{
	{"none", func(p *pollutedTable) {}},
	{"delimiter ;", func(p *pollutedTable) { p.delimiter = ";" }},
	{"delimiter tab", func(p *pollutedTable) { p.delimiter = "\t" }},
	{"delimiter |", func(p *pollutedTable) { p.delimiter = "|" }},
	{"delimiter comma and blank", func(p *pollutedTable) { p.delimiter = ", " }},
	{"delimiter blank", func(p *pollutedTable) { p.delimiter = " " }},
	{"delimiter ^", func(p *pollutedTable) { p.delimiter = "^" }},
	{"quote '", func(p *pollutedTable) { p.quote = "'" }},
	{"all in quotes", func(p *pollutedTable) { p.all = true }},
	{"all in single quotes", func(p *pollutedTable) { p.all, p.quote = true, "'" }},
	{"escape \\", func(p *pollutedTable) { p.escape = `\` }},
	{"line ends CRLF", func(p *pollutedTable) { p.lineEnd = "\r\n" }},
	{"line ends CR", func(p *pollutedTable) { p.lineEnd = "\r" }},
	{"line ends CRCRLF", func(p *pollutedTable) { p.lineEnd = "\r\r\n" }},
	{"no last line end", func(p *pollutedTable) { p.final = "" }},
	{"two last line ends", func(p *pollutedTable) { p.final = "\n\n" }},
	{"blank lines at the end", func(p *pollutedTable) { p.final = "\n\n\n\n\n\n" }},
	{"UTF-8 with mark", func(p *pollutedTable) { p.encoding = unicode.UTF8BOM }},
	{"UTF-16LE with mark", func(p *pollutedTable) { p.encoding = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM) }},
	{"UTF-16LE", func(p *pollutedTable) { p.encoding = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM) }},
	{"UTF-16BE", func(p *pollutedTable) { p.encoding = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM) }},
	{"Windows-1252", func(p *pollutedTable) { p.encoding = charmap.Windows1252 }},
	{"Windows-1250", func(p *pollutedTable) { p.encoding = charmap.Windows1250 }},
	{"Windows-1251", func(p *pollutedTable) { p.encoding = charmap.Windows1251 }},
	{"Mac Roman", func(p *pollutedTable) { p.encoding = charmap.Macintosh }},
	{"DOS 850", func(p *pollutedTable) { p.encoding = charmap.CodePage850 }},
	{"no headings", func(p *pollutedTable) { p.headings = nil }},
	{"headings twice", func(p *pollutedTable) {
		p.below = []string{""}
		p.below = nil
		p.between = []string{p.line(p.headings[0])}
	}},
	{"headings only", func(p *pollutedTable) { p.rows = nil }},
	{"one row", func(p *pollutedTable) { p.rows = p.rows[:1] }},
	{"two rows", func(p *pollutedTable) { p.rows = p.rows[:2] }},
	{"an empty heading", func(p *pollutedTable) { p.headings[0][len(p.headings[0])/2] = "" }},
	{"two headings alike", func(p *pollutedTable) { h := p.headings[0]; h[len(h)-1] = h[0] }},
	{"all headings empty but one", func(p *pollutedTable) {
		for i := range p.headings[0][1:] {
			p.headings[0][i+1] = ""
		}
	}},
	{"headings of two lines", func(p *pollutedTable) { p.groups(1) }},
	{"headings of three lines", func(p *pollutedTable) { p.groups(2) }},
	{"a title", func(p *pollutedTable) { p.above = []string{"Yearly overview of the council"} }},
	{"a title and a blank line", func(p *pollutedTable) { p.above = []string{"Yearly overview of the council", ""} }},
	{"preamble", func(p *pollutedTable) {
		p.above = []string{"Yearly overview", "Office of numbers, second floor", "Created: 2024-05-01 10:12", ""}
	}},
	{"names and values above", func(p *pollutedTable) {
		p.above = []string{p.line([]string{"Exported by", "A. Clerk"}), p.line([]string{"Version", "2.1"}), p.line([]string{"Date", "2024-05-01"}), ""}
	}},
	{"padded preamble", func(p *pollutedTable) {
		p.above = []string{p.padded("Yearly overview"), p.padded("Source: council"), p.padded("")}
	}},
	{"comments above", func(p *pollutedTable) { p.above = []string{"# exported by a logger", "# version: 3"} }},
	{"blank lines above", func(p *pollutedTable) { p.above = []string{"", ""} }},
	{"sep=", func(p *pollutedTable) { p.delimiter = ";"; p.above = []string{"sep=;"} }},
	{"note below", func(p *pollutedTable) { p.below = []string{"", "Source: council, 2024"} }},
	{"note right below", func(p *pollutedTable) { p.below = []string{"Source: council 2024"} }},
	{"padded note below", func(p *pollutedTable) {
		p.below = []string{p.padded("* provisional figures; see the report for details")}
	}},
	{"total below", func(p *pollutedTable) { p.below = []string{p.padded("Total")} }},
	{"blank line below headings", func(p *pollutedTable) { p.between = []string{""} }},
	{"rule below headings", func(p *pollutedTable) {
		p.between = []string{p.line(slices.Repeat([]string{"-----"}, len(p.rows[0])))}
	}},
	{"blank line after each row", func(p *pollutedTable) { p.blank = "\n" }},
	{"rows of delimiters", func(p *pollutedTable) { p.below = []string{p.padded(""), p.padded("")} }},
	{"delimiter at the end of all lines", func(p *pollutedTable) { p.each(func(row []string) []string { return append(row, "") }) }},
	{"delimiter at the end of rows", func(p *pollutedTable) {
		for i := range p.rows {
			p.rows[i] = append(p.rows[i], "")
		}
	}},
	{"empty first column", func(p *pollutedTable) { p.each(func(row []string) []string { return append([]string{""}, row...) }) }},
	{"empty column within", func(p *pollutedTable) {
		p.each(func(row []string) []string { return slices.Insert(row, (len(row)+1)/2, "") })
	}},
	{"cut last row", func(p *pollutedTable) { p.damage(len(p.rows)-1, func(s string) string { return s[:len(s)/2] }) }},
	{"delimiter too many", func(p *pollutedTable) { p.within(func(s string, i int) string { return s[:i] + p.delimiter + s[i:] }) }},
	{"delimiter missing", func(p *pollutedTable) { p.within(func(s string, i int) string { return s[:i] + s[i+1:] }) }},
	{"quote too many", func(p *pollutedTable) { p.within(func(s string, i int) string { return s[:i+1] + p.quote + s[i+1:] }) }},
	{"quote in a cell", func(p *pollutedTable) { p.within(func(s string, i int) string { return s[:i-1] + p.quote + s[i-1:] }) }},
	{"row of other delimiters", func(p *pollutedTable) {
		p.damage(len(p.rows)/2, func(s string) string { return strings.ReplaceAll(s, p.delimiter, ";") })
	}},
	{"two rows in one line", func(p *pollutedTable) {
		k := len(p.rows) / 2
		if k+1 < len(p.rows) {
			p.raw[k] = p.line(p.rows[k]) + p.line(p.rows[k+1])
			p.rows = slices.Delete(p.rows, k+1, k+2)
		}
	}},
	{"a long cell", func(p *pollutedTable) {
		r := p.rows[len(p.rows)/2]
		r[len(r)-1] = strings.Repeat("long words ", 800) + "end"
	}},
	{"a cell of lines", func(p *pollutedTable) { r := p.rows[len(p.rows)/2]; r[len(r)-1] += "\nsecond line\nthird line" }},
	{"unescaped quotes", func(p *pollutedTable) {
		k := len(p.rows) / 2
		r := p.rows[k]
		r[len(r)-1] = `so "they" say`
		p.damage(k, func(s string) string { return strings.ReplaceAll(s, `so ""they"" say`, `so "they" say`) })
	}},
	{"another table below", func(p *pollutedTable) {
		p.tables = 2
		p.below = []string{"", p.line([]string{"Kind", "Number"}), p.line([]string{"red", "12"}), p.line([]string{"blue", "7"}), p.line([]string{"grey", "31"})}
	}},
}

// line writes cells in the table's dialect.
func (p *pollutedTable) line(cells []string) string {
	out := make([]string, len(cells))
	for i, c := range cells {
		c = strings.ReplaceAll(c, "\n", p.lineEnd)
		if p.all || strings.ContainsAny(c, p.quote+"\r\n") || strings.Contains(c, strings.TrimSpace(p.delimiter)) && strings.TrimSpace(p.delimiter) != "" ||
			strings.Contains(c, p.delimiter) || strings.TrimSpace(c) != c || c == "" && p.delimiter == " " {
			if p.escape == `\` {
				c = strings.ReplaceAll(c, `\`, `\\`)
			}
			c = p.quote + strings.ReplaceAll(c, p.quote, p.escaped()) + p.quote
		}
		out[i] = c
	}
	return strings.Join(out, p.delimiter)
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
	for _, h := range p.headings {
		w.headings = append(w.headings, put(p.line(h)))
	}
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
	if f.Padding == "after" {
		delimiter += " "
	}
	dialect := (delimiter == p.delimiter || width == 1) && (f.Quote == "" || f.Quote == p.quote) && (f.Escape == "" || f.Escape == p.escape || p.escape == `"` && f.Escape == p.quote)
	check("dialect", dialect, &s.dialect, fmt.Sprintf("%q %q %q", f.Delimiter, f.Quote, f.Escape))
	l, err := f.Sheets[0].Layout()
	if err != nil || len(l.Tables) == 0 {
		return fmt.Sprint("no table ", err)
	}
	r := l.Tables[0]
	check("headings", fmt.Sprint(r.HeadingRows) == fmt.Sprint(w.headings), &s.heading, r.HeadingRows)
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
			same = slices.Equal(trimmed(got[i]), trimmed(p.rows[i]))
		}
	}
	check("cells", same, &s.cells, len(got))
	return strings.Join(problems, "; ")
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
