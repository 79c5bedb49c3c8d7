package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
)

// repsAcross: one line is a set, with a column for each rep.
var repsAcross = Shape{Name: "reps across", fits: fitsAcross, finish: finishAcross}

func fitsAcross(t *Table) (float64, string) {
	n := 0
	for _, c := range t.Columns {
		if c.Field == column.MeanVelocity && c.Nth > 0 {
			n++
		}
	}
	if n < 2 {
		return 0, ""
	}
	return 1.1, "columns of speeds numbered by rep"
}

// nthPut keeps a measure of one of the row's reps.
func (d *Decoder) nthPut(c *Cell, x, step float64) {
	for len(d.v.nth) < c.Nth {
		d.v.nth = append(d.v.nth, nthRep{})
	}
	n := &d.v.nth[c.Nth-1]
	n.have, n.set = n.have.With(c.Field), c.Set
	switch c.Field {
	case column.MeanVelocity:
		n.mean, n.meanStep = x, step
	case column.PeakVelocity:
		n.peak, n.peakStep = x, step
	case column.ROM:
		n.rom, n.romStep = x, step
	case column.Concentric:
		n.con = x
	case column.MeanPropulsive:
		n.propulsive = x
	}
}

func finishAcross(d *Decoder) Outcome {
	if d.plan.Corrections[d.line] != nil {
		d.correctSet()
	}
	if f, missing := d.missing(append(identity, column.Load)...); missing {
		return d.lose(f)
	}
	return d.setOfReps()
}

// setOfReps files the reps of a row that is a set: those with a speed as reps,
// unreadable ones as lost cells, a row without any as a note or as lost.
func (d *Decoder) setOfReps() Outcome {
	v := &d.v
	found := 0
	for i := range v.nth {
		if v.nth[i].have.Has(column.MeanVelocity) {
			found = i + 1
		}
	}
	if found == 0 {
		for _, t := range v.bad {
			if t.field == column.MeanVelocity || t.field == column.Speeds {
				return d.lose(t.field)
			}
		}
		if v.RPE.OK || v.reps.OK || v.work != "" || v.last.OK || v.first.OK || v.fastest.OK {
			return d.note()
		}
		return d.lose(column.MeanVelocity)
	}
	if len(v.bad) > 0 {
		d.loseCells()
	}
	v.SetMark = rep.Some(d.line)
	d.rig()
	d.rated()
	set := v.Rep
	for i := range v.nth {
		n := &v.nth[i]
		if !n.have.Has(column.MeanVelocity) {
			continue
		}
		v.Rep = set
		v.RepRecorded = rep.Some(int32(i + 1))
		if n.set > 1 {
			v.SetMark = rep.Some(d.line + int32(n.set-1)<<26) // apart from those of all other lines
		}
		v.MeanVelocity, v.MeanStep = n.mean, n.meanStep
		v.PeakVelocity, v.PeakStep = some(n.have.Has(column.PeakVelocity), n.peak), n.peakStep
		v.ROM, v.ROMStep = some(n.have.Has(column.ROM), n.rom), n.romStep
		v.Concentric = some(n.have.Has(column.Concentric), n.con)
		v.Further.MeanPropulsive = some(n.have.Has(column.MeanPropulsive), n.propulsive)
		// A set marked as missed was missed on its last rep.
		v.Missed = n.missed || set.Missed && i+1 == found
		if len(d.plan.Corrections) > 0 {
			d.correct(v.RepRecorded)
		}
		d.add()
	}
	return RepRow
}

func some(ok bool, v float64) rep.Null[float64] {
	if !ok {
		return rep.Null[float64]{}
	}
	return rep.Some(v)
}
