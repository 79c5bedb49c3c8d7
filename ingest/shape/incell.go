package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// repsInCell: one line is a set, its speeds in one cell: "0.41 / 0.38 / 0.35".
var repsInCell = shape{name: "reps in a cell", fits: fitsInCell, finish: finishInCell}

func fitsInCell(p *Part) (float64, string) {
	c := p.column(Speeds)
	if c == nil {
		return 0, ""
	}
	return 1.05, "the speeds of a set in one cell"
}

func finishInCell(d *decoder) outcome {
	if d.plan.corrections[d.line] != nil {
		d.correctSet()
	}
	if f, missing := d.missing(append(identity, Load)...); missing {
		if f == Load && d.v.work != "" {
			if problem := d.loadFromWork(); problem != "" {
				d.v.bad = append(d.v.bad, trouble{Load, 0, d.plan.headingOf(Work), strings.Clone(d.v.work), problem})
				return d.lose(Load)
			}
		} else {
			return d.lose(f)
		}
	}
	d.cutCell()
	return d.setOfReps()
}

// cutCell reads the speeds of the row's cell into its reps.
func (d *decoder) cutCell() {
	v := &d.v
	if v.speeds == "" {
		return
	}
	heading := d.plan.headingOf(Speeds)
	c := cellPlan{field: MeanVelocity, unit: d.plan.unitOf(Speeds), step: d.plan.stepOf(Speeds)}
	parts := cutSpeeds(v.speeds)
	if last, err := number.Parse(parts[len(parts)-1], d.plan.mark); err == nil && last.Unit != "" {
		if u, ok := unit.ParseFor(unit.Velocity, last.Unit); ok {
			c.unit = u // "0.41 / 0.38 m/s"
		}
	}
	for i, text := range parts {
		c.nth = i + 1
		for len(v.nth) < c.nth {
			v.nth = append(v.nth, nthRep{})
		}
		if number.IsNull(text) {
			continue
		}
		bare, missed := cutMiss(text)
		value, err := number.Parse(bare, d.plan.mark)
		if err != nil {
			problem := err.Error()
			if words.MarkOf(text) == words.Miss {
				problem = fmt.Sprintf("%q says that rep %d was missed, but there is no speed", text, c.nth)
			}
			v.bad = append(v.bad, trouble{Speeds, c.nth, heading, strings.Clone(text), problem})
			continue
		}
		u := c.unit
		if value.Unit != "" {
			own, ok := unit.ParseFor(unit.Velocity, value.Unit)
			if !ok {
				v.bad = append(v.bad, trouble{Speeds, c.nth, heading, strings.Clone(text), fmt.Sprintf("%q is not a velocity", text)})
				continue
			}
			u = own
		}
		step := value.Step
		if c.step > 0 && c.step < step {
			step = c.step
		}
		x, step := u.Convert(value.V, step)
		d.nthPut(&c, x, step)
		v.nth[i].missed = missed
	}
}

// cutMiss takes a mark of a missed rep off the end of a speed: "0.12x",
// "0.12 (miss)".
func cutMiss(text string) (bare string, missed bool) {
	i := strings.LastIndexFunc(text, func(r rune) bool { return isDigit(r) || r == '/' })
	if i < 0 || text[i] == '/' {
		return text, false
	}
	behind := strings.Trim(text[i+1:], " ()[]*")
	if behind != "" && words.MarkOf(behind) == words.Miss {
		return strings.TrimSpace(text[:i+1]), true
	}
	return text, false
}

func (p *Plan) unitOf(f Field) unit.Unit {
	for i := range p.cells {
		if p.cells[i].field == f {
			return p.cells[i].unit
		}
	}
	return unit.SIOf(fields[f].quantity)
}

func (p *Plan) stepOf(f Field) float64 {
	for i := range p.cells {
		if p.cells[i].field == f {
			return p.cells[i].step
		}
	}
	return 0
}

// loadFromWork takes load and reps from the shorthand beside the speeds.
func (d *decoder) loadFromWork() string {
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
	d.v.have = d.v.have.with(Load)
	if e := entries[0]; e.RPE > 0 && !d.v.RPE.OK {
		d.v.RPE = rep.Some(e.RPE)
	}
	return ""
}
