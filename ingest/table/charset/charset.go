// Package charset recognises the encoding of a text and reads it as UTF-8.
//
// A byte order mark decides. Without one, zero bytes at every other place mean
// UTF-16, and a text that is valid UTF-8 is taken as that. What remains is
// decoded by each candidate of [eightBit], and the one that gives the most
// plausible letters in the most plausible places is taken; see [plausible].
package charset

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/encoding/unicode/utf32"
	"golang.org/x/text/transform"
)

// Charset is how a text is encoded.
type Charset struct {
	Name  string // "UTF-8", "UTF-16LE", "Windows-1252", …
	BOM   int    // bytes of the byte order mark
	ASCII bool   // the sample had no other characters
	Torn  int    // bytes of the sample that are not valid in it

	// Rivals are encodings in which the sample looks nearly as plausible.
	Rivals []Charset

	enc encoding.Encoding // nil: UTF-8
}

// Key is the name of the charset as [Named] and web pages have it.
func (c Charset) Key() string {
	key := strings.ReplaceAll(strings.ToLower(c.Name), " ", "-")
	if key == "mac-roman" {
		return "macintosh"
	}
	return key
}

// Reread returns a text that was read in c as it is in another encoding; as it
// is where it cannot be written in c.
func (c Charset) Reread(text string, other Charset) string {
	if c.enc == nil || other.enc == nil {
		return text
	}
	raw, err := c.enc.NewEncoder().String(text)
	if err != nil {
		return text
	}
	again, err := other.enc.NewDecoder().String(raw)
	if err != nil {
		return text
	}
	return again
}

// Alike reports whether a byte is the same character in two encodings of one byte
// a character.
func (c Charset) Alike(other Charset, b byte) bool {
	if c.enc == nil || other.enc == nil {
		return false
	}
	mine, err := c.enc.NewDecoder().String(string([]byte{b}))
	theirs, bad := other.enc.NewDecoder().String(string([]byte{b}))
	return err == nil && bad == nil && mine == theirs
}

// Named returns the charset of a declared name: those of the web, such as
// "windows-1252", "iso-8859-2", "macintosh" and "utf-16le", and the usual other
// spellings of them. A byte order mark in the sample is skipped where it fits.
func Named(name string, sample []byte) (Charset, error) {
	key := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(name)))
	if a, ok := aliases[key]; ok {
		key = a
	}
	if bom, ok := byMark(sample); ok && strings.HasPrefix(strings.ToLower(bom.Name), key) {
		return bom, nil
	}
	switch key {
	case "utf-8", "us-ascii":
		return Charset{Name: "UTF-8"}, nil
	case "utf-16le", "utf-16":
		return Charset{Name: "UTF-16LE", enc: utf16LE}, nil
	case "utf-16be":
		return Charset{Name: "UTF-16BE", enc: utf16BE}, nil
	}
	for _, c := range eightBit {
		if strings.ToLower(strings.ReplaceAll(c.name, " ", "-")) == key {
			return Charset{Name: c.name, enc: c.enc}, nil
		}
	}
	enc, err := htmlindex.Get(key)
	if err != nil {
		return Charset{}, fmt.Errorf("encoding %q is not known; write for example utf-8, utf-16le, windows-1252, iso-8859-2 or macintosh", name)
	}
	canonical, err := htmlindex.Name(enc)
	if err != nil {
		canonical = key
	}
	return Charset{Name: canonical, enc: enc}, nil
}

var aliases = map[string]string{
	"utf8": "utf-8", "utf-8-sig": "utf-8", "utf-8-bom": "utf-8", "ascii": "us-ascii",
	"utf16": "utf-16", "utf-16-le": "utf-16le", "utf-16-be": "utf-16be", "utf16le": "utf-16le", "utf16be": "utf-16be",
	"cp1252": "windows-1252", "latin1": "windows-1252", "latin-1": "windows-1252", "iso-8859-1": "windows-1252", "ansi": "windows-1252",
	"cp1250": "windows-1250", "cp1251": "windows-1251", "latin2": "iso-8859-2", "latin-2": "iso-8859-2",
	"macroman": "mac-roman", "mac": "mac-roman", "macintosh": "mac-roman", "x-mac-roman": "mac-roman",
	"cp850": "dos-850", "ibm850": "dos-850", "cp437": "dos-437", "ibm437": "dos-437", "cp852": "dos-852", "ibm852": "dos-852",
	"cp866": "dos-866", "ibm866": "dos-866",
}

var (
	utf16LE = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	utf16BE = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
)

// byMark recognises a byte order mark.
func byMark(b []byte) (Charset, bool) {
	switch {
	case bytes.HasPrefix(b, []byte{0xEF, 0xBB, 0xBF}):
		return Charset{Name: "UTF-8", BOM: 3}, true
	case bytes.HasPrefix(b, []byte{0xFF, 0xFE, 0, 0}):
		return Charset{Name: "UTF-32LE", BOM: 4, enc: utf32.UTF32(utf32.LittleEndian, utf32.IgnoreBOM)}, true
	case bytes.HasPrefix(b, []byte{0xFF, 0xFE}):
		return Charset{Name: "UTF-16LE", BOM: 2, enc: utf16LE}, true
	case bytes.HasPrefix(b, []byte{0xFE, 0xFF}):
		return Charset{Name: "UTF-16BE", BOM: 2, enc: utf16BE}, true
	}
	return Charset{}, false
}

// Recognise returns the most plausible charset of a text by a sample of it.
func Recognise(sample []byte) Charset {
	if c, ok := byMark(sample); ok {
		if c.enc == nil {
			_, c.Torn = tornUTF8(sample)
		}
		return c
	}
	if c, ok := byZeros(sample); ok {
		return c
	}
	whole, torn := tornUTF8(sample)
	switch {
	case whole == 0 && torn == 0:
		return Charset{Name: "UTF-8", ASCII: true}
	case whole > 2*torn:
		return Charset{Name: "UTF-8", Torn: torn}
	}
	if c, ok := eastAsian(sample); ok {
		return c
	}
	return byLetters(sample)
}

// byZeros recognises UTF-16 without a mark: in a table most characters are
// ASCII, whose high byte is zero.
func byZeros(b []byte) (Charset, bool) {
	var zeros [2]int
	n := len(b) &^ 1
	for i := range n {
		if b[i] == 0 {
			zeros[i&1]++
		}
	}
	half := n / 2
	switch {
	case half < 2:
	case zeros[1]*8 > half && zeros[0]*20 < zeros[1]:
		return Charset{Name: "UTF-16LE", enc: utf16LE}, true
	case zeros[0]*8 > half && zeros[1]*20 < zeros[0]:
		return Charset{Name: "UTF-16BE", enc: utf16BE}, true
	}
	return Charset{}, false
}

// tornUTF8 counts the characters beyond ASCII and the bytes that belong to no
// character. A character cut off by the end of the sample is neither.
func tornUTF8(b []byte) (whole, torn int) {
	for i := 0; i < len(b); {
		if b[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, n := utf8.DecodeRune(b[i:])
		switch {
		case r != utf8.RuneError || n > 1:
			whole++
		case len(b)-i < utf8.UTFMax && !utf8.FullRune(b[i:]):
			return whole, torn
		default:
			torn++
		}
		i += n
	}
	return whole, torn
}

// NewReader returns a reader of the text as valid UTF-8, without its byte order
// mark and without NUL bytes, which loggers leave where their power failed.
// Bytes that are not valid UTF-8 in a text of UTF-8 are read as Windows-1252,
// what they nearly always are.
func NewReader(r io.Reader, c Charset) io.Reader {
	if c.BOM > 0 {
		r = &skipper{r: r, n: c.BOM}
	}
	if c.enc != nil {
		r = transform.NewReader(r, c.enc.NewDecoder())
	}
	return &cleaner{r: r}
}

// skipper leaves out the first bytes.
type skipper struct {
	r io.Reader
	n int
}

func (s *skipper) Read(p []byte) (int, error) {
	for s.n > 0 {
		k, err := s.r.Read(p[:min(len(p), s.n)])
		s.n -= k
		if err != nil {
			return 0, err
		}
	}
	return s.r.Read(p)
}
