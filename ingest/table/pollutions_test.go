package table

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

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
	{"delimiter ~", func(p *pollutedTable) { p.delimiter = "~" }},
	{"delimiter 0x01", func(p *pollutedTable) { p.delimiter = "\x01" }},
	{"delimiter ||", func(p *pollutedTable) { p.delimiter = "||" }},
	{"drawn with bars", func(p *pollutedTable) {
		p.delimiter, p.quote, p.frame = "|", "", true
		p.between = []string{p.line(slices.Repeat([]string{"---"}, len(p.rows[0])))}
	}},
	{"padded with blanks", func(p *pollutedTable) { p.pad = true; p.delimiter = ";" }},
	{"lined up with blanks", func(p *pollutedTable) { p.pad, p.delimiter = true, "  " }},
	{"headings in quotes", func(p *pollutedTable) { p.quoteHeadings = true }},
	{"blanks outside quotes", func(p *pollutedTable) { p.outside = true }},
	{"NUL at the end of a row", func(p *pollutedTable) { p.damage(len(p.rows)/2, func(s string) string { return s + "\x00" }) }},
	{"front matter", func(p *pollutedTable) {
		p.above = []string{"---", "name: overview", "fields:", "- name: first", "  type: string", "---"}
	}},
	{"comments by //", func(p *pollutedTable) { p.above = []string{"// exported by a logger", "// version: 3"} }},
	{"comments by %", func(p *pollutedTable) { p.above = []string{"% exported by a logger", "% version: 3"} }},
	{"a title in capitals, padded", func(p *pollutedTable) {
		p.above = []string{p.padded("YEARLY OVERVIEW"), p.padded(""), p.padded("Table 2.1"), p.padded("")}
	}},
	{"sentences with delimiters above", func(p *pollutedTable) {
		p.delimiter = ";"
		p.above = []string{"This file, made on 1 May 2024, holds data, notes and totals", "Contact: a, b, c, d", ""}
	}},
	{"a long preamble", func(p *pollutedTable) {
		for i := range 14 {
			p.above = append(p.above, p.line([]string{fmt.Sprintf("Note %d on how the figures were gathered, rounded and checked by the office", i+1)}))
		}
		p.above = append(p.above, "")
	}},
	{"names of rows", func(p *pollutedTable) {
		for i := range p.rows {
			p.rows[i] = append([]string{fmt.Sprint(i + 1)}, p.rows[i]...)
		}
		p.unnamed = true
	}},
	{"numbers of rows, no heading", func(p *pollutedTable) {
		n := 0
		p.each(func(row []string) []string {
			n++
			if n == 1 {
				return append([]string{""}, row...)
			}
			return append([]string{fmt.Sprint(n - 2)}, row...)
		})
	}},
	{"headings V1, V2", func(p *pollutedTable) {
		for i := range p.headings[0] {
			p.headings[0][i] = fmt.Sprintf("V%d", i+1)
		}
	}},
	{"headings of lines", func(p *pollutedTable) {
		for i := range p.headings[0] {
			p.headings[0][i] += "\n(note)"
		}
	}},
	{"blank columns at the end", func(p *pollutedTable) { p.each(func(row []string) []string { return append(row, "", "", "", "") }) }},
	{"page numbers", func(p *pollutedTable) {
		k := len(p.rows) / 2
		p.damage(k, func(s string) string { return "\nPage 2\n" + p.line(p.headings[0]) + "\n" + s })
	}},
	{"END below", func(p *pollutedTable) { p.below = []string{"END"} }},
	{"count of rows below", func(p *pollutedTable) { p.below = []string{fmt.Sprintf("(%d rows)", len(p.rows))} }},
	{"grand total below", func(p *pollutedTable) { p.below = []string{"", p.padded("Grand Total")} }},
	{"notes below", func(p *pollutedTable) {
		p.below = []string{"", "Notes:", "(1) without the islands", "Last updated 2024-05-04", "© 2024 Office"}
	}},
	{"another table below", func(p *pollutedTable) {
		p.tables = 2
		p.below = []string{"", p.line([]string{"Kind", "Number"}), p.line([]string{"red", "12"}), p.line([]string{"blue", "7"}), p.line([]string{"grey", "31"})}
	}},
}
