package simulate

import "repsift/ingest/rep"

// lifter is one lifter's constants.
type lifter struct {
	name  string
	lifts [3]skill
	// habits
	missing  float64 // chance that a top set ends in a miss
	grinding float64 // chance that a top set goes to the limit
}

// skill is one lift of a lifter.
type skill struct {
	lift      string
	variant   string
	max       float64 // 1RM, kg
	slowest   float64 // mean speed at 1RM, m/s
	free      float64 // mean speed without load, by the lifter's line
	travel    float64 // m
	scatter   float64 // of travel, as a share
	daily     float64 // sd of speed from day to day
	perRep    float64 // sd of speed from rep to rep
	paused    float64 // share of reps that are paused
	pause     float64 // how much slower a paused rep is, m/s
	tether    string
	bar       string
	drift     float64 // change of travel from some week on (a new groove), as a share
	driftWeek int
}

// lifter draws a lifter.
func (w *world) lifter() lifter {
	strength := w.between(0.6, 1.6)
	l := lifter{name: pick(w, "Vera Holm", "Tomas Brandt", "Ines Duarte", "Jon Arden", "Mika Saar"),
		missing: w.between(0, 0.12), grinding: w.between(0, 0.35)}
	for i, name := range [3]string{rep.Squat, rep.BenchPress, rep.Deadlift} {
		s := skill{lift: name, scatter: w.between(0.012, 0.04), daily: w.between(0.015, 0.05), perRep: w.between(0.01, 0.025),
			bar: rep.StiffBar, tether: pick(w, rep.TetherInsideSleeve, rep.TetherCentre)}
		// Speed at 1RM: Helms 2017, competitive powerlifters.
		switch name {
		case rep.Squat:
			s.max, s.slowest, s.free, s.travel = 150*strength, w.normal(0.23, 0.05), w.normal(1.25, 0.12), w.between(0.45, 0.75)
			s.paused, s.pause = pick(w, 0, 0, 0.15), 0.05
		case rep.BenchPress:
			s.max, s.slowest, s.free, s.travel = 100*strength, w.normal(0.10, 0.03), w.normal(1.30, 0.15), w.between(0.20, 0.45)
			if w.chance(0.3) {
				s.travel = w.between(0.13, 0.20) // a high arch
			}
			s.paused, s.pause = pick(w, 0, 0.2, 1), 0.06
		case rep.Deadlift:
			s.max, s.slowest, s.free, s.travel = 185*strength, w.normal(0.14, 0.04), w.normal(1.05, 0.12), w.between(0.40, 0.62)
			s.variant = pick(w, "", "", "sumo")
			s.paused, s.pause = pick(w, 0, 0, 0.1), 0.06
			s.bar = pick(w, rep.StiffBar, rep.DeadliftBar)
		}
		s.slowest = max(s.slowest, 0.05)
		if w.chance(0.15) {
			s.drift, s.driftWeek = pick(w, -0.22, -0.12, 0.12, 0.2), w.whole(3, 8)
		}
		l.lifts[i] = s
	}
	return l
}

// fresh returns the speed of a first rep at a load on an average day.
func (s *skill) fresh(load float64) float64 {
	return s.free + (s.slowest-s.free)*load/s.max
}

// limit returns how many reps are possible at a load (Epley 1985, turned
// round: r = 30·(1RM/w − 1); one at the maximum).
func (s *skill) limit(load float64) float64 {
	return max(1, 1+30*(s.max/load-1))
}
