package shape

import (
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/unit"
)

// values is a row in the making.
type values struct {
	rep.Rep
	codes rep.Codes
	have  column.Set // fields with a value
	bad   []trouble
	further
}

// measure gives the row all of a rep but its names, source and sheet.
func (v *values) measure(r *rep.Rep) {
	v.Date, v.PerformedAt, v.Row = r.Date, r.PerformedAt, r.Row
	v.SetMark, v.RepRecorded = r.SetMark, r.RepRecorded
	v.LoadKg, v.MeanVelocity, v.PeakVelocity, v.ROM, v.Concentric = r.LoadKg, r.MeanVelocity, r.PeakVelocity, r.ROM, r.Concentric
	v.LoadStep, v.MeanStep, v.PeakStep, v.ROMStep = r.LoadStep, r.MeanStep, r.PeakStep, r.ROMStep
	v.Further, v.Recorded = r.Further, r.Recorded
	v.RPE, v.RPEFrom, v.Missed = r.RPE, r.RPEFrom, r.Missed
	v.Session, v.Set, v.Rep.Rep, v.Role, v.Flags = r.Session, r.Set, r.Rep, r.Role, r.Flags
}

// further is what rows have whose cells are not each a part of one rep.
type further struct {
	at, position rep.Null[float64] // of a sample

	loadUnit unit.Unit // in a column of its own
	noUnit   bool      // … that cannot be read

	clock    rep.Null[int32]
	reps     rep.Null[int32]
	sets     rep.Null[int32]
	repsText string // a list of reps: "5/5/4"
	rpeHigh  rep.Null[float64]
	missed   int32

	first, fastest, last, slowest rep.Null[float64]

	nth    []nthRep // of reps across
	speeds string
	work   string
	note   string
}

// ofOneRep are the fields whose cells say something of one rep and nothing else:
// in a table of no others, rows have nothing further.
var ofOneRep = column.SetOf(column.Lifter, column.Date, column.Lift, column.Variant, column.Bar, column.Tether, column.Device,
	column.Load, column.SetNumber, column.RepNumber, column.SetRep, column.MeanVelocity, column.PeakVelocity, column.ROM, column.Concentric,
	column.MeanPropulsive, column.StickingVelocity, column.TimeToPeak, column.Eccentric)

// nthRep is one rep of a row that holds several.
type nthRep struct {
	mean, meanStep, peak, peakStep, rom, romStep, con, propulsive float64

	set    int // of several in the row: which
	have   column.Set
	missed bool
}

// trouble is a cell that could not be read.
type trouble struct {
	field   column.Field
	nth     int
	heading string
	text    string
	problem string
}

// keep makes the row's value of a field that of the blanks below.
func (d *Decoder) keep(f column.Field) {
	a, v := &d.above, &d.v
	switch f {
	case column.Lifter:
		a.Lifter = v.Lifter
	case column.Date:
		a.Date, a.PerformedAt, a.clock = v.Date, v.PerformedAt, v.clock
	case column.Lift:
		a.Lift, a.Variant = v.Lift, v.Variant
	case column.Load:
		a.LoadKg, a.LoadStep = v.LoadKg, v.LoadStep
	case column.SetNumber:
		a.SetMark = v.SetMark
	case column.Bar:
		a.Bar = v.Bar
	case column.Tether:
		a.Tether = v.Tether
	case column.Variant:
		a.Variant = v.Variant
	case column.Device:
		a.Device = v.Device
	case column.RPE, column.RIR:
		a.RPE = v.RPE
	default:
		return
	}
	if v.have.Has(f) {
		a.have = a.have.With(f)
	} else {
		a.have = a.have.Without(f)
	}
}
