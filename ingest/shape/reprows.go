package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
)

// repRows: one line is a rep.
var repRows = Shape{Name: "rep rows", fits: fitsRepRows, finish: finishRepRow}

func fitsRepRows(t *Table) (float64, string) {
	c := t.Column(column.MeanVelocity)
	if c == nil || c.Nth > 0 {
		return 0, ""
	}
	switch {
	case t.Column(column.RepNumber) != nil, t.Column(column.SetRep) != nil:
		return 1, "a speed and the number of a rep in each line"
	case t.Column(column.Reps) != nil, t.Column(column.Sets) != nil, t.Column(column.Work) != nil,
		t.Column(column.LastVelocity) != nil, t.Column(column.FirstVelocity) != nil, t.Column(column.FastestVelocity) != nil:
		return 0.4, "a speed in each line"
	}
	return 0.8, "a speed in each line, and nothing that counts reps"
}

// needed are the fields without which a rep cannot be filed.
var needed = column.SetOf(column.Lifter, column.Date, column.Lift, column.Load, column.MeanVelocity)

func finishRepRow(d *Decoder) Outcome {
	v := &d.v
	if len(d.plan.Corrections) > 0 {
		d.correct(rep.Null[int32]{})
	}
	if v.have&needed != needed {
		f, _ := d.missing(append(identity, column.Load, column.MeanVelocity)...)
		if f == column.MeanVelocity && d.plan.Fills() && !d.measuredAny() && len(v.bad) == 0 {
			return NotData // a line that only says what the lines below are
		}
		return d.lose(f)
	}
	if len(v.bad) > 0 {
		d.loseCells()
	}
	if !v.SetMark.OK {
		v.SetMark = d.plan.Block
	}
	d.rig()
	d.rated()
	d.out.Reps.AppendCoded(&v.Rep, d.coders, &v.codes, d.alike.file(v.Date))
	d.out.Ledger.Reps++
	return RepRow
}

// measuredAny reports whether the row measures anything.
func (d *Decoder) measuredAny() bool {
	for _, f := range []column.Field{column.MeanVelocity, column.PeakVelocity, column.ROM, column.Concentric, column.RepNumber} {
		if d.v.have.Has(f) {
			return true
		}
	}
	return false
}
