package column

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
)

// Stats is what the cells of a column look like, over the rows of a survey.
type Stats struct {
	Cells, Blanks int
	First         bool // the first row is filled
	Numbers       int  // one number, with or without a unit
	Whole         int  // of them, without a fraction
	Up, Down      int  // of them, 1 or one more than the number above; below a 1 or one less, where the newest stands first
	Multi         int  // several numbers with fractions: "0.41 / 0.38"
	MultiWhole    int  // several whole numbers: "41/38/35"
	Work          int  // a set in shorthand
	RPE           int  // an RPE or RIR
	Lifts         int  // a lift's usual name
	Marks         int  // a mark: yes, miss, x
	Days          int  // cells that a spreadsheet knows as dates
	Ones          int  // of numbers: a 1 below a 1
	Texts         int  // none of the above
	Paired        int  // of any kind: numbers of a set and its rep, in order
	Dotted        int  // of numbers: 16.51, which may be a time of day

	Values  []float64 // of numbers, as written, in order of rows
	Serials []float64 // of cells that a spreadsheet knows as dates, in order of rows
	Either  []int     // indexes of values whose point or comma has two readings
	Units   []UnitCount
	Mark    number.Evidence
	Dates   date.Evidence

	Distinct []TextCount // the first distinctMax texts
	places   places      // in Distinct
	last     float64
	lo, hi   float64 // of Values, where [Stats.Widen] looked at more
	set, rep int32
	LastText string // of a date, when looking further
}

// UnitCount is a unit as written in cells, and how often.
type UnitCount struct {
	Unit string
	N    int
}

// Add takes one cell into account.
func (s *Stats) Add(c *table.Cell) {
	s.Cells++
	if Blank(c) {
		s.Blanks++
		return
	}
	if s.Cells == 1 {
		s.First = true
	}
	switch c.Kind {
	case table.Number:
		if c.Num > 1e4 {
			s.Dates.Add(strconv.FormatFloat(c.Num, 'f', -1, 64))
		}
		s.number(c.Num, "")
		return
	case table.Date:
		s.Days++
		s.Serials = append(s.Serials, c.Num)
		return
	case table.Bool:
		s.Marks++
		return
	}
	known := s.seen(c.Text)
	if known != nil && known.bare { // names and words come again and again
		s.set, s.rep = 0, 0
		s.Mark.Other++
		s.Dates.Other++
		*known.class++
		return
	}
	paired := s.paired(c.Text)
	if clockWise(c.Text) {
		s.Dotted++
	}
	if n, ok := OfMany(c.Text); ok {
		s.number(float64(n), "")
		return
	}
	mark := s.Mark
	s.Mark.Add(c.Text)
	dates, others := s.Dates.Dates, s.Dates.Other
	s.Dates.Add(c.Text)
	if s.Dates.Dates > dates && len(c.Text) > len("10/10/10") {
		return // too long for a list of reps
	}
	as := number.AnyMark
	either := s.Mark.Either > mark.Either
	if either {
		as = number.Point
	}
	if v, err := number.Parse(c.Text, as); err == nil && !v.Percent && !inThrees(c.Text) {
		if either {
			s.Either = append(s.Either, len(s.Values))
		}
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
		known.bare = !paired && s.Mark.Other > mark.Other && s.Dates.Other > others
	}
}

// Settle takes the decimal mark of the source: values with two readings were
// taken as with a point.
func (s *Stats) Settle(mark number.DecimalMark) {
	if mark != number.Comma {
		return
	}
	for _, i := range s.Either {
		if v := s.Values[i]; v == math.Trunc(v) && math.Abs(v) >= 1000 {
			s.Values[i] = v / 1000 // "1,234"
		} else {
			s.Values[i] = v * 1000 // "1.234"
		}
	}
	s.Either = nil
}

// Runs returns how many numbers count on: 1, 2, 3 downwards or upwards.
func (s *Stats) Runs() int { return max(s.Up, s.Down) }

// Blank reports whether a cell says nothing.
func Blank(c *table.Cell) bool {
	return c.Kind == table.Blank || c.Kind == table.Error || c.Kind == table.Text && number.IsNull(c.Text)
}

func (s *Stats) number(v float64, unit string) {
	s.Numbers++
	if v == math.Trunc(v) {
		s.Whole++
		if v == 1 || v == s.last+1 {
			s.Up++
		}
		if v >= 1 && (s.last == 1 || s.last == 0 || v == s.last-1) {
			s.Down++
		}
		if v == 1 && s.last == 1 {
			s.Ones++
		}
	}
	s.last = v
	s.Values = append(s.Values, v)
	if unit == "" {
		return
	}
	for i := range s.Units {
		if s.Units[i].Unit == unit {
			s.Units[i].N++
			return
		}
	}
	s.Units = append(s.Units, UnitCount{strings.Clone(unit), 1})
}

// seen counts a text and returns its entry; nil where there is no room for it.
func (s *Stats) seen(text string) *TextCount {
	i, slot := s.places.find(s.Distinct, text)
	if i >= 0 {
		s.Distinct[i].N++
		return &s.Distinct[i]
	}
	if len(s.Distinct) == distinctMax {
		return nil
	}
	s.Distinct = append(s.Distinct, TextCount{Text: s.places.keep(text), N: 1})
	s.places.add(s.Distinct, slot)
	return &s.Distinct[len(s.Distinct)-1]
}

// classify returns the counter of what a text that is no number looks like.
func (s *Stats) classify(text string) *int {
	if _, _, ok := spelling.KnownLift(text); ok {
		return &s.Lifts
	}
	if words.MarkOf(text) != words.NoMark {
		return &s.Marks
	}
	if _, _, err := shorthand.ParseRPE(text); err == nil {
		return &s.RPE
	}
	switch parts, fraction := several(text); {
	case parts > 1 && fraction:
		return &s.Multi
	case parts > 1:
		return &s.MultiWhole
	}
	if entries, err := shorthand.Parse(text, shorthand.Options{}); err == nil && says(entries) {
		return &s.Work
	}
	return &s.Texts
}

// says reports whether entries hold more than words.
func says(entries []shorthand.Entry) bool {
	return slices.ContainsFunc(entries, func(e shorthand.Entry) bool {
		return e.Reps > 0 || len(e.RepsList) > 0 || e.Sets > 0
	})
}

// Filled is the number of cells that say something.
func (s *Stats) Filled() int { return s.Cells - s.Blanks }

// Share is n as a share of the filled cells; 0 where none is.
func (s *Stats) Share(n int) float64 {
	if s.Filled() == 0 {
		return 0
	}
	return float64(n) / float64(s.Filled())
}

// Dated is how many cells can be dates.
func (s *Stats) Dated() int { return s.Days + s.Dates.Dates + s.Dates.Unix }

// Quantile returns the value below which a share q of the numbers lies; NaN
// where there are none.
func (s *Stats) Quantile(q float64) float64 {
	if len(s.Values) == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(s.Values)
	slices.Sort(sorted)
	return sorted[int(q*float64(len(sorted)-1)+0.5)]
}

// Samples returns the first texts of the column, for messages and peek; where
// most cells are numbers of a spreadsheet, these too.
func (s *Stats) Samples() []string {
	const most = 3
	var out []string
	texts := 0
	for _, t := range s.Distinct {
		texts += t.N
		if len(out) < most {
			out = append(out, t.Text)
		}
	}
	if 2*texts > s.Filled() {
		return out
	}
	for _, v := range s.Values {
		if text := strconv.FormatFloat(v, 'f', -1, 64); len(out) < most && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}
