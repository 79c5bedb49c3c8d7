package tidy

import (
	"repsift/clean"
	"repsift/ingest/rep"
)

// What the files hold is compared with rows made record by record.

// repOf returns row i as a row of reps.
func repOf(t *rep.Table, i int32) Rep {
	r := t.Rep(i)
	return Rep{
		ID: ID(t.ID(i)), Lifter: Text(r.Lifter), Date: r.Date, PerformedAt: r.PerformedAt.Ptr(), Session: r.Session,
		Lift: Text(r.Lift), Variant: Text(r.Variant), Bar: Text(r.Bar), Tether: Text(r.Tether), Load: r.LoadKg,
		Set: r.Set, Number: r.Rep, NumberRecorded: r.RepRecorded.Ptr(), MeanVelocity: r.MeanVelocity,
		PeakVelocity: r.PeakVelocity.Ptr(), ROM: r.ROM.Ptr(), Concentric: r.Concentric.Ptr(), RPE: r.RPE.Ptr(),
		RPEFrom: r.RPEFrom.String(), Missed: r.Missed, Role: r.Role.String(), Device: Text(r.Device), Flags: r.Flags.Names(),
		LoadRecorded: r.Recorded.LoadKg.Ptr(), MeanRecorded: r.Recorded.MeanVelocity.Ptr(),
		ROMRecorded: r.Recorded.ROM.Ptr(), ConcentricRecorded: r.Recorded.Concentric.Ptr(),
		Source: Text(r.Source), Sheet: Text(r.Sheet), Row: r.Row,
		MeanPropulsive: r.Further.MeanPropulsive.Ptr(), Sticking: r.Further.Sticking.Ptr(),
		TimeToPeak: r.Further.TimeToPeak.Ptr(), Eccentric: r.Further.Eccentric.Ptr(),
	}
}

// asideOf returns a rep set aside as a row of set_aside.
func asideOf(t *rep.Table, a *clean.Aside) Aside {
	r := repOf(t, a.Row)
	return Aside{
		ID: r.ID, Lifter: r.Lifter, Date: r.Date, PerformedAt: r.PerformedAt,
		Lift: r.Lift, Variant: r.Variant, Bar: r.Bar, Tether: r.Tether, Load: r.Load,
		NumberRecorded: r.NumberRecorded, MeanVelocity: r.MeanVelocity,
		PeakVelocity: r.PeakVelocity, ROM: r.ROM, Concentric: r.Concentric, RPE: r.RPE, RPEFrom: r.RPEFrom,
		Missed: r.Missed, Device: r.Device, Flags: r.Flags,
		LoadRecorded: r.LoadRecorded, MeanRecorded: r.MeanRecorded, ROMRecorded: r.ROMRecorded,
		ConcentricRecorded: r.ConcentricRecorded, Source: r.Source, Sheet: r.Sheet, Row: r.Row,
		MeanPropulsive: r.MeanPropulsive, Sticking: r.Sticking, TimeToPeak: r.TimeToPeak, Eccentric: r.Eccentric,
		Filter: a.Filter.String(), Reason: Text(a.Reason), Measured: a.Measured.Ptr(), Limit: a.Limit.Ptr(),
	}
}

// setOf returns a set as a row of sets.
func setOf(s *rep.Set) Set {
	row := Set{
		Lifter: Text(s.Lifter), Date: s.Date, Session: s.Session, PerformedAt: s.PerformedAt.Ptr(), Lift: Text(s.Lift),
		Variant: Text(s.Variant), Bar: Text(s.Bar), Tether: Text(s.Tether), Load: s.LoadKg.Ptr(), Number: s.Number.Ptr(),
		Role: s.Role.String(), Reps: s.Reps, Missed: s.Missed, SetAside: s.SetAside,
		First: s.First.Ptr(), Fastest: s.Fastest.Ptr(), Last: s.Last.Ptr(), Slowest: s.Slowest.Ptr(), Loss: s.Loss.Ptr(),
		RPE: s.RPE.Ptr(), RPEFrom: s.RPEFrom.String(), Device: Text(s.Device),
		Source: Text(s.Source), Sheet: Text(s.Sheet), Row: s.Row,
	}
	if l := s.Log; l != nil {
		row.Logged = true
		row.LoggedLoad, row.LoggedReps, row.LoggedRPE, row.LoggedRPEHigh = l.LoadKg.Ptr(), l.Reps.Ptr(), l.RPE.Ptr(), l.RPEHigh.Ptr()
		row.LoggedFirst, row.LoggedFastest, row.LoggedLast = l.First.Ptr(), l.Fastest.Ptr(), l.Last.Ptr()
		row.LoggedSlowest, row.LoggedMean = l.Slowest.Ptr(), l.Mean.Ptr()
		row.LoggedText, row.LogSource, row.LogSheet, row.LogRow = Text(l.Text), Text(l.Source), Text(l.Sheet), &l.Row
	}
	return row
}
