package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shorthand"
	"repsift/ingest/unit"
)

// setRows: one line is a set, or several in shorthand, with no speeds or only
// the first, last, best or mean.
var setRows = Shape{Name: "set rows", fits: fitsSetRows, finish: finishSetRow}

func fitsSetRows(t *Table) (float64, string) {
	has := func(f column.Field) bool { c := t.Column(f); return c != nil && c.Nth == 0 }
	if n := t.Column(column.RepNumber); n != nil && n.Stats.Share(n.Stats.Runs()) > 0.6 && !t.Has(column.Work) &&
		(has(column.PeakVelocity) || has(column.MeanPropulsive) || has(column.ROM) || has(column.Concentric)) {
		return 0, "" // a line is a rep, without its mean velocity
	}
	switch {
	case t.Has(column.Work):
		return 0.9, "sets in shorthand"
	case has(column.Reps) && (has(column.Load) || has(column.RPE) || has(column.RIR)):
		return 0.9, "a number of reps in each line"
	case has(column.Load) && (has(column.RPE) || has(column.RIR)):
		return 0.7, "a load and an RPE in each line"
	case has(column.LastVelocity), has(column.FirstVelocity), has(column.FastestVelocity):
		return 0.7, "speeds that sum up a set"
	}
	return 0, ""
}

func finishSetRow(d *Decoder) Outcome {
	if d.plan.Corrections[d.line] != nil {
		d.correctSet()
	}
	if f, missing := d.missing(identity...); missing {
		return d.lose(f)
	}
	v := &d.v
	if !v.have.Has(column.Load) && v.work == "" && !v.reps.OK && v.repsText == "" && !v.RPE.OK {
		for _, t := range v.bad {
			return d.lose(t.field)
		}
		return NotData // a line that only says what the lines below are
	}
	for _, t := range v.bad {
		if t.field == column.Load {
			return d.lose(column.Load)
		}
	}
	return d.note()
}

// note files the row as notes of sets, or as reps where its shorthand holds the
// speed of each.
func (d *Decoder) note() Outcome {
	v := &d.v
	text := v.work
	if text == "" {
		text = v.repsText
	}
	entries := []shorthand.Entry{{}}
	if text != "" {
		var problem string
		if entries, problem = d.entries(text, v.have.Has(column.Load)); problem != "" {
			f := column.Work
			if v.work == "" {
				f = column.Reps
			}
			v.bad = append(v.bad, trouble{f, 0, d.plan.headingOf(f), strings.Clone(text), problem})
			return d.lose(f)
		}
	} else if !v.have.Has(column.Load) {
		return d.lose(column.Load)
	}
	extra, _ := d.entries(v.note, true)
	for i := range entries {
		if text := v.work; text == "" {
			entries[i].Text = ""
		}
	}
	if len(d.v.bad) > 0 {
		d.loseCells()
	}
	d.rig()
	d.rated()
	if d.eachSpeed(entries) {
		return d.setOfReps()
	}
	before := shorthand.Load{}
	if v.have.Has(column.Load) {
		before = shorthand.Load{Kind: shorthand.Absolute, V: v.LoadKg, Step: v.LoadStep, Unit: "kg"}
	}
	part := int32(0)
	for i, e := range entries {
		n := d.baseNote()
		if e.Load, _ = e.Load.On(before); e.Load.Kind != shorthand.NoLoad {
			n.LoadKg, n.LoadStep = rep.Null[float64]{}, 0
			before = e.Load
		}
		if load, step, ok := d.loadOf(e.Load); ok {
			n.LoadKg, n.LoadStep = rep.Some(load), step
		}
		d.effort(&n, e, i == len(entries)-1)
		d.speeds(&n, e.Speeds)
		if i == len(entries)-1 {
			for _, x := range extra {
				d.speeds(&n, x.Speeds)
				if x.RPE > 0 && !n.RPE.OK {
					n.RPE = rep.Some(x.RPE)
				}
			}
		}
		for _, one := range spread(n, e) {
			part++
			one.Part = part
			d.out.Notes = append(d.out.Notes, one)
		}
	}
	if part == 1 {
		d.out.Notes[len(d.out.Notes)-1].Part = 0
	}
	return SetNote
}

// baseNote returns a note of what the row's own columns say.
func (d *Decoder) baseNote() rep.SetNote {
	v := &d.v
	n := rep.SetNote{
		Lifter: v.Lifter, Date: v.Date, PerformedAt: v.PerformedAt, Lift: v.Lift, Variant: v.Variant,
		Bar: v.Bar, Tether: v.Tether, SetRecorded: v.SetMark, Sets: max(1, v.sets.Or(1)), Reps: v.reps,
		First: v.first, Fastest: v.fastest, Last: v.last, Slowest: v.slowest, MissedReps: v.missed,
		Source: v.Source, Sheet: v.Sheet, Row: d.line,
	}
	if v.have.Has(column.Load) {
		n.LoadKg, n.LoadStep = rep.Some(v.LoadKg), v.LoadStep
	}
	if v.have.Has(column.MeanVelocity) && len(v.nth) == 0 {
		n.Mean = rep.Some(v.MeanVelocity)
	}
	var texts []string
	for _, t := range []string{v.work, v.repsText, v.note} {
		if t = tidy(t); t != "" {
			texts = append(texts, t)
		}
	}
	n.Text = strings.Join(texts, "; ")
	return n
}

// effort fills in sets, reps and RPE of an entry. One RPE for several sets
// belongs to the last: common practice, no source.
func (d *Decoder) effort(n *rep.SetNote, e shorthand.Entry, last bool) {
	if e.Sets > 0 {
		n.Sets = int32(e.Sets)
	}
	if e.Reps > 0 {
		n.Reps = rep.Some(int32(e.Reps))
	}
	if e.Missed > 0 {
		n.MissedReps = int32(e.Missed)
	}
	switch {
	case e.RPE > 0:
		n.RPE = rep.Some(e.RPE)
		if e.RPEHigh > e.RPE {
			n.RPEHigh = rep.Some(e.RPEHigh)
		}
	case last:
		n.RPE, n.RPEHigh = d.v.RPE, d.v.rpeHigh
	}
}

// spread returns one note a set where an entry lists reps or RPE set by set.
func spread(n rep.SetNote, e shorthand.Entry) []rep.SetNote {
	sets := max(len(e.RepsList), len(e.RPEList))
	if sets < 2 {
		if len(e.RepsList) == 1 {
			n.Reps = rep.Some(int32(e.RepsList[0]))
		}
		return []rep.SetNote{n}
	}
	out := make([]rep.SetNote, sets)
	for i := range out {
		one := n
		one.Sets = 1
		if i < len(e.RepsList) {
			one.Reps = rep.Some(int32(e.RepsList[i]))
		}
		if i < sets-1 {
			one.RPE, one.RPEHigh, one.MissedReps = rep.Null[float64]{}, rep.Null[float64]{}, 0
			one.First, one.Fastest, one.Last, one.Slowest, one.Mean = one.RPE, one.RPE, one.RPE, one.RPE, one.RPE
		}
		if i < len(e.RPEList) {
			one.RPE = rep.Some(e.RPEList[i])
		}
		out[i] = one
	}
	return out
}

// speeds fills in the speeds of the set that a note holds.
func (d *Decoder) speeds(n *rep.SetNote, speeds []shorthand.Speed) {
	for _, s := range speeds {
		v := rep.Some(d.speed(s))
		switch s.Which {
		case shorthand.First:
			n.First = v
		case shorthand.Last:
			n.Last = v
		case shorthand.Fastest:
			n.Fastest = v
		case shorthand.Slowest:
			n.Slowest = v
		case shorthand.Mean:
			n.Mean = v
		}
	}
}

func (d *Decoder) speed(s shorthand.Speed) float64 {
	u := d.plan.SpeedUnit
	if own, ok := unit.ParseFor(unit.Velocity, s.Unit); ok {
		u = own
	}
	x, _ := u.Convert(s.V, s.Step)
	return x
}

// eachSpeed reads the speeds of every rep out of a single entry.
func (d *Decoder) eachSpeed(entries []shorthand.Entry) bool {
	if len(entries) != 1 {
		return false
	}
	e := entries[0]
	found := false
	for _, s := range e.Speeds {
		if s.Which != shorthand.EachRep {
			continue
		}
		if !found {
			d.v.nth = d.v.nth[:0]
		}
		found = true
		c := Cell{Field: column.MeanVelocity, Nth: len(d.v.nth) + 1}
		d.nthPut(&c, d.speed(s), s.Step)
	}
	if !found {
		return false
	}
	if load, step, ok := d.loadOf(e.Load); ok {
		d.v.LoadKg, d.v.LoadStep = load, step
		d.v.have = d.v.have.With(column.Load)
	}
	if !d.v.have.Has(column.Load) {
		return false
	}
	if e.RPE > 0 {
		d.v.RPE = rep.Some(e.RPE)
		d.rated()
	}
	return true
}

// entries reads shorthand.
func (d *Decoder) entries(text string, hasLoad bool) ([]shorthand.Entry, string) {
	if text == "" {
		return nil, ""
	}
	opt := d.plan.Habit
	opt.HasLoad = hasLoad
	entries, err := shorthand.Parse(text, opt)
	if err != nil {
		return nil, err.Error()
	}
	for i := range entries {
		if entries[i].Ambiguous {
			return nil, fmt.Sprintf(`%q: sets x reps or reps x sets? declare shorthand for this source`, text)
		}
	}
	return entries, ""
}

// loadOf returns a shorthand load in kg. Body weight, shares of a maximum, an
// empty bar and a load on top of one that is not known have none.
func (d *Decoder) loadOf(l shorthand.Load) (kg, step float64, ok bool) {
	if l.Kind != shorthand.Absolute {
		return 0, 0, false
	}
	u := d.plan.LoadUnit
	if own, ok := unit.ParseFor(unit.Load, l.Unit); ok {
		u = own
	}
	kg, step = u.Convert(l.V, l.Step)
	return kg, step, true
}
