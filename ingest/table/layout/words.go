package layout

import (
	"strings"

	"repsift/ingest/table/cell"
)

func words(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// unitWords are the units that stand under or in headings.
var unitWords = words(`kg kgs lb lbs kilo kilos pounds g m/s m·s⁻¹ m·s-1 ms-1 ms⁻¹ m.s-1 m/sec m*s-1 cm/s cm·s⁻¹ mm/s mm·s⁻¹
	m cm mm in inch inches ft s sec secs seconds ms min h hh:mm hh:mm:ss w n j kw % hz rad deg °
	m/s² m/s^2 m/s2 m·s⁻² °c °f ℃ k pa hpa kpa mpa bar mbar v mv a ma ω ohm mol g/l mg/l µg/l mg mm² cm² m² km² m2 km2 m³ m3 cm³ l ml ha
	km km/h mph kt knots db lux j kj kwh mwh kcal ppm ppb t mg/m³ µg/m³ ug/m3 μg/m³ µm nm mm/h w/m² w/m2 usd eur gbp € £ $ days years yrs counts dd.mm.yyyy yyyy-mm-dd dd/mm/yyyy mm/dd/yyyy w/kg n/kg кг м/с см/с м см мм с мс т # -`)

// isUnit reports whether a text is a unit, bare or in brackets.
func isUnit(s string) bool {
	s = strings.Trim(fold(s), "()[]{}/")
	return unitWords[s] || s == "m/s"
}

// unitsRow reports whether the texts are units: two or more, and no other text
// without brackets.
func unitsRow(texts []string) bool {
	units, other := 0, 0
	for _, t := range texts {
		switch t = fold(t); {
		case t == "":
		case isUnit(t):
			units++
		case (t[0] == '(' || t[0] == '[') && len(t) < 16:
			units++
		default:
			other++
		}
	}
	return units > 0 && other == 0 && (units > 1 || len(texts) <= 2)
}

// remarks are the words that rows of remarks below data begin with.
var remarks = words(`note notes source sources remark remarks footnote footnotes legend copyright disclaimer generated exported printed
	quelle quellen hinweis hinweise anmerkung anmerkungen fußnote legende stand erstellt fuente fuentes nota notas
	fonte fontes remarque remarques bron kilde kilder källa źródło uwaga uwagi источник примечание lähde`)

// isRemark reports whether a text begins a remark: with a word of remarks and a
// colon, a star, a sign of copyright.
func isRemark(s string) bool {
	s = fold(s)
	if strings.HasPrefix(s, "*") || strings.HasPrefix(s, "†") || strings.HasPrefix(s, "©") || strings.HasPrefix(s, "(c) ") {
		return true
	}
	i := strings.IndexAny(s, ": ")
	return i > 0 && i+1 < len(s) && remarks[s[:i]] && (s[i] == ':' || strings.ContainsAny(s, ":;,.") || strings.Count(s, " ") > 2)
}

// isPage reports whether a text is the number of a page: "Page 2", "Seite 2 von 9".
func isPage(s string) bool {
	w := strings.Fields(fold(s))
	if len(w) != 2 && len(w) != 4 {
		return false
	}
	switch w[0] {
	case "page", "seite", "página", "pagina", "side", "sida", "strona", "sivu", "стр.", "страница":
		return strings.Trim(w[1], "0123456789") == "" && strings.Trim(w[len(w)-1], "0123456789") == ""
	}
	return false
}

// isClosing reports whether a text is what programs write below the last row:
// "END", "(12 rows)", "12 rows selected.", "--- end of file ---".
func isClosing(s string) bool {
	s = strings.Trim(fold(s), "()[]<>*-=#. ")
	n := strings.TrimLeft(s, "0123456789")
	switch n {
	case "end", "eof", "eod", "end of file", "end of report", "end of data", "end of record", "end of list", "ende", "fin", "fine":
		return n == s
	case " row", " rows", " row selected", " rows selected", " rows affected", " row affected", " record", " records", " lines", " entries", " rows in set", " zeilen":
		return n != s
	}
	return false
}

// pairs reads a preamble row: "Name: X", "Name;X", several of either.
func pairs(r *row, texts []string, first, last int) []cell.Pair {
	var out []cell.Pair
	type filled struct {
		text string
		col  int
	}
	var cells []filled
	for i := first; i <= last && i < len(texts); i++ {
		t := strings.TrimFunc(texts[i], cell.IsSpace)
		if len(out) == 0 && len(cells) == 0 {
			t = strings.TrimLeft(t, "# ")
		}
		if t != "" && (len(cells) == 0 || r.flags&merged == 0 || cells[len(cells)-1].text != t) {
			cells = append(cells, filled{t, i})
		}
	}
	for i := 0; i < len(cells); i++ {
		c := cells[i]
		if key, value, ok := cutPair(c.text); ok && value != "" {
			out = append(out, cell.Pair{Key: key, Value: value, Row: r.line, Col: c.col})
			continue
		}
		key := strings.TrimRight(c.text, ":= ")
		if i+1 < len(cells) && !cell.OfText(c.text).Typed() && !isPair(cells[i+1].text) {
			i++
			out = append(out, cell.Pair{Key: key, Value: cells[i].text, Row: r.line, Col: cells[i].col})
			continue
		}
		out = append(out, cell.Pair{Value: c.text, Row: r.line, Col: c.col})
	}
	return out
}

func isPair(s string) bool {
	_, value, ok := cutPair(s)
	return ok && value != ""
}

// cutPair cuts "Name: X" or "Name = X" in two. A time of day is no pair.
func cutPair(s string) (key, value string, ok bool) {
	i := strings.IndexAny(s, ":=：")
	if i <= 0 || cell.OfText(s).Typed() {
		return "", "", false
	}
	key = strings.TrimFunc(s[:i], cell.IsSpace)
	if key == "" || len(key) > 50 || key[len(key)-1] >= '0' && key[len(key)-1] <= '9' && s[i] == ':' && i+1 < len(s) && s[i+1] >= '0' && s[i+1] <= '9' {
		return "", "", false
	}
	return key, strings.TrimFunc(strings.TrimLeft(s[i:], ":=："), cell.IsSpace), true
}
