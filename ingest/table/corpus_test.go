package table

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

var update = flag.Bool("update", false, "rewrite what the corpus wants")

// TestCorpus reads the awkward files of testdata. Each .txtar has one idea, in
// words at its top, a file and what is read of it:
//
//	in.csv     the file as it is
//	in.quoted  the file as Go strings, one a line, where bytes matter
//	as         what is done to the file first: an encoding, bom, crlf, cr
//	declared   options, one a line: delimiter ;
//	want       what was recognised, then the cells of each table as CSV
func TestCorpus(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(names) < 60 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			var in, want []byte
			var as, declared string
			file, wantAt := "in.csv", -1
			for i, f := range a.Files {
				switch {
				case f.Name == "want":
					want, wantAt = f.Data, i
				case f.Name == "as":
					as = string(f.Data)
				case f.Name == "declared":
					declared = string(f.Data)
				case f.Name == "in.quoted":
					in = unquoteLines(t, string(f.Data))
				default:
					in, file = f.Data, f.Name
				}
			}
			in = transform(t, in, as)
			got := dump(t, in, file, declared)
			if *update {
				if wantAt < 0 {
					a.Files = append(a.Files, txtar.File{Name: "want"})
					wantAt = len(a.Files) - 1
				}
				a.Files[wantAt].Data = got
				if err := os.WriteFile(name, txtar.Format(a), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if !bytes.Equal(got, want) {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
			checkLines(t, in, file)
		})
	}
}

func unquoteLines(t *testing.T, text string) []byte {
	var b []byte
	for line := range strings.Lines(text) {
		s, err := strconv.Unquote(strings.TrimSpace(line))
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		b = append(b, s...)
	}
	return b
}

func transform(t *testing.T, in []byte, as string) []byte {
	encodings := map[string]encoding.Encoding{
		"windows-1252": charmap.Windows1252, "windows-1250": charmap.Windows1250, "iso-8859-2": charmap.ISO8859_2,
		"windows-1251": charmap.Windows1251, "macintosh": charmap.Macintosh, "cp850": charmap.CodePage850, "koi8-r": charmap.KOI8R,
		"utf-16le":     unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM),
		"utf-16be":     unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM),
		"utf-16le-bom": unicode.UTF16(unicode.LittleEndian, unicode.UseBOM),
		"utf-16be-bom": unicode.UTF16(unicode.BigEndian, unicode.UseBOM),
	}
	for _, w := range strings.Fields(as) {
		switch w {
		case "bom":
			in = append([]byte("\uFEFF"), in...)
		case "crlf":
			in = bytes.ReplaceAll(in, []byte("\n"), []byte("\r\n"))
		case "cr":
			in = bytes.ReplaceAll(in, []byte("\n"), []byte("\r"))
		case "no-final-newline":
			in = bytes.TrimSuffix(in, []byte("\n"))
		default:
			e := encodings[w]
			if e == nil {
				t.Fatalf("as %q?", w)
			}
			out, err := e.NewEncoder().Bytes(in)
			if err != nil {
				t.Fatal(err)
			}
			in = out
		}
	}
	return in
}

// dump writes what is read of a file.
func dump(t *testing.T, in []byte, file, declared string) []byte {
	var opt Options
	for line := range strings.Lines(declared) {
		key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		switch key {
		case "delimiter":
			opt.Delimiter = value
		case "encoding":
			opt.Encoding = value
		case "quote":
			opt.Quote = value
		case "decimal":
			opt.Decimal = value
		default:
			t.Fatalf("declared %q?", key)
		}
	}
	var b bytes.Buffer
	f, err := Open(fstest.MapFS{file: {Data: in}}, file, opt)
	if err != nil {
		fmt.Fprintln(&b, "error:", err)
		return b.Bytes()
	}
	if f.Format == "text" {
		padding := ""
		if f.Padding != "" {
			padding = " and blanks " + f.Padding
		}
		fmt.Fprintf(&b, "%s, delimiter %q%s, quote %q, escape %q, line end %s\n", f.Encoding, f.Delimiter, padding, f.Quote, f.Escape, f.LineEnd)
	}
	for _, s := range f.Said {
		fmt.Fprintln(&b, "said:", s)
	}
	for _, s := range f.Sheets {
		if s.Name != "" {
			fmt.Fprintf(&b, "sheet %s\n", s.Name)
		}
		l, err := s.Layout()
		if err != nil {
			fmt.Fprintln(&b, "error:", err)
			continue
		}
		for _, said := range l.Said {
			fmt.Fprintln(&b, "said:", said)
		}
		for i := range l.Tables {
			r := &l.Tables[i]
			fmt.Fprintf(&b, "table %s:%s", ColumnName(r.FirstCol), ColumnName(r.LastCol))
			rows := func(word string, rows []int32) {
				if len(rows) > 0 {
					fmt.Fprintf(&b, ", %s %s", word, strings.Trim(fmt.Sprint(rows), "[]"))
				}
			}
			rows("preamble", r.PreambleRows)
			rows("headings", r.HeadingRows)
			if r.UnitsRow > 0 {
				rows("units", []int32{r.UnitsRow})
			}
			fmt.Fprintf(&b, ", data %d-%d", r.FirstData, r.LastData)
			rows("not data", r.NotData)
			rows("footer", r.FooterRows)
			fmt.Fprintln(&b)
			for _, p := range r.Preamble {
				fmt.Fprintf(&b, "pair %q: %q\n", p.Key, p.Value)
			}
			if r.UnitsRow > 0 {
				fmt.Fprintf(&b, "units %q\n", r.Units)
			}
			for _, p := range r.Labels {
				fmt.Fprintf(&b, "label %d: %q\n", p.Row, p.Value)
			}
		}
		for row, err := range s.Rows() {
			if err != nil {
				fmt.Fprintln(&b, "error:", err)
			} else if row.Err != nil {
				fmt.Fprintf(&b, "row %d: %s: %q\n", row.Line, row.Err.Problem, row.Err.Text)
			}
		}
		var cells bytes.Buffer
		if err := WriteCells(&cells, s, l); err != nil {
			var open *OpenError
			if !errors.As(err, &open) {
				t.Error(err)
			}
		}
		b.Write(bytes.ReplaceAll(bytes.ReplaceAll(cells.Bytes(), []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("<CR>")))
	}
	return b.Bytes()
}

// checkLines checks that every line of a text is in exactly one row, in one
// block or many.
func checkLines(t *testing.T, in []byte, file string) {
	t.Helper()
	f, err := Open(fstest.MapFS{file: {Data: in}}, file, Options{})
	if err != nil || f.Format != "text" {
		return
	}
	next := int32(1)
	var lines []int32
	for row, err := range f.Sheets[0].Rows() {
		if err != nil {
			return
		}
		if row.Line != next || row.Lines < 1 {
			t.Fatalf("row of lines %d+%d after line %d", row.Line, row.Lines, next-1)
		}
		next += row.Lines
		lines = append(lines, row.Line)
	}
	blocks, ok := f.Sheets[0].Blocks()
	if !ok {
		t.Fatal("a text without blocks")
	}
	var again []int32
	for b, err := range blocks {
		if err != nil {
			t.Fatal(err)
		}
		for row := range b.Rows() {
			again = append(again, row.Line)
		}
	}
	if !slices.Equal(lines, again) {
		t.Fatal("blocks have other rows:", lines, again)
	}
}
