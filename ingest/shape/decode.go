package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/table"
)

// decoder turns rows into reps by a plan. One decoder sees the rows of one
// table in order.
type decoder struct {
	plan   *Plan
	region *table.Region
	out    *Sink

	above values // what blanks and the surroundings give
	v     values // the row in the making
	line  int32

	text  cache
	used  map[int]bool // lines of the season file: corrections that were applied
	setup setupCache
}

// values is a row in the making.
type values struct {
	rep.Rep
	have fieldSet // fields with a value
	bad  []trouble

	clock    rep.Null[int32]
	reps     rep.Null[int32]
	sets     rep.Null[int32]
	repsText string // a list of reps: "5/5/4"
	rpeHigh  rep.Null[float64]
	missed   int32
	made     bool // a cell says that the rep or set was made

	first, fastest, last, slowest rep.Null[float64]

	nth    []nthRep // of reps across
	speeds string
	unit   string // of a speeds cell
	work   string
	note   string
}

// nthRep is one rep of a row that holds several.
type nthRep struct {
	mean, meanStep, peak, peakStep, rom, romStep, con float64
	have                                              fieldSet
	missed                                            bool
}

// trouble is a cell that could not be read.
type trouble struct {
	field   Field
	nth     int
	heading string
	text    string
	problem string
}

func newDecoder(p *Plan, region *table.Region, out *Sink) *decoder {
	d := &decoder{plan: p, region: region, out: out}
	d.v.Source, d.v.Sheet, d.v.Device = p.source, p.sheet, p.device
	for i := range p.base {
		b := &p.base[i]
		c := cellPlan{field: b.field, heading: b.from, unit: b.unit, parse: parsers[b.field]}
		if problem := c.parse(d, &c, &table.Cell{Text: b.text, Kind: table.Text}); problem == "" {
			d.v.have = d.v.have.with(b.field)
		}
	}
	d.above = d.v
	d.above.bad = nil
	return d
}

// row decodes one row of the table's data and returns what became of it.
func (d *decoder) row(row *table.Row) outcome {
	bad, nth := d.v.bad[:0], d.v.nth[:0]
	d.v = d.above
	d.v.bad, d.v.nth = bad, nth
	d.line = row.Line
	d.v.Row = row.Line
	filled := false
	cells := row.Cells
	for i := range d.plan.cells {
		c := &d.plan.cells[i]
		if c.index >= len(cells) || blank(&cells[c.index]) {
			continue
		}
		cell := &cells[c.index]
		filled = true
		if problem := c.parse(d, c, cell); problem != "" {
			d.v.have = d.v.have.without(c.field)
			d.v.bad = append(d.v.bad, trouble{c.field, c.nth, c.heading, strings.Clone(cell.Text), problem})
		} else {
			d.v.have = d.v.have.with(c.field)
		}
		if c.fill {
			d.keep(c.field)
		}
	}
	if !filled {
		return notData
	}
	return d.plan.shape.finish(d)
}

// keep makes the row's value of a field that of the blanks below.
func (d *decoder) keep(f Field) {
	a, v := &d.above, &d.v
	switch f {
	case Lifter:
		a.Lifter = v.Lifter
	case Date:
		a.Date, a.PerformedAt, a.clock = v.Date, v.PerformedAt, v.clock
	case Lift:
		a.Lift, a.Variant = v.Lift, v.Variant
	case Load:
		a.LoadKg, a.LoadStep = v.LoadKg, v.LoadStep
	case SetNumber:
		a.SetMark = v.SetMark
	case Bar:
		a.Bar = v.Bar
	case Tether:
		a.Tether = v.Tether
	case Variant:
		a.Variant = v.Variant
	case Device:
		a.Device = v.Device
	case RPE, RIR:
		a.RPE = v.RPE
	default:
		return
	}
	if v.have.has(f) {
		a.have = a.have.with(f)
	} else {
		a.have = a.have.without(f)
	}
}

// identity are the fields without which nothing can be filed.
var identity = []Field{Lifter, Date, Lift}

// lose files the row as unreadable because a field is missing or unreadable.
func (d *decoder) lose(f Field) outcome {
	u := rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: d.plan.source, Sheet: d.plan.sheet, Row: d.line}}
	for _, t := range d.v.bad {
		if t.field == f {
			u.Column, u.Text = t.heading, t.text
			u.Problem = fmt.Sprintf("%s; the row is lost: correct it there or by a [[correction]] in the season file", t.problem)
			d.out.Unread = append(d.out.Unread, u)
			return unread
		}
	}
	u.Column = d.plan.headingOf(f)
	u.Problem = fmt.Sprintf("no %s; the row is lost: fill it in there or by a [[correction]] in the season file", fields[f].word)
	d.out.Unread = append(d.out.Unread, u)
	return unread
}

// loseCells files the unreadable cells of a row that stays.
func (d *decoder) loseCells() {
	for _, t := range d.v.bad {
		what := "left empty"
		if t.field == MeanVelocity || t.field == Speeds {
			what = "this rep is lost"
		}
		d.out.Unread = append(d.out.Unread, rep.Unread{
			Lost:    rep.LostCell,
			Place:   rep.Place{Source: d.plan.source, Sheet: d.plan.sheet, Row: d.line, Column: t.heading},
			Text:    t.text,
			Problem: t.problem + "; " + what,
		})
	}
}

func (p *Plan) headingOf(f Field) string {
	for i := range p.cells {
		if p.cells[i].field == f {
			return p.cells[i].heading
		}
	}
	return ""
}

// missing returns the first of the fields that the row does not have.
func (d *decoder) missing(fields ...Field) (Field, bool) {
	for _, f := range fields {
		if !d.v.have.has(f) {
			return f, true
		}
	}
	return Nothing, false
}

// rig fills in how the bar was rigged and which unit measured, where the row
// does not say.
func (d *decoder) rig() {
	v, p := &d.v, d.plan
	if v.Bar == "" {
		v.Bar = p.bar
	}
	if v.Tether == "" {
		v.Tether = p.tether
	}
	if v.Bar != "" && v.Tether != "" {
		return
	}
	bar, tether := d.setup.find(p.season, v)
	if v.Bar == "" {
		v.Bar = bar
	}
	if v.Tether == "" {
		v.Tether = tether
	}
}

// setupCache remembers the last look-up: rows of a set have the same.
type setupCache struct {
	lifter, lift, device string
	day                  rep.Day
	bar, tether          string
	ok                   bool
}

// rated says where the row's RPE was written.
func (d *decoder) rated() {
	d.v.RPEFrom = rep.RPEUnknown
	if d.v.RPE.OK {
		d.v.RPEFrom = rep.RPEExport
		if d.plan.handLog {
			d.v.RPEFrom = rep.RPEHandLog
		}
	}
}

// add appends the row's rep.
func (d *decoder) add() {
	d.out.Reps.Append(&d.v.Rep)
	d.out.Ledger.Reps++
}

// find returns how the bar was rigged for a row.
func (c *setupCache) find(s *season.Season, v *values) (bar, tether string) {
	if !c.ok || c.day != v.Date || c.lifter != v.Lifter || c.lift != v.Lift || c.device != v.Device {
		*c = setupCache{lifter: v.Lifter, lift: v.Lift, device: v.Device, day: v.Date, ok: true}
		c.bar, c.tether = s.Setup(v.Lifter, v.Lift, v.Device, v.Date)
	}
	return c.bar, c.tether
}
