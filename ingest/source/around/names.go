// Package around reads what a table does not say of itself but what stands
// around it: lines above it ("Lifter: Ines Duarte"), rows between its rows that
// head those below ("Squat"), the name of its sheet or file. Each such field is
// carried into every row that does not say ([shape.Carried]).
//
// A name gives only what it surely is: a date, a lift by one of its usual or
// declared names, a declared lifter, a load with its unit, a set number. What is
// left over is handed back; whether it is a lifter is for others to decide.
package around

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// Carryable are the fields that a table's surroundings may give.
var Carryable = column.SetOf(column.Lifter, column.Date, column.Clock, column.Lift, column.Variant, column.Bar, column.Tether,
	column.Device, column.Load, column.SetNumber, column.RPE)

// Preamble returns the fields that the lines above a table give: pairs of key
// and value, else a title such as "Squat, 12 March 2026".
func Preamble(r *table.Region, s *season.Season) []shape.Carried {
	var out []shape.Carried
	have := column.Set(0)
	add := func(c shape.Carried) {
		if !have.Has(c.Field) {
			have = have.With(c.Field)
			out = append(out, c)
		}
	}
	for _, pair := range r.Preamble {
		if pair.Key == "" || pair.Value == "" {
			continue
		}
		if f, u, ok := keyField(pair.Key); ok && sensible(f, pair.Value) {
			add(shape.Carried{Field: f, Text: pair.Value, Unit: u, From: fmt.Sprintf("line %d", pair.Row)})
		}
	}
	for _, pair := range r.Preamble {
		if words.Parse(pair.Key+" "+pair.Value).Has.Any(words.Stored, words.Person) {
			continue // "Exported: 12.03.2026" is not the day of the session
		}
		if _, _, known := keyField(pair.Key); known && pair.Key != "" {
			continue
		}
		title := Name(pair.Value, fmt.Sprintf("line %d", pair.Row), s).Fields
		// Behind a key that says nothing, a date alone can be any.
		if pair.Key != "" && !slices.ContainsFunc(title, func(c shape.Carried) bool { return c.Field == column.Lift || c.Field == column.Lifter }) {
			continue
		}
		for _, c := range title {
			add(c)
		}
	}
	return out
}

// Labels returns the rows between the data of a table that give fields to the
// rows below: "Squat" above the sets of squats, "12.03.2026", a lifter's name.
func Labels(r *table.Region, s *season.Season) []shape.Label {
	var out []shape.Label
	for _, l := range r.Labels {
		from := fmt.Sprintf("line %d", l.Row)
		fields := Name(l.Value, from, s).Fields
		if key, value, ok := strings.Cut(l.Value, ":"); ok {
			value = strings.TrimSpace(value)
			if f, u, ok := keyField(key); ok && sensible(f, value) {
				fields = []shape.Carried{{Field: f, Text: value, Unit: u, From: from}}
			}
		}
		if len(fields) > 0 {
			out = append(out, shape.Label{Row: l.Row, Fields: fields})
		}
	}
	return out
}

// keyField returns the field that the key of a line above a table names.
func keyField(key string) (column.Field, unit.Unit, bool) {
	bare, u, _ := unit.FromHeading(strings.TrimSpace(key))
	h := words.Parse(bare)
	if h.Words == 0 || h.Words > 4 || h.Unknown > 1 {
		return column.Nothing, u, false
	}
	best := column.Guess{}
	for _, g := range column.Guesses(h) {
		if Carryable.Has(g.Field) && g.Score > best.Score {
			best = g
		}
	}
	return best.Field, u, best.Score >= 0.5
}

// sensible reports whether a value can be one of the field.
func sensible(f column.Field, value string) bool {
	switch f {
	case column.Date:
		var e date.Evidence
		e.Add(value)
		return e.Dates+e.Unix > 0
	case column.Clock:
		var e date.Evidence
		e.Add(value)
		return e.Dates+e.Clocks+e.Unix > 0
	case column.Load:
		_, err := number.Parse(value, number.Point)
		return err == nil
	case column.SetNumber, column.RPE:
		return strings.ContainsAny(value, "0123456789")
	case column.Lifter, column.Lift:
		return strings.IndexFunc(value, func(r rune) bool { return !unicode.IsDigit(r) }) >= 0
	}
	return true
}

// Named is what a name was found to carry.
type Named struct {
	Fields []shape.Carried
	Rest   string // what is left over: perhaps a lifter
}

// Name looks for a date, a lift, a declared lifter, a load and a set number
// in the name of a sheet or file.
func Name(name, from string, s *season.Season) Named {
	var out Named
	have := column.Set(0)
	put := func(f column.Field, text string, u unit.Unit) {
		if !have.Has(f) {
			have = have.With(f)
			out.Fields = append(out.Fields, shape.Carried{Field: f, Text: text, Unit: u, From: from})
		}
	}
	if whole := strings.TrimSpace(name); sensible(column.Date, whole) {
		put(column.Date, whole, unit.Unit{})
		return out
	}
	pieces := strings.FieldsFunc(strings.ReplaceAll(name, " - ", "_"), func(r rune) bool {
		return r == '_' || r == ',' || r == ';' || r == '|' || r == '–' || r == '(' || r == ')' || r == '+' || r == '—'
	})
	var rest []string
	for _, p := range pieces {
		if left := readPiece(strings.TrimSpace(p), s, put); left != "" {
			rest = append(rest, left)
		}
	}
	out.Rest = strings.Join(rest, " ")
	return out
}

// readPiece looks at one piece of a name: as a whole, without the words that
// hold numbers, then word by word. It returns what is left over.
func readPiece(p string, s *season.Season, put func(column.Field, string, unit.Unit)) string {
	if len(p) >= 6 && sensible(column.Date, p) {
		put(column.Date, p, unit.Unit{})
		return ""
	}
	if readNumber(p, put) {
		return ""
	}
	p = readDate(p, put)
	var letters []string
	for _, w := range strings.Fields(p) {
		if !readNumber(w, put) {
			letters = append(letters, w)
		}
	}
	if readWords(strings.Join(letters, " "), s, put) {
		return ""
	}
	return strings.Join(slices.DeleteFunc(letters, func(w string) bool { return readWords(w, s, put) }), " ")
}

// readDate looks for a date of several words in a piece and returns what is left
// over: "Session 5 Jan 2026".
func readDate(p string, put func(column.Field, string, unit.Unit)) string {
	w := strings.Fields(p)
	for n := min(len(w)-1, 5); n > 1; n-- {
		for i := 0; i+n <= len(w); i++ {
			text := strings.Join(w[i:i+n], " ")
			if unicode.IsDigit(rune(w[i][0])) || unicode.IsDigit(rune(w[i+n-1][0])) {
				if len(text) >= 6 && sensible(column.Date, text) {
					put(column.Date, text, unit.Unit{})
					return strings.Join(append(slices.Clone(w[:i]), w[i+n:]...), " ")
				}
			}
		}
	}
	return p
}

// readNumber looks for a date, a load or a set number in a word.
func readNumber(w string, put func(column.Field, string, unit.Unit)) bool {
	if strings.IndexFunc(w, unicode.IsDigit) < 0 {
		return false
	}
	if len(w) >= 6 && sensible(column.Date, w) {
		put(column.Date, w, unit.Unit{})
		return true
	}
	if v, err := number.Parse(w, number.Point); err == nil {
		if u, ok := unit.ParseFor(unit.Load, v.Unit); ok {
			put(column.Load, w, u)
			return true
		}
	}
	if h := words.Parse(w); h.Number > 0 && h.Words == 1 && h.Has == words.Concepts(0).With(words.Set) {
		put(column.SetNumber, w, unit.Unit{})
		return true
	}
	return false
}

// readWords looks for a lifter or a lift.
func readWords(text string, s *season.Season, put func(column.Field, string, unit.Unit)) bool {
	for _, t := range []string{text, strings.ReplaceAll(text, "-", " ")} {
		switch {
		case t == "":
			return true
		case s.Declares(t):
			put(column.Lifter, t, unit.Unit{})
			return true
		case KnownLift(t, s):
			put(column.Lift, t, unit.Unit{})
			return true
		}
	}
	return false
}

// KnownLift reports whether a text is a lift, as the trade calls it or as the
// season declares it.
func KnownLift(written string, s *season.Season) bool {
	if _, _, ok := spelling.KnownLift(written); ok {
		return true
	}
	if s == nil {
		return false
	}
	lift, _ := s.Lift(written)
	for i := range s.Lifts {
		if s.Lifts[i].Name == lift {
			return true
		}
	}
	return false
}

// Stem returns a file's name without folder and ending.
func Stem(name string) string {
	base := strings.TrimSuffix(path.Base(name), ".gz")
	return strings.TrimSuffix(base, path.Ext(base))
}

// Generic reports whether a sheet's name says nothing: "Sheet1", "Tabelle 2",
// "Data", "Export".
func Generic(name string) bool {
	folded := strings.TrimRight(words.Fold(name), " 0123456789")
	switch folded {
	case "", "sheet", "tabelle", "blatt", "hoja", "folha", "planilha", "feuille", "feuil", "foglio", "blad", "ark", "taul", "taulukko",
		"arkusz", "лист", "data", "daten", "datos", "dados", "donnees", "dati", "export", "exports", "log", "training log", "hand log",
		"training", "sets", "reps", "results", "table", "page", "tab", "session", "sessions", "week", "woche", "semana", "block":
		return true
	}
	return false
}
