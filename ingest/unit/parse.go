package unit

import (
	"strings"
	"unicode"
)

// Parse returns the unit of a text that holds a unit and nothing else, in any
// usual writing: kg, Lbs, pounds, #, m/s, m·s⁻¹, m s-1, cm/sec, ", s, Sek.
// Brackets around it are dropped. "ms" is milliseconds, "m" metres.
func Parse(text string) (Unit, bool) { return ParseFor(Any, text) }

// ParseFor is Parse among units of one quantity only: "ms" is m/s as a
// velocity, "m" minutes and "'" minutes as a time. Any looks among all.
func ParseFor(q Quantity, text string) (Unit, bool) {
	if len(text) > 2*maxUnit || digits(text) > maxDigits {
		return Unit{}, false
	}
	if u, ok := words[text]; ok && q == Any { // the usual writings, as they are
		return u, true
	}
	t := plain(text)
	if t == "" || len(t) > maxUnit {
		return Unit{}, false
	}
	if q != Any {
		if u, ok := onlyFor[wordFor{q, t}]; ok {
			return u, true
		}
	}
	u, ok := words[t]
	if !ok {
		u, ok = composite(t)
	}
	if !ok || q != Any && u.Quantity != q {
		return Unit{}, false
	}
	return u, true
}

// maxUnit is the length in bytes past which no text is looked up, blanks
// folded: the longest, "сантиметров в секунду", has 40.
const maxUnit = 48

// maxDigits is the number of digits past which no text is looked up: it is the
// rest of a date. Two words of a unit, and its exponent, have one each.
const maxDigits = 3

func digits(text string) (n int) {
	for i := range len(text) {
		if text[i]-'0' <= 9 {
			n++
		}
	}
	return n
}

// plain folds a unit's text: lower case, one kind of blank, minus, exponent and
// multiplication sign, no brackets, no closing point. W and N keep their case,
// because n and w stand for other things. "kg/lb" and the like stay as they are
// and are found nowhere.
func plain(text string) string {
	text = strings.TrimFunc(text, blank)
	for len(text) >= 2 {
		open := strings.IndexByte("([{<", text[0])
		if open < 0 || text[len(text)-1] != ")]}>"[open] {
			break
		}
		text = strings.TrimFunc(text[1:len(text)-1], blank)
	}
	if text == "N" || text == "W" || text == "kN" || text == "kW" {
		return text
	}
	var b strings.Builder
	gap := false
	for _, r := range text {
		switch {
		case blank(r) || r == '_' || r == '.' || r == '·' || r == '⋅' || r == '•' || r == '*' || r == '∙' || r == '×':
			gap = b.Len() > 0
			continue
		case r == '^' || unicode.Is(unicode.Cf, r):
			continue
		case r == '−' || r == '–' || r == '⁻' || r == '‐' || r == '‑':
			r = '-'
		case r == '¹':
			r = '1'
		case r == '²':
			r = '2'
		case r == '∕' || r == '⁄' || r == '÷':
			r = '/'
		case r == '″' || r == '”' || r == '“' || r == '„':
			r = '"'
		case r == '′' || r == '’':
			r = '\''
		case r == 'μ': // Greek mu for the micro sign
			r = 'µ'
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return strings.ReplaceAll(b.String(), "''", `"`)
}

func blank(r rune) bool { return unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff' }

// composite reads a length over a time ("cm / sec", "m s-1", "ms-1", "metres
// per second") or over a time squared.
func composite(t string) (Unit, bool) {
	t = strings.Replace(t, " sekunnissa", "/s", 1) // in Finnish a case says "per"
	over, under, ok := strings.Cut(t, "/")
	for _, per := range []string{" per ", " pro ", " por ", " par ", " al ", " i ", " na ", " в "} {
		if !ok {
			over, under, ok = strings.Cut(t, per)
		}
	}
	if !ok {
		// "m s-1" and "m s"; without a blank ("ms-1") the exponent must be there.
		power, squared := strings.CutSuffix(t, "-2")
		inverse := squared
		if !squared {
			power, inverse = strings.CutSuffix(t, "-1")
		}
		over, under, ok = strings.Cut(power, " ")
		if !ok && inverse && len(power) > 1 && strings.HasSuffix(power, "s") {
			over, under, ok = power[:len(power)-1], "s", true
		}
		if squared {
			under += "2"
		}
	}
	if !ok {
		return Unit{}, false
	}
	over, under = strings.TrimSpace(over), strings.TrimSpace(under)
	under, squared := strings.CutSuffix(under, "2")
	length, ok1 := words[over]
	time, ok2 := words[strings.TrimSpace(under)]
	if !ok1 || !ok2 {
		return Unit{}, false
	}
	if squared {
		return metrePerSecond2, length == metre && time == second
	}
	u, ok := velocities[[2]string{length.Name, time.Name}]
	return u, ok
}

var velocities = map[[2]string]Unit{
	{"m", "s"}:  metrePerSecond,
	{"cm", "s"}: centimetrePerSecond,
	{"mm", "s"}: millimetrePerSecond,
	{"ft", "s"}: footPerSecond,
	{"in", "s"}: inchPerSecond,
}
