package source

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/unit"
)

// Settle decides what single cells do not, with the evidence of sister sources
// beside the source's own, and compiles the plans. The error is an [*Ask] or
// says what the source is.
func (s *Source) Settle(sisters *Sisters) error {
	if s.rows() == 0 {
		return ErrEmpty
	}
	lacks := s.Complete()
	if !s.shaped() {
		return lacks
	}
	asks := s.settle(sisters)
	if len(asks) > 0 && s.longer {
		if err := s.lookFurther(); err != nil {
			return err
		}
		asks = s.settle(sisters)
	}
	for _, ask := range asks {
		s.asked(ask)
	}
	switch {
	case lacks != nil:
		return lacks
	case len(asks) > 0:
		return asks[0]
	}
	for i, p := range s.Parts {
		if p.kind.shape != nil && p.ask == nil {
			s.compile(p, int32(i+1))
		}
	}
	return nil
}

// Complete returns the question for what nothing says, before anything is
// settled: there is no table of reps or sets, or no table says who lifted what
// when.
func (s *Source) Complete() error {
	if !s.shaped() {
		return s.nothing()
	}
	if ask := s.complete(); ask != nil {
		return ask
	}
	return nil
}

// shaped reports whether there is a table of reps or sets.
func (s *Source) shaped() bool {
	return slices.ContainsFunc(s.kinds, func(k *kind) bool { return k.shape != nil })
}

// nothing returns why a source without any table of reps is one.
func (s *Source) nothing() error {
	if s.rows() == 0 {
		return ErrEmpty
	}
	k := s.kinds[0]
	if c := k.Column(column.Position); c != nil && k.Rows >= samplesLeast && c.Stats.Smooth() {
		return &Ask{Place: rep.Place{Source: s.Name, Column: c.Heading}, Problem: "positions of a bar, and nothing says when each was: no column of times that rise in small steps, no sampling rate",
			Lines: []string{"samples = { hz = 100 }", `samples = { time = "its heading" }`, "skip = true"}}
	}
	a := &Ask{Place: rep.Place{Source: s.Name}, Problem: "no table of reps or sets found: there is no column of speeds, nor of reps with loads or RPE"}
	if h := k.headings(); h != "" {
		a.Problem += "; the headings are " + h
		a.Lines = []string{`columns = { mean_velocity = "its heading", load = "its heading" }`}
	} else {
		a.Problem = "the table has no headings, so nothing tells what its columns are: " + k.samples()
		a.Lines = []string{"columns = { " + strings.Join(k.byLetters(), ", ") + " }"}
	}
	for _, k := range s.kinds {
		if c := k.Column(column.MeanPropulsive); c != nil && c.Named {
			a.Column = c.Heading
			a.Problem = "the only speed is the mean propulsive one, which is above the mean of the whole rep; no rep can be filed without a mean velocity"
			a.Lines = []string{fmt.Sprintf("columns = { mean_velocity = %s }", quote(c.Heading))}
		}
	}
	a.Lines = append(a.Lines, "skip = true")
	return a
}

// rows is how many rows of data the survey met.
func (s *Source) rows() (n int) {
	for _, k := range s.kinds {
		n += k.Rows
	}
	return n
}

// samples shows what columns without headings hold.
func (k *kind) samples() string {
	var out []string
	for _, c := range k.Columns {
		if len(c.Samples) > 0 && len(out) < 12 {
			out = append(out, fmt.Sprintf("%s holds %q", c.Heading, c.Samples[0]))
		}
	}
	return strings.Join(out, ", ")
}

// byLetters suggests what columns without headings may hold, as declarations.
// It goes no further than that: the coach declares it or not.
func (k *kind) byLetters() []string {
	taken := column.Set(0)
	for _, c := range k.Columns {
		taken = taken.With(c.Field)
	}
	of := make(map[column.Field]string)
	for _, c := range k.Columns {
		for _, f := range []column.Field{c.Field, column.Lifter, column.RepNumber, column.MeanVelocity, column.Load} {
			if f == column.Nothing || f == column.Known || of[f] != "" || taken.Has(f) && f != c.Field || f != c.Field && !c.Looks(f) {
				continue
			}
			of[f] = c.Heading
			break
		}
	}
	var out []string
	for f := column.Lifter; f < column.Known; f++ {
		if of[f] == "" && (f == column.MeanVelocity || f == column.Load) {
			of[f] = "its column"
		}
		if of[f] != "" {
			out = append(out, fmt.Sprintf("%s = %q", f, of[f]))
		}
	}
	return out
}

// headings returns the headings of a kind of table, for messages.
func (k *kind) headings() string {
	var out []string
	for _, c := range k.Columns {
		if c.Named && len(out) < 12 {
			out = append(out, quote(c.Heading))
		}
	}
	return strings.Join(out, ", ")
}

// ErrEmpty says that a source has no rows of data.
var ErrEmpty = errors.New("there is no row of data in the file")

func (s *Source) compile(p *Part, nth int32) {
	k := p.kind
	plan := &shape.Plan{
		Shape: k.shape, Base: p.base, Labels: p.labels, Source: s.Name, Sheet: p.Sheet, Date1904: p.sheet.Date1904,
		Mark: s.mark, Order: s.order, Habit: s.habit, Zone: s.season.Zone(), Season: s.season,
		Bar: s.declared.Bar, Tether: s.declared.Tether, Device: s.Device,
		LoadUnit: s.looseUnit(column.Load), SpeedUnit: s.looseUnit(column.MeanVelocity),
		HandLog: s.handLog(k), Lines: k.lines, Samples: s.samplesOf(p), Stamped: k.Stamped, Paced: k.Paced,
	}
	if plan.HandLog && plan.Device == "" {
		plan.Device = rep.HandLog
	}
	if len(s.Parts) > 1 {
		plan.Block = s.blockMark(p, nth)
	}
	for i, c := range k.Columns {
		if !shape.Reads(c.Field) || !k.ofSamples() && c.Field == column.Position {
			continue
		}
		cell := shape.Cell{Index: c.Index, Field: c.Field, Nth: c.Nth, Set: c.Set, Heading: c.Heading, Unit: c.Unit, Step: finest(c), Fill: s.fills(p, i)}
		if c.Field == column.Date || c.Field == column.Clock {
			cell.Numbers = numericDates(c.Stats)
		}
		plan.Cells = append(plan.Cells, cell)
	}
	plan.Width = s.width(p)
	// What says which row it is comes before what it measures; RPE before RIR.
	slices.SortStableFunc(plan.Cells, func(a, b shape.Cell) int {
		return cmp.Or(cmp.Compare(a.Field, b.Field), cmp.Compare(a.Nth, b.Nth))
	})
	for _, corr := range s.season.Corrections {
		if corr.Source == s.Name && (corr.Sheet == "" || corr.Sheet == p.Sheet) {
			if plan.Corrections == nil {
				plan.Corrections = make(map[int32][]season.Correction)
			}
			plan.Corrections[corr.Row] = append(plan.Corrections[corr.Row], corr)
		}
	}
	p.timed = s.timed(p)
	p.plan = plan
}

// width returns the number of cells a row of a table can have; 0 for any. In a
// spreadsheet remarks stand beside tables, and a note at the end of a line may
// hold delimiters: then more cells than columns say nothing.
func (s *Source) width(p *Part) int {
	if s.file.Format != "text" || len(p.Region.HeadingRows) == 0 || s.file.Delimiter == "blanks" {
		return 0
	}
	for i := len(p.Columns) - 1; i >= 0; i-- {
		switch c := p.Columns[i]; {
		case c.Named && (c.Field == column.Note || c.Stats.Texts > 0 && c.Field == column.Nothing):
			return 0
		case c.Named:
			return c.Index + 1
		case 2*c.Stats.Filled() > c.Stats.Cells:
			return 0 // a column without a heading
		}
	}
	return 0
}

// timed reports whether a table has times of day without a zone.
func (s *Source) timed(p *Part) bool {
	if p.kind.Has(column.Clock) || slices.ContainsFunc(p.base, func(b shape.Carried) bool { return b.Field == column.Clock }) {
		return true
	}
	c := p.kind.Column(column.Date)
	if c == nil {
		return false
	}
	for _, t := range c.Stats.Distinct {
		if stamp, err := date.Parse(t.Text, s.order); err == nil {
			return stamp.Clock.OK && !stamp.Instant.OK
		}
	}
	return false
}

// blockMark returns the set number of a table that is a set: one of several
// under each other, each with lines of its own above.
func (s *Source) blockMark(p *Part, nth int32) (mark rep.Null[int32]) {
	for _, b := range p.base {
		if b.Field == column.SetNumber {
			return mark
		}
	}
	sheetParts := 0
	for _, other := range s.Parts {
		if other.Sheet == p.Sheet && len(other.Region.PreambleRows) > 0 {
			sheetParts++
		}
	}
	if sheetParts > 1 {
		mark = rep.Some(nth)
	}
	return mark
}

// handLog reports whether a table was kept by hand.
func (s *Source) handLog(k *kind) bool {
	if s.declared.Device != "" {
		return s.declared.Device == rep.HandLog
	}
	return k.shape.ByHand()
}

// looseUnit returns the unit of loads or speeds without one that stand in
// shorthand: declared, else that of a column, else the unit of the trade.
func (s *Source) looseUnit(f column.Field) unit.Unit {
	if u := s.declaredUnit(f); u.Name != "" {
		return u
	}
	if f == column.Load && s.loose.Name != "" {
		return s.loose
	}
	for _, k := range s.kinds {
		if c := k.Column(f); c != nil && c.Unit.Name != "" && k.shape != nil {
			return c.Unit
		}
	}
	return unit.SIOf(f.Quantity())
}

// finest returns the finest step in which the numbers of a column are written,
// in its own unit: an export that drops closing zeros writes 0.4 for 0.40. 0
// where it is finer than any unit measures, which is the noise of a computer's
// arithmetic.
func finest(c *column.Column) float64 {
	if c.Field.Quantity() == unit.Any {
		return 0
	}
	decimals := 0
	for _, v := range c.Stats.Values {
		for decimals <= 6 && math.Abs(v*math.Pow10(decimals)-math.Round(v*math.Pow10(decimals))) > 1e-6 {
			decimals++
		}
	}
	if decimals > 6 {
		return 0
	}
	return 1 / math.Pow10(decimals)
}

// numericDates says what plain numbers in a column of dates are.
func numericDates(s *column.Stats) shape.DateNumbers {
	switch {
	case s.Dates.Unix > s.Dates.Serials:
		return shape.UnixSeconds
	case s.Dates.Serials > 0:
		return shape.SerialDays
	}
	return shape.NoNumbers
}

// fills reports whether blanks of a column take the value above: of what says
// which set a row is, never of what was measured, and only where blanks are the
// rule.
func (s *Source) fills(p *Part, nth int) bool {
	c := p.kind.Columns[nth]
	st := c.Stats
	if st.Blanks == 0 || !st.First || st.Filled() == 0 {
		return false
	}
	often := 0.25
	written := false
	switch c.Field {
	case column.Lifter, column.Date, column.Lift:
		if p.kind.shape.OfSets() {
			often = 0.1
			written = p.runs != nil && p.runs[nth].filledDown()
		}
	case column.Load, column.SetNumber, column.Variant, column.Bar, column.Tether:
	default:
		return false
	}
	if float64(st.Blanks) < often*float64(st.Cells) && !written {
		return false
	}
	s.say("column %q: blanks take the value above (%d of %d cells are blank)", c.Heading, st.Blanks, st.Cells)
	return true
}

// signature is alike for the exports of one unit: format, shape and headings
// of the first table.
func (s *Source) signature() string {
	for _, k := range s.kinds {
		if k.shape != nil {
			return fmt.Sprintf("%s\x00%s\x00%s", s.file.Format, k.shape.Name, k.key)
		}
	}
	return ""
}

// needsDevice reports whether reps of the source need a unit's nickname: not a
// hand log, and none declared.
func (s *Source) needsDevice() bool {
	if s.Device != "" {
		return false
	}
	for _, k := range s.kinds {
		if k.shape != nil && !s.handLog(k) && !k.Has(column.Device) {
			return true
		}
	}
	return false
}
