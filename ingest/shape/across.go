package shape

import "repsift/ingest/rep"

// repsAcross: one line is a set, with a column for each rep.
var repsAcross = shape{name: "reps across", fits: fitsAcross, finish: finishAcross}

func fitsAcross(p *Part) (float64, string) {
	n := 0
	for _, c := range p.Columns {
		if c.Field == MeanVelocity && c.Nth > 0 {
			n++
		}
	}
	if n < 2 {
		return 0, ""
	}
	return 1.1, "columns of speeds numbered by rep"
}

// nthPut keeps a measure of one of the row's reps.
func (d *decoder) nthPut(c *cellPlan, x, step float64) {
	for len(d.v.nth) < c.nth {
		d.v.nth = append(d.v.nth, nthRep{})
	}
	n := &d.v.nth[c.nth-1]
	n.have = n.have.with(c.field)
	switch c.field {
	case MeanVelocity:
		n.mean, n.meanStep = x, step
	case PeakVelocity:
		n.peak, n.peakStep = x, step
	case ROM:
		n.rom, n.romStep = x, step
	case Concentric:
		n.con = x
	}
}

func finishAcross(d *decoder) outcome {
	if d.plan.corrections[d.line] != nil {
		d.correctSet()
	}
	if f, missing := d.missing(append(identity, Load)...); missing {
		return d.lose(f)
	}
	return d.setOfReps()
}

// setOfReps files the reps of a row that is a set: those with a speed as reps,
// unreadable ones as lost cells, a row without any as a note or as lost.
func (d *decoder) setOfReps() outcome {
	v := &d.v
	found := 0
	for i := range v.nth {
		if v.nth[i].have.has(MeanVelocity) {
			found = i + 1
		}
	}
	if found == 0 {
		for _, t := range v.bad {
			if t.field == MeanVelocity || t.field == Speeds {
				return d.lose(t.field)
			}
		}
		if v.RPE.OK || v.reps.OK || v.work != "" || v.last.OK || v.first.OK || v.fastest.OK {
			return d.note()
		}
		return d.lose(MeanVelocity)
	}
	if len(v.bad) > 0 {
		d.loseCells()
	}
	v.SetMark = rep.Some(d.line)
	d.rig()
	d.rated()
	missed := v.Missed
	for i := range v.nth {
		n := &v.nth[i]
		if !n.have.has(MeanVelocity) {
			continue
		}
		v.RepRecorded = rep.Some(int32(i + 1))
		v.MeanVelocity, v.MeanStep = n.mean, n.meanStep
		v.PeakVelocity, v.PeakStep = some(n.have.has(PeakVelocity), n.peak), n.peakStep
		v.ROM, v.ROMStep = some(n.have.has(ROM), n.rom), n.romStep
		v.Concentric = some(n.have.has(Concentric), n.con)
		// A set marked as missed was missed on its last rep.
		v.Missed = n.missed || missed && i+1 == found
		if len(d.plan.corrections) > 0 {
			d.correct(v.RepRecorded)
		}
		d.add()
	}
	return repRow
}

func some(ok bool, v float64) rep.Null[float64] {
	if !ok {
		return rep.Null[float64]{}
	}
	return rep.Some(v)
}
