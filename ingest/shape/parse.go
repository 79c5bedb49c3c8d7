package shape

import (
	"strconv"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// parser reads a cell that is not blank into the decoder's row; a problem is
// one phrase.
type parser func(d *Decoder, c *Cell, cell *table.Cell) (problem string)

// parsers reads the cells of each field; those without a parser are not read.
var parsers = [...]parser{
	column.Known:           nil,
	column.Lifter:          parseLifter,
	column.Date:            parseDate,
	column.Clock:           parseClock,
	column.Lift:            parseLift,
	column.Variant:         parseVariant,
	column.Bar:             parseBar,
	column.Tether:          parseTether,
	column.Device:          parseDevice,
	column.LoadUnit:        parseLoadUnit,
	column.Load:            parseMeasure,
	column.SetNumber:       parseSet,
	column.RepNumber:       parseRepNumber,
	column.SetRep:          parseSetRep,
	column.MeanVelocity:    parseMeasure,
	column.PeakVelocity:    parseMeasure,
	column.ROM:             parseMeasure,
	column.Concentric:      parseMeasure,
	column.RPE:             parseRPE,
	column.RIR:             parseRIR,
	column.Missed:          parseMissed,
	column.Success:         parseSuccess,
	column.Sets:            parseSets,
	column.Reps:            parseReps,
	column.FirstVelocity:   parseMeasure,
	column.FastestVelocity: parseMeasure,
	column.LastVelocity:    parseMeasure,
	column.SlowestVelocity: parseMeasure,
	column.Speeds:          func(d *Decoder, _ *Cell, cell *table.Cell) string { d.v.speeds = cell.Text; return "" },
	column.Work:            parseWork,
	column.Note:            parseNote,
	column.SampleTime:      parseMeasure,
	column.Position:        parseMeasure,

	column.MeanPropulsive:   parseMeasure,
	column.StickingVelocity: parseMeasure,
	column.TimeToPeak:       parseMeasure,
	column.Eccentric:        parseMeasure,
}

// place is where the number of a cell goes in a row: its value, that there is
// one, and its step; nil for what a field does not say.
type place struct {
	x, step *float64
	ok      *bool
}

func (p *place) put(x, step float64) {
	*p.x = x
	if p.ok != nil {
		*p.ok = true
	}
	if p.step != nil {
		*p.step = step
	}
}

func null(n *rep.Null[float64]) place { return place{x: &n.V, ok: &n.OK} }

// measures says where the numbers of each field that has a unit go.
var measures = [column.Known + 1]func(v *values) place{
	column.Load:             func(v *values) place { return place{&v.LoadKg, &v.LoadStep, nil} },
	column.MeanVelocity:     func(v *values) place { return place{&v.MeanVelocity, &v.MeanStep, nil} },
	column.PeakVelocity:     func(v *values) place { return place{&v.PeakVelocity.V, &v.PeakStep, &v.PeakVelocity.OK} },
	column.ROM:              func(v *values) place { return place{&v.ROM.V, &v.ROMStep, &v.ROM.OK} },
	column.Concentric:       func(v *values) place { return null(&v.Concentric) },
	column.FirstVelocity:    func(v *values) place { return null(&v.first) },
	column.FastestVelocity:  func(v *values) place { return null(&v.fastest) },
	column.LastVelocity:     func(v *values) place { return null(&v.last) },
	column.SlowestVelocity:  func(v *values) place { return null(&v.slowest) },
	column.SampleTime:       func(v *values) place { return place{x: &v.at.V} },
	column.Position:         func(v *values) place { return place{x: &v.position.V} },
	column.MeanPropulsive:   func(v *values) place { return null(&v.Further.MeanPropulsive) },
	column.StickingVelocity: func(v *values) place { return null(&v.Further.Sticking) },
	column.TimeToPeak:       func(v *values) place { return null(&v.Further.TimeToPeak) },
	column.Eccentric:        func(v *values) place { return null(&v.Further.Eccentric) },
}

// Reads reports whether cells of a field are read.
func Reads(f column.Field) bool { return parsers[f] != nil }

// cache remembers texts and what they meant: rows of a set have the same.
type cache struct {
	lifterText, liftText, dateText, unitText memo

	lifters   map[string]string
	lifter    string
	lifts     map[string]liftName
	lift      liftName
	stamp     date.Stamp
	dates     date.Reader
	unit      unit.Unit
	unitField column.Field
}

type liftName struct{ lift, variant string }

// memo is the text of the row above, kept without allocating.
type memo []byte

func (m memo) is(text string) bool { return string(m) == text }

func (m *memo) put(text string) { *m = append((*m)[:0], text...) }

// has reports whether a cell holds a text that was read before: it needs no
// closer look.
func (t *cache) has(f column.Field, cell *table.Cell) bool {
	if cell.Kind != table.Text || cell.Text == "" {
		return false
	}
	ok := false
	switch f {
	case column.Date:
		ok = t.dateText.is(cell.Text)
	case column.Lifter:
		if ok = t.lifterText.is(cell.Text); !ok {
			_, ok = t.lifters[cell.Text]
		}
	case column.Lift:
		if ok = t.liftText.is(cell.Text); !ok {
			_, ok = t.lifts[cell.Text]
		}
	}
	return ok
}

func parseLifter(d *Decoder, c *Cell, cell *table.Cell) string {
	if c.Nth == 2 { // the family name, behind a column of given names
		d.v.Lifter = d.plan.Season.Lifter(d.v.Lifter + " " + cell.Text)
		return ""
	}
	t := &d.text
	if !t.lifterText.is(cell.Text) || t.lifter == "" {
		t.lifterText.put(cell.Text)
		name, ok := t.lifters[cell.Text]
		if !ok {
			if t.lifters == nil {
				t.lifters = make(map[string]string)
			}
			text := strings.Clone(cell.Text)
			name = d.plan.Season.Lifter(text)
			t.lifters[text] = name
		}
		t.lifter = name
	}
	d.v.Lifter = t.lifter
	return ""
}

// tidy returns a name without blanks around it and with single ones inside.
func tidy(text string) string { return strings.Join(strings.Fields(text), " ") }

func parseLift(d *Decoder, _ *Cell, cell *table.Cell) string {
	t := &d.text
	if !t.liftText.is(cell.Text) || t.lift.lift == "" {
		t.liftText.put(cell.Text)
		name, ok := t.lifts[cell.Text]
		if !ok {
			if t.lifts == nil {
				t.lifts = make(map[string]liftName)
			}
			text := strings.Clone(cell.Text)
			name.lift, name.variant = d.plan.Season.Lift(text)
			t.lifts[text] = name
		}
		t.lift = name
	}
	d.v.Lift = t.lift.lift
	if t.lift.variant != "" || !d.v.have.Has(column.Variant) {
		d.v.Variant = t.lift.variant
	}
	return ""
}

func parseVariant(d *Decoder, _ *Cell, cell *table.Cell) string {
	v := strings.ToLower(tidy(cell.Text))
	if known, ok := spelling.KnownVariant(v); ok {
		v = known
	}
	if v != "" && !strings.Contains(d.v.Variant, v) {
		if d.v.Variant != "" {
			v = d.v.Variant + ", " + v
		}
		d.v.Variant = v
	}
	return ""
}

func parseBar(d *Decoder, _ *Cell, cell *table.Cell) string {
	d.v.Bar = words.BarOf(tidy(cell.Text))
	return ""
}

func parseTether(d *Decoder, _ *Cell, cell *table.Cell) string {
	d.v.Tether = words.TetherOf(tidy(cell.Text))
	return ""
}

func parseDevice(d *Decoder, _ *Cell, cell *table.Cell) string {
	if d.v.Device == "" {
		d.v.Device = tidy(cell.Text)
	}
	return ""
}

func parseDate(d *Decoder, c *Cell, cell *table.Cell) string {
	stamp := d.text.stamp
	if cell.Kind != table.Text || !d.text.dateText.is(cell.Text) || cell.Text == "" {
		var problem string
		if stamp, problem = d.stamp(c, cell); problem != "" {
			return problem
		}
		d.text.stamp = stamp
		d.text.dateText.put("")
		if cell.Kind == table.Text {
			d.text.dateText.put(cell.Text)
		}
	}
	d.v.Date = stamp.Day
	d.v.PerformedAt = stamp.Instant
	if d.v.clock.OK && !stamp.Clock.OK {
		d.atClock()
	}
	return ""
}

// stamp reads a date in the zone of the season.
func (d *Decoder) stamp(c *Cell, cell *table.Cell) (date.Stamp, string) {
	var s date.Stamp
	var err error
	switch {
	case cell.Kind == table.Date, cell.Kind == table.Number && c.Numbers != UnixSeconds:
		s, err = date.Serial(cell.Num, d.plan.Date1904)
	case cell.Kind == table.Number:
		s, err = date.ParseUnix(strconv.FormatFloat(cell.Num, 'f', -1, 64))
	default:
		if s, err = d.text.dates.Parse(cell.Text); err != nil && c.Numbers == UnixSeconds {
			s, err = date.ParseUnix(cell.Text)
		} else if err != nil && c.Numbers == SerialDays {
			if v, bad := number.Parse(cell.Text, d.plan.Mark); bad == nil && v.Unit == "" {
				s, err = date.Serial(v.V, d.plan.Date1904)
			}
		}
	}
	if err != nil {
		return s, err.Error()
	}
	return s.In(d.plan.Zone), ""
}

func parseClock(d *Decoder, c *Cell, cell *table.Cell) string {
	var ms int32
	var err error
	switch cell.Kind {
	case table.Text:
		text := cell.Text
		if _, bad := number.Parse(text, number.Point); bad == nil {
			text = strings.Replace(text, ".", ":", 1) // 16.51, under a heading that says time
		}
		if ms, err = date.ParseClock(text); err != nil {
			s, problem := d.stamp(c, cell)
			if problem != "" {
				return err.Error()
			}
			d.v.PerformedAt = s.Instant
			return ""
		}
	default:
		if cell.Num >= 1 {
			s, problem := d.stamp(c, cell)
			d.v.PerformedAt = s.Instant
			return problem
		}
		if ms, err = date.SerialClock(cell.Num); err != nil {
			return err.Error()
		}
	}
	d.v.clock = rep.Some(ms)
	if d.v.have.Has(column.Date) {
		d.atClock()
	}
	return ""
}

// atClock puts day and time of day together.
func (d *Decoder) atClock() {
	s := date.Stamp{Day: d.v.Date, Clock: d.v.clock}
	d.v.PerformedAt = s.In(d.plan.Zone).Instant
}

// parseWork keeps shorthand; columns with a set each make one text.
func parseWork(d *Decoder, c *Cell, cell *table.Cell) string {
	if d.plan.Lines {
		return d.readLine(cell.Text)
	}
	if c.Nth > 1 && d.v.work != "" {
		d.v.work += ", " + cell.Text
	} else {
		d.v.work = cell.Text
	}
	return ""
}

// parseNote keeps a note; one that says nothing but that the rep was missed
// marks it.
func parseNote(d *Decoder, _ *Cell, cell *table.Cell) string {
	d.v.note = cell.Text
	if words.MarkOf(cell.Text) == words.Miss && len(cell.Text) > 2 {
		d.v.Missed, d.v.missed = true, 1
	}
	return ""
}
