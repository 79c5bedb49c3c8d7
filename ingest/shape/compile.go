package shape

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/unit"
)

// Settle decides what single cells do not, with the evidence of sister sources
// beside the source's own, and compiles the plans. The error is an [*Ask] or
// says what the source is.
func (s *Source) Settle(sisters *Pool) error {
	shaped := 0
	for _, k := range s.kinds {
		if k.shape == nil {
			continue
		}
		shaped++
		if k.shape.finish == nil {
			return &Ask{Place: rep.Place{Source: s.Name}, Problem: "this is a table of " + k.shape.name + " (" + k.why + "), which are not read yet"}
		}
	}
	if shaped == 0 {
		return s.nothing()
	}
	if err := s.complete(); err != nil {
		return err
	}
	if err := s.settle(sisters); err != nil {
		return err
	}
	for i, p := range s.Parts {
		if p.kind.shape != nil {
			s.compile(p, int32(i+1))
		}
	}
	return nil
}

// nothing returns why a source without any table of reps is one.
func (s *Source) nothing() error {
	var headings []string
	for _, k := range s.kinds {
		for _, c := range k.columns {
			if c.named && len(headings) < 12 {
				headings = append(headings, quote(c.Heading))
			}
		}
	}
	if len(s.kinds) == 0 {
		return ErrEmpty
	}
	a := &Ask{Place: rep.Place{Source: s.Name}, Problem: "no table of reps or sets found: there is no column of speeds, nor of reps with loads or RPE"}
	if len(headings) > 0 {
		a.Problem += "; the headings are " + strings.Join(headings, ", ")
	}
	a.Lines = []string{`columns = { mean_velocity = "its heading", load = "its heading" }`}
	return a
}

// ErrEmpty says that a source has no rows.
var ErrEmpty = errors.New("the file is empty")

func (s *Source) compile(p *Part, nth int32) {
	k := p.kind
	plan := &Plan{
		shape: k.shape, base: p.base, source: s.Name, sheet: p.Sheet, date1904: p.sheet.Date1904,
		mark: s.mark, habit: s.habit, zone: zone{s.season.Zone()}, season: s.season,
		bar: s.declared.Bar, tether: s.declared.Tether, device: s.Device,
		loadUnit: s.looseUnit(Load), speedUnit: s.looseUnit(MeanVelocity),
		handLog: s.handLog(k),
	}
	if plan.handLog && plan.device == "" {
		plan.device = rep.HandLog
	}
	if len(s.Parts) > 1 || len(p.base) > 0 && !k.has(SetNumber) {
		plan.block = s.blockMark(p, nth)
	}
	for _, c := range k.columns {
		parse := parsers[c.Field]
		if parse == nil {
			continue
		}
		cell := cellPlan{index: c.Index, field: c.Field, nth: c.Nth, heading: c.Heading, unit: c.Unit, order: s.order, parse: parse}
		cell.step = finest(c, s.mark)
		if c.Field == Date || c.Field == Clock {
			cell.numeric = numericDates(c.stats)
		}
		cell.fill = s.fills(k, c)
		plan.cells = append(plan.cells, cell)
	}
	// What says which row it is comes before what it measures; RPE before RIR.
	slices.SortStableFunc(plan.cells, func(a, b cellPlan) int { return cmp.Compare(a.field, b.field) })
	for _, corr := range s.season.Corrections {
		if corr.Source == s.Name && (corr.Sheet == "" || corr.Sheet == p.Sheet) {
			if plan.corrections == nil {
				plan.corrections = make(map[int32][]season.Correction)
			}
			plan.corrections[corr.Row] = append(plan.corrections[corr.Row], corr)
		}
	}
	plan.timed = s.timed(p)
	p.plan = plan
}

// timed reports whether a table has times of day without a zone.
func (s *Source) timed(p *Part) bool {
	if p.kind.has(Clock) || slices.ContainsFunc(p.base, func(b carried) bool { return b.field == Clock }) {
		return true
	}
	c := p.kind.column(Date)
	if c == nil {
		return false
	}
	for _, t := range c.stats.distinct {
		if stamp, err := date.Parse(t.text, s.order); err == nil {
			return stamp.Clock.OK && !stamp.Instant.OK
		}
	}
	return false
}

// blockMark returns the set number of a table that is a set: one of several
// under each other, each with lines of its own above.
func (s *Source) blockMark(p *Part, nth int32) (mark rep.Null[int32]) {
	for _, b := range p.base {
		if b.field == SetNumber {
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
	return k.shape == &setRows || k.shape == &repsInCell
}

// looseUnit returns the unit of loads or speeds without one that stand in
// shorthand: declared, else that of a column, else the unit of the trade.
func (s *Source) looseUnit(f Field) unit.Unit {
	if u := s.declaredUnit(f); u.Name != "" {
		return u
	}
	for _, k := range s.kinds {
		if c := k.column(f); c != nil && c.Unit.Name != "" && k.shape != nil {
			return c.Unit
		}
	}
	return unit.SIOf(fields[f].quantity)
}

// finest returns the finest step in which the numbers of a column are written,
// in its own unit: an export that drops closing zeros writes 0.4 for 0.40. 0
// where it is finer than any unit measures, which is the noise of a computer's
// arithmetic.
func finest(c *Column, mark number.DecimalMark) float64 {
	if fields[c.Field].quantity == unit.Any {
		return 0
	}
	decimals := 0
	for _, v := range c.stats.values {
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
func numericDates(s *stats) dateNumbers {
	switch {
	case s.dates.Unix > 0 && s.dates.Unix >= s.dates.Serials:
		return unixSeconds
	case s.dates.Serials > 0 && s.dates.Dates == 0:
		return serialDays
	}
	for _, v := range s.values {
		if v > 1e8 {
			return unixSeconds
		}
	}
	return noNumbers
}

// fills reports whether blanks of a column take the value above: of what says
// which set a row is, never of what was measured, and only where blanks are the
// rule.
func (s *Source) fills(k *kind, c *Column) bool {
	st := c.stats
	if st.blanks == 0 || !st.first || st.filled() == 0 {
		return false
	}
	often := 0.25
	switch c.Field {
	case Lifter, Date, Lift:
		if k.shape == &setRows || k.shape == &repsInCell || k.shape == &repsAcross {
			often = 0.1
		}
	case Load, SetNumber, Variant, Bar, Tether:
	default:
		return false
	}
	if float64(st.blanks) < often*float64(st.cells) {
		return false
	}
	s.say("column %q: blanks take the value above (%d of %d cells are blank)", c.Heading, st.blanks, st.cells)
	return true
}

// Signature is alike for the exports of one unit: format, shape and headings
// of the first table.
func (s *Source) Signature() string {
	for _, k := range s.kinds {
		if k.shape != nil {
			return fmt.Sprintf("%s\x00%s\x00%s", s.file.Format, k.shape.name, k.key)
		}
	}
	return ""
}

// Pool returns the source's own evidence, for its sisters.
func (s *Source) Pool() Pool { return s.pool() }

// MeasuredBy reports whether reps of the source need a unit's nickname: not a
// hand log, and none declared.
func (s *Source) NeedsDevice() bool {
	if s.Device != "" {
		return false
	}
	for _, k := range s.kinds {
		if k.shape != nil && !s.handLog(k) && !k.has(Device) {
			return true
		}
	}
	return false
}
