package shape

import (
	"fmt"
	"math"

	"repsift/ingest/number"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

func parseLoadUnit(d *Decoder, _ *Cell, cell *table.Cell) string {
	u, ok := unit.ParseFor(unit.Load, cell.Text)
	if !ok {
		d.v.noUnit = true
		return fmt.Sprintf("%q is no unit of load", cell.Text)
	}
	d.v.loadUnit = u
	return ""
}

// parseMeasure reads a number with a unit.
func parseMeasure(d *Decoder, c *Cell, cell *table.Cell) string {
	x, step, problem := d.measured(c, cell)
	if problem == "" {
		d.putMeasure(c, x, step)
	}
	return problem
}

func (d *Decoder) putMeasure(c *Cell, x, step float64) {
	if c.Nth > 0 {
		d.nthPut(c, x, step)
		return
	}
	to := measures[c.Field](&d.v)
	to.put(x, step)
	if k := coded[c.Field]; k > 0 {
		d.v.codes[k-1] = 0
	}
}

// measured returns a cell's number in SI units.
func (d *Decoder) measured(c *Cell, cell *table.Cell) (x, step float64, problem string) {
	u := c.Unit
	if d.unitBeside(c) {
		u = d.v.loadUnit
	}
	alone := false
	switch cell.Kind {
	case table.Number:
		x, step = cell.Num, c.Step
	case table.Text:
		v, err := number.Parse(cell.Text, d.plan.Mark)
		alone = err == nil
		if err != nil && c.Field == column.MeanVelocity {
			v, err = d.missedSpeed(c, cell.Text, err)
		}
		if err != nil {
			return 0, 0, d.noNumber(c, cell.Text, err)
		}
		if v.Percent {
			return 0, 0, fmt.Sprintf("%q is a percentage, where a %s should stand", cell.Text, c.Field.Word())
		}
		x, step = v.V, v.Step
		if c.Step > 0 && c.Step < step {
			step = c.Step
		}
		if v.Unit != "" {
			if !d.text.unitText.is(v.Unit) || c.Field != d.text.unitField {
				own, ok := unit.ParseFor(c.Field.Quantity(), v.Unit)
				if !ok {
					return 0, 0, fmt.Sprintf("%q is not a %s", cell.Text, c.Field.Word())
				}
				d.text.unitText.put(v.Unit)
				d.text.unitField, d.text.unit = c.Field, own
			}
			u = d.text.unit
		}
	default:
		return 0, 0, fmt.Sprintf("%q is not a %s", cell.Text, c.Field.Word())
	}
	if c.Field == column.Load && (u.Name == "" || d.v.noUnit) {
		return 0, 0, fmt.Sprintf("%q has no unit: the column for it does not say kg or lb", cell.Text)
	}
	x, step = u.Convert(x, step)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, 0, fmt.Sprintf("%q is not a number", cell.Text)
	}
	if alone && !d.unitBeside(c) {
		d.told = recalled{text: pack(cell.Text), x: x, step: step}
	}
	return x, step, ""
}

// unitBeside reports whether the unit of a load stands in a column of its own.
func (d *Decoder) unitBeside(c *Cell) bool {
	return c.Field == column.Load && (d.v.loadUnit.Name != "" || d.v.noUnit)
}

// missedSpeed reads a speed with a mark that the rep was missed: "0.12 x".
func (d *Decoder) missedSpeed(c *Cell, text string, problem error) (number.Value, error) {
	bare, missed := column.CutMiss(text)
	if !missed {
		return number.Value{}, problem
	}
	v, err := number.Parse(bare, d.plan.Mark)
	if err != nil {
		return v, problem
	}
	if c.Nth > 0 {
		for len(d.v.nth) < c.Nth {
			d.v.nth = append(d.v.nth, nthRep{})
		}
		d.v.nth[c.Nth-1].missed = true
	} else {
		d.v.Missed = true
	}
	return v, nil
}

// noNumber words the problem of a cell that holds no number; a mark of a
// missed rep says so.
func (d *Decoder) noNumber(c *Cell, text string, err error) string {
	if words.MarkOf(text) == words.Miss {
		if c.Nth == 0 {
			d.v.Missed = true
		}
		return fmt.Sprintf("%q says that the rep was missed, but there is no speed", text)
	}
	return err.Error()
}
