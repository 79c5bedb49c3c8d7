package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
	"repsift/ingest/table/cell"
)

// Decoder turns rows into reps by a plan. One decoder sees the rows of one
// table in order.
type Decoder struct {
	plan *Plan
	out  *Sink

	columns []known    // of the plan
	above   values     // what blanks and the surroundings give
	v       values     // the row in the making
	row     *table.Row // being read
	line    int32
	label   int // next of the plan's

	alike     alike
	whole     bool // rows are begun with what they have further, too
	text      cache
	zone      date.Zone
	coders    *rep.Coders
	told      recalled // the last number, where its text alone tells what it is
	setup     setupCache
	corrected []int // lines of the season file: corrections that were applied

	trace *sampling // that is being read
	said  []string
}

// NewDecoder returns a decoder that files what it reads into a sink.
func NewDecoder(p *Plan, out *Sink) *Decoder {
	d := &Decoder{plan: p, out: out, coders: new(rep.Coders), zone: date.ZoneOf(p.Zone)}
	d.know()
	d.text.dates.Order = p.Order
	d.v.Source, d.v.Sheet, d.v.Device = p.Source, p.Sheet, p.Device
	d.carry(p.Base)
	return d
}

// carry makes what the surroundings of rows say that of the rows below.
func (d *Decoder) carry(fields []Carried) {
	for i := range fields {
		b := &fields[i]
		c := Cell{Field: b.Field, Heading: b.From, Unit: b.Unit, Numbers: SerialDays}
		if problem := parsers[b.Field](d, &c, &table.Cell{Text: b.Text, Kind: table.Text}); problem == "" {
			d.v.have = d.v.have.With(b.Field)
		}
	}
	d.above = d.v
	d.above.bad, d.above.nth = nil, nil
	d.alike.forget()
}

// Row decodes one row of the table's data and returns what became of it.
func (d *Decoder) Row(row *table.Row) Outcome {
	for d.label < len(d.plan.Labels) && d.plan.Labels[d.label].Row < row.Line {
		d.v = d.above
		d.carry(d.plan.Labels[d.label].Fields)
		d.label++
	}
	d.row, d.line = row, row.Line
	cells := row.Cells
	same := d.alike.on && d.alike.row(cells)
	d.begin(same)
	filled := same && d.alike.filled
	for i := range d.columns {
		c := &d.columns[i]
		if c.Index >= len(cells) || same && c.names {
			continue
		}
		cell := &cells[c.Index]
		if cell.Kind == table.Text && d.again(c, cell.Text) {
			d.v.have |= c.has
		} else if !d.text.has(c.Field, cell) && column.Blank(cell) {
			continue
		} else {
			d.read(c, cell)
		}
		filled = true
		if c.names {
			d.alike.filled = true
		}
		if c.Fill {
			d.keep(c.Field)
		}
	}
	if d.alike.on && !same {
		d.alike.learn(&d.v)
	}
	switch {
	case d.plan.Lost != "":
		d.out.Unread = append(d.out.Unread, rep.Unread{Lost: rep.LostRow,
			Place: rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: d.line}, Problem: d.plan.Lost})
		return Unread
	case !filled:
		return NotData
	case d.plan.Width > 0 && len(row.Cells) > d.plan.Width && d.overlong(row.Cells[d.plan.Width:]):
		return Unread
	}
	return d.plan.Shape.finish(d)
}

// begin makes the row one of which nothing was read yet; where it is the same
// in names as the row before, it has them.
func (d *Decoder) begin(same bool) {
	v, above := &d.v, &d.above
	if same {
		d.alike.give(v)
		v.measure(&above.Rep)
		v.have = above.have | d.alike.have
	} else {
		v.Rep, v.have = above.Rep, above.have
	}
	v.codes, v.bad = rep.Codes{}, v.bad[:0]
	if d.whole {
		nth := v.nth[:0]
		v.further = above.further
		v.nth = nth
	}
	v.Row = d.line
}

// read reads a cell that is not blank.
func (d *Decoder) read(c *known, cell *table.Cell) {
	d.told.text = 0
	if problem := c.parse(d, &c.Cell, cell); problem != "" {
		d.v.have = d.v.have.Without(c.Field)
		d.v.bad = append(d.v.bad, trouble{c.Field, c.Nth, c.Heading, strings.Clone(cell.Text), problem})
	} else {
		d.v.have = d.v.have.With(c.Field)
	}
	if d.line > recallFrom {
		if c.code > 0 && d.told.text != 0 {
			d.told.code = d.coders[c.code-1].Code(d.told.x)
		}
		c.put(d.told)
	}
}

// total reports whether the row is one of totals, between or below sets: it
// begins with a word for them, and says nothing of whose set it was or which.
func (d *Decoder) total() bool {
	first := -1
	for i := range d.row.Cells {
		if c := &d.row.Cells[i]; !c.Blank() {
			surely, maybe := cell.Total(c.Text)
			if !surely && (!maybe || d.plan.Fills() && !d.figures(i)) {
				return false
			}
			first = i
			break
		}
	}
	tells := 0
	for i := range d.plan.Cells {
		c := &d.plan.Cells[i]
		switch c.Field {
		case column.Lifter, column.Date, column.Lift, column.Load, column.RepNumber, column.SetRep:
			tells++
			if c.Index == first || c.Index >= len(d.row.Cells) || column.Blank(&d.row.Cells[c.Index]) {
				continue
			}
			if x := &d.row.Cells[c.Index]; (c.Field == column.Lift || c.Field == column.Lifter) && isFigure(x) {
				continue // the average, in a column of names
			}
			return false
		}
	}
	return first >= 0 && tells > 1
}

func isFigure(c *table.Cell) bool {
	_, err := number.Parse(c.Text, number.AnyMark)
	return c.Kind == table.Number || err == nil
}

// figures reports whether the column of a cell is one of dates or numbers, in
// which a word is no value, or one that is not read.
func (d *Decoder) figures(index int) bool {
	for i := range d.plan.Cells {
		if c := &d.plan.Cells[i]; c.Index == index {
			return c.Field == column.Date || c.Field == column.Clock || c.Field == column.Load || c.Field == column.SetNumber || c.Field == column.RepNumber || c.Field == column.SetRep
		}
	}
	return true
}

// overlong files a row with more cells than the table has columns as lost.
func (d *Decoder) overlong(beyond []table.Cell) bool {
	for i := range beyond {
		if beyond[i].Blank() {
			continue
		}
		d.out.Unread = append(d.out.Unread, rep.Unread{Lost: rep.LostRow,
			Place: rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: d.line}, Text: strings.Clone(beyond[i].Text),
			Problem: fmt.Sprintf("the row has more cells than the table's %d columns; put the cell that holds a delimiter in quotes", d.plan.Width)})
		return true
	}
	return false
}

// End closes the table behind its last row.
func (d *Decoder) End() {
	if d.plan.Shape != nil && d.plan.Shape.end != nil {
		d.plan.Shape.end(d)
	}
}

// Corrected returns the lines of the season file whose corrections were
// applied.
func (d *Decoder) Corrected() []int { return d.corrected }

// identity are the fields without which nothing can be filed.
var identity = []column.Field{column.Lifter, column.Date, column.Lift}

// lose files the row as unreadable because a field is missing or unreadable;
// a row of totals is no data.
func (d *Decoder) lose(f column.Field) Outcome {
	if d.total() {
		return NotData
	}
	u := rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: d.line}}
	for _, t := range d.v.bad {
		if t.field == f {
			u.Column, u.Text = t.heading, t.text
			u.Problem = fmt.Sprintf("%s; the row is lost: correct it there%s", t.problem, byCorrection(f))
			d.out.Unread = append(d.out.Unread, u)
			return Unread
		}
	}
	u.Column = d.plan.headingOf(f)
	u.Problem = fmt.Sprintf("no %s; the row is lost: fill it in there%s", f.Word(), byCorrection(f))
	d.out.Unread = append(d.out.Unread, u)
	return Unread
}

// byCorrection says how the season file gives a field of a row, where it can.
func byCorrection(f column.Field) string {
	if !season.Correctable(f.String()) {
		return ""
	}
	return fmt.Sprintf(`, or by a [[correction]] with field = "%s" in the season file`, f)
}

// loseCells files the unreadable cells of a row that stays.
func (d *Decoder) loseCells() {
	for _, t := range d.v.bad {
		what := "left empty"
		if t.field == column.MeanVelocity || t.field == column.Speeds {
			what = "this rep is lost"
		}
		d.out.Unread = append(d.out.Unread, rep.Unread{
			Lost:    rep.LostCell,
			Place:   rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: d.line, Column: t.heading},
			Text:    t.text,
			Problem: t.problem + "; " + what,
		})
	}
}

func (p *Plan) headingOf(f column.Field) string {
	for i := range p.Cells {
		if p.Cells[i].Field == f {
			return p.Cells[i].Heading
		}
	}
	return ""
}

// missing returns the first of the fields that the row does not have.
func (d *Decoder) missing(fields ...column.Field) (column.Field, bool) {
	for _, f := range fields {
		if !d.v.have.Has(f) {
			return f, true
		}
	}
	return column.Nothing, false
}

// rig fills in how the bar was rigged and which unit measured, where the row
// does not say.
func (d *Decoder) rig() {
	v, p := &d.v, d.plan
	if v.Bar == "" {
		v.Bar = p.Bar
	}
	if v.Tether == "" {
		v.Tether = p.Tether
	}
	if v.Bar != "" && v.Tether != "" || len(p.Season.Setups) == 0 {
		return
	}
	bar, tether := d.setup.find(p.Season, v)
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
func (d *Decoder) rated() {
	d.v.RPEFrom = rep.RPEUnknown
	if d.v.RPE.OK {
		d.v.RPEFrom = rep.RPEExport
		if d.plan.HandLog {
			d.v.RPEFrom = rep.RPEHandLog
		}
	}
}

// add appends the row's rep.
func (d *Decoder) add() {
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
