package cell

import "strings"

// totals are the words that begin rows of totals. Those in weak are names and
// values as well and count only below the data.
var (
	totals = words(`total totals subtotal sub-total grand-total sum average avg
		summe gesamt gesamtsumme zwischensumme mittelwert durchschnitt
		suma promedio subtotales soma média somme moyenne sous-total somma totale totali
		totaal gemiddelde totalt i-alt ialt summa snitt medel medelvärde genomsnitt gjennomsnitt gennemsnit sum: yhteensä keskiarvo
		razem średnia ogółem итого всего среднее сумма`)
	figures = words(`mean median std sd stdev mittelwert`)
	weak    = words(`max min mean median maximum minimum media std sd stdev count n mittel`)
)

func words(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// Total reports whether a text begins a row of totals. Words that are names and
// values as well only may.
func Total(s string) (surely, maybe bool) {
	if s == "" || isDigit(s[0]) {
		return false, false
	}
	word, alone := firstWord(s)
	return totals[word], weak[word] && alone
}

// Figure reports whether a text is a word of statistics that is no name, alone.
func Figure(s string) bool {
	word, alone := firstWord(s)
	return alone && figures[word]
}

// firstWord returns the first word of a text, folded, and whether it is all.
func firstWord(s string) (word string, alone bool) {
	s = strings.ToLower(strings.TrimFunc(s, IsSpace))
	s = strings.Replace(s, "grand total", "grand-total", 1)
	s = strings.Replace(s, "i alt", "i-alt", 1)
	i := strings.IndexAny(s, " :(=\t")
	if i < 0 {
		return s, true
	}
	return s[:i], strings.Trim(s[i:], " :") == ""
}

// IsRule reports whether a text is a line drawn with signs: "-----".
func IsRule(s string) bool {
	if len(s) < 3 || s[0] != 0xE2 && strings.IndexByte("-=_+|:", s[0]) < 0 { // the first byte of drawn lines
		return false
	}
	return strings.Trim(s, "-=_+|:") == "" || strings.Trim(s, "─━═—–┼│") == ""
}
