// Package leak looks for names of people in the files of a folder: in the
// names of files, in texts of every kind with their escapes undone, in each
// part of a workbook, its properties among them, in the pages and the footer of
// Parquet files, and in whatever else reads as text in a file.
//
// What it cannot see: names nobody told it, names inside pictures, and who
// somebody is by what they lift.
package leak

import (
	"archive/zip"
	"bytes"
	"encoding/hex"
	"fmt"
	"html"
	"io"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"repsift/report/pack"
	"repsift/report/pseudonym"
	"repsift/report/tidy/stored"
)

// Leak is a name that is left.
type Leak struct {
	File  string // relative to the folder; a part of a workbook behind " → "
	Where string // line or column; may be empty
	Found string // as it stands there
	Name  string // whose part it is
}

// String says what was found where, in one line.
func (l Leak) String() string {
	at := l.File
	if l.Where != "" {
		at += ", " + l.Where
	}
	if l.Name == "" {
		return at + ": " + l.Found
	}
	return fmt.Sprintf("%s: %q, of the name %q", at, l.Found, l.Name)
}

// Search is what to look for.
type Search struct {
	Names *pseudonym.Names
	Key   string // of the codes, in hexadecimal; empty: not known
}

// most is how many leaks are told of one file: who sees these looks further
// without help.
const most = 20

// maxPart is the largest part of a workbook that is unpacked.
const maxPart = 1 << 30

// Folder returns what is left in a folder, by file. The error is about a file
// that could not be looked into, which proves nothing.
func (s Search) Folder(folder fs.FS) ([]Leak, error) {
	var all []Leak
	add := func(l Leak) {
		if n := len(all); n < most || all[n-most].File != l.File {
			all = append(all, l)
		}
	}
	l := &look{}
	l.text = func(where, text string) {
		for _, form := range unescaped(text) {
			hits := s.Names.Find(form)
			for _, h := range hits {
				add(Leak{l.file, where, form[h.From:h.To], h.Name})
			}
			if hits != nil {
				return // once is enough
			}
		}
	}
	l.packed = func(text string) {
		const long = 6 // packed data holds every short word
		for _, h := range s.Names.Find(text) {
			if utf8.RuneCountInString(text[h.From:h.To]) >= long {
				add(Leak{l.file, "", text[h.From:h.To], h.Name})
			}
		}
	}
	secret, _ := hex.DecodeString(s.Key)
	l.whole = func(b []byte) {
		if s.Key != "" && (bytes.Contains(bytes.ToLower(b), []byte(s.Key)) || bytes.Contains(b, secret)) {
			add(Leak{l.file, "", "the key that the codes are made from", ""})
		}
	}
	err := l.folder(folder)
	return all, err
}

// Texts calls visit with every text in a folder, names of files among them.
func Texts(folder fs.FS, visit func(text string)) error {
	l := &look{text: func(_, text string) { visit(text) }, packed: func(string) {}, whole: func([]byte) {}}
	return l.folder(folder)
}

// look goes through files and says what is in them: a text with where it
// stands; what reads as text in packed bytes; all bytes.
type look struct {
	file   string
	text   func(where, text string)
	packed func(text string)
	whole  func(b []byte)
}

func (l *look) folder(folder fs.FS) error {
	return fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		l.file = name
		if name != "." {
			l.text("name of the file", path.Base(name))
		}
		if d.Type()&fs.ModeSymlink != 0 {
			return fmt.Errorf("%s is a link, and what it leads to is not part of the folder", name)
		}
		if d.IsDir() {
			return nil
		}
		if d.Name() == pack.KeptFile {
			return fmt.Errorf("%s holds what repsift read of the exports, names and all: delete it before the folder is handed on", name)
		}
		b, err := fs.ReadFile(folder, name)
		if err == nil {
			err = l.bytes(b)
		}
		if err != nil {
			return fmt.Errorf("%s cannot be looked into: %w", name, err)
		}
		return nil
	})
}

// bytes looks into a file, or a part of one, by what it is.
func (l *look) bytes(b []byte) error {
	l.whole(b)
	switch {
	case bytes.HasPrefix(b, []byte("PK\x03\x04")), bytes.HasPrefix(b, []byte("PK\x05\x06")):
		l.remains(b)
		return l.archive(b)
	case bytes.HasPrefix(b, []byte("PAR1")):
		l.remains(b)
		told := map[[2]string]bool{}
		return stored.Texts(b, func(where, text string) {
			if k := [2]string{where, text}; !told[k] {
				told[k] = true
				l.text(where, text)
			}
		})
	}
	text, ok := decoded(b)
	if !ok {
		l.remains(b)
		return nil
	}
	line := 0
	for part := range strings.Lines(text) {
		line++
		l.text("line "+strconv.Itoa(line), part)
	}
	return nil
}

// archive looks into a zip file, as a workbook is one.
func (l *look) archive(b []byte) error {
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return err
	}
	l.text("comment", z.Comment)
	whole := l.file
	defer func() { l.file = whole }()
	for _, f := range z.File {
		l.file = whole + " → " + f.Name
		l.text("name of the part", f.Name)
		l.text("comment", f.Comment)
		l.text("extra field", string(bytes.ToValidUTF8(f.Extra, nil)))
		r, err := f.Open()
		if err != nil {
			return err
		}
		part, err := io.ReadAll(io.LimitReader(r, maxPart+1))
		if err != nil {
			return err
		}
		if len(part) > maxPart {
			return fmt.Errorf("%s is too large", f.Name)
		}
		if err := l.bytes(part); err != nil {
			return err
		}
	}
	return nil
}

var readable = regexp.MustCompile(`[\pL\pM\pN .,'_-]{6,}`)

// remains looks into whatever reads as text in other bytes.
func (l *look) remains(b []byte) {
	for _, form := range [][]byte{b, bytes.ReplaceAll(b, []byte{0}, nil)} { // UTF-16 too
		for _, run := range readable.FindAll(form, -1) {
			l.packed(string(run))
		}
	}
}

// decoded returns bytes as text; false where they are none.
func decoded(b []byte) (string, bool) {
	switch {
	case bytes.HasPrefix(b, []byte{0xFF, 0xFE}), bytes.HasPrefix(b, []byte{0xFE, 0xFF}):
		units := make([]uint16, len(b)/2)
		low := 0
		if b[0] == 0xFE {
			low = 1
		}
		for i := range units {
			units[i] = uint16(b[2*i+low]) | uint16(b[2*i+1-low])<<8
		}
		return string(utf16.Decode(units)), true
	case utf8.Valid(b) && !bytes.Contains(b, []byte{0}):
		return string(b), true
	}
	return "", false
}

var escape = regexp.MustCompile(`\\u[0-9A-Fa-f]{4}(?:\\u[0-9A-Fa-f]{4})?`)

// unescaped returns a text as it stands and, where it differs, as web pages,
// JSON, workbooks and links would show it.
func unescaped(text string) []string {
	forms := []string{text}
	add := func(form string) {
		if form != forms[len(forms)-1] && form != text {
			forms = append(forms, form)
		}
	}
	if strings.Contains(text, "<") {
		add(tag.ReplaceAllString(text, "")) // a name may be cut by markup
	}
	if strings.Contains(text, "&") {
		add(html.UnescapeString(text))
	}
	if strings.Contains(text, `\u`) {
		add(escape.ReplaceAllStringFunc(text, func(s string) string {
			if out, err := strconv.Unquote(`"` + s + `"`); err == nil {
				return out
			}
			var units []uint16
			for _, hex := range strings.Split(s, `\u`)[1:] {
				u, _ := strconv.ParseUint(hex, 16, 16)
				units = append(units, uint16(u))
			}
			return string(utf16.Decode(units))
		}))
	}
	if strings.Contains(text, "%") {
		add(percent.ReplaceAllStringFunc(text, func(s string) string {
			out, err := url.PathUnescape(s)
			if err != nil {
				return s
			}
			return out
		}))
	}
	if strings.Contains(text, "_x") { // as workbooks write signs
		add(crossed.ReplaceAllStringFunc(text, func(s string) string {
			u, _ := strconv.ParseUint(s[2:6], 16, 16)
			return string(rune(u))
		}))
	}
	return forms
}

var (
	tag     = regexp.MustCompile(`<[^<>]*>`)
	percent = regexp.MustCompile(`(?:%[0-9A-Fa-f]{2})+`)
	crossed = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)
)
