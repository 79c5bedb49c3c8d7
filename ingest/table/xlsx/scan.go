package xlsx

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"
)

// token is what a scanner stands on.
type token uint8

const (
	tagStart token = iota
	tagEnd
	chars
)

// maxTag bounds the bytes of one tag.
const maxTag = 1 << 20

// scanner reads the tags and texts of XML as spreadsheets write it, several
// times faster than encoding/xml: it checks no names and no nesting, knows no
// document types, and cuts off prefixes of namespaces.
type scanner struct {
	r        io.Reader
	buf      []byte
	pos, end int
	err      error // of reading

	name   []byte // of a tag, valid until the next token
	attrs  []byte // of a start tag, as written
	single bool   // the start tag ends itself
	text   []byte // of chars, as written or, for CDATA, as meant
	plain  bool   // text is not to be unescaped
}

func newScanner(r io.Reader) *scanner {
	return &scanner{r: r, buf: make([]byte, 64<<10)}
}

// fill reads more, keeping what is after pos.
func (s *scanner) fill() bool {
	if s.err != nil {
		return false
	}
	if s.pos > 0 {
		s.end = copy(s.buf, s.buf[s.pos:s.end])
		s.pos = 0
	}
	if s.end == len(s.buf) {
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	n, err := s.r.Read(s.buf[s.end:])
	s.end += n
	s.err = err
	return n > 0 || err == nil
}

var errTag = errors.New("a tag does not end")

// next moves to the next token. At the end of the content it returns io.EOF.
func (s *scanner) next() (token, error) {
	for {
		for s.pos == s.end {
			if !s.fill() {
				return 0, s.err
			}
		}
		if s.buf[s.pos] != '<' {
			i := bytes.IndexByte(s.buf[s.pos:s.end], '<')
			if i < 0 {
				if s.end-s.pos < maxTag && s.fill() {
					continue
				}
				i = s.end - s.pos
			}
			s.text, s.plain = s.buf[s.pos:s.pos+i], false
			s.pos += i
			return chars, nil
		}
		for s.end-s.pos < 9 && s.fill() {
		}
		b := s.buf[s.pos:s.end]
		switch {
		case len(b) > 1 && b[1] != '!' && b[1] != '?': // as nearly all
			return s.tag()
		case bytes.HasPrefix(b, []byte("<!--")):
			if err := s.skip("-->"); err != nil {
				return 0, err
			}
		case bytes.HasPrefix(b, []byte("<?")):
			if err := s.skip("?>"); err != nil {
				return 0, err
			}
		case bytes.HasPrefix(b, []byte("<![CDATA[")):
			return chars, s.cdata()
		case bytes.HasPrefix(b, []byte("<!")):
			return 0, errors.New("a document type, which no workbook has")
		default:
			return s.tag()
		}
	}
}

// skip moves past a text.
func (s *scanner) skip(end string) error {
	for {
		if i := bytes.Index(s.buf[s.pos:s.end], []byte(end)); i >= 0 {
			s.pos += i + len(end)
			return nil
		}
		s.pos = max(s.pos, s.end-len(end)+1)
		if !s.fill() {
			return s.broken()
		}
	}
}

func (s *scanner) broken() error {
	if s.err == nil || s.err == io.EOF {
		return errTag
	}
	return s.err
}

func (s *scanner) cdata() error {
	s.pos += len("<![CDATA[")
	for {
		if i := bytes.Index(s.buf[s.pos:s.end], []byte("]]>")); i >= 0 {
			s.text, s.plain = s.buf[s.pos:s.pos+i], true
			s.pos += i + 3
			return nil
		}
		if s.end-s.pos > maxTag || !s.fill() {
			return s.broken()
		}
	}
}

// tag reads a start or end tag.
func (s *scanner) tag() (token, error) {
	i, quote := 1, byte(0)
	for {
		b := s.buf[s.pos:s.end]
		for ; i < len(b); i++ {
			c := b[i]
			switch {
			case quote != 0:
				if c == quote {
					quote = 0
				}
			case c == '"' || c == '\'':
				quote = c
			case c == '>':
				s.pos += i + 1
				return s.cut(b[1:i]), nil
			}
		}
		if len(b) > maxTag || !s.fill() {
			return 0, s.broken()
		}
	}
}

// cut takes a tag apart.
func (s *scanner) cut(b []byte) token {
	kind := tagStart
	if len(b) > 0 && b[0] == '/' {
		kind, b = tagEnd, b[1:]
	}
	s.single = len(b) > 0 && b[len(b)-1] == '/'
	if s.single {
		b = b[:len(b)-1]
	}
	n := 0
	for n < len(b) && b[n] > ' ' {
		n++
	}
	s.name, s.attrs = b[:n], b[n:]
	if i := bytes.IndexByte(s.name, ':'); i >= 0 {
		s.name = s.name[i+1:]
	}
	return kind
}

// attr returns the value of an attribute as written; nil if there is none.
func (s *scanner) attr(name string) []byte {
	for rest := s.attrs; ; {
		var key, value []byte
		if key, value, rest = attribute(rest); value == nil || string(key) == name {
			return value
		}
	}
}

// attribute returns the first of the attributes, and the others; a nil value
// where there is none.
func attribute(b []byte) (key, value, rest []byte) {
	eq := bytes.IndexByte(b, '=')
	if eq < 0 {
		return nil, nil, nil
	}
	key, rest = bytes.TrimSpace(b[:eq]), b[eq+1:]
	for len(rest) > 0 && (rest[0] == ' ' || rest[0] == '\t' || rest[0] == '\r' || rest[0] == '\n') {
		rest = rest[1:]
	}
	if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
		return nil, nil, nil
	}
	end := bytes.IndexByte(rest[1:], rest[0])
	if end < 0 {
		return nil, nil, nil
	}
	return key, rest[1 : 1+end], rest[end+2:]
}

// cellAttributes returns what the start tag of a cell says of its place, type and
// style.
func (s *scanner) cellAttributes() (ref, kind, style []byte) {
	for key, value, rest := attribute(s.attrs); value != nil; key, value, rest = attribute(rest) {
		switch {
		case len(key) != 1:
		case key[0] == 'r' && ref == nil:
			ref = value
		case key[0] == 't' && kind == nil:
			kind = value
		case key[0] == 's' && style == nil:
			style = value
		}
	}
	return ref, kind, style
}

// isTrue reads an attribute of yes or no.
func isTrue(b []byte) bool { return string(b) == "1" || string(b) == "true" || string(b) == "on" }

// appendText appends the scanner's text, its references replaced and its line
// breaks made LF.
func (s *scanner) appendText(dst []byte) []byte {
	b := s.text
	if s.plain || bytes.IndexByte(b, '&') < 0 && bytes.IndexByte(b, '\r') < 0 {
		return append(dst, b...)
	}
	for len(b) > 0 {
		switch b[0] {
		case '\r':
			dst = append(dst, '\n')
			b = b[1:]
			if len(b) > 0 && b[0] == '\n' {
				b = b[1:]
			}
		case '&':
			semi := bytes.IndexByte(b[:min(len(b), 12)], ';')
			r, ok := reference(b[1:max(semi, 1)])
			if semi < 0 || !ok {
				dst, b = append(dst, '&'), b[1:]
				continue
			}
			dst, b = utf8.AppendRune(dst, r), b[semi+1:]
		default:
			n := bytes.IndexAny(b, "&\r")
			if n < 0 {
				n = len(b)
			}
			dst, b = append(dst, b[:n]...), b[n:]
		}
	}
	return dst
}

// reference returns the character that a reference names.
func reference(b []byte) (rune, bool) {
	switch string(b) {
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "amp":
		return '&', true
	case "quot":
		return '"', true
	case "apos":
		return '\'', true
	}
	if len(b) < 2 || b[0] != '#' {
		return 0, false
	}
	base, digits := 10, b[1:]
	if digits[0] == 'x' || digits[0] == 'X' {
		base, digits = 16, digits[1:]
	}
	n, err := strconv.ParseUint(string(digits), base, 32)
	if err != nil || n > utf8.MaxRune {
		return 0, false
	}
	return rune(n), true
}

// unescape replaces _xHHHH_, by which workbooks write characters that XML does
// not have.
func unescape(b []byte, from int) []byte {
	if !bytes.Contains(b[from:], []byte("_x")) {
		return b
	}
	out := b[:from]
	for i := from; i < len(b); {
		if b[i] == '_' && i+7 <= len(b) && b[i+1] == 'x' && b[i+6] == '_' {
			if n, err := strconv.ParseUint(string(b[i+2:i+6]), 16, 16); err == nil {
				out = utf8.AppendRune(out, rune(n)) // never longer than what it stands for
				i += 7
				continue
			}
		}
		out = append(out, b[i])
		i++
	}
	return out
}

// damage is an error of the content of a part.
func damage(part string, err error) error {
	if err == io.EOF {
		err = io.ErrUnexpectedEOF
	}
	return fmt.Errorf("the workbook is damaged (%s: %w); open it in a spreadsheet program and save it again", part, err)
}
