package words

import (
	"strings"
	"sync"
)

// Mark is what a cell says about a rep or set having been made.
type Mark uint8

// The marks.
const (
	NoMark Mark = iota
	Yes         // in a column of successes: made; of failures: missed
	No
	Miss // says missed whatever the column
	Made // says made whatever the column
)

// MarkOf reads a cell that holds nothing but a mark.
func MarkOf(text string) Mark { return marks()[Fold(strings.Trim(text, " .!"))] }

var marks = sync.OnceValue(func() map[string]Mark {
	m := make(map[string]Mark)
	for mark, list := range map[Mark]string{
		Yes: "yes|y|true|t|1|ja|j|wahr|si|sim|s|oui|o|vrai|verdadero|verdadeiro|vero|kylla|tak|да|истина|✓|✔|☑|sann|sant|waar|prawda",
		No:  "no|n|false|0|nein|falsch|nao|non|faux|falso|nee|nej|nei|ei|nie|нет|ложь|onwaar|falskt|usann|falsz",
		Miss: "x|✗|✘|✕|×|❌|miss|missed|fail|failed|failure|no lift|nolift|nl|red|red lights|not made|f|" +
			"fehlversuch|ungultig|verfehlt|gescheitert|fallo|fallado|nulo|falha|falhou|echec|rate|manque|fallito|nullo|mislukt|gemist|bom|bommet|misset|mislykket|missad|misslyckad|underkand|ikke godkjent|hylatty|epaonnistui|nieudane|spalone|неудача|не взял|срыв",
		Made: "ok|good|good lift|made|success|pass|passed|successful|white|white lights|gultig|geschafft|gelungen|valido|valida|logrado|valido|valide|reussi|riuscito|buona|geldig|gelukt|godkjent|godkand|godkendt|onnistui|hyvaksytty|zaliczone|udane|взял|удачно|засчитано",
	} {
		for w := range strings.SplitSeq(list, "|") {
			m[Fold(w)] = mark
		}
	}
	return m
})

// BarOf returns the bar a written word means: stiff, deadlift, else as
// written, in lower case.
func BarOf(written string) string {
	folded := Fold(written)
	if bar, ok := bars[folded]; ok {
		return bar
	}
	return strings.ToLower(written)
}

// TetherOf returns where the line was clipped: centre, inside sleeve, sleeve
// end, else as written, in lower case.
func TetherOf(written string) string {
	folded := Fold(strings.ReplaceAll(written, "-", " "))
	if tether, ok := tethers[folded]; ok {
		return tether
	}
	return strings.ToLower(written)
}

var bars = table(map[string]string{
	"stiff":    "stiff|stiff bar|power bar|powerbar|squat bar|bench bar|standard|steif|steife stange|rigida|raide",
	"deadlift": "deadlift|deadlift bar|dl bar|dl|deadlift stange|kreuzhebestange|whippy|whippy bar",
})

var tethers = table(map[string]string{
	"centre":        "centre|center|middle|mid|mitte|centro|milieu|midten|mitten|midt|srodek|середина|shaft",
	"inside sleeve": "inside sleeve|inner sleeve|inside collar|inner collar|inside|innen",
	"sleeve end":    "sleeve end|end of sleeve|sleeve|outer sleeve|end|aussen|hulsenende|bar end",
})

func table(names map[string]string) map[string]string {
	m := make(map[string]string)
	for meaning, list := range names {
		for w := range strings.SplitSeq(list, "|") {
			if w != "" {
				m[Fold(w)] = meaning
			}
		}
	}
	return m
}
