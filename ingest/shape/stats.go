package shape

import (
	"errors"
	"math"
	"slices"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/season"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
)

// stats is what the cells of a column look like, over the rows of a survey.
type stats struct {
	cells, blanks int
	first         bool // the first row is filled
	numbers       int  // one number, with or without a unit
	whole         int  // of them, without a fraction
	runs          int  // of them, 1 or one more than the number above
	multi         int  // several numbers with fractions: "0.41 / 0.38"
	multiWhole    int  // several whole numbers: "41/38/35"
	work          int  // a set in shorthand
	rpe           int  // an RPE or RIR
	lifts         int  // a lift's usual name
	marks         int  // a mark: yes, miss, x
	days          int  // cells that a spreadsheet knows as dates
	texts         int  // none of the above

	values []float64 // of numbers, as written, in order of rows
	either []int     // indexes of values whose point or comma has two readings
	units  []unitCount
	mark   number.Evidence
	dates  date.Evidence

	distinct []textCount // the first distinctMax texts
	last     float64
}

type unitCount struct {
	unit string
	n    int
}

type textCount struct {
	text  string
	n     int
	class *int // what it counted as
}

const (
	surveyRows  = 1000 // rows looked at to tell what a column holds
	distinctMax = 200
)

// add takes one cell into account.
func (s *stats) add(c *table.Cell) {
	s.cells++
	if blank(c) {
		s.blanks++
		return
	}
	if s.cells == 1 {
		s.first = true
	}
	switch c.Kind {
	case table.Number:
		s.number(c.Num, "")
		return
	case table.Date:
		s.days++
		return
	case table.Bool:
		s.marks++
		return
	}
	known := s.seen(c.Text)
	s.mark.Add(c.Text)
	dates := s.dates.Dates
	s.dates.Add(c.Text)
	if s.dates.Dates > dates && len(c.Text) > len("10/10/10") {
		return // too long for a list of reps
	}
	v, err := number.Parse(c.Text, number.AnyMark)
	if two := (*number.Error)(nil); errors.As(err, &two) && two.Ambiguous {
		s.either = append(s.either, len(s.values))
		v, err = number.Parse(c.Text, number.Point)
	}
	if err == nil && !v.Percent {
		s.number(v.V, v.Unit)
		return
	}
	if known != nil && known.class != nil {
		*known.class++
		return
	}
	class := s.classify(c.Text)
	*class++
	if known != nil {
		known.class = class
	}
}

// settle takes the decimal mark of the source: values with two readings were
// taken as with a point.
func (s *stats) settle(mark number.DecimalMark) {
	if mark != number.Comma {
		return
	}
	for _, i := range s.either {
		if v := s.values[i]; v == math.Trunc(v) && math.Abs(v) >= 1000 {
			s.values[i] = v / 1000 // "1,234"
		} else {
			s.values[i] = v * 1000 // "1.234"
		}
	}
	s.either = nil
}

// blank reports whether a cell says nothing.
func blank(c *table.Cell) bool {
	return c.Kind == table.Blank || c.Kind == table.Error || c.Kind == table.Text && number.IsNull(c.Text)
}

func (s *stats) number(v float64, unit string) {
	s.numbers++
	if v == math.Trunc(v) {
		s.whole++
		if v == 1 || v == s.last+1 {
			s.runs++
		}
	}
	s.last = v
	s.values = append(s.values, v)
	if unit == "" {
		return
	}
	for i := range s.units {
		if s.units[i].unit == unit {
			s.units[i].n++
			return
		}
	}
	s.units = append(s.units, unitCount{strings.Clone(unit), 1})
}

// seen counts a text and returns its entry; nil where there is no room for it.
func (s *stats) seen(text string) *textCount {
	for i := range s.distinct {
		if s.distinct[i].text == text {
			s.distinct[i].n++
			return &s.distinct[i]
		}
	}
	if len(s.distinct) == distinctMax {
		return nil
	}
	if s.distinct == nil {
		s.distinct = make([]textCount, 0, 8)
	}
	s.distinct = append(s.distinct, textCount{text: strings.Clone(text), n: 1})
	return &s.distinct[len(s.distinct)-1]
}

// classify returns the counter of what a text that is no number looks like.
func (s *stats) classify(text string) *int {
	if _, _, ok := season.KnownLift(text); ok {
		return &s.lifts
	}
	if words.MarkOf(text) != words.NoMark {
		return &s.marks
	}
	if _, _, err := shorthand.ParseRPE(text); err == nil {
		return &s.rpe
	}
	switch parts, fraction := several(text); {
	case parts > 1 && fraction:
		return &s.multi
	case parts > 1:
		return &s.multiWhole
	}
	if entries, err := shorthand.Parse(text, shorthand.Options{}); err == nil && says(entries) {
		return &s.work
	}
	return &s.texts
}

// says reports whether entries hold more than words.
func says(entries []shorthand.Entry) bool {
	return slices.ContainsFunc(entries, func(e shorthand.Entry) bool {
		return e.Reps > 0 || len(e.RepsList) > 0 || e.Sets > 0
	})
}

// several returns how many numbers stand in a text that holds nothing else but
// separators, and whether one of them has a fraction; 0 for other texts.
func several(text string) (n int, fraction bool) {
	for _, p := range cutSpeeds(text) {
		bare, _ := cutMiss(p)
		v, err := number.Parse(bare, number.Point)
		if err != nil {
			if words.MarkOf(p) == words.Miss || number.IsNull(p) {
				continue
			}
			return 0, false
		}
		n++
		fraction = fraction || v.Step < 1
	}
	return n, fraction
}

// cutSpeeds cuts a cell into the speeds of a set: at slashes, semicolons,
// bars and line ends, at commas that a blank follows, else at blanks, at
// hyphens, or at commas between numbers with points.
func cutSpeeds(text string) []string {
	text = perSecond.Replace(strings.Trim(text, " \t\u00a0()[]{}"))
	for _, cut := range []func(r rune) bool{
		func(r rune) bool { return r == '/' || r == ';' || r == '|' || r == '\n' || r == '\\' },
		nil,
		func(r rune) bool { return r == ' ' || r == '\u00a0' || r == '\t' },
		func(r rune) bool { return r == '-' || r == '–' || r == '>' || r == '→' },
		func(r rune) bool { return r == ',' && strings.Contains(text, ".") },
	} {
		var parts []string
		if cut == nil {
			parts = strings.Split(text, ", ")
		} else {
			parts = strings.FieldsFunc(text, cut)
		}
		if len(parts) < 2 {
			continue
		}
		for i := range parts {
			parts[i] = strings.Trim(parts[i], " \t\u00a0,")
		}
		if _, behind, _ := strings.Cut(text, " "); len(parts) == 2 && strings.IndexFunc(behind, isDigit) < 0 {
			continue // "0.41 m/s" is one
		}
		return parts
	}
	return []string{text}
}

// perSecond writes the slash of m/s and cm/s as a sign that does not part
// speeds; package unit knows it.
var perSecond = strings.NewReplacer("m/s", "m∕s", "M/S", "m∕s", "м/с", "м∕с")

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// filled is the number of cells that say something.
func (s *stats) filled() int { return s.cells - s.blanks }

// share is n as a share of the filled cells; 0 where none is.
func (s *stats) share(n int) float64 {
	if s.filled() == 0 {
		return 0
	}
	return float64(n) / float64(s.filled())
}

// dated is how many cells can be dates.
func (s *stats) dated() int { return s.days + s.dates.Dates + s.dates.Unix }

// quantile returns the value below which a share q of the numbers lies; NaN
// where there are none.
func (s *stats) quantile(q float64) float64 {
	if len(s.values) == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(s.values)
	slices.Sort(sorted)
	return sorted[int(q*float64(len(sorted)-1)+0.5)]
}

// samples returns the first texts of the column, for messages and peek.
func (s *stats) samples() []string {
	var out []string
	for _, t := range s.distinct[:min(3, len(s.distinct))] {
		out = append(out, t.text)
	}
	return out
}
