package table

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"
)

// workbook makes a workbook and returns its bytes.
func workbook(t testing.TB, fill func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fill(f)
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// set writes a row of values from a cell on.
func set(f *excelize.File, sheet, cell string, values ...any) {
	if err := f.SetSheetRow(sheet, cell, &values); err != nil {
		panic(err)
	}
}

func open(t testing.TB, content []byte) *File {
	t.Helper()
	f, err := Open(fstest.MapFS{"a.xlsx": {Data: content}}, "a.xlsx", Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// grid returns the rows of a sheet as line: kind text | …
func grid(t testing.TB, s *Sheet) string {
	t.Helper()
	var b strings.Builder
	for row, err := range s.Rows() {
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%d:", row.Line)
		for _, c := range row.Cells {
			fmt.Fprintf(&b, " %s %q", c.Kind, c.Text)
			if c.Kind == Number || c.Kind == Date {
				fmt.Fprintf(&b, " %v", c.Num)
			}
			if c.Merged {
				b.WriteString(" merged")
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestWorkbookKinds(t *testing.T) {
	f := open(t, workbook(t, func(f *excelize.File) {
		set(f, "Sheet1", "A1", "text", 180, 0.41, true, "180", nil, "last")
		f.SetCellFormula("Sheet1", "A2", "1/0")
		f.SetCellFormula("Sheet1", "B2", "A1")
		f.SetCellRichText("Sheet1", "C2", []excelize.RichTextRun{{Text: "low "}, {Text: "bar", Font: &excelize.Font{Bold: true}}})
		f.SetCellValue("Sheet1", "D2", "two\nlines & <more>")
		f.SetCellValue("Sheet1", "E2", "tab_x0009_\tx")
	}))
	want := `1: text "text" number "180" 180 number "0.41" 0.41 bool "TRUE" text "180" blank "" text "last"
2: blank "" blank "" text "low bar" text "two\nlines & <more>" text "tab\t\tx"
`
	if got := grid(t, f.Sheets[0]); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	l, err := f.Sheets[0].Layout()
	if err != nil {
		t.Fatal(err)
	}
	if said := "2 formulas without a stored value read as blank: open the workbook in a spreadsheet program and save it"; fmt.Sprint(l.Said) != "["+said+"]" {
		t.Errorf("said %q", l.Said)
	}
}

// TestDateSystems holds serials against the days that the format's standard
// gives them: ECMA-376 part 1, 18.17.4.1. In the 1900 system serial 1 is
// 1900-01-01 and 60 the day that never was; in the 1904 system serial 0 is
// 1904-01-01.
func TestDateSystems(t *testing.T) {
	serials := []float64{1, 59, 60, 61, 11.5, 46085, 0.75, 46085.753125}
	for _, test := range []struct {
		date1904 bool
		want     []string
	}{
		{false, []string{"1900-01-01", "1900-02-28", "1900-02-29", "1900-03-01", "1900-01-11 12:00:00", "2026-03-04", "18:00:00", "2026-03-04 18:04:30"}},
		{true, []string{"1904-01-02", "1904-02-29", "1904-03-01", "1904-03-02", "1904-01-12 12:00:00", "2030-03-05", "18:00:00", "2030-03-05 18:04:30"}},
	} {
		f := open(t, workbook(t, func(f *excelize.File) {
			if err := f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &test.date1904}); err != nil {
				t.Fatal(err)
			}
			day, _ := f.NewStyle(&excelize.Style{NumFmt: 14})
			clock, _ := f.NewStyle(&excelize.Style{NumFmt: 21})
			moment, _ := f.NewStyle(&excelize.Style{NumFmt: 22})
			for i, x := range serials {
				cell := fmt.Sprintf("A%d", i+1)
				f.SetCellFloat("Sheet1", cell, x, -1, 64)
				style := day
				if x < 1 {
					style = clock
				} else if x != math.Trunc(x) {
					style = moment
				}
				f.SetCellStyle("Sheet1", cell, cell, style)
			}
		}))
		s := f.Sheets[0]
		if s.Date1904 != test.date1904 {
			t.Errorf("Date1904 = %v", s.Date1904)
		}
		i := 0
		for row, err := range s.Rows() {
			if err != nil {
				t.Fatal(err)
			}
			if c := row.Cells[0]; c.Kind != Date || c.Text != test.want[i] || c.Num != serials[i] {
				t.Errorf("1904 %v: serial %v is %s %q %v, want %q", test.date1904, serials[i], c.Kind, c.Text, c.Num, test.want[i])
			}
			i++
		}
	}
}

func TestNumberFormats(t *testing.T) {
	for code, want := range map[string]Kind{
		"0.00": Number, "General": Number, `0.00" m/s"`: Number, `#,##0 "days"`: Number, "0%": Number, "0.00E+00": Number,
		`[Red]0.0;[Blue]-0.0`: Number, `[$-407]0.0`: Number, `_-* #,##0.00\ [$€-407]_-`: Number,
		"yyyy-mm-dd": Date, `d"."\ mmmm\ yyyy`: Date, "[$-407]dddd, d. mmmm yyyy": Date, "mmm-yy": Date,
		"hh:mm": Date, "mm:ss.0": Date, "[h]:mm:ss": Date, "[mm]:ss.00": Date, "dd/mm/yyyy hh:mm;@": Date, "AM/PM hh:mm": Date,
	} {
		f := open(t, workbook(t, func(f *excelize.File) {
			style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			if err != nil {
				t.Fatal(err)
			}
			f.SetCellFloat("Sheet1", "A1", 1.5, -1, 64)
			f.SetCellStyle("Sheet1", "A1", "A1", style)
		}))
		for row, err := range f.Sheets[0].Rows() {
			if err != nil {
				t.Fatal(err)
			}
			if row.Cells[0].Kind != want {
				t.Errorf("format %q: %s %q, want %s", code, row.Cells[0].Kind, row.Cells[0].Text, want)
			}
		}
	}
}

func TestWorkbookLayout(t *testing.T) {
	f := open(t, workbook(t, func(f *excelize.File) {
		// A table at C7 below a title, with two lines of headings, totals, a
		// hidden row and column.
		set(f, "Sheet1", "A1", "Training log of the harbour gym")
		f.MergeCell("Sheet1", "A1", "H1")
		set(f, "Sheet1", "C3", "Lifter", "Ines Duarte")
		set(f, "Sheet1", "C6", "Lift", "Load", "Speed", nil)
		f.MergeCell("Sheet1", "E6", "F6")
		set(f, "Sheet1", "E7", "mean", "peak")
		set(f, "Sheet1", "C8", "squat", 180, 0.41, 0.62)
		set(f, "Sheet1", "D9", 182.5, 0.38, 0.60)
		f.MergeCell("Sheet1", "C8", "C9")
		set(f, "Sheet1", "C10", "bench press", 100, 0.35, 0.50)
		set(f, "Sheet1", "C11", "Average", 154.2, 0.38, 0.57)
		f.SetRowVisible("Sheet1", 9, false)
		f.SetColVisible("Sheet1", "F", false)

		// Two tables side by side.
		f.NewSheet("Both")
		set(f, "Both", "A1", "Rep", "Speed", nil, "Rep", "Speed")
		set(f, "Both", "A2", 1, 0.41, nil, 1, 0.35)
		set(f, "Both", "A3", 2, 0.38)
		f.NewSheet("Secret")
		set(f, "Secret", "A1", "Lifter", "Weight")
		set(f, "Secret", "A2", "Rui Prata", 81.9)
		f.SetSheetVisible("Secret", false)
	}))
	if want := `[sheet "Secret" is hidden and read all the same]`; fmt.Sprint(f.Said) != want {
		t.Errorf("said %q", f.Said)
	}
	var b bytes.Buffer
	for _, s := range f.Sheets {
		l, err := s.Layout()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintln(&b, s.Name, l.Said)
		for _, r := range l.Tables {
			fmt.Fprintf(&b, "%s:%s preamble %v %v headings %v data %d-%d footer %v\n", ColumnName(r.FirstCol), ColumnName(r.LastCol),
				r.PreambleRows, r.Preamble, r.HeadingRows, r.FirstData, r.LastData, r.FooterRows)
		}
		if err := WriteCells(&b, s, l); err != nil {
			t.Fatal(err)
		}
	}
	want := `Sheet1 [1 row is hidden and read all the same 1 column is hidden and read all the same]
C:F preamble [1 3] [{ Training log of the harbour gym 1 0} {Lifter Ines Duarte 3 3}] headings [6 7] data 8-10 footer [11]
Lift,Load,Speed mean,Speed peak
squat,180,0.41,0.62
squat,182.5,0.38,0.6
bench press,100,0.35,0.5
Both []
A:B preamble [] [] headings [1] data 2-3 footer []
D:E preamble [] [] headings [1] data 2-2 footer []
Rep,Speed
1,0.41
2,0.38

Rep,Speed
1,0.35
Secret []
A:B preamble [] [] headings [1] data 2-2 footer []
Lifter,Weight
Rui Prata,81.9
`
	if got := strings.ReplaceAll(b.String(), "\r\n", "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestOtherPrograms reads the same cells as two other programs wrote them, in
// both date systems: openpyxl 3.0.9, and LibreOffice 7.4 from its files.
func TestOtherPrograms(t *testing.T) {
	for _, name := range []string{"openpyxl.xlsx", "openpyxl-1904.xlsx", "libreoffice.xlsx", "libreoffice-1904.xlsx"} {
		f, err := Open(os.DirFS("testdata"), name, Options{})
		if err != nil {
			t.Fatal(err)
		}
		first, third, formula := 46085.0, 1522.0, ""
		if strings.Contains(name, "1904") {
			first, third = first-1462, third-1462
		}
		if strings.HasPrefix(name, "libreoffice") {
			formula = fmt.Sprintf(" date %q %v", "2026-03-04", first)
		}
		clock := 18.0/24 + 5.0/1440 + 10.0/86400
		want := fmt.Sprintf(`1: text "Day" text "Start" text "Length" text "Lifter" text "Load" text "Speed" text "Made" text "Note"
2: date "2026-03-04" %.5f date "2026-03-04 18:05:10" %.5f date "27:30:00" 1.14583 text "Ines Duarte" number "180" 180 number "0.41" 0.41 bool "TRUE" text " two\nlines "
3: date "1904-03-01" %.5f date "18:05:10.5" %.5f date "00:01:30" 0.00104 text "Ines Duarte" merged text "182.5" number "0.3" 0.3 bool "FALSE"%s
4: error "#N/A" text "Größe & <b>"
`, first, first+clock, third, clock+0.5/86400, formula)
		got := grid(t, f.Sheets[0])
		if fmt.Sprint(round(got)) != fmt.Sprint(round(want)) {
			t.Errorf("%s: got\n%swant\n%s", name, got, want)
		}
		if len(f.Sheets) != 2 || !f.Sheets[1].Hidden || grid(t, f.Sheets[1]) != "7: blank \"\" blank \"\" text \"Set\" text \"Load\"\n8: blank \"\" blank \"\" number \"1\" 1 number \"180\" 180\n" {
			t.Errorf("%s: hidden sheet: %s", name, grid(t, f.Sheets[1]))
		}
	}
}

// round cuts the numbers of a text to five digits after the point.
func round(s string) []string {
	words := strings.Fields(s)
	for i, w := range words {
		if x, err := strconv.ParseFloat(w, 64); err == nil {
			words[i] = fmt.Sprintf("%.4f", x)
		}
	}
	return words
}

// TestSameAsLibrary reads a sheet of random cells side by side with the
// spreadsheet library's own reader of raw values.
func TestSameAsLibrary(t *testing.T) {
	content := bigBook(t, 500)
	f := open(t, content)
	x, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	rows, err := x.Rows("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for row, err := range f.Sheets[0].Rows() {
		if err != nil || !rows.Next() {
			t.Fatal(n, err)
		}
		cells, err := rows.Columns()
		if err != nil || len(cells) != len(row.Cells) {
			t.Fatal(n, err, len(cells), len(row.Cells))
		}
		for i, c := range row.Cells {
			want := cells[i]
			if c.Kind == Date {
				want = fmt.Sprint(c.Num)
				if want != cells[i] {
					t.Errorf("row %d: serial %v, want %s", row.Line, c.Num, cells[i])
				}
				continue
			}
			if c.Text != want {
				t.Errorf("row %d: %q, want %q", row.Line, c.Text, want)
			}
		}
		n++
	}
	if n != 501 {
		t.Errorf("%d rows", n)
	}
}

func TestNoWorkbooks(t *testing.T) {
	for name, want := range map[string]string{
		"content.xml":        "a.xlsx: an OpenDocument spreadsheet (.ods); open it in a spreadsheet program and save it as .xlsx or CSV",
		"Index/Document.iwa": "a.xlsx: a .numbers document; open it and export it as .xlsx or CSV",
		"xl/workbook.bin":    "a.xlsx: a binary workbook (.xlsb); open it in a spreadsheet program and save it as .xlsx or CSV",
		"word/document.xml":  "a.xlsx: a text document; save its table as CSV or .xlsx",
		"a.csv":              "a.xlsx: a zip archive without a workbook; unpack it",
		"xl/workbook.xml":    "a.xlsx: the workbook is damaged (xl/workbook.xml: unexpected EOF); open it in a spreadsheet program and save it again",
	} {
		_, err := Open(fstest.MapFS{"a.xlsx": {Data: zipOf(t, map[string]string{name: ""})}}, "a.xlsx", Options{})
		if err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", name, err, want)
		}
	}
}

func TestDamagedSheet(t *testing.T) {
	sheet := `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>Load</t></is></c></row><row r="2"><c r="A2"><v>180</v></c></row><row r="3"><c r="A3"><v>18`
	f := open(t, zipOf(t, map[string]string{
		"xl/workbook.xml":            `<workbook xmlns:r="x"><sheets><sheet name="Log" r:id="rId1"/></sheets></workbook>`,
		"xl/worksheets/sheet1.xml":   sheet,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
	}))
	n := 0
	var last error
	for _, err := range f.Sheets[0].Rows() {
		n++
		last = err
	}
	want := `a.xlsx: sheet "Log" is damaged after row 3 (unexpected EOF); open the workbook in a spreadsheet program and save it again`
	if n != 3 || last == nil || last.Error() != want {
		t.Errorf("%d rows, then %v", n, last)
	}
}

// TestShortestNumbers reads numbers as other programs show them.
func TestShortestNumbers(t *testing.T) {
	for stored, want := range map[string]string{
		"4.4000000000000004": "4.4", "0.1": "0.1", "1.0614725610597661E-3": "0.001061472561059766", "1E3": "1000", "3.0E-12": "3e-12",
		"123456789012345678": "123456789012345678", "-0.29999999999999999": "-0.3", "180": "180", "1.50": "1.50",
	} {
		f := open(t, zipOf(t, map[string]string{
			"xl/workbook.xml":          `<workbook><sheets><sheet name="Log"/></sheets></workbook>`,
			"xl/worksheets/sheet1.xml": `<worksheet><sheetData><row><c><v>` + stored + `</v></c></row></sheetData></worksheet>`,
		}))
		for row, err := range f.Sheets[0].Rows() {
			if err != nil || row.Cells[0].Text != want {
				t.Errorf("%s is read as %q, %v; want %s", stored, row.Cells[0].Text, err, want)
			}
		}
	}
}
