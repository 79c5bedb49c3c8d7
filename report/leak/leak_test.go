package leak

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf16"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress/zstd"
	"github.com/xuri/excelize/v2"

	"repsift/report/pseudonym"
)

var search = Search{Names: pseudonym.NewNames([][]string{{"Käthe Brandl", "Kati"}}, nil), Key: strings.Repeat("0f", 32)}

// row is a table with a place for a name.
type row struct {
	Lifter string  `parquet:"lifter,dict"`
	Note   *string `parquet:"note,optional"`
	Speed  float64 `parquet:"speed"`
}

func parquetFile(t *testing.T, rows []row, options ...parquet.WriterOption) []byte {
	t.Helper()
	var b bytes.Buffer
	w := parquet.NewGenericWriter[row](&b, append(options, parquet.Compression(&zstd.Codec{}))...)
	if _, err := w.Write(rows); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func workbook(t *testing.T, change func(*excelize.File) error) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if err := change(f); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zipped(t *testing.T, fill func(*zip.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if err := fill(z); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func utf16le(text string) []byte {
	out := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune(text)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

// A name is found wherever one can hide.
func TestPlanted(t *testing.T) {
	note := "seen by Kati"
	rows := []row{{Lifter: "L-1", Speed: 0.5}}
	cases := map[string][]byte{
		"a.csv":              []byte("lifter,lift\r\nL-1,squat\r\n\"Brandl, Käthe\",squat\r\n"),
		"profiles/kati.html": nil,
		"kaethe/empty.txt":   []byte("nothing"),
		"upper.csv":          []byte("BRANDL\r\n"),
		"decomposed.csv":     []byte("Ka\u0308the\r\n"),
		"entity.html":        []byte("<td>K&auml;the</td>"),
		"numeric.html":       []byte("<td>K&#228;the</td>"),
		"comment.html":       []byte("<!-- brandl -->"),
		"attribute.html":     []byte(`<a href="K%C3%A4the-L.html">`),
		"cut.html":           []byte("<b>Bran</b>dl"),
		"escaped.json":       []byte(`{"lifter":"K\u00e4the"}`),
		"pairs.json":         []byte(`{"lifter":"\ud835\udc0aati"}`), // a bold K, folded to one
		"README.md":          []byte("by Kati"),
		"wide.txt":           utf16le("lifter Kati"),
		"bytes.bin":          append([]byte{0, 1, 2, 0xff}, "Käthe Brandl"...),
		"bytes16.bin":        append([]byte{1, 0xff}, utf16le("Brandl")...),
		"plain.parquet":      parquetFile(t, append(rows, row{Lifter: "Käthe Brandl"})),
		"note.parquet":       parquetFile(t, append(rows, row{Lifter: "L-2", Note: &note})),
		"footer.parquet":     parquetFile(t, rows, parquet.KeyValueMetadata("author", "Kati")),
		"maker.parquet":      parquetFile(t, rows, parquet.CreatedBy("Brandl", "1", "1")),
		"cell.xlsx":          workbook(t, func(f *excelize.File) error { return f.SetCellValue("Sheet1", "B2", "käthe") }),
		"sheet.xlsx":         workbook(t, func(f *excelize.File) error { return f.SetSheetName("Sheet1", "Kati") }),
		"property.xlsx":      workbook(t, func(f *excelize.File) error { return f.SetDocProps(&excelize.DocProperties{Creator: "K. Brandl"}) }),
		"custom.xlsx": workbook(t, func(f *excelize.File) error {
			return f.SetCustomProps(excelize.CustomProperty{Name: "coach", Value: "Kati"})
		}),
		"remark.xlsx": workbook(t, func(f *excelize.File) error {
			return f.AddComment("Sheet1", excelize.Comment{Cell: "A1", Author: "x", Text: "ask Kati"})
		}),
		"defined.xlsx": workbook(t, func(f *excelize.File) error {
			return f.SetDefinedName(&excelize.DefinedName{Name: "Kati_squat", RefersTo: "Sheet1!$A$1"})
		}),
		"link.xlsx": workbook(t, func(f *excelize.File) error { return f.SetCellHyperLink("Sheet1", "A1", "Brandl.html", "External") }),
		"chart.xlsx": workbook(t, func(f *excelize.File) error {
			return f.AddChart("Sheet1", "C1", &excelize.Chart{Type: excelize.Line, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: "Kati"}}}, Series: []excelize.ChartSeries{{Values: "Sheet1!$A$1:$A$2"}}})
		}),
		"member.zip": zipped(t, func(z *zip.Writer) error { _, err := z.Create("brandl.txt"); return err }),
		"remark.zip": zipped(t, func(z *zip.Writer) error { return z.SetComment("Kati") }),
		"inner.zip": zipped(t, func(z *zip.Writer) error {
			w, err := z.Create("a.zip")
			w.Write(zipped(t, func(z *zip.Writer) error { w, err := z.Create("x.txt"); fmt.Fprint(w, "Käthe"); return err }))
			return err
		}),
		"keys.txt": []byte("key " + strings.Repeat("0F", 32)),
	}
	for name, b := range cases {
		leaks, err := search.Folder(fstest.MapFS{name: &fstest.MapFile{Data: b}})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if len(leaks) == 0 {
			t.Errorf("%s: nothing found", name)
		} else if !strings.HasPrefix(leaks[0].File, strings.Split(name, "/")[0]) {
			t.Errorf("%s: found in %q", name, leaks[0].File)
		}
	}
}

// Nothing is found where nothing is.
func TestClean(t *testing.T) {
	files := fstest.MapFS{
		"a.csv":             {Data: []byte("lifter,rep_id\r\nL-1,0123456789abcdef\r\n")},
		"a.parquet":         {Data: parquetFile(t, []row{{Lifter: "L-1"}})},
		"a.xlsx":            {Data: workbook(t, func(f *excelize.File) error { return f.SetCellValue("Sheet1", "A1", "the brand of bar") })},
		"profiles/L-1.html": {Data: []byte("<html>")},
	}
	leaks, err := search.Folder(files)
	if err != nil || leaks != nil {
		t.Fatalf("%v, %v", leaks, err)
	}
}

// A file that cannot be looked into is no proof.
func TestUnknown(t *testing.T) {
	for name, b := range map[string][]byte{"a.parquet": []byte("PAR1 no footer PAR1"), "a.xlsx": []byte("PK\x03\x04 no folder")} {
		if _, err := search.Folder(fstest.MapFS{name: {Data: b}}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
