package shape

import (
	"fmt"
	"math"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/trace"
)

// samples: one line is a moment of a trace, many a second. Its reps are found
// in the whole of it, not line by line, so no line counts as a rep row.
var samples = Shape{Name: "samples", fits: fitsSamples, finish: finishSample, end: endSamples}

func fitsSamples(t *Table) (float64, string) {
	at, position := t.Column(column.SampleTime), t.Column(column.Position)
	speed := t.Column(column.MeanVelocity)
	if position == nil && speed == nil || t.Rows < 50 {
		return 0, ""
	}
	if c := t.Column(column.RepNumber); c != nil && c.Stats.Filled() > 0 && (position == nil || !position.Stats.Smooth()) {
		return 0, "" // some units number the samples by rep
	}
	if (t.Stamped || t.Paced) && position == nil && !(speed.Stats.Quantile(0) <= 0) {
		return 0, "" // a bar comes down, and rests; reps do neither
	}
	switch {
	case t.Stamped:
		return 2, "dates and times that go by in small steps, beside a position or speed of the bar"
	case t.Paced:
		return 2, "positions or speeds of the bar at a known rate"
	case at == nil || at.Stats.Share(at.Stats.Rising()) < 0.95:
		return 0, ""
	case t.Column(column.Date) != nil && (position == nil || !position.Stats.Smooth()):
		return 0, ""
	}
	return 2, "a time that rises in small equal steps, beside a position or speed of the bar"
}

// sampling is a trace that is being read: the samples of one lifter, lift, load
// and set.
type sampling struct {
	*trace.Segmenter
	of   values // its first row
	reps int    // of the set
	set  int
	said []string

	kept []trace.Found // every movement, where traces are kept

	failed bool // cannot be read, and that was said
}

func finishSample(d *Decoder) Outcome {
	if f, missing := d.missing(column.Lifter, column.Date, column.Lift, column.Load); missing {
		return d.lose(f)
	}
	if len(d.v.bad) > 0 {
		d.loseCells()
	}
	d.rig()
	if t := d.trace; t != nil && !d.sameSet(&t.of, &d.v) {
		endSamples(d)
	}
	if d.trace == nil {
		d.beginSamples()
	}
	v := &d.v
	speed := rep.Null[float64]{V: v.MeanVelocity, OK: v.have.Has(column.MeanVelocity)}
	at, position := v.at, v.position
	at.OK, position.OK = v.have.Has(column.SampleTime), v.have.Has(column.Position)
	switch {
	case d.plan.Paced:
		at.V /= d.plan.Samples.Hz
	case d.plan.Stamped && !at.OK && v.PerformedAt.OK:
		at = rep.Some(float64(v.PerformedAt.V) / 1000)
	}
	if err := d.trace.Add(d.line, at, position, speed); err != nil && !d.trace.failed {
		d.trace.failed = true
		d.out.Unread = append(d.out.Unread, rep.Unread{Lost: rep.LostRow,
			Place: rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: d.line}, Problem: err.Error()})
		return Unread
	}
	return NotData
}

// sameSet reports whether two samples belong to the same set, as far as the
// rows say. A day that ends in a set does not end the set.
func (d *Decoder) sameSet(a, b *values) bool {
	const night = 6 * 3600 * 1000 // ms
	day := a.Date == b.Date || d.plan.Stamped && a.PerformedAt.OK && b.PerformedAt.OK && b.PerformedAt.V-a.PerformedAt.V < night
	return a.SetMark == b.SetMark && a.LoadKg == b.LoadKg && a.Lift == b.Lift && a.Variant == b.Variant &&
		a.Lifter == b.Lifter && day && a.Device == b.Device
}

func (d *Decoder) beginSamples() {
	v := &d.v
	opt := trace.Options{Lift: v.Lift, LoadKg: v.LoadKg, Bar: v.Bar, Tether: v.Tether}
	s := &d.plan.Samples
	opt.MetresPerCount, opt.CutoffHz, opt.Hz = s.MetresPerCount, s.CutoffHz, s.Hz
	switch s.Up {
	case "positive":
		opt.Up = 1
	case "negative":
		opt.Up = -1
	}
	opt.KeepSeries = d.out.KeepTraces
	t := &sampling{of: *v}
	t.of.bad, t.of.nth = nil, nil
	t.Segmenter = trace.New(opt, func(f trace.Found) { d.addFound(t, &f) })
	d.trace = t
}

// addFound files a movement that is a rep; others are left out, and told.
func (d *Decoder) addFound(t *sampling, f *trace.Found) {
	if d.out.KeepTraces {
		t.kept = append(t.kept, *f)
	}
	if f.Kind > trace.Missed {
		return
	}
	if f.Set != t.set {
		t.set, t.reps = f.Set, 0
	}
	t.reps++
	r := t.of.Rep
	r.Row = f.Row
	r.RepRecorded = rep.Some(int32(t.reps))
	// A trace that goes on past its set holds the next ones.
	if f.Set > 1 || !r.SetMark.OK {
		r.SetMark = rep.Some(r.SetMark.Or(1) + int32(f.Set) - 1)
	}
	if r.PerformedAt.OK {
		r.PerformedAt.V += rep.Instant(math.Round(f.At * 1000))
	}
	r.Missed = f.Kind == trace.Missed
	r.MeanVelocity, r.ROM, r.Concentric = rounded(f.MeanVelocity, 1e4), rep.Some(rounded(f.ROM, 1e4)), rep.Some(rounded(f.Concentric, 1e3))
	r.PeakVelocity = rep.Null[float64]{}
	if f.PeakVelocity.OK {
		r.PeakVelocity = rep.Some(rounded(f.PeakVelocity.V, 1e4))
	}
	to := func(v rep.Null[float64], per float64) rep.Null[float64] {
		v.V = rounded(v.V, per)
		return v
	}
	r.Further = rep.Further{MeanPropulsive: to(f.MeanPropulsive, 1e4), Sticking: to(f.StickingMin, 1e4),
		TimeToPeak: to(f.TimeToPeak, 1e3), Eccentric: to(f.Eccentric, 1e3)}
	r.MeanStep, r.PeakStep, r.ROMStep = 1e-4, 1e-4, 1e-4
	if f.SlackTravel > 0 {
		travel, time := f.ROM+f.SlackTravel, f.Concentric+f.SlackTime
		r.Flags = r.Flags.With(rep.FlexAllowance)
		r.Recorded = rep.Recorded{MeanVelocity: rep.Some(rounded(travel/time, 1e4)), ROM: rep.Some(rounded(travel, 1e4)), Concentric: rep.Some(rounded(time, 1e3))}
	}
	r.RPEFrom = rep.RPEUnknown
	if r.RPE.OK {
		r.RPEFrom = rep.RPEExport
	}
	d.out.Reps.Append(&r)
	d.out.Ledger.Reps++
	for _, text := range removed(f) {
		t.said = append(t.said, fmt.Sprintf("row %d: %s", f.Row, text))
		d.out.Removed = append(d.out.Removed, Removed{Sheet: d.plan.Sheet, Row: f.Row, Text: text})
	}
}

// removed says what was taken out of a rep, and what in it was not measured.
func removed(f *trace.Found) (said []string) {
	if f.Slipped > 0 {
		said = append(said, fmt.Sprintf("the tether slipped by %.1f cm in the rep, levelled", 100*f.Slipped))
	}
	if f.Gap {
		said = append(said, "samples are missing in the rep: travel, duration and mean hold, no peak is told")
	}
	if f.SlackTravel > 0 {
		said = append(said, fmt.Sprintf("slack of the bar taken out, %.1f cm in %.2f s before the plates left the floor", 100*f.SlackTravel, f.SlackTime))
	}
	if f.RingHz > 0 {
		text := fmt.Sprintf("ringing after lockout taken out, %.1f Hz, first swing %.1f cm", f.RingHz, 100*f.RingTravel)
		switch {
		case f.RingTime >= 0.005:
			text += fmt.Sprintf(", with it the rep seems %.2f s longer", f.RingTime)
		case f.RingTime <= -0.005:
			text += fmt.Sprintf(", with it the rep seems %.2f s shorter", -f.RingTime)
		}
		said = append(said, text)
	}
	return said
}

func rounded(v, per float64) float64 { return math.Round(v*per) / per }

// endSamples closes the trace that is being read and says how it was read.
func endSamples(d *Decoder) {
	t := d.trace
	if t == nil {
		return
	}
	d.trace = nil
	if err := t.Close(); err != nil {
		if !t.failed { // only known in the end, when its rows are counted
			d.out.Unread = append(d.out.Unread, rep.Unread{Lost: rep.LostCell,
				Place: rep.Place{Source: d.plan.Source, Sheet: d.plan.Sheet, Row: t.of.Row}, Problem: err.Error()})
		}
		return
	}
	if d.out.KeepTraces {
		d.out.Traces = append(d.out.Traces, Traced{Of: t.of.Rep, Summary: t.Summary(), Series: t.Series(), Found: t.kept})
	}
	d.said = append(d.said, t.Summary().Said(d.plan.Samples.CutoffHz == 0)+".")
	const most = 12
	if n := len(t.said); n > most {
		t.said = append(t.said[:most], fmt.Sprintf("and %d more like these", n-most))
	}
	if len(t.said) > 0 {
		d.said = append(d.said, strings.Join(t.said, "; "))
	}
}

// Said returns what reading the rows showed, each a sentence.
func (d *Decoder) Said() []string { return d.said }
