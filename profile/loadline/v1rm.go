package loadline

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// The mean concentric velocity at 1RM of powerlifters, m/s, mean and SD of
// fifteen lifters: Helms et al. 2017, J Strength Cond Res 31:292–297. Squats
// of strength-trained men agree: 0.24 ± 0.06 (Banyard et al. 2017, J Strength
// Cond Res 31:1897–1904).
func published1RMVelocity(lift string) (mean, sd float64, ok bool) {
	switch lift {
	case rep.Squat:
		return 0.23, 0.05, true
	case rep.BenchPress:
		return 0.10, 0.04, true
	case rep.Deadlift:
		return 0.14, 0.05, true
	}
	return 0, 0, false
}

// noise1RMVelocity is how much the velocity of one maximal single differs from
// the lifter's own mean, m/s: 0.05 in the squat (Banyard 2017), 0.03 in the
// deadlift (Ruf et al. 2018, J Strength Cond Res 32:681–689).
const noise1RMVelocity = 0.04

// least1RMVelocity keeps estimates above standstill, m/s.
const least1RMVelocity = 0.03

// V1RM is the speed of the fastest rep at 1RM.
type V1RM struct {
	Known    bool
	Mean, SD float64
	Own      int    // singles and maxima of the lifter's own behind it
	From     string // in words
}

// ExpectedV1RM is the velocity at 1RM as far as it is known without the
// line: the speed of declared maxima that were measured, shrunk to the
// published mean of the lift by how few they are.
func ExpectedV1RM(lift string, done []sets.Set, maxima []sets.Maximum) V1RM {
	var v V1RM
	var own []float64
	for i := range done {
		s := &done[i]
		if len(s.Speeds) == 1 && s.Single() && declaredOn(maxima, s.Day, s.Load) {
			own = append(own, s.Speeds[0])
		}
	}
	if mean, sd, ok := published1RMVelocity(lift); ok {
		v = V1RM{Known: true, Mean: mean, SD: sd}
	}
	for _, x := range own {
		v.add(x, noise1RMVelocity)
	}
	v.Own = len(own)
	v.say(lift)
	return v
}

// add shrinks the velocity to another account of it, by their precisions.
func (v *V1RM) add(mean, sd float64) {
	if !v.Known {
		*v = V1RM{Known: true, Mean: mean, SD: sd, Own: v.Own}
	} else {
		a, b := 1/(v.SD*v.SD), 1/(sd*sd)
		v.Mean, v.SD = (v.Mean*a+mean*b)/(a+b), 1/math.Sqrt(a+b)
	}
	v.Mean = math.Max(v.Mean, least1RMVelocity)
}

// Learn adds the lifter's own near-maximal singles: the height of their line at
// the 1RM that n singles and maxima claim, known up to a share cv. Singles
// called 9 are not taken at their face: half of such calls have more in
// reserve, and their speeds would put the velocity at 1RM 0.05 m/s too high
// (calibrate e1rm).
func (v *V1RM) Learn(line *Line, lift string, kg, cv float64, n int) {
	if n == 0 || line == nil {
		return
	}
	if height, sd := line.Height(kg); height > 0 {
		v.add(height, math.Hypot(sd, line.Slope().Mean()*kg*cv))
		v.Own = max(v.Own, n)
		v.say(lift)
	}
}

func (v *V1RM) say(lift string) {
	mean, _, published := published1RMVelocity(lift)
	switch {
	case !v.Known:
		v.From = ""
	case v.Own == 0:
		v.From = fmt.Sprintf("published mean %.2f m/s (Helms 2017): no top singles or maxima of one's own yet", mean)
	case published:
		v.From = fmt.Sprintf("own top singles and maxima, shrunk to the published mean %.2f m/s (Helms 2017)", mean)
	default:
		v.From = "own top singles and maxima"
	}
}

// estimate says the velocity at 1RM; n counts own singles and maxima.
func (v *V1RM) estimate() number.Estimate {
	const of = "top singles and maxima"
	if !v.Known {
		return number.NotYet(1, v.Own, of)
	}
	return number.Known(v.Mean, math.Max(v.Mean-1.96*v.SD, 0.01), v.Mean+1.96*v.SD, v.Own, of)
}

// declaredOn reports whether a declared maximum is this load on this day.
func declaredOn(maxima []sets.Maximum, day rep.Day, kg float64) bool {
	for _, m := range maxima {
		if m.Day == day && math.Abs(m.Kg-kg) < 0.3 {
			return true
		}
	}
	return false
}
