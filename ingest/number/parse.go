package number

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"repsift/ingest/unit"
)

// Parse reads one number. The mark decides texts with two readings ("1,234");
// a text that leaves one reading is read so whatever the mark, so that a
// "0,41" typed into a column of points is not lost. Blanks around it, a sign
// (also − and –), thousands marks (point, comma, blank, thin and non-breaking
// blank, apostrophe) and a unit or percent sign behind are understood, and
// durations: "1:05.2" is 65.2 s, "1:00:05" an hour and five seconds.
//
// It allocates nothing for a plain number. The error is an *[Error]; a text for
// which [IsNull] holds is an error too, so ask that first where blanks are
// allowed.
func Parse(text string, mark DecimalMark) (v Value, err error) {
	if v.plain(text, mark) {
		return v, nil
	}
	problem := ""
	if v, problem = parse(text, mark); problem != "" {
		return Value{}, &Error{Text: text, Problem: problem, Ambiguous: problem == twoReadings}
	}
	return v, nil
}

// The problems of an Error.
const (
	notNumber   = "is not a number"
	isEmpty     = "is empty, where a number should stand"
	outOfRange  = "is out of the range of numbers"
	twoReadings = "can be a whole number with a thousands mark or a number with a fraction; declare decimal"
)

// pow10 holds the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// steps holds 1/pow10, each the double nearest to the decimal.
var steps = [...]float64{1e0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11,
	1e-12, 1e-13, 1e-14, 1e-15}

// plain is the fast path: ASCII digits, at most 15, a sign, one decimal mark,
// nothing else. Both the digits as an integer and the power of ten are exact
// in a float64, so their quotient is the double nearest to the text (Clinger
// 1990, How to read floating point numbers accurately, the simple case).
func (v *Value) plain(text string, mark DecimalMark) bool {
	if len(text) == 0 || len(text) > 17 {
		return false
	}
	i := 0
	if text[0] == '-' || text[0] == '+' {
		i = 1
	}
	start, at := i, -1
	var m int64
	for ; i < len(text); i++ {
		c := text[i] - '0'
		if c <= 9 {
			m = m*10 + int64(c)
			continue
		}
		if at >= 0 || text[i] != '.' && text[i] != ',' {
			return false
		}
		at = i
	}
	digits, k := len(text)-start, 0
	if at >= 0 {
		digits--
		k = len(text) - at - 1
		if k == 3 && (mark == AnyMark || mark.sign() != text[at]) && canGroup(text[start:at]) {
			return false
		}
	}
	if digits < 1 || digits > 15 {
		return false
	}
	if text[0] == '-' {
		m = -m
	}
	v.V, v.Step = float64(m), 1
	if k > 0 {
		v.V, v.Step = v.V/pow10[k], steps[k]
	}
	return true
}

func (m DecimalMark) sign() byte {
	if m == Comma {
		return ','
	}
	return '.'
}

// canGroup reports whether digits can stand before a thousands mark.
func canGroup(digits string) bool {
	return len(digits) >= 1 && len(digits) <= 3 && digits[0] != '0'
}

// parse reads everything else and returns the problem, "" for none.
func parse(text string, mark DecimalMark) (Value, string) {
	rest := strings.TrimFunc(text, blank)
	if rest == "" {
		return Value{}, isEmpty
	}
	negative := false
	if r, size := utf8.DecodeRuneInString(rest); sign(r) {
		negative = r != '+' && r != '＋'
		rest = strings.TrimLeftFunc(rest[size:], blank)
	}
	var v Value
	var problem string
	n := numeral{}
	rest, ok := n.scan(rest)
	switch {
	case !ok:
		return Value{}, notNumber
	case strings.HasPrefix(rest, ":"):
		v, rest, problem = duration(&n, rest)
	case n.spaced > 0 || n.hasExp || !v.plain(n.text, mark):
		v, problem = n.value(mark)
	}
	if problem == "" {
		problem = v.behind(rest)
	}
	if problem != "" {
		return Value{}, problem
	}
	if negative && v.V != 0 {
		v.V = -v.V
	}
	return v, ""
}

func blank(r rune) bool { return unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff' || r == '\u2060' }

func sign(r rune) bool {
	switch r {
	case '+', '-', '−', '–', '‐', '‑', '﹣', '－', '＋':
		return true
	}
	return false
}

// behind settles what stands behind the digits: nothing, percent, a unit.
func (v *Value) behind(rest string) string {
	rest = strings.TrimFunc(rest, blank)
	if rest == "" {
		return ""
	}
	if (rest == "%" || rest == "％") && v.Unit == "" {
		v.Percent = true
		return ""
	}
	u, ok := unit.Parse(rest)
	for q := unit.Load; !ok && q <= unit.Time; q++ {
		u, ok = unit.ParseFor(q, rest) // a unit to who knows the column
	}
	if !ok || v.Unit != "" && u.Quantity != unit.Time { // "1:05 min"
		return notNumber
	}
	if v.Unit == "" {
		v.Unit = rest
	}
	return ""
}

// numeral is the digits of a number and the marks between them.
type numeral struct {
	text   string // digits and marks, from the first to the last
	exp    int    // of "e5"
	hasExp bool   // one was written
	points int
	commas int
	spaced int // blanks and apostrophes, each between digits
	last   int // index in text of the last point or comma
}

// scan takes the numeral off the front of a text and returns the rest; false
// where there is none.
func (n *numeral) scan(text string) (rest string, ok bool) {
	digits, end := 0, 0
	for i, r := range text {
		switch {
		case r >= '0' && r <= '9':
			digits++
			end = i + 1
			continue
		case r == '.':
			n.points++
			n.last, end = i, i+1
			continue
		case r == ',':
			n.commas++
			n.last, end = i, i+1
			continue
		case (r == '\'' || r == '’' || blank(r)) && end == i && threeDigits(text[i+utf8.RuneLen(r):]):
			n.spaced++
			continue
		}
		break
	}
	if digits == 0 {
		return text, false
	}
	n.text, rest = text[:end], text[end:]
	if len(rest) > 1 && (rest[0] == 'e' || rest[0] == 'E') {
		after := rest[1:]
		if after[0] == '+' || after[0] == '-' {
			after = after[1:]
		}
		size := len(after) - len(strings.TrimLeft(after, "0123456789"))
		if size > 0 {
			n.hasExp = true
			n.exp, _ = strconv.Atoi(rest[1 : len(rest)-len(after)+size]) // beyond an int: clipped, out of range
			rest = after[size:]
		}
	}
	return rest, true
}

// threeDigits reports whether exactly three digits stand at the front.
func threeDigits(text string) bool {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n == 3
}

// reading says how a numeral's point or comma can be read.
type reading uint8

const (
	unread       reading = iota // in no way
	whole                       // no fraction and no point or comma to decide about
	pointOnly                   // the fraction stands behind a point
	commaOnly                   // … a comma
	pointGroups                 // point is a thousands mark
	commaGroups                 // comma is a thousands mark
	pointOrGroup                // "1.234"
	commaOrGroup                // "1,234"
)

func (n *numeral) reading() reading {
	switch {
	case n.points == 0 && n.commas == 0:
		if n.spaced > 0 && !n.grouped(len(n.text), 0) {
			return unread
		}
		return whole
	case n.points > 0 && n.commas > 0:
		if n.text[n.last] == ',' && n.commas == 1 && n.spaced == 0 && n.grouped(n.last, '.') {
			return commaOnly
		}
		if n.text[n.last] == '.' && n.points == 1 && n.spaced == 0 && n.grouped(n.last, ',') {
			return pointOnly
		}
		return unread
	case n.points+n.commas > 1:
		mark, r := byte('.'), pointGroups
		if n.commas > 0 {
			mark, r = ',', commaGroups
		}
		if n.spaced > 0 || n.hasExp || !n.grouped(len(n.text), mark) {
			return unread
		}
		return r
	}
	if n.spaced > 0 && !n.grouped(n.last, 0) {
		return unread
	}
	one, two := pointOnly, pointOrGroup
	if n.commas > 0 {
		one, two = commaOnly, commaOrGroup
	}
	if n.spaced == 0 && !n.hasExp && canGroup(n.text[:n.last]) && len(n.text)-n.last == 4 {
		return two
	}
	return one
}

// grouped reports whether text[:end] is groups of three digits after a first of
// one to three, parted by mark; 0 stands for blanks and apostrophes.
func (n *numeral) grouped(end int, mark byte) bool {
	size, groups := 0, 0
	for i := 0; i < end; {
		r, w := utf8.DecodeRuneInString(n.text[i:])
		i += w
		if r >= '0' && r <= '9' {
			size++
			continue
		}
		isMark := byte(r) == mark && w == 1
		if mark == 0 {
			isMark = r != '.' && r != ','
		}
		if !isMark || groups == 0 && (size < 1 || size > 3 || n.text[0] == '0') || groups > 0 && size != 3 {
			return false
		}
		groups++
		size = 0
	}
	return groups > 0 && size == 3
}

// value returns the number under a mark.
func (n *numeral) value(mark DecimalMark) (Value, string) {
	fraction := false // the last point or comma starts the fraction
	switch n.reading() {
	case unread:
		return Value{}, notNumber
	case pointOnly, commaOnly:
		fraction = true
	case pointOrGroup, commaOrGroup:
		if mark == AnyMark {
			return Value{}, twoReadings
		}
		fraction = mark.sign() == n.text[n.last]
	}
	var digits [64]byte
	b := digits[:0]
	k := 0
	for i := range len(n.text) {
		switch c := n.text[i]; {
		case c >= '0' && c <= '9':
			b = append(b, c)
			if fraction && i > n.last {
				k++
			}
		case fraction && i == n.last:
			b = append(b, '.')
		}
	}
	b = append(b, 'e')
	b = strconv.AppendInt(b, int64(n.exp), 10)
	f, err := strconv.ParseFloat(string(b), 64)
	step := max(math.Pow10(n.exp-k), math.SmallestNonzeroFloat64) // of 400 decimals
	if err != nil || math.IsInf(step, 0) || f == 0 && strings.ContainsAny(n.text, "123456789") {
		return Value{}, outOfRange
	}
	return Value{V: f, Step: step}, ""
}

// duration reads minutes:seconds or hours:minutes:seconds; n holds what
// stands before the first colon.
func duration(n *numeral, rest string) (Value, string, string) {
	if n.points+n.commas+n.spaced > 0 || n.hasExp || len(n.text) > 6 {
		return Value{}, "", notNumber
	}
	total, _ := strconv.ParseFloat(n.text, 64)
	parts := 1
	step := 1.0
	for strings.HasPrefix(rest, ":") {
		rest = rest[1:]
		if parts++; parts > 3 || len(rest) < 2 || !digit(rest[0]) || !digit(rest[1]) || rest[0] > '5' {
			return Value{}, "", notNumber
		}
		total = total*60 + float64(rest[0]-'0')*10 + float64(rest[1]-'0')
		rest = rest[2:]
	}
	if len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') && digit(rest[1]) {
		i := 1
		for i < len(rest) && digit(rest[i]) {
			i++
		}
		if i > 10 {
			return Value{}, "", notNumber
		}
		m, _ := strconv.ParseInt(rest[1:i], 10, 64)
		total = (total*pow10[i-1] + float64(m)) / pow10[i-1]
		step = steps[i-1]
		rest = rest[i:]
	}
	return Value{V: total, Step: step, Unit: "s"}, rest, ""
}

func digit(c byte) bool { return c >= '0' && c <= '9' }
