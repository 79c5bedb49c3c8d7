package shape

import (
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// correct applies the declared corrections of the row to its rep; n is the
// rep's position where the row holds several. The value as read is kept beside
// and the rep flagged.
func (d *Decoder) correct(n rep.Null[int32]) {
	for _, c := range d.plan.Corrections[d.line] {
		switch {
		case n.OK && (c.Rep.OK && c.Rep != n || !ofRep.Has(fieldOf(c))):
		case !n.OK && c.Rep.OK && c.Rep != d.v.RepRecorded:
		default:
			d.put(c)
		}
	}
}

// correctSet applies the corrections that hold for the whole of a row of
// several reps.
func (d *Decoder) correctSet() {
	for _, c := range d.plan.Corrections[d.line] {
		if !ofRep.Has(fieldOf(c)) {
			d.put(c)
		}
	}
}

// ofRep are the fields that differ between the reps of a row.
var ofRep = column.SetOf(column.MeanVelocity, column.PeakVelocity, column.ROM, column.Concentric)

func fieldOf(c season.Correction) column.Field {
	f, _ := column.FieldOf(c.Field)
	return f
}

func (d *Decoder) put(c season.Correction) {
	f := fieldOf(c)
	if parsers[f] == nil {
		return
	}
	v := &d.v
	had := v.have.Has(f)
	before := rep.Recorded{}
	if had {
		switch f {
		case column.Load:
			before.LoadKg = rep.Some(v.LoadKg)
		case column.MeanVelocity:
			before.MeanVelocity = rep.Some(v.MeanVelocity)
		case column.ROM:
			before.ROM = v.ROM
		case column.Concentric:
			before.Concentric = v.Concentric
		}
	}
	if f == column.Variant || f == column.Lift {
		v.Variant = ""
	}
	v.loadUnit, v.noUnit = unit.Unit{}, false // corrections are in kg
	d.whole = true
	d.alike.forget()
	cell := Cell{Field: f, Unit: unit.SIOf(f.Quantity()), Heading: c.Field}
	if problem := parsers[f](d, &cell, &table.Cell{Text: c.Value, Kind: table.Text}); problem != "" {
		v.bad = append(v.bad, trouble{field: f, heading: c.Field, text: strings.Clone(c.Value),
			problem: fmt.Sprintf("%s:%d: correction: %s", d.plan.Season.File, c.Line, problem)})
		return
	}
	v.have = v.have.With(f)
	for i := 0; i < len(v.bad); i++ {
		if v.bad[i].field == f {
			v.bad = append(v.bad[:i], v.bad[i+1:]...)
			i--
		}
	}
	r := &v.Recorded
	for _, p := range []struct{ to, from *rep.Null[float64] }{{&r.LoadKg, &before.LoadKg},
		{&r.MeanVelocity, &before.MeanVelocity}, {&r.ROM, &before.ROM}, {&r.Concentric, &before.Concentric}} {
		if p.from.OK && !p.to.OK {
			*p.to = *p.from
		}
	}
	v.Flags = v.Flags.With(rep.Correction)
	if !slices.Contains(d.corrected, c.Line) {
		d.corrected = append(d.corrected, c.Line)
	}
}
