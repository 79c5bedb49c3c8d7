// Package xlsx reads the cells of .xlsx workbooks as a stream of rows.
//
// It is our own for the sake of types and memory: the row iterator of the
// spreadsheet library gives texts without saying which are numbers, dates or
// texts, and its cell types and styles come with the whole sheet in memory. What
// is read is little: the list of sheets, the shared texts, which number formats
// are dates, and the sheets' cells, merged ranges and hidden parts.
//
// Charts, pictures and macros are passed over. Formulas give the values stored
// with them.
package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Limits, against workbooks made to exhaust a machine. A sheet is streamed and
// may be large; other parts are kept.
const (
	maxSheet   = 8 << 30   // bytes of a sheet, unpacked
	maxStrings = 384 << 20 // of the shared texts
	maxPart    = 16 << 20  // of another part
	maxDepth   = 64        // of tags in each other in such a part
	maxRatio   = 250       // a part of more than ratioFrom unpacks to so many times its size at most; sheets do to ten or twenty
	ratioFrom  = 32 << 20
)

// Book is an open workbook.
type Book struct {
	Sheets   []Sheet
	Date1904 bool // serials count from 1904

	parts   map[string]*zip.File
	styles  []format
	strings []string
	loaded  bool      // strings are
	paths   [2]string // of styles and shared texts
}

// Sheet is one sheet of a workbook.
type Sheet struct {
	Name   string
	Hidden bool

	book *Book
	part string
}

// ErrNoWorkbook is a zip archive that is no .xlsx workbook; its text says what
// it is.
type ErrNoWorkbook struct{ Is string }

// Error implements error.
func (e *ErrNoWorkbook) Error() string { return e.Is }

// Open reads what a workbook holds, but no cells. The reader is used as long as
// the book is.
func Open(r io.ReaderAt, size int64) (*Book, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("the workbook is damaged or cut off (%w); copy or export it again", err)
	}
	b := &Book{parts: make(map[string]*zip.File, len(z.File))}
	for _, f := range z.File {
		key := partKey(f.Name)
		if b.parts[key] == nil {
			b.parts[key] = f
		}
	}
	workbook, err := b.workbookPart()
	if err != nil {
		return nil, err
	}
	return b, b.readWorkbook(workbook)
}

// partKey makes names of parts comparable: some programs write backslashes, and
// names differ in case only between a part and what refers to it.
func partKey(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// workbookPart finds the part that lists the sheets.
func (b *Book) workbookPart() (string, error) {
	for _, r := range b.relations("_rels/.rels") {
		if strings.HasSuffix(r.Type, "/officeDocument") {
			key := resolve("", r.Target)
			other := strings.HasPrefix(key, "word/") || strings.HasPrefix(key, "ppt/")
			if b.parts[key] != nil && !other && strings.HasSuffix(key, ".xml") {
				return key, nil
			}
		}
	}
	if b.parts["xl/workbook.xml"] != nil {
		return "xl/workbook.xml", nil
	}
	is := "a zip archive without a workbook; unpack it"
	switch {
	case b.parts["xl/workbook.bin"] != nil:
		is = "a binary workbook (.xlsb); open it in a spreadsheet program and save it as .xlsx or CSV"
	case b.parts["index/document.iwa"] != nil, b.parts["index.zip"] != nil:
		is = "a .numbers document; open it and export it as .xlsx or CSV"
	case b.parts["content.xml"] != nil:
		is = "an OpenDocument spreadsheet (.ods); open it in a spreadsheet program and save it as .xlsx or CSV"
	case b.parts["word/document.xml"] != nil:
		is = "a text document; save its table as CSV or .xlsx"
	case b.parts["ppt/presentation.xml"] != nil:
		is = "a presentation; save its table as CSV or .xlsx"
	}
	return "", &ErrNoWorkbook{is}
}

// open opens a part as UTF-8.
func (b *Book) open(key string, limit int64) (io.ReadCloser, error) {
	f := b.parts[key]
	if f == nil {
		return nil, fmt.Errorf("the part %s is missing; open the workbook in a spreadsheet program and save it again", key)
	}
	if f.Flags&1 != 0 {
		return nil, errors.New("the archive is protected by a password; unpack and pack it again without")
	}
	if f.UncompressedSize64 > uint64(limit) || f.UncompressedSize64 > ratioFrom && f.UncompressedSize64/maxRatio > f.CompressedSize64 {
		return nil, fmt.Errorf("the part %s unpacks to %d MB, which no workbook needs; split the workbook", key, f.UncompressedSize64>>20)
	}
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	var mark [2]byte
	n, _ := io.ReadFull(r, mark[:]) // an error comes again below
	var text io.Reader = io.MultiReader(bytes.NewReader(mark[:n]), io.LimitReader(r, limit))
	if mark == [2]byte{0xFF, 0xFE} || mark == [2]byte{0xFE, 0xFF} {
		text = transform.NewReader(text, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder())
	}
	return struct {
		io.Reader
		io.Closer
	}{text, r}, nil
}

// decode reads a small part into a value.
func (b *Book) decode(key string, into any) error {
	r, err := b.open(key, maxPart)
	if err != nil {
		return err
	}
	defer r.Close()
	d := xml.NewDecoder(r)
	d.Strict = false
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	flat := xml.NewTokenDecoder(&shallow{d: d})
	flat.Strict = false
	if err := flat.Decode(into); err != nil {
		return damage(key, err)
	}
	return nil
}

// shallow refuses tags that lie too deep in each other: a decoder remembers
// each.
type shallow struct {
	d     *xml.Decoder
	depth int
}

// Token implements xml.TokenReader.
func (s *shallow) Token() (xml.Token, error) {
	t, err := s.d.RawToken()
	switch t.(type) {
	case xml.StartElement:
		s.depth++
	case xml.EndElement:
		s.depth--
	}
	if s.depth > maxDepth {
		return nil, fmt.Errorf("more than %d tags in each other", maxDepth)
	}
	return t, err
}

type relation struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
}

// relations reads the relations of a part; a part that is missing has none.
func (b *Book) relations(key string) []relation {
	var rels struct {
		Relationship []relation
	}
	if b.decode(key, &rels) != nil {
		return nil
	}
	return rels.Relationship
}

// readWorkbook reads the list of sheets.
func (b *Book) readWorkbook(key string) error {
	var w struct {
		WorkbookPr struct {
			Date1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets struct {
			Sheet []struct {
				Name  string     `xml:"name,attr"`
				State string     `xml:"state,attr"`
				Attrs []xml.Attr `xml:",any,attr"`
			} `xml:"sheet"`
		} `xml:"sheets"`
	}
	if err := b.decode(key, &w); err != nil {
		return err
	}
	b.Date1904 = isTrue([]byte(strings.ToLower(w.WorkbookPr.Date1904)))
	dir := path.Dir(key)
	targets := map[string]relation{}
	for _, r := range b.relations(dir + "/_rels/" + path.Base(key) + ".rels") {
		r.Target = resolve(dir, r.Target)
		targets[r.ID] = r
		switch {
		case strings.HasSuffix(r.Type, "/styles"):
			b.paths[0] = r.Target
		case strings.HasSuffix(r.Type, "/sharedStrings"):
			b.paths[1] = r.Target
		}
	}
	for i, p := range []string{"/styles.xml", "/sharedstrings.xml"} {
		if b.paths[i] == "" && b.parts[dir+p] != nil {
			b.paths[i] = dir + p
		}
	}
	for i, s := range w.Sheets.Sheet {
		sheet := Sheet{Name: s.Name, Hidden: s.State == "hidden" || s.State == "veryHidden", book: b}
		id := ""
		for _, a := range s.Attrs {
			if a.Name.Local == "id" && a.Name.Space != "" {
				id = a.Value
			}
		}
		if r, ok := targets[id]; ok {
			if !strings.HasSuffix(r.Type, "/worksheet") {
				continue // a chart, a dialogue or macros
			}
			sheet.part = r.Target
		} else {
			sheet.part = fmt.Sprintf("%s/worksheets/sheet%d.xml", dir, i+1)
		}
		b.Sheets = append(b.Sheets, sheet)
	}
	return b.readStyles()
}

// resolve returns the key of a part that another in dir refers to.
func resolve(dir, target string) string {
	if strings.HasPrefix(target, "/") {
		return partKey(path.Clean(target))
	}
	return partKey(path.Join(dir, strings.ReplaceAll(target, `\`, "/")))
}

// readStrings reads the shared texts, once.
func (b *Book) readStrings() error {
	if b.loaded || b.paths[1] == "" || b.parts[b.paths[1]] == nil {
		return nil
	}
	r, err := b.open(b.paths[1], maxStrings)
	if err != nil {
		return err
	}
	defer r.Close()
	s := newScanner(r)
	var all []byte
	var ends []int
	for {
		t, err := s.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return damage(b.paths[1], err)
		}
		if t == tagStart && string(s.name) == "si" {
			if !s.single {
				if all, err = s.texts(all, "si"); err != nil {
					return damage(b.paths[1], err)
				}
			}
			ends = append(ends, len(all))
		}
	}
	text, from := string(all), 0
	b.strings = make([]string, len(ends))
	for i, end := range ends {
		b.strings[i] = text[from:end]
		from = end
	}
	b.loaded = true
	return nil
}

// texts appends the text of an item up to its end tag: of all its runs, but not
// of the reading aids beside them.
func (s *scanner) texts(dst []byte, until string) ([]byte, error) {
	from := len(dst)
	in, aid := false, false
	for {
		t, err := s.next()
		if err != nil {
			return dst, err
		}
		switch {
		case t == chars && in && !aid:
			dst = s.appendText(dst)
		case t == chars:
		case string(s.name) == "t":
			in = t == tagStart && !s.single
		case string(s.name) == "rPh":
			aid = t == tagStart && !s.single
		case t == tagEnd && string(s.name) == until:
			return unescape(dst, from), nil
		}
	}
}
