package shape

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// parsers reads the cells of each field.
var parsers = [numFields]parser{
	Lifter:          parseLifter,
	Date:            parseDate,
	Clock:           parseClock,
	Lift:            parseLift,
	Variant:         parseVariant,
	Bar:             parseBar,
	Tether:          parseTether,
	Device:          parseDevice,
	Load:            measure(func(v *values, x, step float64) { v.LoadKg, v.LoadStep = x, step }),
	SetNumber:       parseSet,
	RepNumber:       parseRepNumber,
	MeanVelocity:    measure(func(v *values, x, step float64) { v.MeanVelocity, v.MeanStep = x, step }),
	PeakVelocity:    measure(func(v *values, x, step float64) { v.PeakVelocity, v.PeakStep = rep.Some(x), step }),
	ROM:             measure(func(v *values, x, step float64) { v.ROM, v.ROMStep = rep.Some(x), step }),
	Concentric:      measure(func(v *values, x, _ float64) { v.Concentric = rep.Some(x) }),
	RPE:             parseRPE,
	RIR:             parseRIR,
	Missed:          parseMissed,
	Success:         parseSuccess,
	Sets:            parseSets,
	Reps:            parseReps,
	FirstVelocity:   measure(func(v *values, x, _ float64) { v.first = rep.Some(x) }),
	FastestVelocity: measure(func(v *values, x, _ float64) { v.fastest = rep.Some(x) }),
	LastVelocity:    measure(func(v *values, x, _ float64) { v.last = rep.Some(x) }),
	SlowestVelocity: measure(func(v *values, x, _ float64) { v.slowest = rep.Some(x) }),
	Speeds:          func(d *decoder, _ *cellPlan, cell *table.Cell) string { d.v.speeds = cell.Text; return "" },
	Work:            func(d *decoder, _ *cellPlan, cell *table.Cell) string { d.v.work = cell.Text; return "" },
	Note:            parseNote,
}

// cache remembers the last texts and what they meant: rows of a set have the
// same.
type cache struct {
	lifterText, lifter        string
	liftText, lift, liftStyle string
	dateText                  string
	stamp                     date.Stamp
	unitText                  string
	unit                      unit.Unit
	unitField                 Field
}

func parseLifter(d *decoder, _ *cellPlan, cell *table.Cell) string {
	if cell.Text != d.text.lifterText || d.text.lifter == "" {
		d.text.lifterText = strings.Clone(cell.Text)
		d.text.lifter = d.plan.season.Lifter(d.text.lifterText)
	}
	d.v.Lifter = d.text.lifter
	return ""
}

// tidy returns a name without blanks around it and with single ones inside.
func tidy(text string) string { return strings.Join(strings.Fields(text), " ") }

func parseLift(d *decoder, _ *cellPlan, cell *table.Cell) string {
	if cell.Text != d.text.liftText || d.text.lift == "" {
		d.text.liftText = strings.Clone(cell.Text)
		d.text.lift, d.text.liftStyle = d.plan.season.Lift(d.text.liftText)
	}
	d.v.Lift = d.text.lift
	if d.text.liftStyle != "" || !d.v.have.has(Variant) {
		d.v.Variant = d.text.liftStyle
	}
	return ""
}

func parseVariant(d *decoder, _ *cellPlan, cell *table.Cell) string {
	v := strings.ToLower(tidy(cell.Text))
	if known, ok := season.KnownVariant(v); ok {
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

func parseBar(d *decoder, _ *cellPlan, cell *table.Cell) string {
	d.v.Bar = words.BarOf(tidy(cell.Text))
	return ""
}

func parseTether(d *decoder, _ *cellPlan, cell *table.Cell) string {
	d.v.Tether = words.TetherOf(tidy(cell.Text))
	return ""
}

func parseDevice(d *decoder, _ *cellPlan, cell *table.Cell) string {
	if d.v.Device == "" {
		d.v.Device = tidy(cell.Text)
	}
	return ""
}

// measure returns a parser of numbers with a unit.
func measure(put func(v *values, x, step float64)) parser {
	return func(d *decoder, c *cellPlan, cell *table.Cell) string {
		x, step, problem := d.measured(c, cell)
		if problem == "" {
			if c.nth > 0 {
				d.nthPut(c, x, step)
			} else {
				put(&d.v, x, step)
			}
		}
		return problem
	}
}

// measured returns a cell's number in SI units.
func (d *decoder) measured(c *cellPlan, cell *table.Cell) (x, step float64, problem string) {
	u := c.unit
	switch cell.Kind {
	case table.Number:
		x, step = cell.Num, c.step
	case table.Text:
		v, err := number.Parse(cell.Text, d.plan.mark)
		if err != nil {
			return 0, 0, d.noNumber(c, cell.Text, err)
		}
		if v.Percent {
			return 0, 0, fmt.Sprintf("%q is a percentage, where a %s should stand", cell.Text, fields[c.field].word)
		}
		x, step = v.V, v.Step
		if c.step > 0 && c.step < step {
			step = c.step
		}
		if v.Unit != "" {
			if v.Unit != d.text.unitText || c.field != d.text.unitField {
				own, ok := unit.ParseFor(fields[c.field].quantity, v.Unit)
				if !ok {
					return 0, 0, fmt.Sprintf("%q is not a %s", cell.Text, fields[c.field].word)
				}
				d.text.unitText, d.text.unitField, d.text.unit = strings.Clone(v.Unit), c.field, own
			}
			u = d.text.unit
		}
	default:
		return 0, 0, fmt.Sprintf("%q is not a %s", cell.Text, fields[c.field].word)
	}
	x, step = u.Convert(x, step)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, 0, fmt.Sprintf("%q is not a number", cell.Text)
	}
	return x, step, ""
}

// noNumber words the problem of a cell that holds no number; a mark of a
// missed rep says so.
func (d *decoder) noNumber(c *cellPlan, text string, err error) string {
	if words.MarkOf(text) == words.Miss {
		if c.nth == 0 {
			d.v.Missed = true
		}
		return fmt.Sprintf("%q says that the rep was missed, but there is no speed", text)
	}
	return err.Error()
}

func parseDate(d *decoder, c *cellPlan, cell *table.Cell) string {
	stamp := d.text.stamp
	if cell.Kind != table.Text || cell.Text != d.text.dateText {
		var problem string
		if stamp, problem = d.stamp(c, cell); problem != "" {
			return problem
		}
		d.text.dateText, d.text.stamp = "", stamp
		if cell.Kind == table.Text {
			d.text.dateText = strings.Clone(cell.Text)
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
func (d *decoder) stamp(c *cellPlan, cell *table.Cell) (date.Stamp, string) {
	var s date.Stamp
	var err error
	switch {
	case cell.Kind == table.Date, cell.Kind == table.Number && c.numeric != unixSeconds:
		s, err = date.Serial(cell.Num, d.plan.date1904)
	case cell.Kind == table.Number:
		s, err = date.ParseUnix(strconv.FormatFloat(cell.Num, 'f', -1, 64))
	case c.numeric == serialDays:
		var v number.Value
		if v, err = number.Parse(cell.Text, d.plan.mark); err == nil {
			s, err = date.Serial(v.V, d.plan.date1904)
		} else {
			s, err = date.Parse(cell.Text, c.order)
		}
	case c.numeric == unixSeconds:
		if s, err = date.ParseUnix(cell.Text); err != nil {
			s, err = date.Parse(cell.Text, c.order)
		}
	default:
		s, err = date.Parse(cell.Text, c.order)
	}
	if err != nil {
		return s, err.Error()
	}
	return s.In(d.plan.zone.loc), ""
}

func parseClock(d *decoder, c *cellPlan, cell *table.Cell) string {
	var ms int32
	var err error
	switch cell.Kind {
	case table.Text:
		if ms, err = date.ParseClock(cell.Text); err != nil {
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
	if d.v.have.has(Date) {
		d.atClock()
	}
	return ""
}

// atClock puts day and time of day together.
func (d *decoder) atClock() {
	s := date.Stamp{Day: d.v.Date, Clock: d.v.clock}
	d.v.PerformedAt = s.In(d.plan.zone.loc).Instant
}

// zone is the zone of local clocks.
type zone struct{ loc *time.Location }

// parseSet reads the number of a set. Marks only tell sets apart, so a text
// without a number ("top") becomes one.
func parseSet(d *decoder, _ *cellPlan, cell *table.Cell) string {
	if n, ok := wholeNumber(cell); ok {
		d.v.SetMark = rep.Some(n)
		return ""
	}
	const offset, prime = 2166136261, 16777619 // FNV-1a
	h := uint32(offset)
	for _, b := range []byte(words.Fold(cell.Text)) {
		h = (h ^ uint32(b)) * prime
	}
	d.v.SetMark = rep.Some(int32(h>>2 | 1<<29))
	return ""
}

func parseRepNumber(d *decoder, _ *cellPlan, cell *table.Cell) string {
	n, ok := wholeNumber(cell)
	if !ok {
		return fmt.Sprintf("%q is not the number of a rep", cell.Text)
	}
	d.v.RepRecorded = rep.Some(n)
	return ""
}

// wholeNumber reads "3", "3.0", "#3", "Set 3", "3/5", "3.".
func wholeNumber(cell *table.Cell) (int32, bool) {
	if cell.Kind == table.Number {
		if cell.Num != math.Trunc(cell.Num) || math.Abs(cell.Num) > 1e6 {
			return 0, false
		}
		return int32(cell.Num), true
	}
	text := cell.Text
	if n, err := strconv.ParseInt(text, 10, 32); err == nil {
		return int32(n), n >= 0
	}
	h := words.Parse(text)
	if h.Number > 0 && h.Unknown == 0 && !h.Has.Any(words.Load, words.Velocity) && !strings.ContainsAny(text, "xX×@") {
		return int32(h.Number), true
	}
	return 0, false
}

func parseRPE(d *decoder, _ *cellPlan, cell *table.Cell) string {
	low, high := cell.Num, 0.0
	if cell.Kind == table.Text {
		if v, err := number.Parse(cell.Text, number.Point); err == nil && v.Unit == "" && !v.Percent {
			low = v.V
		} else if low, high, err = shorthand.ParseRPE(cell.Text); err != nil {
			return fmt.Sprintf("%q is not an RPE from 1 to 10", cell.Text)
		}
	}
	return d.putRPE(low, high, cell.Text)
}

func (d *decoder) putRPE(low, high float64, text string) string {
	if !(low >= 1 && low <= 10) || high != 0 && (high < low || high > 10) {
		return fmt.Sprintf("%q is not an RPE from 1 to 10", text)
	}
	d.v.RPE = rep.Some(low)
	if high != 0 && high != low {
		d.v.rpeHigh = rep.Some(high)
	}
	return ""
}

// parseRIR turns reps in reserve into RPE: RPE = 10 − RIR (Zourdos et al. 2016,
// J Strength Cond Res 30:267–275). A given RPE wins.
func parseRIR(d *decoder, _ *cellPlan, cell *table.Cell) string {
	n := cell.Num
	if cell.Kind == table.Text {
		v, err := number.Parse(strings.TrimSuffix(cell.Text, "+"), number.Point)
		if err != nil {
			rpe, high, err := shorthand.ParseRPE(cell.Text)
			if err != nil || d.v.have.has(RPE) {
				return fmt.Sprintf("%q is not a number of reps in reserve", cell.Text)
			}
			return d.putRPE(rpe, high, cell.Text)
		}
		n = v.V
	}
	if n < 0 || n > 9 {
		return fmt.Sprintf("%q is not a number of reps in reserve", cell.Text)
	}
	if d.v.have.has(RPE) {
		return ""
	}
	return d.putRPE(10-n, 0, cell.Text)
}

func markOf(cell *table.Cell) words.Mark {
	if cell.Kind == table.Bool || cell.Kind == table.Number {
		if cell.Num != 0 || strings.EqualFold(cell.Text, "true") {
			return words.Yes
		}
		return words.No
	}
	return words.MarkOf(cell.Text)
}

func parseMissed(d *decoder, _ *cellPlan, cell *table.Cell) string {
	switch markOf(cell) {
	case words.Yes, words.Miss:
		d.v.Missed, d.v.missed = true, 1
	case words.No, words.Made:
	default:
		n, ok := wholeNumber(cell) // how many of the set
		if !ok {
			return fmt.Sprintf("%q does not say whether the rep was missed", cell.Text)
		}
		d.v.Missed, d.v.missed = n > 0, n
	}
	return ""
}

func parseSuccess(d *decoder, _ *cellPlan, cell *table.Cell) string {
	switch markOf(cell) {
	case words.Yes, words.Made:
		d.v.made = true
	case words.No, words.Miss:
		d.v.Missed, d.v.missed = true, 1
	default:
		return fmt.Sprintf("%q does not say whether the rep was made", cell.Text)
	}
	return ""
}

func parseSets(d *decoder, _ *cellPlan, cell *table.Cell) string {
	n, ok := wholeNumber(cell)
	if !ok {
		return fmt.Sprintf("%q is not a number of sets", cell.Text)
	}
	d.v.sets = rep.Some(n)
	return ""
}

func parseReps(d *decoder, _ *cellPlan, cell *table.Cell) string {
	if n, ok := wholeNumber(cell); ok && !strings.ContainsAny(cell.Text, "/,-+(") {
		d.v.reps = rep.Some(n)
		return ""
	}
	d.v.repsText = cell.Text
	return ""
}

// parseNote keeps a note; one that says nothing but that the rep was missed
// marks it.
func parseNote(d *decoder, _ *cellPlan, cell *table.Cell) string {
	d.v.note = cell.Text
	if words.MarkOf(cell.Text) == words.Miss && len(cell.Text) > 2 {
		d.v.Missed, d.v.missed = true, 1
	}
	return ""
}
