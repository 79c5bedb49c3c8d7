package shorthand

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

type kind uint8

const (
	end    kind = iota // behind the last token
	number             // digits, with a fraction behind a point
	word               // letters
	times              // x between numbers
	stop               // end of the entry: ; | newline
	sign               // one other sign, in token.sign
)

// token is a piece of the text.
type token struct {
	kind     kind
	v        float64 // value of a number
	decimals int     // digits behind the point
	sign     rune
	text     string // as written
	word     string // lower case
	meaning  meaning
	from, to int
	glued    bool // no blank before it
}

const (
	maxText   = 400 // bytes of a note; longer texts are no log entries
	maxDigits = 6   // before the point; no count and no load has more
)

// lex takes a text apart. The problem is "" unless there is one, with the
// position it is at.
func lex(text string) (toks []token, problem string, pos int) {
	if len(text) > maxText {
		return nil, "is too long for a set", 0
	}
	glued := true
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r != '\n' && r != '\r' && (unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff') {
			i += size
			glued = false
			continue
		}
		t := token{from: i, glued: glued}
		glued = true
		switch {
		case digitAt(text, i) || r == '.' && digitAt(text, i+1) && !digitAt(text, i-1):
			if i, problem = t.number(text, i); problem != "" {
				return nil, problem, t.from
			}
		case r == '½' || r == '¼' || r == '¾':
			t.kind, t.decimals = number, 2
			t.v = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75}[r]
			i += size
			if n := len(toks); n > 0 && t.glued && toks[n-1].kind == number && toks[n-1].decimals == 0 {
				last := &toks[n-1]
				last.v, last.decimals, last.to = last.v+t.v, 1, i
				last.text = text[last.from:i]
				if r != '½' {
					last.decimals = 2
				}
				continue
			}
		case unicode.IsLetter(r):
			for i < len(text) {
				r, size := utf8.DecodeRuneInString(text[i:])
				if !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) {
					break
				}
				i += size
			}
			t.kind = word
		default:
			i += size
			t.kind, t.sign = sign, r
			switch r {
			case '×', '✕', '✖', '*', '⨯':
				t.kind = times
			case ';', '|', '\n', '\r', '•':
				t.kind = stop
			case '–', '—', '−', '‐', '‑':
				t.sign = '-'
			case '→', '➔', '➜', '⟶', '›':
				t.sign = '>'
			case '…':
				t.sign = '~'
			case '✗', '✘', '❌':
				t.kind = word
			case '（':
				t.sign = '('
			case '）':
				t.sign = ')'
			case '＠':
				t.sign = '@'
			}
		}
		t.to = i
		t.text = text[t.from:i]
		if t.kind == word {
			toks = append(toks, t.split()...)
			continue
		}
		if n := len(toks); n > 0 && t.sign == '>' && t.glued && (toks[n-1].sign == '-' || toks[n-1].sign == '=') {
			t.from, t.glued = toks[n-1].from, toks[n-1].glued // "->"
			toks = toks[:n-1]
		}
		toks = append(toks, t)
	}
	return toks, "", 0
}

func digitAt(text string, i int) bool {
	return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9'
}

// number reads digits at i and a fraction behind a point. A comma is left to
// the grammar.
func (t *token) number(text string, i int) (int, string) {
	t.kind = number
	from := i
	for digitAt(text, i) {
		i++
	}
	if i-from > maxDigits {
		return i, strconv.Quote(clip(text[from:i])) + " is too large for a load or a count"
	}
	if i < len(text) && text[i] == '.' && digitAt(text, i+1) {
		point := i
		for i++; digitAt(text, i); i++ {
		}
		t.decimals = i - point - 1
		if t.decimals > maxDigits || i < len(text) && text[i] == '.' && digitAt(text, i+1) {
			return i, strconv.Quote(clip(text[from:])) + " is no number"
		}
	}
	t.v, _ = strconv.ParseFloat(text[from:i], 64) // digits only: cannot fail
	return i, ""
}

func clip(text string) string {
	if len(text) > 20 {
		text = strings.ToValidUTF8(text[:20], "") + "…"
	}
	return text
}

// split looks up a word and parts an x that is written onto it: "kgx" of
// "180kgx5", "xF" of "180xF".
func (t token) split() []token {
	t.word = strings.ToLower(t.text)
	t.meaning = meanings[t.word]
	if t.meaning == wordTimes || t.meaning == wordOf {
		t.kind = times
		return []token{t}
	}
	if t.meaning != noMeaning || isUnit(t.word) {
		return []token{t}
	}
	x, size := utf8.DecodeRuneInString(t.text)
	if rest := t.text[size:]; len(rest) > 0 && isX(x) && t.glued && known(rest) {
		a, b := t, t
		a.kind, a.text, a.to, a.meaning = times, t.text[:size], t.from+size, wordTimes
		b.text, b.from, b.word = rest, t.from+size, strings.ToLower(rest)
		b.meaning = meanings[b.word]
		b.glued = true
		return []token{a, b}
	}
	x, size = utf8.DecodeLastRuneInString(t.text)
	if rest := t.text[:len(t.text)-size]; len(rest) > 0 && isX(x) && known(rest) {
		a, b := t, t
		a.text, a.to, a.word = rest, t.from+len(rest), strings.ToLower(rest)
		a.meaning = meanings[a.word]
		b.kind, b.text, b.from, b.meaning, b.glued = times, t.text[len(rest):], t.from+len(rest), wordTimes, true
		return []token{a, b}
	}
	return []token{t}
}

// isX reports whether r is a Latin or Cyrillic x.
func isX(r rune) bool { return r == 'x' || r == 'X' || r == 'х' || r == 'Х' }

func known(text string) bool {
	text = strings.ToLower(text)
	return meanings[text] != noMeaning || isUnit(text)
}
