package shape

import (
	"repsift/ingest/rep"
)

// shape is one way in which a table holds reps: what one line of it is.
type shape struct {
	name string // as the season file's shape key has it

	// fits returns how well the columns of a table make this shape, 0 for not
	// at all, and why.
	fits func(p *Part) (score float64, why string)

	// finish files a row whose cells have been read; nil for a shape that is
	// recognised but cannot be read.
	finish func(d *decoder) outcome

	// end, where there is one, is called behind the last row of a table: for
	// shapes whose reps are not made of single rows.
	end func(d *decoder)
}

// shapes is the table of shapes. Blocks, and a sheet per lifter, lift or day,
// are no shapes of their own here: they are where fields come from ([Carried]),
// and hold rows of one of these.
var shapes = []*shape{&repRows, &repsAcross, &repsInCell, &setRows, &samples}

// shapeOf returns the shape of a declared name.
func shapeOf(name string) *shape {
	for _, s := range shapes {
		if s.name == name {
			return s
		}
	}
	return nil
}

// repRows: one line is a rep.
var repRows = shape{name: "rep rows", fits: fitsRepRows, finish: finishRepRow}

func fitsRepRows(p *Part) (float64, string) {
	c := p.column(MeanVelocity)
	if c == nil || c.Nth > 0 {
		return 0, ""
	}
	switch {
	case p.column(RepNumber) != nil:
		return 1, "a speed and the number of a rep in each line"
	case p.column(Reps) != nil, p.column(Sets) != nil, p.column(Work) != nil,
		p.column(LastVelocity) != nil, p.column(FirstVelocity) != nil, p.column(FastestVelocity) != nil:
		return 0.4, "a speed in each line"
	}
	return 0.8, "a speed in each line, and nothing that counts reps"
}

func finishRepRow(d *decoder) outcome {
	v := &d.v
	if len(d.plan.corrections) > 0 {
		d.correct(rep.Null[int32]{})
	}
	if f, missing := d.missing(Lifter, Date, Lift, Load, MeanVelocity); missing {
		if f == MeanVelocity && d.plan.Fills() && !d.measuredAny() && len(v.bad) == 0 {
			return notData // a line that only says what the lines below are
		}
		return d.lose(f)
	}
	if len(v.bad) > 0 {
		d.loseCells()
	}
	if !v.SetMark.OK {
		v.SetMark = d.plan.block
	}
	d.rig()
	d.rated()
	d.add()
	return repRow
}

// measuredAny reports whether the row measures anything.
func (d *decoder) measuredAny() bool {
	for _, f := range []Field{MeanVelocity, PeakVelocity, ROM, Concentric, RepNumber} {
		if d.v.have.has(f) {
			return true
		}
	}
	return false
}
