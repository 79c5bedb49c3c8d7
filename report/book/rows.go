package book

import (
	"bufio"
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"repsift/report/tidy"
)

// rows are the rows of a long sheet from the second on. They are put into the
// sheet as it is packed, as the library's stream writer would have written them;
// a test holds them to it. It takes three times as long over them.
type rows struct {
	ctx    context.Context
	t      *table
	styles []int // a column each
}

// rowsHere stands in the second row of a long sheet until it is packed.
const rowsHere = "rows"

// place is where a sheet's rows go.
var place = []byte(`<row r="2"><c r="A2" t="inlineStr"><is><t>` + rowsHere + `</t></is></c></row>`)

// into writes the sheet with the rows in their place.
func (r rows) into(w io.Writer, sheet []byte) error {
	before, after, _ := bytes.Cut(sheet, place)
	out := bufio.NewWriterSize(w, 1<<16)
	out.Write(before)
	var cells []tidy.Cell
	var line []byte
	columns := make([]sheetColumn, len(r.t.columns))
	for c := range columns {
		name, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		columns[c] = sheetColumn{start: `<c r="` + name, style: `"`}
		if r.styles[c] != 0 {
			columns[c].style = `" s="` + strconv.Itoa(r.styles[c]) + `"`
		}
	}
	for i := range r.t.rows {
		if i%1024 == 0 && r.ctx.Err() != nil {
			return r.ctx.Err()
		}
		cells = r.t.cells(cells, i)
		number := strconv.AppendInt(nil, int64(i+2), 10)
		line = append(append(append(line[:0], `<row r="`...), number...), `">`...)
		for c := range cells {
			line = append(append(line, columns[c].start...), number...)
			line = columns[c].cell(append(line, columns[c].style...), &cells[c])
		}
		out.Write(append(line, `</row>`...))
	}
	out.Write(after)
	return out.Flush()
}

// sheetColumn is what the cells of a column have in common, and its last text,
// which often stands in the next row too.
type sheetColumn struct {
	start, style string
	text         string
	written      []byte
}

// cell adds what follows the place and style of a cell.
func (c *sheetColumn) cell(b []byte, v *tidy.Cell) []byte {
	switch v.Kind {
	case tidy.Words:
		if c.written == nil || v.Text != c.text {
			c.text, c.written = v.Text, appendText(c.written[:0], text(v.Text))
		}
		return append(b, c.written...)
	case tidy.Number:
		return appendFloat(b, v.Float)
	case tidy.Whole:
		return append(strconv.AppendInt(append(b, `><v>`...), v.Int, 10), `</v></c>`...)
	case tidy.Date:
		return append(strconv.AppendInt(append(b, `><v>`...), v.Int+epoch, 10), `</v></c>`...)
	case tidy.Moment:
		return appendFloat(b, float64(v.Int)/86_400_000+epoch)
	case tidy.Truth:
		return append(strconv.AppendInt(append(b, ` t="b"><v>`...), v.Int, 10), `</v></c>`...)
	}
	return append(b, `></c>`...)
}

func appendText(b []byte, s string) []byte {
	b = append(b, ` t="inlineStr"><is><t`...)
	if s != strings.Trim(s, "\t\n\r ") {
		b = append(b, ` xml:space="preserve"`...)
	}
	b = append(b, '>')
	if strings.ContainsAny(s, "\"'&<>\t\n\r_") {
		var escaped strings.Builder
		xml.EscapeText(&escaped, []byte(s)) // a builder takes everything
		s = unescapable(strings.ReplaceAll(escaped.String(), "&#xA;", "\n"))
	}
	return append(append(b, s...), `</t></is></c>`...)
}

// escape is how the format writes a sign that XML does not know.
var escape = regexp.MustCompile(`^_x[0-9a-fA-F]{4}_`)

// unescapable writes the underscore of what would be taken for an escaped sign
// as one.
func unescapable(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		if s[i] == '_' && escape.MatchString(s[i:min(i+7, len(s))]) {
			b.WriteString("_x005F")
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// digits is how many a spreadsheet keeps of a number.
const digits = 15

// appendFloat adds a number, cut after the digits that count.
func appendFloat(b []byte, x float64) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return appendText(b, strconv.FormatFloat(x, 'g', -1, 64))
	}
	b = append(b, `><v>`...)
	at := len(b)
	b = strconv.AppendFloat(b, x, 'f', -1, 64)
	n, point := 0, -1
	for i := at; i < len(b); i++ {
		switch d := b[i]; {
		case d == '.':
			point = i
		case d == '-' || n == 0 && d == '0':
		case n == digits && point >= 0:
			b = bytes.TrimSuffix(b[:i], []byte("."))
		case n == digits:
			b[i] = '0'
		default:
			n++
		}
	}
	return append(b, `</v></c>`...)
}
