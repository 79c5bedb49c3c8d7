// Package kinds holds the filters, one file a kind: what it is for, its limits
// with the source of each, how it looks at the reps of a history, and the
// sentence that says why a rep was set aside.
//
// A kind keeps no state and decides nothing of what is declared: package judge
// compiles kinds and the season file into filters that run.
package kinds

import (
	"math"

	"repsift/ingest/rep"
)

// unsourced marks a limit that rests on how the sport is done.
const unsourced = "common practice, no source"

// All are all filter kinds, in running order. Every one runs by default,
// everywhere, with the limits of its table; what a season file declares takes
// the default's place where it applies.
var All = []*Spec{
	duplicate,
	secondDevice,
	speedLimits,
	shortTravel,
	usualTravel,
	travelCheck,
	peakCheck,
	rebound,
	rack,
	splitRep,
	logCount,
	loadCheck,
	flexAllowance,
	fusedRep,
}

// Find returns the filter kind of k, nil where there is none.
func Find(k rep.Kind) *Spec {
	for _, d := range All {
		if d.Kind == k {
			return d
		}
	}
	return nil
}

// perLift gives one value to each competition lift.
func perLift(squat, bench, deadlift float64) []LiftValue {
	return []LiftValue{{rep.Squat, squat}, {rep.BenchPress, bench}, {rep.Deadlift, deadlift}}
}

var inf = math.Inf(1)
