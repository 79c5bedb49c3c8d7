package text

import (
	"slices"
	"strings"
)

// delimiter is a candidate and how usual it is.
type delimiter struct {
	text   string
	blanks int
	weight float64
}

// usual are the delimiters tried, the most usual first. The weights decide
// where the looks do not: a colon parts times, a blank parts words.
var usual = []delimiter{
	{",", 0, 1}, {";", 0, 1}, {"\t", 0, 1}, {"|", 0, 1},
	{"||", 0, 0.97}, {"::", 0, 0.9}, {"\x01", 0, 1}, {"\x1e", 0, 1}, {"\x1f", 0, 1},
	{"^", 0, 0.95}, {"~", 0, 0.95}, {"¦", 0, 0.95}, {"§", 0, 0.9}, {"#", 0, 0.75}, {"$", 0, 0.7}, {"&", 0, 0.75},
	{"!", 0, 0.7}, {"*", 0, 0.7}, {"=", 0, 0.65}, {":", 0, 0.7}, {"", 2, 0.72}, {" ", 0, 0.705}, {"", 1, 0.7},
}

// candidates returns the dialects that a text may have.
func candidates(body string, known Declared) []Dialect {
	var ds []Dialect
	switch known.Delimiter {
	case "":
		parted := parted(body)
		for _, u := range usual {
			if parted && (u.blanks > 0 || u.text == " ") {
				continue
			}
			if u.blanks > 0 && strings.Contains(body, " ") || u.text != "" && strings.Contains(body, u.text) && !alwaysDouble(body, u.text) && !blankCells(body, u.text) {
				ds = append(ds, Dialect{Delimiter: u.text, Blanks: u.blanks})
			}
		}
		ds = append(ds, Dialect{}) // one cell a line
	case "blanks":
		ds = []Dialect{{Blanks: 1}, {Blanks: 2}}
	default:
		ds = []Dialect{{Delimiter: known.Delimiter}}
	}
	if known.Decimal == "," && decimalCommas(body) {
		ds = slices.DeleteFunc(ds, func(d Dialect) bool { return d.Delimiter == "," && known.Delimiter == "" })
	}
	var all []Dialect
	for _, d := range ds {
		for _, q := range quotes(body, d, known.Quote) {
			d.Quote, d.Escape = q, q
			all = append(all, d)
			if q != 0 && strings.Contains(body, `\`+string(q)) || q == 0 && d.Delimiter != "" && strings.Contains(body, `\`+d.Delimiter) {
				d.Escape = '\\'
				all = append(all, d)
			}
		}
	}
	if known.Delimiter == "" || known.Delimiter == "blanks" {
		if cuts := cutsOf(body); cuts != nil {
			all = append(all, Dialect{Blanks: 2, Cuts: cuts})
		}
	}
	return all
}

// parted reports whether a third of the lines have a tab, or two semicolons or
// bars, as many each: then blanks part nothing.
func parted(body string) bool {
	return evenly(body, "\t", 1) || evenly(body, ";", 2) || evenly(body, "|", 2)
}

// evenly reports whether a third of the lines have a delimiter, and nine of ten
// of those as often, so many times or more.
func evenly(body, delimiter string, least int) bool {
	if !strings.Contains(body, delimiter) {
		return false
	}
	counts, lines, with := map[int]int{}, 0, 0
	for line := range strings.FieldsFuncSeq(body, func(r rune) bool { return r == '\n' || r == '\r' }) {
		lines++
		if n := strings.Count(line, delimiter); n > 0 {
			with++
			counts[n]++
		}
	}
	n := mode(counts)
	return n >= least && with > 2 && 3*with >= lines && counts[n]*10 >= with*9
}

// alwaysDouble reports whether a bar or colon never stands alone.
func alwaysDouble(body, d string) bool {
	return (d == "|" || d == ":") && strings.Count(body, d) == 2*strings.Count(body, d+d)
}

// blankCells reports whether a delimiter is a double one that blank cells
// between single ones make: one of two stands alone often, or in runs of three.
func blankCells(body, d string) bool {
	if d != "||" && d != "::" {
		return false
	}
	alone, double := 0, 0
	for i := 0; i < len(body); {
		n := 0
		for i+n < len(body) && body[i+n] == d[0] {
			n++
		}
		switch {
		case n == 1:
			alone++
		case n > 2 && n%2 == 1:
			return true
		case n > 1:
			double++
		}
		i += max(n, 1)
	}
	return 4*alone > double
}

// decimalCommas reports whether digits with a comma between them are common.
func decimalCommas(body string) bool {
	n := 0
	for i := 1; i+1 < len(body); i++ {
		if body[i] == ',' && isDigit(body[i-1]) && isDigit(body[i+1]) {
			n++
		}
	}
	return n > 2
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// quotes returns the quotes that a text may use with a delimiter: those that
// stand at the beginning of a cell somewhere, and none.
func quotes(body string, d Dialect, known string) []byte {
	switch known {
	case "":
	case "none":
		return []byte{0}
	default:
		return []byte{known[0]}
	}
	all := []byte{}
	for _, q := range []byte{'"', '\''} {
		if opens(body, d, q) {
			all = append(all, q)
		}
	}
	return append(all, 0)
}

// opens reports whether a quote stands where a cell begins.
func opens(body string, d Dialect, q byte) bool {
	s := &Scanner{d: d}
	for i := find(body, 0, q); i < len(body); i = find(body, i+1, q) {
		before := strings.TrimRight(body[:i], " ")
		if before == "" || isBreak(before[len(before)-1]) {
			return true
		}
		if d.Blanks > 0 {
			if s.delimits(body, len(before)) {
				return true
			}
		} else if d.Delimiter != "" && (strings.HasSuffix(before, d.Delimiter) || strings.HasSuffix(body[:i], d.Delimiter)) {
			return true
		}
	}
	return false
}

// weightOf returns how usual a delimiter is.
func weightOf(d Dialect) float64 {
	for _, u := range usual {
		if u.text == d.Delimiter && u.blanks == d.Blanks {
			return u.weight
		}
	}
	return 0.9 // none, or a declared one
}

// mostOf returns the score that a dialect can have at most.
func mostOf(d Dialect) float64 {
	most := weightOf(d)
	if d.Name() == "" {
		most *= oneCell
	}
	return most
}
