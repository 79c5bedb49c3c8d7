package main

import (
	"math"
	"math/rand/v2"
	"time"
)

// The model of a rep. The fastest rep of a set lies on a line through the
// lifter's speed at 1RM: v = atMax + slope·(1 − load/max of the day). The day's
// max moves around the true one, so that speeds move with an SD of daySD. Speed
// falls towards the speed at 1RM as reps use up what the load allows. RPE is 10
// minus the reps left. Numbers are chosen to look like a season; they are no
// finding.
const (
	daySD  = 0.03  // m/s
	repSD  = 0.02  // m/s, of light reps; slow ones scatter less
	perRep = 0.033 // of the max that one more rep costs
	tired  = 0.01  // of the max that a set of work takes from the next
)

// perform does the set: fills reps and RPE.
func (s *set) perform(reps int) {
	date := s.date.Format(time.DateOnly)
	weeksIn := float64(weekOf(s.date)-s.lifter.first) + float64(s.date.Weekday())/7
	shift := clamp(random("day", s.lifter.name, s.lift, date).NormFloat64(), 2) * daySD
	max := (s.max + s.gain*weeksIn) * (1 + shift/s.slope) * (1 - tired*float64(s.spent))
	rng := random("set", s.lifter.name, s.lift, date, string(rune('0'+s.number)))

	share := s.kg / max
	allowed := 1 + (1-share)/perRep // reps to failure
	if s.role != test {
		reps = int(math.Max(1, math.Min(float64(reps), math.Floor(allowed+0.25))))
	}
	missed := s.role == test && (s.lifter == tomas && s.lift == deadlift || s.lifter == ines && s.lift == benchPress)
	now := s.start
	for i := range reps {
		lost := math.Pow(float64(i)/allowed, 1.4)
		if i == 0 && rng.Float64() < 0.4 {
			lost += 0.02 // the first is often not the fastest
		}
		v := s.atMax + s.slope*(1-share)*(1-lost)
		v += clamp(rng.NormFloat64(), 2.2) * repSD * math.Min(1, math.Max(0.3, v/0.4))
		v = math.Max(v, 0.08+0.01*rng.Float64())
		m := move{what: trueRep, start: now, v: v, travel: s.travel + clamp(rng.NormFloat64(), 2.2)*s.travelSD}
		if v < 0.15 {
			m.what = grinder
		}
		if missed {
			m.what, m.v, m.travel = missedRep, 0.065+0.02*rng.Float64(), s.travel*(0.5+0.15*rng.Float64())
		}
		m.peak = m.v * peakOverMean(rng, m.v)
		s.reps = append(s.reps, m)
		between := 2.4 + s.pause + m.seconds() + 1.2*float64(i)/allowed + 0.4*rng.Float64()
		now = now.Add(time.Duration(between * float64(time.Second)))
	}
	s.rpe = 10 - math.Max(0, allowed-float64(reps))
	switch s.to {
	case toNorth, toSlate, toBlocks:
		s.addFalse(random("false", s.lifter.name, s.lift, date, string(rune('0'+s.number))))
	}
}

// peakOverMean returns the quotient of peak and mean velocity, 1.4 to 2: slow
// reps have their peak before they stick.
func peakOverMean(rng *rand.Rand, v float64) float64 {
	q := 1.6 + 0.08*clamp(rng.NormFloat64(), 2) + 0.8*math.Max(0, 0.3-v)
	return math.Min(2, math.Max(1.4, q))
}

func clamp(x, most float64) float64 { return math.Max(-most, math.Min(most, x)) }

// addFalse puts movements between the reps that a unit counts and nobody
// lifted.
func (s *set) addFalse(rng *rand.Rand) {
	first, last := s.reps[0].start, s.reps[len(s.reps)-1]
	end := last.start.Add(time.Duration(last.seconds() * float64(time.Second)))
	seconds := func(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }
	short := func(what string, start time.Time, lo, hi float64) move {
		m := move{what: what, start: start, v: 0.12 + 0.25*rng.Float64(), travel: lo + (hi-lo)*rng.Float64()}
		m.peak = m.v * (1.45 + 0.5*rng.Float64())
		return m
	}
	deep := s.lifter != ruben // some are so long that only the lifter's own band tells
	switch s.lift {
	case squat:
		if rng.Float64() < 0.07 {
			s.prepend(short("walkout", first.Add(seconds(-4)), 0.02, 0.06))
		}
		if rng.Float64() < 0.08 {
			s.prepend(short("unrack", first.Add(seconds(-9)), 0.03, 0.08))
		}
		if deep && rng.Float64() < 0.012 {
			s.prepend(short("walkout", first.Add(seconds(-12)), 0.19, 0.27))
		}
		if rng.Float64() < 0.06 {
			s.reps = append(s.reps, short("re-rack", end.Add(seconds(5)), 0.02, 0.06))
		}
	case benchPress:
		if rng.Float64() < 0.06 {
			s.prepend(short("unrack", first.Add(seconds(-5)), 0.02, 0.07))
		}
		if rng.Float64() < 0.07 {
			s.reps = append(s.reps, short("re-rack", end.Add(seconds(2)), 0.02, 0.055))
		}
	case deadlift:
		// The bar whips on after the lockout of a rep pulled with speed.
		if i := rng.IntN(len(s.reps)); rng.Float64() < 0.12 {
			m := s.reps[i]
			lo, hi := 0.02, 0.07
			if deep && rng.Float64() < 0.12 {
				lo, hi = 0.14, 0.19
			}
			b := short("bounce", m.start.Add(seconds(m.seconds()+0.15)), lo, hi)
			b.v += 0.15
			b.peak = b.v * 1.6
			s.reps = append(s.reps[:i+1], append([]move{b}, s.reps[i+1:]...)...)
		}
	}
}

func (s *set) prepend(m move) { s.reps = append([]move{m}, s.reps...) }
