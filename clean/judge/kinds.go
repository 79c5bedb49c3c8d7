package judge

import (
	"math"

	"repsift/ingest/rep"
)

// unsourced marks a limit that rests on how the sport is done.
const unsourced = "common practice, no source"

// kinds are all filter kinds, in running order. Every one runs by default,
// everywhere, with the limits of its table; what a season file declares takes
// the default's place where it applies.
var kinds = []*kind{
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

// kindOf returns the filter kind of k, nil where there is none.
func kindOf(k rep.Kind) *kind {
	for _, d := range kinds {
		if d.Kind == k {
			return d
		}
	}
	return nil
}

// perLift gives one value to each competition lift.
func perLift(squat, bench, deadlift float64) []liftValue {
	return []liftValue{{rep.Squat, squat}, {rep.BenchPress, bench}, {rep.Deadlift, deadlift}}
}

var inf = math.Inf(1)
