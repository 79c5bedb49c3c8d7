package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// correct applies the declared corrections of the row to its rep; n is the
// rep's position where the row holds several. The value as read is kept beside
// and the rep flagged.
func (d *decoder) correct(n rep.Null[int32]) {
	for _, c := range d.plan.corrections[d.line] {
		if c.Rep.OK && c.Rep != n && (n.OK || c.Rep != d.v.RepRecorded) {
			continue
		}
		d.put(c)
	}
}

// correctSet applies the corrections that hold for the whole row.
func (d *decoder) correctSet() {
	for _, c := range d.plan.corrections[d.line] {
		if f, _ := FieldOf(c.Field); !c.Rep.OK && f != MeanVelocity && f != PeakVelocity && f != ROM && f != Concentric {
			d.put(c)
		}
	}
}

func (d *decoder) put(c season.Correction) {
	f, ok := FieldOf(c.Field)
	if !ok || parsers[f] == nil {
		return
	}
	v := &d.v
	had := v.have.has(f)
	before := rep.Recorded{}
	if had {
		switch f {
		case Load:
			before.LoadKg = rep.Some(v.LoadKg)
		case MeanVelocity:
			before.MeanVelocity = rep.Some(v.MeanVelocity)
		case ROM:
			before.ROM = v.ROM
		case Concentric:
			before.Concentric = v.Concentric
		}
	}
	if f == Variant || f == Lift {
		v.Variant = ""
	}
	cell := cellPlan{field: f, unit: unit.SIOf(fields[f].quantity), parse: parsers[f], heading: c.Field}
	if problem := cell.parse(d, &cell, &table.Cell{Text: c.Value, Kind: table.Text}); problem != "" {
		v.bad = append(v.bad, trouble{field: f, heading: c.Field, text: strings.Clone(c.Value),
			problem: fmt.Sprintf("%s:%d: correction: %s", d.plan.season.File, c.Line, problem)})
		return
	}
	v.have = v.have.with(f)
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
	if d.used == nil {
		d.used = make(map[int]bool)
	}
	d.used[c.Line] = true
}
