// Package simulate makes lifters whose truth is known, for the tests of
// profiles and for the programs in calibrate. It is no part of the tool.
//
// The model is the trade's, not the profile's: speed falls in a straight line
// with load and reaches the lifter's velocity at 1RM there; days and reps
// scatter around it; the 1RM grows, wanders and has its form of the day; reps
// at a share of it follow the handbook table more or less; calls follow the
// reps in reserve, off by chance and by habit, in half points and never above
// 10; units show 0.01 m/s and plates come in 2.5 kg.
package simulate

import (
	"math"
	"math/rand/v2"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile/onerm"
)

// Log is a lifter's training in the form cleaning gives to profiles.
type Log struct {
	Lifter, Lift, Device string
	Result               clean.Result

	sets map[rep.Day]int32
}

// NewLog returns an empty log.
func NewLog(lifter, lift string) *Log {
	return &Log{Lifter: lifter, Lift: lift, Device: "unit", Result: clean.Result{Reps: &rep.Table{}}, sets: map[rep.Day]int32{}}
}

// FirstDay is the day on which training starts.
const FirstDay = rep.Day(20458) // 2026-01-05

// Uncalled is the RPE of a set that nobody called.
var Uncalled = math.NaN()

// Set logs a set and returns it for changes that are rarely wanted; it stays
// valid until the next call.
func (l *Log) Set(day rep.Day, kg float64, role rep.Role, rpe float64, speeds ...float64) *rep.Set {
	l.sets[day]++
	s := rep.Set{Lifter: l.Lifter, Date: day, Lift: l.Lift, LoadKg: rep.Some(kg), Number: rep.Some(l.sets[day]),
		Role: role, Reps: int32(len(speeds)), Device: l.Device}
	if !math.IsNaN(rpe) {
		s.RPE, s.RPEFrom = rep.Some(rpe), rep.RPEHandLog
	}
	for i, v := range speeds {
		v = math.Max(math.Round(v*100)/100, 0.02)
		row := l.Result.Reps.Append(&rep.Rep{Lifter: l.Lifter, Date: day, Lift: l.Lift, LoadKg: kg, MeanVelocity: v,
			Device: l.Device, RPE: s.RPE, Set: l.sets[day], Rep: int32(i + 1), Role: role})
		s.Rows = append(s.Rows, row)
		l.Result.Kept = append(l.Result.Kept, row)
	}
	return l.Result.Sets.Add(s)
}

// Half rounds an RPE as it is called: to half points, at most 10.
func Half(rpe float64) float64 { return math.Min(math.Round(2*rpe)/2, 10) }

// Plates rounds a load to 2.5 kg.
func Plates(kg float64) float64 { return math.Round(kg/2.5) * 2.5 }

// Lifter is one lifter's truth.
type Lifter struct {
	Max     float64 // 1RM on the last day, kg
	At1RM   float64 // speed there, m/s
	PerMax  float64 // speed gained from the 1RM down to no load, m/s
	DaySD   float64 // of whole days, m/s
	Scatter float64 // of reps, m/s
	Uneven  bool    // scatter in proportion to speed

	Growth   float64 // of the 1RM in a week, a share
	Wander   float64 // of the 1RM from week to week, a share
	DayForm  float64 // of the 1RM from day to day, a share
	CallSD   float64 // of one call, RPE points
	CallBias float64 // of all calls
	Misfit   float64 // how much further below the table (above 1) a set is
	PerRPE   float64 // of the slowest rep of a set, m/s
}

// Draw returns a lifter of some kind.
func Draw(r *rand.Rand) Lifter {
	return Lifter{
		Max: 90 + 120*r.Float64(), At1RM: math.Max(0.23+0.05*r.NormFloat64(), 0.06), PerMax: 1.2 + 0.15*r.NormFloat64(),
		DaySD: 0.025 * math.Exp(0.4*r.NormFloat64()), Scatter: 0.03 * math.Exp(0.3*r.NormFloat64()), Growth: 0.003 + 0.004*r.NormFloat64(),
		Wander: 0.005, DayForm: 0.02, CallSD: 0.5, CallBias: 0.25 * r.NormFloat64(),
		Misfit: math.Exp(0.15 * r.NormFloat64()), PerRPE: math.Min(-0.04+0.01*r.NormFloat64(), -0.015),
	}
}

// Speed returns the speed of a load when the 1RM is max, on an average day.
func (l *Lifter) Speed(kg, max float64) float64 { return l.At1RM + l.PerMax*(1-kg/max) }

// Noise returns the scatter of one rep at a speed.
func (l *Lifter) Noise(v float64, r *rand.Rand) float64 {
	if l.Uneven {
		return l.Scatter * v / 0.5 * r.NormFloat64()
	}
	return l.Scatter * r.NormFloat64()
}

// Share returns this lifter's share of the 1RM for a most of reps.
func (l *Lifter) Share(most float64) float64 {
	s, _ := onerm.Share(math.Min(most, onerm.MostReps))
	return 1 - l.Misfit*(1-s)
}

// Left returns the reps left after the first at a share of the day's 1RM.
func (l *Lifter) Left(share float64) float64 {
	most := 1.0
	for most < onerm.MostReps && l.Share(most+0.05) > share {
		most += 0.05
	}
	return most - 1
}

// Call returns what the lifter calls a set of a true RPE.
func (l *Lifter) Call(rpe float64, r *rand.Rand) float64 {
	return Half(rpe + l.CallBias + l.CallSD*r.NormFloat64())
}

// Train logs weeks of two sessions: five warm-ups, a top single where singles
// is set, and three back-off sets of four, the top ones called.
func (l *Lifter) Train(log *Log, weeks int, singles bool, r *rand.Rand) {
	// The 1RM wanders backwards from now, so that Max is that of the last day.
	max := make([]float64, 2*weeks)
	max[len(max)-1] = l.Max
	for i := len(max) - 2; i >= 0; i-- {
		max[i] = max[i+1] * math.Exp(-l.Growth/2-l.Wander/math.Sqrt2*r.NormFloat64())
	}
	for i, now := range max {
		day := FirstDay + rep.Day(i*7/2)
		today := now * math.Exp(l.DayForm*r.NormFloat64())
		u := l.DaySD * r.NormFloat64()
		speed := func(kg float64) float64 {
			v := l.Speed(kg, now)
			return v + u + l.Noise(v, r)
		}
		for _, share := range []float64{0.3, 0.45, 0.6, 0.7, 0.8} {
			kg := Plates(share * now)
			log.Set(day, kg, rep.WarmUp, Uncalled, speed(kg))
		}
		if singles {
			kg := Plates(now * l.Share(2+1.5*r.Float64()))
			log.Set(day, kg, rep.Top, l.Call(10-l.Left(kg/today), r), speed(kg))
		}
		for range 3 {
			kg := Plates(now * l.Share(6.5+r.Float64()))
			left := math.Min(math.Max(l.Left(kg/today)-3, 0), 5)
			first := speed(kg)
			slow := math.Max(l.At1RM-l.PerRPE*left+0.03*r.NormFloat64(), 0.04)
			log.Set(day, kg, rep.BackOff, l.Call(10-left, r), first, first*0.7+slow*0.3, first*0.35+slow*0.65, slow)
		}
	}
}
