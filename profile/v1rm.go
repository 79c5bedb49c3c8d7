package profile

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
	"repsift/profile/mixed"
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

// expect1RMVelocity sets the velocity at 1RM as far as it is known without the
// line: the speed of declared maxima that were measured, shrunk to the
// published mean of the lift by how few they are.
func (l *loadVelocity) expect1RMVelocity(lift string, sets []set, maxima []claim) {
	var sum, precision float64
	for i := range sets {
		s := &sets[i]
		if len(s.speeds) == 1 && s.single() && declaredOn(maxima, s.day, s.load) {
			l.v1N++
			sum += s.speeds[0] / (noise1RMVelocity * noise1RMVelocity)
			precision += 1 / (noise1RMVelocity * noise1RMVelocity)
		}
	}
	mean, sd, published := published1RMVelocity(lift)
	if published {
		sum += mean / (sd * sd)
		precision += 1 / (sd * sd)
	}
	if precision == 0 {
		return
	}
	l.v1, l.v1SD, l.v1OK = math.Max(sum/precision, least1RMVelocity), 1/math.Sqrt(precision), true
	l.v1From = sayV1RM(l.v1N, mean, published)
}

// least1RMVelocity keeps estimates above standstill, m/s.
const least1RMVelocity = 0.03

// learn1RMVelocity adds the lifter's own near-maximal singles: the height of
// their line at the 1RM that singles and maxima claim. A single called 9 is
// not taken at its face: half of such calls are singles with more in reserve,
// and their speeds would put the velocity at 1RM 0.05 m/s too high.
func (l *loadVelocity) learn1RMVelocity(lift string, kg, cv float64, n int) {
	if n == 0 || l.fit == nil {
		return
	}
	at := l.fit.At(l.columns(kg), mixed.OfLine)
	v, sd := at.Mean(), math.Hypot(at.SD(), l.fit.Coefficient(1).Mean()*kg*cv)
	if !(v > 0) {
		return
	}
	mean, _, published := published1RMVelocity(lift)
	precision := 1 / (sd * sd)
	sum := v * precision
	if l.v1OK {
		precision += 1 / (l.v1SD * l.v1SD)
		sum += l.v1 / (l.v1SD * l.v1SD)
	}
	l.v1, l.v1SD, l.v1OK = math.Max(sum/precision, least1RMVelocity), 1/math.Sqrt(precision), true
	l.v1N = max(l.v1N, n)
	l.v1From = sayV1RM(l.v1N, mean, published)
}

func sayV1RM(own int, mean float64, published bool) string {
	switch {
	case own == 0:
		return fmt.Sprintf("published mean %.2f m/s (Helms 2017): no top singles or maxima of one's own yet", mean)
	case published:
		return fmt.Sprintf("own top singles and maxima, shrunk to the published mean %.2f m/s (Helms 2017)", mean)
	}
	return "own top singles and maxima"
}

// v1RM says the velocity at 1RM; n counts own singles.
func (l *loadVelocity) v1RM() Estimate {
	const of = "top singles and maxima"
	if !l.v1OK {
		return notYet(1, l.v1N, of)
	}
	return known(l.v1, math.Max(l.v1-1.96*l.v1SD, 0.01), l.v1+1.96*l.v1SD, l.v1N, of)
}

// declaredOn reports whether a declared maximum is this load on this day.
func declaredOn(maxima []claim, day rep.Day, kg float64) bool {
	for _, m := range maxima {
		if m.day == day && math.Abs(m.kg-kg) < 0.3 {
			return true
		}
	}
	return false
}
