package main

import (
	"math"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
)

// training is a simulated lifter's log of one lift, in the form cleaning gives
// to profiles.
type training struct {
	lift string
	res  clean.Result
	sets map[rep.Day]int32
}

func newTraining(lift string) *training {
	return &training{lift: lift, res: clean.Result{Reps: &rep.Table{}}, sets: map[rep.Day]int32{}}
}

const firstDay = rep.Day(20458) // 2026-01-05

// set logs a set; rpe NaN is not called. Speeds are rounded as units show
// them, to 0.01 m/s.
func (t *training) set(day rep.Day, kg float64, role rep.Role, rpe float64, speeds ...float64) {
	t.sets[day]++
	s := rep.Set{Lifter: "A", Date: day, Lift: t.lift, LoadKg: rep.Some(kg), Number: rep.Some(t.sets[day]),
		Role: role, Reps: int32(len(speeds)), Device: "unit"}
	if !math.IsNaN(rpe) {
		s.RPE, s.RPEFrom = rep.Some(rpe), rep.RPEHandLog
	}
	for i, v := range speeds {
		v = math.Max(math.Round(v*100)/100, 0.02)
		row := t.res.Reps.Append(&rep.Rep{Lifter: "A", Date: day, Lift: t.lift, LoadKg: kg, MeanVelocity: v,
			Device: "unit", RPE: s.RPE, Set: t.sets[day], Rep: int32(i + 1), Role: role})
		s.Rows = append(s.Rows, row)
		t.res.Kept = append(t.res.Kept, row)
	}
	t.res.Sets = append(t.res.Sets, s)
}

func (t *training) profile() profile.Lift { return profile.All(&t.res, nil).Lifters[0].Lifts[0] }

var nan = math.NaN()

// half rounds an RPE as it is called: to half points, at most 10.
func half(rpe float64) float64 { return math.Min(math.Round(2*rpe)/2, 10) }
