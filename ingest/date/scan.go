package date

import (
	"unicode"
	"unicode/utf8"
)

type kind uint8

const (
	number kind = iota
	letters
	mark
	end // the token behind the last
)

// token is a run of digits, a run of letters, or one sign. Blanks are no
// tokens; glued says that none stood before.
type token struct {
	kind  kind
	n     int64 // value of a number
	size  int   // its digits
	sign  rune  // of a mark
	from  int   // where it stands in the text
	to    int
	glued bool
	used  bool // taken by the clock
}

const (
	maxTokens = 32 // "Sun Apr 05 2026 10:15:00 GMT+0200 (Central European Summer Time)" has 18
	maxText   = 128
)

// tokens is a text taken apart, without allocating.
type tokens struct {
	text string
	at   [maxTokens + 1]token
	len  int
}

// split takes a text apart and returns false where it is too long or holds
// what no date holds.
func (ts *tokens) split(text string) bool {
	if len(text) > maxText {
		return false
	}
	ts.text = text
	glued := true
	for i := 0; i < len(text); {
		r, size := rune(text[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(text[i:])
		}
		if blank(r) {
			i += size
			glued = false
			continue
		}
		if ts.len == maxTokens {
			return false
		}
		t := &ts.at[ts.len]
		*t = token{from: i, glued: glued}
		glued = true
		switch {
		case r >= '0' && r <= '9':
			for ; i < len(text) && text[i] >= '0' && text[i] <= '9'; i++ {
				t.n = t.n*10 + int64(text[i]-'0')
				if t.size++; t.size > 19 || t.n < 0 {
					return false
				}
			}
		case isLetter(r):
			t.kind = letters
			for i < len(text) {
				r, size = utf8.DecodeRuneInString(text[i:])
				if !isLetter(r) {
					break
				}
				i += size
			}
		default:
			t.kind, t.sign = mark, r
			if r == '−' || r == '–' || r == '‐' || r == '‑' {
				t.sign = '-'
			}
			i += size
		}
		t.to = i
		ts.len++
	}
	ts.at[ts.len] = token{kind: end}
	return true
}

func isLetter(r rune) bool {
	return r|0x20 >= 'a' && r|0x20 <= 'z' || r >= utf8.RuneSelf && (unicode.IsLetter(r) || r >= 0x300 && r <= 0x36f)
}

func blank(r rune) bool {
	return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\u200b' || r == '\ufeff' ||
		r >= utf8.RuneSelf && unicode.IsSpace(r)
}

// fold writes the letters of token i into buf, folded, and returns them; nil
// for a word longer than any we know.
func (ts *tokens) fold(i int, buf *[40]byte) []byte {
	b := buf[:0]
	if ts.at[i].kind != letters {
		return nil
	}
	for _, r := range ts.text[ts.at[i].from:ts.at[i].to] {
		if r = foldRune(r); r != 0 {
			if len(b)+utf8.RuneLen(r) > len(buf) {
				return nil
			}
			b = utf8.AppendRune(b, r)
		}
	}
	return b
}

// word returns what the dictionary knows of token i.
func (ts *tokens) word(i int) word {
	var buf [40]byte
	w := dictionary[string(ts.fold(i, &buf))]
	if w.roman && ts.text[ts.at[i].from] >= 'a' {
		w.month = 0 // Roman months are capitals; "v" and "i" are other words
	}
	return w
}

// is reports whether token i is the given word, folded.
func (ts *tokens) is(i int, text string) bool {
	var buf [40]byte
	return i >= 0 && i < ts.len && string(ts.fold(i, &buf)) == text
}

// mark reports whether token i is the given sign.
func (ts *tokens) mark(i int, sign rune) bool {
	return i >= 0 && i < ts.len && ts.at[i].kind == mark && ts.at[i].sign == sign
}

// digits reports whether token i is a number of lo to hi digits.
func (ts *tokens) digits(i, lo, hi int) bool {
	return i >= 0 && i < ts.len && ts.at[i].kind == number && ts.at[i].size >= lo && ts.at[i].size <= hi
}
