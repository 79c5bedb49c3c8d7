package table

import (
	"bytes"
	"fmt"
	"path"
	"strings"
)

// OpenError is a source that cannot be read as a table.
type OpenError struct {
	Name    string
	Problem string // what is wrong and what to do
	Err     error  // the cause; may be nil
}

// Error implements error.
func (e *OpenError) Error() string { return fmt.Sprintf("%s: %s", e.Name, e.Problem) }

// Unwrap returns the cause.
func (e *OpenError) Unwrap() error { return e.Err }

// Remedies for what cannot be read.
const (
	saveAs    = "open it in the program that made it and save it as .xlsx or CSV"
	saveSheet = "open it in a spreadsheet program and save it as .xlsx or CSV"
	protected = "the workbook is protected by a password; open it in a spreadsheet program, remove the password and save it as .xlsx"
	oldXLS    = "an old .xls workbook; open it in a spreadsheet program and save it as .xlsx or CSV"
)

// signatures are the beginnings of files that are no tables.
var signatures = []struct{ magic, is string }{
	{"PAR1", "a Parquet file; export it as CSV"},
	{"SQLite format 3", "a database; export the table as CSV"},
	{"%PDF", "a PDF; export the table as CSV or .xlsx instead"},
	{"\x89PNG", "a picture; export the table as CSV or .xlsx instead"},
	{"\xFF\xD8\xFF", "a picture; export the table as CSV or .xlsx instead"},
	{"GIF8", "a picture; export the table as CSV or .xlsx instead"},
	{"BZh", "packed with bzip2; unpack it, or pack it with gzip or zip"},
	{"\xFD7zXZ", "packed with xz; unpack it, or pack it with gzip or zip"},
	{"\x28\xB5\x2F\xFD", "packed with zstd; unpack it, or pack it with gzip or zip"},
	{"7z\xBC\xAF", "packed with 7-Zip; unpack it, or pack it with gzip or zip"},
	{"Rar!", "a RAR archive; unpack it, or pack it with gzip or zip"},
	{"{\\rtf", "a text document; save the table as CSV or .xlsx instead"},
	{"\x09\x08\x10\x00", oldXLS}, {"\x09\x08\x08\x00", oldXLS}, {"\x09\x04\x06\x00", oldXLS}, {"\x09\x02\x06\x00", oldXLS}, {"\x09\x00\x04\x00", oldXLS},
}

var compound = []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1") // container of old .xls and of protected .xlsx

// noTable says what a file is, where its beginning shows that it is neither a
// text table nor a workbook; "" otherwise.
func noTable(name string, head []byte) string {
	for _, s := range signatures {
		if bytes.HasPrefix(head, []byte(s.magic)) {
			return s.is
		}
	}
	if bytes.HasPrefix(head, compound) {
		// The names of a container's streams are in UTF-16.
		ext := strings.ToLower(path.Ext(name))
		if ext == ".xlsx" || ext == ".xlsm" || bytes.Contains(head, []byte("E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00")) {
			return protected
		}
		return oldXLS
	}
	head = head[:min(len(head), 2<<10)]
	start := strings.ToLower(string(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xEF\xBB\xBF")), " \t\r\n")))
	switch {
	case strings.HasPrefix(start, "<?xml") && strings.Contains(start, "urn:schemas-microsoft-com:office:spreadsheet"):
		return "a spreadsheet in an old XML format; " + saveSheet
	case strings.HasPrefix(start, "<!doctype html"), strings.HasPrefix(start, "<html"), strings.HasPrefix(start, "<table"):
		return "a web page, whatever its name says; " + saveSheet
	case strings.HasPrefix(start, "<?xml"):
		return "an XML document; " + saveAs
	case strings.HasPrefix(start, `{"`), strings.HasPrefix(start, `[{"`):
		return "JSON, not a table; export it as CSV"
	}
	return ""
}

// isBinary reports whether a beginning has so many control characters that it
// is no text in any encoding of one byte or UTF-8.
func isBinary(head []byte) bool {
	control, zero := 0, 0
	for _, b := range head {
		switch {
		case b == 0:
			zero++
		case b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f' && b != '\v' && b != 0x01 && b < 0x1A:
			control++
		}
	}
	return control*20 > len(head) || zero*3 > len(head) && zero < len(head)
}
