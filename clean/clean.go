// Package clean decides which reps count. It takes everything that was read,
// sets false reps aside by rules that are written down, joins the hand log to
// the unit's sets, and numbers what is left.
//
// [Run] goes through these steps, one lifter's one lift at a time:
//
//  1. Order the rows of each day as they were done and split them into sets
//     (split.go).
//  2. Set aside copies of the same set in overlapping exports (duplicate.go).
//  3. Let every filter look at every rep (filter.go; one file a kind). Limits
//     that are learnt from the lifter's own reps are learnt again until no
//     rep changes sides, so that cleaning its own output changes nothing.
//  4. Join logged sets to unit sets (logs.go, package join).
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
	"repsift/ingest/rep"
)

// Result is what cleaning makes of a batch.
type Result struct {
	// Reps are all reps read. Session, Set, Number, Role, RPE and Flags are
	// filled in for kept rows; Missed also where a miss was recognised.
	Reps *rep.Table

	Kept   []int32      // rows, sorted by lifter, lift, date, set, rep
	Aside  []Aside      // sorted by lifter, lift, date, source, sheet, row, rep recorded
	Sets   []rep.Set    // sorted by lifter, lift, date, set; unnumbered ones after the numbered of their day
	Unread []rep.Unread // as read
	Ledger []rep.Ledger // complete: Balance holds for each

	Filters []InForce // what ran, in running order
	Doubts  []Doubt   // what the coach should look at, by lifter, lift, date, place

	compiled *compiled // for Why
}

// Aside is a rep that was set aside, and why.
type Aside struct {
	Row      int32
	Filter   rep.Kind // the first in running order of those it failed
	Reason   string   // one sentence
	Measured rep.Null[float64]
	Limit    rep.Null[float64]
	Also     []rep.Kind // the others that would have set it aside

	filter int // which of the filters in force
}

// InForce describes one filter that ran, for codebook and screen.
type InForce struct {
	Kind     rep.Kind
	Declared bool   // in the season file; else a default
	Line     int    // in the season file
	Where    string // "everywhere", "deadlift", "deadlift, bar deadlift; lifter Ines Duarte"
	Flag     bool   // marks, and sets nothing aside
	Limits   []Limit
	Sentence string // what it does, in plain words

	SetAside, Flagged int // reps
}

// Limit is one limit of a filter and where its value comes from.
type Limit struct {
	Name   string // as in the season file, with its unit: floor_m
	Lift   string // empty: every lift that has no value of its own
	Value  float64
	Source string // published source, "common practice, no source", or "season file"
}

// Doubt is something cleaning saw but must not decide: the coach should look.
type Doubt struct {
	Topic  Topic
	Lifter string
	Lift   string
	Date   rep.Day // 0 where the doubt is not about one day
	Text   string  // one sentence, with both values where two disagree
	Places []rep.Place
}

// Topic sorts doubts.
type Topic uint8

// The topics of doubts.
const (
	LogDisagrees  Topic = iota // hand log and unit say different things of one set
	JoinAmbiguous              // a logged set fits several sets of the unit, or none well
	RPEDisagrees               // hand log and export give one set different RPE
	FewerReps                  // the unit that stands has fewer reps than log or second unit
	LoadUnlikely               // the speed does not fit the entered load
	FilterGreedy               // a filter takes more than its share of a lift
)

var topicNames = [...]string{"log disagrees", "join ambiguous", "RPE disagrees", "fewer reps", "load unlikely", "filter greedy"}

// String returns the topic's name.
func (t Topic) String() string { return topicNames[t] }
