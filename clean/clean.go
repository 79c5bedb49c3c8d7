// Package clean decides which reps count. It takes everything that was read,
// sets false reps aside by rules that are written down, joins the hand log to
// the unit's sets, and numbers what is left.
//
// [Run] goes through these steps, one lifter's one lift at a time:
//
//  1. Order the rows of each day as they were done, split them into sets, and
//     tell copies of a set in overlapping exports (package sets).
//  2. Learn what is usual for the lifter, and lay sets beside those of a second
//     unit and of the hand log (packages history and join).
//  3. Let every filter look at every rep (package judge). Limits that are learnt
//     from the lifter's own reps are learnt again until no rep changes sides, so
//     that cleaning its own output changes nothing.
//  4. Read the speeds of a unit as another's, where the season file declares
//     how; filters have judged them as they were recorded.
//  5. Number sessions, sets and reps, and say what each set was for
//     (number.go).
//
// Nothing is deleted: a rep is kept, or stands in [Result.Aside] with the
// filter, a sentence, the measured value and the limit. A true rep set aside
// costs more than a false one kept, so every default limit leaves room for
// grinders, long pauses, short benches and missed lockouts.
//
// The result does not depend on the order of the inputs or of the rows, where
// the source says anything else about it (time, set, rep number).
package clean

import (
	"repsift/clean/judge"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// Result is what cleaning makes of a batch.
type Result struct {
	// Reps are all reps read. Session, Set, Number, Role, RPE and Flags are
	// filled in for kept rows; Missed also where a miss was recognised.
	Reps *rep.Table

	Kept   []int32      // rows, sorted by lifter, lift, date, set, rep
	Aside  []Aside      // sorted by lifter, lift, date, source, sheet, row, rep recorded
	Sets   rep.Sets     // sorted by lifter, lift, date, set; unnumbered ones after the numbered of their day
	Unread []rep.Unread // as read
	Ledger []rep.Ledger // complete: Balance holds for each

	Filters []InForce                 // what ran, in running order
	Devices []season.DeviceCorrection // in force: mean velocities of a unit read as another's
	Units   []string                  // all there are, where Reps are not all reps; else nil
	Twins   []Twin                    // sets that two units recorded, sorted as Sets
	Taken   []Taken                   // what was set aside, by lifter and lift
	Doubts  []Doubt                   // what the coach should look at, by lifter, lift, date, place

	parts   []*part // for Why
	filters *judge.Filters
}

// Twin is one set as two units recorded it, by the rows of Reps: the kept reps
// of the unit that stands, and those reps of the other that nothing else speaks
// against. Speeds written by hand are among them, with device hand log.
type Twin struct{ Kept, Aside []int32 }

// What judging says, by the names of this package.
type (
	Aside   = judge.Aside
	InForce = judge.InForce
	Limit   = judge.Limit
	Doubt   = judge.Doubt
	Topic   = judge.Topic
)

// TopicOf returns the topic of a name, as [Topic.String] writes it.
func TopicOf(name string) (Topic, bool) { return judge.TopicOf(name) }

// The topics of doubts.
const (
	LogDisagrees  = judge.LogDisagrees
	JoinAmbiguous = judge.JoinAmbiguous
	RPEDisagrees  = judge.RPEDisagrees
	FewerReps     = judge.FewerReps
	LoadUnlikely  = judge.LoadUnlikely
	FilterGreedy  = judge.FilterGreedy
)
