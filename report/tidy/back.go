package tidy

import (
	"fmt"
	"strings"

	"repsift/ingest/rep"
)

// Rep returns the rep of a row: the way back from a file. The id is not part
// of a rep. The error is about a name that this version does not know.
func (r *Rep) Rep() (rep.Rep, error) {
	q := rep.Rep{
		Lifter: string(r.Lifter), Date: r.Date, PerformedAt: rep.FromPtr(r.PerformedAt), Session: r.Session,
		Lift: string(r.Lift), Variant: string(r.Variant), Bar: string(r.Bar), Tether: string(r.Tether), LoadKg: r.Load,
		Set: r.Set, Rep: r.Number, RepRecorded: rep.FromPtr(r.NumberRecorded), MeanVelocity: r.MeanVelocity,
		PeakVelocity: rep.FromPtr(r.PeakVelocity), ROM: rep.FromPtr(r.ROM), Concentric: rep.FromPtr(r.Concentric),
		RPE: rep.FromPtr(r.RPE), Missed: r.Missed, Device: string(r.Device),
		Recorded: rep.Recorded{LoadKg: rep.FromPtr(r.LoadRecorded), MeanVelocity: rep.FromPtr(r.MeanRecorded),
			ROM: rep.FromPtr(r.ROMRecorded), Concentric: rep.FromPtr(r.ConcentricRecorded)},
		Further: rep.Further{MeanPropulsive: rep.FromPtr(r.MeanPropulsive), Sticking: rep.FromPtr(r.Sticking),
			TimeToPeak: rep.FromPtr(r.TimeToPeak), Eccentric: rep.FromPtr(r.Eccentric)},
		Source: string(r.Source), Sheet: string(r.Sheet), Row: r.Row,
	}
	var ok bool
	if q.Role, ok = rep.RoleOf(r.Role); !ok {
		return q, fmt.Errorf("set_role: there is no role %q", r.Role)
	}
	if q.RPEFrom, ok = rep.RPEFromOf(r.RPEFrom); !ok {
		return q, fmt.Errorf("rpe_from: there is no %q", r.RPEFrom)
	}
	for _, name := range r.Flags {
		kind, ok := rep.KindOf(name)
		if !ok {
			return q, fmt.Errorf("flags: there is no filter %q", name)
		}
		q.Flags = q.Flags.With(kind)
	}
	return q, nil
}

// Rep returns the columns that a row of reps set aside shares with kept ones.
func (a *Aside) Rep() Rep {
	return Rep{
		ID: a.ID, Lifter: a.Lifter, Date: a.Date, PerformedAt: a.PerformedAt,
		Lift: a.Lift, Variant: a.Variant, Bar: a.Bar, Tether: a.Tether, Load: a.Load,
		NumberRecorded: a.NumberRecorded, MeanVelocity: a.MeanVelocity, PeakVelocity: a.PeakVelocity, ROM: a.ROM,
		Concentric: a.Concentric, RPE: a.RPE, RPEFrom: a.RPEFrom, Missed: a.Missed, Device: a.Device, Flags: a.Flags,
		LoadRecorded: a.LoadRecorded, MeanRecorded: a.MeanRecorded, ROMRecorded: a.ROMRecorded,
		ConcentricRecorded: a.ConcentricRecorded, MeanPropulsive: a.MeanPropulsive, Sticking: a.Sticking,
		TimeToPeak: a.TimeToPeak, Eccentric: a.Eccentric, Source: a.Source, Sheet: a.Sheet, Row: a.Row,
	}
}

// Set returns the set of a row, without its reps.
func (r *Set) Set() (rep.Set, error) {
	s := rep.Set{
		Lifter: string(r.Lifter), Date: r.Date, Session: r.Session, PerformedAt: rep.FromPtr(r.PerformedAt), Lift: string(r.Lift),
		Variant: string(r.Variant), Bar: string(r.Bar), Tether: string(r.Tether), LoadKg: rep.FromPtr(r.Load), Number: rep.FromPtr(r.Number),
		Reps: r.Reps, Missed: r.Missed, SetAside: r.SetAside,
		First: rep.FromPtr(r.First), Fastest: rep.FromPtr(r.Fastest), Last: rep.FromPtr(r.Last), Slowest: rep.FromPtr(r.Slowest),
		Loss: rep.FromPtr(r.Loss), RPE: rep.FromPtr(r.RPE), Device: string(r.Device),
		Source: string(r.Source), Sheet: string(r.Sheet), Row: r.Row,
	}
	var ok bool
	if s.Role, ok = rep.RoleOf(r.Role); !ok {
		return s, fmt.Errorf("set_role: there is no role %q", r.Role)
	}
	if s.RPEFrom, ok = rep.RPEFromOf(r.RPEFrom); !ok {
		return s, fmt.Errorf("rpe_from: there is no %q", r.RPEFrom)
	}
	if r.Logged {
		s.Log = &rep.Logged{LoadKg: rep.FromPtr(r.LoggedLoad), Reps: rep.FromPtr(r.LoggedReps), RPE: rep.FromPtr(r.LoggedRPE),
			RPEHigh: rep.FromPtr(r.LoggedRPEHigh), First: rep.FromPtr(r.LoggedFirst), Fastest: rep.FromPtr(r.LoggedFastest),
			Last: rep.FromPtr(r.LoggedLast), Slowest: rep.FromPtr(r.LoggedSlowest), Mean: rep.FromPtr(r.LoggedMean),
			Text: string(r.LoggedText), Source: string(r.LogSource), Sheet: string(r.LogSheet), Row: rep.FromPtr(r.LogRow).V}
	}
	return s, nil
}

// UnmarshalCSV reads a cell that MarshalCSV wrote.
func (t *Text) UnmarshalCSV(cell string) error {
	*t = Text(Restore(cell))
	return nil
}

// UnmarshalCSV reads a cell that MarshalCSV wrote.
func (l *List) UnmarshalCSV(cell string) error {
	*l = nil
	if cell != "" {
		*l = strings.Split(cell, "; ")
	}
	return nil
}
