package number

import (
	"strings"
	"unicode/utf8"
)

// sureRatio is how many texts must speak for one decimal mark against each
// that speaks for the other before the mark counts as known: a stray cell typed
// with the other mark does not unsettle a column. Common practice, no source.
const sureRatio = 20

// Evidence gathers what the numbers of a column, or of a whole source, say
// about its decimal mark. The zero Evidence is empty and ready.
type Evidence struct {
	Point, Comma int // texts that leave only this decimal mark
	Either       int // texts with two readings: "1.234"
	Other        int // texts that hold no number; nulls are not counted
}

// Add takes one text into account.
func (e *Evidence) Add(text string) {
	if at, ok := bare(text); ok { // as most are
		switch {
		case at < 0:
		case len(text)-at == 4 && canGroup(text[:at]):
			e.Either++
		case text[at] == '.':
			e.Point++
		default:
			e.Comma++
		}
		return
	}
	if IsNull(text) {
		return
	}
	t := strings.TrimFunc(text, blank)
	if r, size := utf8.DecodeRuneInString(t); sign(r) {
		t = strings.TrimLeftFunc(t[size:], blank)
	}
	var n numeral
	var v Value
	rest, ok := n.scan(t)
	if !ok || v.behind(rest) != "" {
		e.Other++
		return
	}
	switch n.reading() {
	case unread:
		e.Other++
	case pointOnly, commaGroups:
		e.Point++
	case commaOnly, pointGroups:
		e.Comma++
	case pointOrGroup, commaOrGroup:
		e.Either++
	}
}

// bare reports whether a text is digits with at most one point or comma among or
// behind them, and where that is; -1 for none.
func bare(text string) (at int, ok bool) {
	at = -1
	for i := range len(text) {
		switch c := text[i]; {
		case digit(c):
		case at < 0 && i > 0 && (c == '.' || c == ','):
			at = i
		default:
			return at, false
		}
	}
	return at, text != ""
}

// Merge takes the evidence of o into account: that of another column, or of a
// sister file.
func (e *Evidence) Merge(o Evidence) {
	e.Point += o.Point
	e.Comma += o.Comma
	e.Either += o.Either
	e.Other += o.Other
}

// Mark returns the decimal mark that the evidence speaks for, and whether it
// suffices: all texts agree, or 20 times as many as disagree, or no text needs
// a mark (AnyMark). Not sure means that some text has two readings and the
// caller must ask.
func (e Evidence) Mark() (mark DecimalMark, sure bool) {
	switch {
	case e.Point > e.Comma:
		return Point, e.Either == 0 || e.Point >= sureRatio*e.Comma
	case e.Comma > e.Point:
		return Comma, e.Either == 0 || e.Comma >= sureRatio*e.Point
	}
	return AnyMark, e.Either == 0
}
