// Package profile turns kept reps into each lifter's own numbers, each with how
// many sets stand behind it and how wrong it may be.
//
// [All] takes what cleaning kept and answers, lifter by lifter and lift by
// lift, one question a package:
//
//   - effort: how fast is the slowest rep of a set called RPE 8, and what RPE
//     would a lifter call a set of this speed?
//   - loadline: how fast is a load, and how much do days differ?
//   - e1rm: what is the 1RM today, from which evidence?
//   - ready: is the last warm-up as fast as on other days?
//   - progress: does the same load move faster than it did?
//   - block: what did a training block do?
//   - loss: how much speed is lost in a set, and when to end a back-off set?
//   - agree: do two units say the same?
//
// Below these lie two that know nothing of lifting or of files: mixed (lines
// with day-to-day variation) and onerm (the handbook table, and claims about a
// 1RM weighed against one another). number and sets are what all of them
// share.
//
// A number is an [Estimate]: a value with an interval, or "not enough yet" with
// what is needed. What a reader must know before acting on numbers stands
// beside them as sentences, in the Cautions of each part.
//
// Reps that were missed, set aside, or flagged split rep, fused rep or load
// check are no part of any speed here. Speeds of different units are never
// mixed in one line: a lift has a main [Group], the others are listed as
// [Split]s with how they differ.
//
// Everything is in SI units, loads in kg; shares and probabilities lie in
// [0,1], except percent_1rm, which is percent because the trade says it so.
package profile

import "repsift/ingest/rep"

// Profiles is every lifter's numbers: the content of profiles.json.
type Profiles struct {
	Lifters   []Lifter    `json:"lifters"`          // by name
	Agreement []Agreement `json:"device_agreement"` // pairs of units that measured the same sets, by names
	Cautions  []string    `json:"cautions"`         // hold for every page
}

// Lifter is one lifter's numbers. In JSON it has the shape of form.go.
type Lifter struct {
	Name string
	Span
	Sessions     int
	SessionDates []rep.Day // in order
	Lifts        []Lift    // squat, bench press, deadlift, then others by name
}

// Brief returns what a list of lifters says of one: of each lift, counts, the
// key numbers, how ready the lifter was last and personal bests. The rest takes
// many times as much memory.
func (l *Lifter) Brief() Lifter {
	brief := *l
	brief.SessionDates = nil
	brief.Lifts = make([]Lift, len(l.Lifts))
	for i := range l.Lifts {
		full, to := &l.Lifts[i], &brief.Lifts[i]
		*to = Lift{Lift: full.Lift, Sets: full.Sets, Reps: full.Reps, Span: full.Span, Main: full.Main,
			E1RMNow: full.E1RMNow, ReadinessNow: full.ReadinessNow, PersonalBests: full.PersonalBests}
		to.LoadVelocity.V1RM, to.LoadVelocity.Slope = full.LoadVelocity.V1RM, full.LoadVelocity.Slope
		to.Effort.AtRPE8, to.Effort.PerRPE = full.Effort.AtRPE8, full.Effort.PerRPE
		to.E1RMTrend.PerWeek = full.E1RMTrend.PerWeek
	}
	return brief
}

// Lift is one lifter's numbers of one lift.
type Lift struct {
	Lift string `json:"lift"`
	Sets int    `json:"sets"` // with kept reps, and logged ones alone
	Reps int    `json:"reps"` // kept, missed ones included
	Span

	// Main is the group of sets that speeds, e1RM and all below rest on;
	// Splits are the other groups of this lift, most sets first.
	Main   Group   `json:"main"`
	Splits []Split `json:"splits"`

	// Points are the fastest rep of each load and day of the main group, by day,
	// then load: those behind LoadVelocity and Progress, and the others.
	Points []DayPoint `json:"-"`

	Effort       EffortChart  `json:"effort_chart"`
	LoadVelocity LoadVelocity `json:"load_velocity"`

	E1RM      []E1RM     `json:"e1rm"` // history, by date, then source
	E1RMNow   Estimate   `json:"e1rm_now_kg"`
	E1RMOn    rep.Day    `json:"e1rm_now_on"` // the day "now" means: the last session of the lift
	E1RMFrom  []Evidence `json:"e1rm_now_from"`
	E1RMNotes []string   `json:"e1rm_cautions"`

	Readiness     []Readiness    `json:"readiness"` // a line a session, by date
	ReadinessNow  Readiness      `json:"readiness_now"`
	Progress      []SpeedTrend   `json:"progress"` // by load
	E1RMTrend     E1RMTrend      `json:"e1rm_trend"`
	PersonalBests []PersonalBest `json:"personal_bests"` // by load
	Blocks        []Block        `json:"blocks"`         // by first day
	VelocityLoss  VelocityLoss   `json:"velocity_loss"`

	Cautions []string `json:"cautions"`
}

// Split is a group kept apart from the main one.
type Split struct {
	Group
	Sets int `json:"sets"`
	Reps int `json:"reps"`
	Span
	// Offset is how much faster this group's fastest reps are than the main
	// group's at the same load, m/s.
	Offset       Estimate     `json:"offset_m_s"`
	Effort       EffortChart  `json:"effort_chart"`
	LoadVelocity LoadVelocity `json:"load_velocity"`
}
