package table

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// TestDialects writes random tables in random dialects and encodings and reads
// them back: the delimiter, the heading, the first and last row of data and
// every cell have to be right. The writer knows nothing of the reader.
func TestDialects(t *testing.T) {
	const files = 600
	wrong := map[string]int{}
	shown := 0
	for seed := range uint64(files) {
		w := newWriter(seed)
		content := w.file()
		if problem := w.check(content); problem != "" {
			wrong[problem]++
			if shown++; shown <= 8 || testing.Verbose() && shown < 400 {
				t.Logf("file %d: %s %s: %+v\n%s", seed, problem, w.note, w.dialect, head(content, 500))
			}
		}
	}
	n := 0
	for _, k := range wrong {
		n += k
	}
	t.Logf("%d of %d files read wrong: %v", n, files, wrong)
	// One accented word in a whole file does not always tell an encoding.
	if e := wrong["encoding"]; e*200 > files || (n-e)*1000 > files*2 {
		t.Errorf("%d encodings wrong, more than 0.5 %%, or %d other things, more than 0.2 %%", e, n-e)
	}
}

func head(b []byte, n int) []byte { return b[:min(n, len(b))] }

type dialect struct {
	delimiter string
	quote     string
	backslash bool
	all       bool // all cells in quotes
	lineEnd   string
	decimal   string
	encoding  string
	heading   bool
	preamble  int
	footer    bool
}

type writer struct {
	note     string // what is wrong
	language int
	*rand.Rand
	dialect
	rows    [][]string // headings first, if there are any
	skipped int        // lines before them
	lines   []int      // of each row
	kinds   []int
}

func newWriter(seed uint64) *writer {
	w := &writer{Rand: rand.New(rand.NewPCG(seed, 7))}
	pick := func(all ...string) string { return all[w.IntN(len(all))] }
	w.delimiter = pick(",", ",", ";", ";", "\t", "|", ",", ";", "\t", " ", ":", "^", "~")
	w.quote = pick(`"`, `"`, `"`, `'`)
	w.backslash = w.IntN(6) == 0
	w.all = w.IntN(5) == 0
	w.lineEnd = pick("\n", "\n", "\r\n", "\r\n", "\r")
	w.decimal = "."
	if w.delimiter != "," && w.IntN(2) == 0 {
		w.decimal = ","
	}
	w.encoding = pick("utf-8", "utf-8", "utf-8", "utf-8-bom", "utf-16le-bom", "windows-1252", "windows-1250", "macintosh")
	w.language = w.IntN(10)
	w.heading = w.IntN(8) != 0
	if w.IntN(4) == 0 {
		w.preamble = 1 + w.IntN(4)
	}
	w.footer = w.IntN(6) == 0
	return w
}

// spoken are words of languages that are written in an encoding.
var spoken = map[string][]string{
	"utf-8": {"Übung größe Łukasz śnieg año jalapeño søndag присед жим"},
	"windows-1252": {"Übung Größe Kniebeuge Bankdrücken müde Straße", "élève près séance répétition côté François ça",
		"señal años sentadilla rápido después Peña", "søndag kør træning løft vægt håndled", "não agachamento peso mínimo série três"},
	"windows-1250": {"przysiad ćwiczenie prędkość ciężar wyciskanie Łukasz wójcik śmiga żółty ręka", "dřep síla čas rychlost tlak Jiří Dvořák úterý"},
	"macintosh":    {"Übung Größe Kniebeuge Bankdrücken müde", "sentadilla rápido años señal", "élève près séance répétition côté"},
}

func (w *writer) word() string {
	if w.IntN(3) == 0 {
		all := spoken[w.encoding]
		if all == nil {
			all = spoken["utf-8"]
		}
		list := strings.Fields(all[w.language%len(all)])
		return list[w.IntN(len(list))]
	}
	var b strings.Builder
	for range 3 + w.IntN(6) {
		b.WriteByte("aeioubdfgklmnprstv"[w.IntN(18)])
	}
	return b.String()
}

func (w *writer) words(n int) string {
	s := w.word()
	for range n - 1 {
		s += " " + w.word()
	}
	return s
}

// value makes a cell of a kind.
func (w *writer) value(kind int) string {
	if w.IntN(20) == 0 {
		return ""
	}
	number := func(x float64, digits int) string {
		return strings.Replace(strconv.FormatFloat(x, 'f', digits, 64), ".", w.decimal, 1)
	}
	switch kind {
	case 0:
		return strconv.Itoa(w.IntN(300))
	case 1:
		return number(w.Float64(), 2+w.IntN(2))
	case 2:
		return number(float64(w.IntN(120))*2.5, 1)
	case 3:
		return fmt.Sprintf("2026-%02d-%02d", 1+w.IntN(12), 1+w.IntN(28))
	case 4:
		return fmt.Sprintf("%02d.%02d.2026", 1+w.IntN(28), 1+w.IntN(12))
	case 5:
		return fmt.Sprintf("%02d:%02d:%02d", w.IntN(24), w.IntN(60), w.IntN(60))
	case 6:
		return w.word() + " " + w.word()
	case 7:
		return []string{"squat", "bench press", "deadlift"}[w.IntN(3)]
	case 8: // a remark
		s := w.words(2 + w.IntN(5))
		switch w.IntN(6) {
		case 0:
			s += ", " + w.words(2)
		case 1:
			s += " " + w.quote + w.word() + w.quote + " " + w.word()
		case 2:
			s += "\n" + w.words(3)
		case 3:
			s += "; " + w.word()
		}
		return s
	}
	return number(w.Float64()*2-1, 4) + " m/s"
}

// cell writes a cell, in quotes where it has to be.
func (w *writer) cell(s string) string {
	if !w.all && !strings.ContainsAny(s, w.delimiter+w.quote+"\r\n") && s == strings.TrimSpace(s) {
		return s
	}
	q := w.quote
	if w.backslash {
		s = strings.NewReplacer(`\`, `\\`, q, `\`+q).Replace(s)
	} else {
		s = strings.ReplaceAll(s, q, q+q)
	}
	return q + s + q
}

func (w *writer) file() []byte {
	columns := 3 + w.IntN(8)
	for range columns {
		w.kinds = append(w.kinds, w.IntN(10))
	}
	w.kinds[w.IntN(columns)] = 1 // a table of measurements has one
	if w.heading {
		var h []string
		for i := range columns {
			h = append(h, w.word()+strconv.Itoa(i)+"x")
		}
		w.rows = append(w.rows, h)
	}
	for range 4 + w.IntN(60) {
		var row []string
		for _, k := range w.kinds {
			row = append(row, w.value(k))
		}
		if strings.Join(row, "") != "" {
			w.rows = append(w.rows, row)
		}
	}
	var lines []string
	for range w.preamble {
		lines = append(lines, w.word()+": "+strings.ReplaceAll(w.word(), w.delimiter, ""))
	}
	if w.preamble > 0 {
		lines = append(lines, "")
	}
	w.skipped = len(lines)
	at := w.skipped + 1
	for _, row := range w.rows {
		var cells []string
		n := 1
		for i, v := range row {
			if w.lineEnd != "\n" {
				row[i] = strings.ReplaceAll(v, "\n", w.lineEnd)
			}
			n += strings.Count(v, "\n")
			cells = append(cells, w.cell(row[i]))
		}
		w.lines = append(w.lines, at)
		at += n
		lines = append(lines, strings.Join(cells, w.delimiter))
	}
	if w.footer {
		lines = append(lines, "", w.word()+" "+w.word())
	}
	text := strings.Join(lines, w.lineEnd) + w.lineEnd
	var e encoding.Encoding
	switch w.encoding {
	case "utf-8":
		return []byte(text)
	case "utf-8-bom":
		return []byte("\uFEFF" + text)
	case "utf-16le-bom":
		e = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case "windows-1252":
		e = charmap.Windows1252
	case "windows-1250":
		e = charmap.Windows1250
	case "macintosh":
		e = charmap.Macintosh
	}
	b, err := e.NewEncoder().Bytes([]byte(text))
	if err != nil {
		panic(err)
	}
	return b
}

// check reads the file and returns what is wrong, in a word or two.
func (w *writer) check(content []byte) string {
	f, err := Open(fstest.MapFS{"a.csv": {Data: content}}, "a.csv", Options{})
	if err != nil {
		return "error"
	}
	is := map[string]string{"utf-16le-bom": "UTF-16LE", "windows-1252": "Windows-1252", "windows-1250": "Windows-1250", "macintosh": "Mac Roman"}[w.encoding]
	if f.Delimiter != w.delimiter {
		w.note = f.Delimiter
		return "delimiter"
	}
	var rows [][]string
	for row, err := range f.Sheets[0].Rows() {
		if err != nil {
			return "error"
		}
		if int(row.Line) <= w.skipped {
			continue
		}
		var cells []string
		for _, c := range row.Cells {
			cells = append(cells, c.Text)
		}
		rows = append(rows, cells)
	}
	if len(rows) < len(w.rows) {
		return "rows"
	}
	for i, want := range w.rows {
		if len(rows[i]) != len(want) {
			return "cells of a row"
		}
		for c := range want {
			if rows[i][c] != want[c] {
				w.note = fmt.Sprintf("%q, want %q", rows[i][c], want[c])
				if is != "" && f.Encoding != is {
					w.note += " by " + f.Encoding
					return "encoding"
				}
				return "a cell"
			}
		}
	}
	l, err := f.Sheets[0].Layout()
	if err != nil {
		return "error"
	}
	if len(l.Tables) != 1 {
		return fmt.Sprintf("%d tables", len(l.Tables))
	}
	r := l.Tables[0]
	first, heading := 0, []int32(nil)
	if w.heading {
		first, heading = 1, []int32{int32(w.lines[0])}
	}
	w.note = fmt.Sprint(r.HeadingRows, r.FirstData, r.LastData, r.FooterRows, r.Columns())
	switch {
	case fmt.Sprint(r.HeadingRows) != fmt.Sprint(heading):
		return "heading"
	case int(r.FirstData) != w.lines[first]:
		return "first data row"
	case int(r.LastData) < w.lines[len(w.lines)-1] || w.footer && len(r.FooterRows) != 1:
		return "last data row"
	case r.Columns() != len(w.kinds):
		return "columns"
	}
	if bytes.IndexByte(content, 0) < 0 && r.UnitsRow != 0 {
		return "units"
	}
	return ""
}

// TestQuotesBelow: quotes that come far below what the dialect is recognised
// from are described all the same.
func TestQuotesBelow(t *testing.T) {
	plain := "site,depth,note\n" + strings.Repeat("mill,1.5,open\n", 20_000)
	for _, c := range []struct{ last, quote, escape string }{
		{"quay,2.5,closed\n", "", ""},
		{"quay,2.5,\"closed, for now\"\n", `"`, ""},
		{"quay,2.5,\"the \"\"old\"\" one\"\n", `"`, `"`},
		{"quay,2\" pipe,open\n", "", ""},
	} {
		f, err := Open(fstest.MapFS{"a.csv": {Data: []byte(plain + c.last)}}, "a.csv", Options{})
		if err != nil {
			t.Fatal(err)
		}
		d, err := Describe(f)
		if err != nil || *d.Quote != c.quote || *d.Escape != c.escape || *d.Delimiter != "," {
			t.Errorf("%q: quote %q, escape %q, %v", c.last, *d.Quote, *d.Escape, err)
		}
	}
}
