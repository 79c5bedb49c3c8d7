package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// repsInCell: one line is a set, its speeds in one cell: "0.41 / 0.38 / 0.35".
var repsInCell = Shape{Name: "reps in a cell", fits: fitsInCell, finish: finishInCell}

func fitsInCell(t *Table) (float64, string) {
	c := t.Column(column.Speeds)
	if c == nil {
		return 0, ""
	}
	return 1.05, "the speeds of a set in one cell"
}

func finishInCell(d *Decoder) Outcome {
	if d.plan.Corrections[d.line] != nil {
		d.correctSet()
	}
	if f, missing := d.missing(append(identity, column.Load)...); missing {
		if f == column.Load && d.v.work != "" {
			if problem := d.loadFromWork(); problem != "" {
				d.v.bad = append(d.v.bad, trouble{column.Load, 0, d.plan.headingOf(column.Work), strings.Clone(d.v.work), problem})
				return d.lose(column.Load)
			}
		} else {
			return d.lose(f)
		}
	}
	d.cutCell()
	return d.setOfReps()
}

// cutCell reads the speeds of the row's cell into its reps.
func (d *Decoder) cutCell() {
	v := &d.v
	if v.speeds == "" {
		return
	}
	heading := d.plan.headingOf(column.Speeds)
	c := Cell{Field: column.MeanVelocity, Unit: d.plan.unitOf(column.Speeds), Step: d.plan.stepOf(column.Speeds)}
	parts := column.CutSpeeds(v.speeds)
	if last, err := number.Parse(parts[len(parts)-1], d.plan.Mark); err == nil && last.Unit != "" {
		if u, ok := unit.ParseFor(unit.Velocity, last.Unit); ok {
			c.Unit = u // "0.41 / 0.38 m/s"
		}
	}
	for i, text := range parts {
		c.Nth = i + 1
		for len(v.nth) < c.Nth {
			v.nth = append(v.nth, nthRep{})
		}
		if number.IsNull(text) {
			continue
		}
		bare, missed := column.CutMiss(text)
		value, err := number.Parse(bare, d.plan.Mark)
		if err != nil {
			problem := err.Error()
			if words.MarkOf(text) == words.Miss {
				problem = fmt.Sprintf("%q says that rep %d was missed, but there is no speed", text, c.Nth)
			}
			v.bad = append(v.bad, trouble{column.Speeds, c.Nth, heading, strings.Clone(text), problem})
			continue
		}
		u := c.Unit
		if value.Unit != "" {
			own, ok := unit.ParseFor(unit.Velocity, value.Unit)
			if !ok {
				v.bad = append(v.bad, trouble{column.Speeds, c.Nth, heading, strings.Clone(text), fmt.Sprintf("%q is not a velocity", text)})
				continue
			}
			u = own
		}
		step := value.Step
		if c.Step > 0 && c.Step < step {
			step = c.Step
		}
		x, step := u.Convert(value.V, step)
		d.nthPut(&c, x, step)
		v.nth[i].missed = missed
	}
}

func (p *Plan) unitOf(f column.Field) unit.Unit {
	for i := range p.Cells {
		if p.Cells[i].Field == f {
			return p.Cells[i].Unit
		}
	}
	return unit.SIOf(f.Quantity())
}

func (p *Plan) stepOf(f column.Field) float64 {
	for i := range p.Cells {
		if p.Cells[i].Field == f {
			return p.Cells[i].Step
		}
	}
	return 0
}

// loadFromWork takes load and reps from the shorthand beside the speeds.
func (d *Decoder) loadFromWork() string {
	entries, problem := d.entries(d.v.work, false)
	if problem != "" {
		return problem
	}
	if len(entries) != 1 {
		return fmt.Sprintf("%q is several sets, beside the speeds of one", d.v.work)
	}
	load, step, ok := d.loadOf(entries[0].Load)
	if !ok {
		return fmt.Sprintf("%q names no load", d.v.work)
	}
	d.v.LoadKg, d.v.LoadStep = load, step
	d.v.have = d.v.have.With(column.Load)
	if e := entries[0]; e.RPE > 0 && !d.v.RPE.OK {
		d.v.RPE = rep.Some(e.RPE)
	}
	return ""
}
