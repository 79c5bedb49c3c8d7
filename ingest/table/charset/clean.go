package charset

import (
	"bytes"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// cleaner reads valid UTF-8 without NUL bytes from what is almost that.
type cleaner struct {
	r    io.Reader
	rest []byte // of a character whose end is not read yet
	out  []byte // cleaned, not yet given
	err  error
}

func (c *cleaner) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, nil
	}
	for {
		if len(c.out) > 0 {
			n := copy(p, c.out)
			c.out = c.out[n:]
			return n, nil
		}
		if c.err != nil {
			return 0, c.err
		}
		if len(p) < 2*utf8.UTFMax {
			c.out = c.fill(make([]byte, 2*utf8.UTFMax))
			continue
		}
		if b := c.fill(p); len(b) > 0 {
			if len(b) <= len(p) && &b[0] == &p[0] {
				return len(b), nil
			}
			c.out = b
		}
	}
}

// fill reads into p and returns what is clean of it: a part of p itself where
// nothing had to be changed.
func (c *cleaner) fill(p []byte) []byte {
	k := copy(p, c.rest)
	c.rest = c.rest[:0]
	n, err := c.r.Read(p[k:])
	b := p[:k+n]
	c.err = err
	if err == nil {
		whole := len(b) - cutOff(b)
		c.rest = append(c.rest, b[whole:]...)
		b = b[:whole]
	}
	if utf8.Valid(b) && bytes.IndexByte(b, 0) < 0 {
		return b
	}
	return repair(b)
}

// cutOff returns the number of bytes at the end that begin a character.
func cutOff(b []byte) int {
	for n := 1; n < utf8.UTFMax && n <= len(b); n++ {
		if utf8.RuneStart(b[len(b)-n]) {
			if !utf8.FullRune(b[len(b)-n:]) {
				return n
			}
			return 0
		}
	}
	return 0
}

// repair returns the text without NUL bytes and with stray bytes read as
// Windows-1252.
func repair(b []byte) []byte {
	out := make([]byte, 0, len(b)+len(b)/8)
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		switch {
		case b[i] == 0:
		case r == utf8.RuneError && n == 1:
			out = utf8.AppendRune(out, charmap.Windows1252.DecodeByte(b[i]))
		default:
			out = append(out, b[i:i+n]...)
		}
		i += n
	}
	return out
}
