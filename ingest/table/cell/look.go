package cell

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Look is what a text looks like. It is coarse on purpose: it serves to tell
// headings from data and one dialect from another, never to read a value.
type Look uint8

// Looks of texts.
const (
	Nothing  Look = iota // blank
	Null                 // "--", "n/a", "#DIV/0!": a value that is not there
	Numeric              // a number, with sign, marks, percent or a short unit
	Temporal             // a date, a time of day, or both
	Words                // a short text without digits
	Mixed                // a short text with digits: "A1", "180x5 @8"
	Prose                // a long text
	Odd                  // what a wrong dialect leaves: stray quotes, delimiters between numbers
)

// Typed reports whether the look is of a value that only data has.
func (l Look) Typed() bool { return l == Numeric || l == Temporal }

// IsText reports whether the look is of text.
func (l Look) IsText() bool { return l >= Words }

// Of returns the look of a cell.
func Of(c *Cell) Look {
	switch c.Kind {
	case Blank:
		return Nothing
	case Number:
		return Numeric
	case Date:
		return Temporal
	case Bool:
		return Numeric // in two values
	case Error:
		return Null
	}
	return OfText(c.Text)
}

// longText is the length in bytes from which a text is prose: headings and
// values are shorter, as a rule of thumb.
const longText = 60

// OfText returns the look of a text.
func OfText(s string) Look {
	if plainNumber(s) {
		return Numeric
	}
	if plainMoment(s) {
		return Temporal
	}
	s = strings.TrimFunc(s, IsSpace)
	if s == "" {
		return Nothing
	}
	if isNull(s) {
		return Null
	}
	if len(s) <= 40 && hasDigit(s) {
		if isNumeric(s) {
			return Numeric
		}
		if isTemporal(s) {
			return Temporal
		}
	}
	return textLook(s)
}

// plainNumber reports whether a text is digits with at most one point: most
// cells are, so they are told apart first.
func plainNumber(s string) bool {
	digits, points := 0, 0
	for i := range len(s) {
		switch {
		case isDigit(s[i]):
			digits++
		case s[i] == '.':
			points++
		default:
			return false
		}
	}
	return digits > 0 && digits < 16 && points <= 1
}

// plainMoment reports whether a text is a date, a time or both in their usual
// forms: 2026-03-04, 04/03/2026, 18:05, 18:05:10, 2026-03-04 18:05:10.
func plainMoment(s string) bool {
	switch len(s) {
	case 5:
		return built(s, "00:00")
	case 8:
		return built(s, "00:00:00")
	case 10:
		return built(s, "0000-00-00") || built(s, "00/00/0000")
	case 19:
		return built(s, "0000-00-00 00:00:00") || built(s, "0000-00-00T00:00:00")
	}
	return false
}

// built reports whether a text has digits where a form of its length has 0, and
// the form's characters elsewhere.
func built(s, form string) bool {
	for i := range len(form) {
		if form[i] == '0' && isDigit(s[i]) || form[i] != '0' && form[i] == s[i] {
			continue
		}
		return false
	}
	return true
}

func hasDigit(s string) bool {
	for i := range len(s) {
		if isDigit(s[i]) {
			return true
		}
	}
	return false
}

// nulls are the usual ways to write that a value is missing.
var nulls = map[string]bool{
	"n/a": true, "na": true, "#n/a": true, "nan": true, "null": true, "none": true, "nil": true, "n.a.": true,
	"#div/0!": true, "#value!": true, "#ref!": true, "#name?": true, "#num!": true, "#null!": true, `\n`: true,
	"k.a.": true, "n.d.": true, "inf": true, "-inf": true, "?": true, "(null)": true, "<na>": true,
}

func isNull(s string) bool {
	if len(s) > 8 {
		return false
	}
	switch s[0] {
	case '-', '.', '_', '/', 0xE2: // the first byte of dashes
		if strings.Trim(s, "-–—−._/") == "" {
			return true
		}
	case '#', '?', '(', '<', '\\', 'n', 'N', 'k', 'K', 'i', 'I':
	default:
		return false
	}
	return nulls[strings.ToLower(s)]
}

// isNumeric reports whether a text is a number as people write it: a sign or
// currency, digits in groups, a decimal mark, an exponent, a percent sign or a
// unit of a few characters.
func isNumeric(s string) bool {
	s = strings.TrimLeft(s, "+-−–~≈<>=($€£¥ ")
	digits, i := 0, 0
	last := rune(0) // last character that was no digit
	for i < len(s) {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.' || r == ',' || r == '\'' || r == '’' || IsSpace(r):
			// A mark stands before a digit, but for "5." at the end.
			rest := s[i+n:]
			if rest == "" {
				return digits > 0 && !IsSpace(last)
			}
			if rest[0] < '0' || rest[0] > '9' {
				return digits > 0 && isUnitTail(strings.TrimLeftFunc(s[i:], IsSpace))
			}
			if IsSpace(r) && !threeDigits(rest) {
				return false
			}
			if digits == 0 && r != '.' && r != ',' {
				return false
			}
			last = r
		default:
			if digits == 0 {
				return false
			}
			return isUnitTail(s[i:])
		}
		i += n
	}
	return digits > 0
}

// threeDigits reports whether a text begins with a group of three digits.
func threeDigits(s string) bool {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n == 3
}

// isUnitTail reports whether what follows digits is an exponent, a percent sign
// or a unit: a few letters, with the signs units are written with.
func isUnitTail(s string) bool {
	if s == "" {
		return true
	}
	if s[0] == 'e' || s[0] == 'E' {
		t := strings.TrimLeft(s[1:], "+-")
		if t != "" && strings.Trim(t, "0123456789") == "" {
			return true
		}
	}
	letters := 0
	for _, r := range s {
		switch {
		case unicode.IsLetter(r):
			if letters++; letters > 5 {
				return false
			}
		case r == '%' || r == '°' || r == ')' || r == '$' || r == '€' || r == '£' || r == '‰' || r == '²' || r == '³':
		case r == '/' || r == '.' || r == '·' || r == '⁻' || r == '¹' || r == ' ' || r == '*' || r == '^' || r == '-':
			if letters == 0 {
				return false
			}
		case r == '1' || r == '2':
			if letters == 0 {
				return false
			}
		default:
			return false
		}
	}
	// "180x" and "5x" begin shorthand, "12O" is a typing slip of a number.
	return !strings.HasPrefix(s, "x") && !strings.HasPrefix(s, "X")
}

// isTemporal reports whether a text is built like a date or a time: two or more
// groups of digits joined by one of - / . : or blanks, with a month's name, T,
// Z, an offset, am or pm among them.
func isTemporal(s string) bool {
	groups, letters, words, colons, dashes := 0, 0, 0, 0, 0
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r >= '0' && r <= '9':
			start := i
			for i < len(s) && s[i] >= '0' && s[i] <= '9' {
				i++
			}
			if i-start > 9 || i-start > 4 && groups == 0 && i-start != 8 {
				return false
			}
			groups++
			continue
		case r == ':':
			// Minutes and seconds have two digits: "5:0" is no time.
			if len(s)-i < 3 || !isDigit(s[i+1]) || !isDigit(s[i+2]) || len(s)-i > 3 && isDigit(s[i+3]) {
				return false
			}
			colons++
		case r == '-' || r == '/':
			dashes++
		case r == '.' || r == ',' || r == ' ' || r == '+' || r == 'º' || r == 'ª' || r == 0xA0 || r == 0x202F:
			if r == '.' {
				dashes++
			}
		case unicode.IsLetter(r):
			for n < len(s)-i {
				q, m := utf8.DecodeRuneInString(s[i+n:])
				if !unicode.IsLetter(q) {
					break
				}
				n += m
			}
			words++
			letters += n
			if words > 4 || letters > 24 {
				return false
			}
			if !dateWord(s[i : i+n]) {
				return false
			}
		default:
			return false
		}
		i += n
	}
	switch {
	case groups < 2:
		return false
	case colons > 0 && groups <= 7:
		return true
	case dashes >= 2 && groups == 3:
		return true
	}
	return words > 0 && groups <= 7 && letters >= 3
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// dateWord reports whether a word may stand in a date: short signs, or the
// beginning of a month's or weekday's name in one of the languages read.
func dateWord(w string) bool {
	w = strings.ToLower(w)
	switch w {
	case "t", "z", "am", "pm", "utc", "gmt", "a", "p", "h", "de", "del", "st", "nd", "rd", "th", "м", "г", "uhr", "kl", "cet", "cest":
		return true
	}
	var stem [3*utf8.UTFMax + 2]byte
	b, n := append(stem[:0], ' '), 0
	for _, r := range w {
		if n++; n > 3 {
			break
		}
		b = utf8.AppendRune(b, r)
	}
	return n >= 3 && strings.Contains(dateStems, string(append(b, ' ')))
}

// dateStems are the first three letters of months and weekdays in English,
// German, Spanish, Portuguese, French, Italian, Dutch, Nordic languages, Polish
// and Russian.
const dateStems = " jan feb mar apr may jun jul aug sep oct nov dec mon tue wed thu fri sat sun" +
	" jän mär mai okt dez die mit don sam son mie" +
	" ene abr ago dic lun mié jue vie sáb sab dom fev out seg ter qua qui sex" +
	" jui fév aoû déc avr mer jeu ven dim gen mag giu lug set ott mrt mei maa woe vri zat zon" +
	" maj des tir ons tor fre lør lör søn sön man mån tam hel huh tou kes hei elo syy lok mar jou" +
	" sty lut kwi cze lip sie wrz paź paz lis gru pon wto śro czw pią sob nie" +
	" янв фев мар апр май мая июн июл авг сен окт ноя дек пон вто сре чет пят суб вос mär mar "

// textLook tells apart texts that are neither number nor date.
func textLook(s string) Look {
	digit, letter, space := false, false, 0
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digit = true
		case unicode.IsLetter(r):
			letter = true
		case r == ' ':
			space++
		}
	}
	switch {
	case strayQuote(s), !letter && joinsNumbers(s):
		return Odd
	case len(s) > longText || space > 7:
		return Prose
	case digit:
		return Mixed
	}
	return Words
}

// strayQuote reports whether a text begins or ends with a quote that has no
// partner.
func strayQuote(s string) bool {
	for _, q := range [...]byte{'"', '\''} {
		first, last := s[0] == q, s[len(s)-1] == q
		if first != last && strings.Count(s, string(q))%2 == 1 {
			// 5'11" and the like end with a quote after digits.
			return first || s[len(s)-2] < '0' || s[len(s)-2] > '9'
		}
		if first && last && len(s) > 1 {
			return true // a quoted text was not unquoted
		}
	}
	return false
}

// joinsNumbers reports whether a text without letters has one of the usual
// delimiters between its numbers.
func joinsNumbers(s string) bool {
	return strings.ContainsAny(s, ";|\t") || strings.Count(s, ",") > 1
}
