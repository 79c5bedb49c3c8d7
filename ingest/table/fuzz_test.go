package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
)

// seeds adds the files of the corpus.
func seeds(f *testing.F, add func([]byte)) {
	names, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range a.Files {
			if file.Name == "in.csv" {
				add(file.Data)
			}
		}
	}
}

// FuzzText reads any bytes as a text: every line is in exactly one row, blocks
// give the same rows, tables lie within the sheet, and what is written of the
// cells is CSV that encoding/csv reads.
func FuzzText(f *testing.F) {
	seeds(f, func(b []byte) { f.Add(b) })
	f.Add([]byte("a,\"b\r\n\xff\xfe,\x00\r\r\n\"\"\"\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		if bytes.HasPrefix(content, []byte("PK")) {
			t.Skip()
		}
		file, err := Open(fstest.MapFS{"a.csv": {Data: content}}, "a.csv", Options{})
		var open *OpenError
		if errors.As(err, &open) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		checkLines(t, content, "a.csv")
		checkLayout(t, file.Sheets[0])
	})
}

// FuzzWorkbook reads any bytes as the parts of a workbook.
func FuzzWorkbook(f *testing.F) {
	f.Add([]byte(`<worksheet><cols><col min="2" max="2" hidden="1"/></cols><sheetData><row r="1" hidden="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="1"><v>46085.5</v></c></row><row><c><f>1</f><v>2</v></c><c t="e"><v>#N/A</v></c></row></sheetData><mergeCells><mergeCell ref="A1:C2"/></mergeCells></worksheet>`),
		[]byte(`<sst><si><t>Load</t></si><si><r><t>a</t></r><rPh><t>x</t></rPh><r><t xml:space="preserve"> b_x000D_</t></r></si></sst>`),
		[]byte(`<styleSheet><numFmts><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/></cellXfs></styleSheet>`))
	f.Add([]byte(`<x:worksheet><x:sheetData><x:row r="3"><x:c r="C3" t="inlineStr"><x:is><x:t>a&amp;&#x41;&lt;<![CDATA[<]]></x:t></x:is></x:c><x:c r="XFD3" t="b"><x:v>1</x:v></x:c></x:row></x:sheetData></x:worksheet>`),
		[]byte(""), []byte("<styleSheet/>"))
	f.Fuzz(func(t *testing.T, sheet, texts, styles []byte) {
		content := zipOf(t, map[string]string{
			"xl/workbook.xml":          `<workbook><sheets><sheet name="Log"/></sheets></workbook>`,
			"xl/worksheets/sheet1.xml": string(sheet), "xl/sharedStrings.xml": string(texts), "xl/styles.xml": string(styles),
		})
		file, err := Open(fstest.MapFS{"a.xlsx": {Data: content}}, "a.xlsx", Options{})
		var open *OpenError
		if errors.As(err, &open) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		last := int32(0)
		for row, err := range file.Sheets[0].Rows() {
			if errors.As(err, &open) {
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if row.Line <= last {
				t.Fatalf("row %d after %d", row.Line, last)
			}
			last = row.Line
		}
		checkLayout(t, file.Sheets[0])
	})
}

// checkLayout checks that the tables of a sheet make sense and can be written.
func checkLayout(t *testing.T, s *Sheet) {
	t.Helper()
	l, err := s.Layout()
	if err != nil {
		t.Fatal(err)
	}
	owner := map[int32]string{}
	for i := range l.Tables {
		r := &l.Tables[i]
		if r.FirstCol < 0 || r.LastCol < r.FirstCol || len(r.Headings) != r.Columns() || r.UnitsRow != 0 && len(r.Units) != r.Columns() {
			t.Fatalf("columns: %+v", r)
		}
		if (r.FirstData == 0) != (r.LastData == 0) || r.LastData < r.FirstData {
			t.Fatalf("data: %+v", r)
		}
		if r.FirstCol > 0 || len(l.Tables) > 1 && l.Tables[(i+1)%len(l.Tables)].FirstCol > 0 {
			continue // tables side by side share rows
		}
		for what, rows := range map[string][]int32{"preamble": r.PreambleRows, "heading": r.HeadingRows, "units": {r.UnitsRow}, "not data": r.NotData, "footer": r.FooterRows} {
			for _, n := range rows {
				if n == 0 {
					continue
				}
				if owner[n] != "" {
					t.Fatalf("row %d is %s and %s: %+v", n, owner[n], what, l.Tables)
				}
				owner[n] = what
				if in := n >= r.FirstData && n <= r.LastData; in != (what == "not data") {
					t.Fatalf("row %d is %s: %+v", n, what, r)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := WriteCells(&b, s, l); err != nil {
		t.Fatal(err)
	}
	if len(l.Tables) == 1 {
		r := csv.NewReader(strings.NewReader(b.String()))
		if _, err := r.ReadAll(); err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
	}
}

// TestCorpusLayouts checks the corpus as the fuzz target does.
func TestCorpusLayouts(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range txtar.Parse(content).Files {
			if file.Name != "in.csv" {
				continue
			}
			f, err := Open(fstest.MapFS{"a.csv": {Data: file.Data}}, "a.csv", Options{})
			if err == nil {
				checkLayout(t, f.Sheets[0])
			}
		}
	}
}
