package table

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// rowsIn reads a text and returns the texts of its rows that are not blank.
func rowsIn(t *testing.T, content string, opt Options) string {
	t.Helper()
	f, err := Open(fstest.MapFS{"a.csv": {Data: []byte(content)}}, "a.csv", opt)
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for row, err := range f.Sheets[0].Rows() {
		if err != nil {
			t.Fatal(err)
		}
		if len(row.Cells) == 0 {
			continue
		}
		var cells []string
		for _, c := range row.Cells {
			cells = append(cells, c.Text)
		}
		rows = append(rows, fmt.Sprintf("%q", cells))
	}
	return strings.Join(rows, " ")
}

// TestStandardLibraryCases reads the inputs of the tests of Go's encoding/csv
// (go1.26, src/encoding/csv/reader_test.go) that hold rows by its rules; the
// names are those of the cases there. Left out are those that a reader of real
// files decides otherwise: a bare CR ends a line here, comments and blanks are
// kept as they are, and what is an error there is read as well as it can be.
func TestStandardLibraryCases(t *testing.T) {
	comma := Options{Delimiter: ",", Quote: `"`}
	for _, c := range []struct {
		name, in string
		opt      Options
		want     string
	}{
		{"Simple", "a,b,c\n", comma, `["a" "b" "c"]`},
		{"CRLF", "a,b\r\nc,d\r\n", comma, `["a" "b"] ["c" "d"]`},
		{"RFC4180test", "#field1,field2,field3\n\"aaa\",\"bb\nb\",\"ccc\"\n\"a,a\",\"b\"\"bb\",\"ccc\"\nzzz,yyy,xxx\n", comma,
			`["#field1" "field2" "field3"] ["aaa" "bb\nb" "ccc"] ["a,a" "b\"bb" "ccc"] ["zzz" "yyy" "xxx"]`},
		{"NoEOLTest", "a,b,c", comma, `["a" "b" "c"]`},
		{"Semicolon", "a;b;c\n", Options{Delimiter: ";"}, `["a" "b" "c"]`},
		{"MultiLine", "\"two\nline\",\"one line\",\"three\nline\nfield\"", comma, `["two\nline" "one line" "three\nline\nfield"]`},
		{"BlankLine", "a,b,c\n\nd,e,f\n\n", comma, `["a" "b" "c"] ["d" "e" "f"]`},
		{"LeadingSpace", " a,  b,   c\n", comma, `[" a" "  b" "   c"]`},
		{"BareQuotes", "a \"word\",\"1\"2\",a\"", comma, `["a \"word\"" "1\"2" "a\""]`},
		{"BareDoubleQuotes", "a\"\"b,c", comma, `["a\"\"b" "c"]`},
		{"BareQuote", "a \"word\",\"b\"", comma, `["a \"word\"" "b"]`},
		{"FieldCount", "a,b,c\nd,e", comma, `["a" "b" "c"] ["d" "e"]`},
		{"TrailingCommaEOF", "a,b,c,", comma, `["a" "b" "c" ""]`},
		{"TrailingCommaEOL", "a,b,c,\n", comma, `["a" "b" "c" ""]`},
		{"TrailingCommaLine3", "a,b,c\nd,e,f\ng,hi,", comma, `["a" "b" "c"] ["d" "e" "f"] ["g" "hi" ""]`},
		{"NotTrailingComma3", "a,b,c,  \n", comma, `["a" "b" "c" "  "]`},
		{"CommaFieldTest", "x,y,z,w\nx,y,z,\nx,y,,\nx,,,\n,,,\n\"x\",\"y\",\"z\",\"w\"\n\"x\",\"y\",\"z\",\"\"\n\"x\",\"y\",\"\",\"\"\n\"x\",\"\",\"\",\"\"\n\"\",\"\",\"\",\"\"\n", comma,
			`["x" "y" "z" "w"] ["x" "y" "z" ""] ["x" "y" "" ""] ["x" "" "" ""] ["" "" "" ""] ["x" "y" "z" "w"] ["x" "y" "z" ""] ["x" "y" "" ""] ["x" "" "" ""] ["" "" "" ""]`},
		{"ReadAllReuseRecord", "a,b\nc,d", comma, `["a" "b"] ["c" "d"]`},
		{"CRLFInQuotedField", "A,\"Hello\r\nHi\",B\r\n", comma, `["A" "Hello\r\nHi" "B"]`},
		{"BinaryBlobField", "x09\x41\xb4\x1c,aktau", Options{Delimiter: ",", Encoding: "windows-1252"}, `["x09A´\x1c" "aktau"]`},
		{"QuotedFieldMultipleLF", "\"\n\n\n\n\"", comma, `["\n\n\n\n"]`},
		{"MultipleCRLF", "\r\n\r\n\r\n\r\n", comma, ``},
		{"HugeLines", strings.Repeat("#ignore\n", 3) + strings.Repeat("@", 5000) + "," + strings.Repeat("*", 5000), comma,
			`["#ignore"] ["#ignore"] ["#ignore"] ["` + strings.Repeat("@", 5000) + `" "` + strings.Repeat("*", 5000) + `"]`},
		{"LazyQuotesTrailing", "a,\"b\"\"c\",d", comma, `["a" "b\"c" "d"]`},
		{"DoubleQuoteWithTrailingCRLF", "\"foo\"\"bar\"\r\n", comma, `["foo\"bar"]`},
		{"EvenQuotes", `""""""""`, comma, `["\"\"\""]`},
		{"QuoteWithTrailingCRLF", "\"foo\"bar\"\r\n", comma, `["foo\"bar"]`},
	} {
		if got := rowsIn(t, c.in, c.opt); got != c.want {
			t.Errorf("%s: %.200s\nwant %.200s", c.name, got, c.want)
		}
	}
}
