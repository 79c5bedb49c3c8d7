package elsewhere

import (
	"math"

	"repsift/clean/simulate"
	"repsift/ingest/rep"
)

// skill is one lift of a lifter.
type skill struct {
	lift, variant string
	bar, tether   string
	max           float64 // 1RM, kg
	slowest, free float64 // mean speed at 1RM and without load, m/s
	bend          float64 // how far the line of load and speed is bent
	travel        float64 // m
	scatter       float64 // of travel, as a share
	perRep, daily float64 // sd of speed, m/s
	racked        bool    // taken out of a rack
	dropped       bool    // let down to the floor

	change  float64 // travel from some week on, as a share; 0: none
	from    int
	partial float64 // share of days of a partial lift under the same name
}

// lifter is one lifter.
type lifter struct {
	name                    string
	skills                  []skill
	failing, to10           float64 // chances that a top set is failed, or goes to the limit
	weeks, perWeek          int
	back                    int     // weeks of comeback at light loads; 0: none
	tempo, cluster, pausing float64 // share of days
}

func (w *world) lifter() lifter {
	// A beginner, a light woman, a club lifter, a very strong one.
	strength := pick(w, w.between(0.25, 0.5), w.between(0.35, 0.7), w.between(0.7, 1.3), w.between(1.3, 2.2))
	green := strength < 0.5
	l := lifter{name: pick(w, "Ada Quill", "Rune Falk", "Sol Marin", "Odd Berge"), failing: w.between(0, 0.1), to10: w.between(0, 0.3),
		weeks: w.whole(5, 16), tempo: pick(w, 0, 0, 0.2), cluster: pick(w, 0, 0, 0.15), pausing: pick(w, 0, 0, 0.3), perWeek: w.whole(2, 4)}
	if w.chance(0.2) {
		l.back = w.whole(2, 4)
	}
	add := func(s skill, base float64) {
		s.max = base * strength * w.between(0.85, 1.15)
		s.scatter, s.perRep, s.daily = w.between(0.01, 0.035), w.between(0.012, 0.03), w.between(0.02, 0.05)
		if green {
			s.scatter, s.perRep = w.between(0.03, 0.06), w.between(0.025, 0.045)
		}
		s.bend = w.between(-0.1, 0.15)
		s.slowest = max(s.slowest, 0.05)
		s.bar, s.tether = rep.StiffBar, pick(w, "", rep.TetherInsideSleeve, rep.TetherSleeveEnd)
		if w.chance(0.2) {
			s.change, s.from = pick(w, -0.3, -0.2, -0.12, 0.1, 0.18, 0.28), w.whole(2, 8)
			s.change = max(s.change, 0.13/s.travel-1) // no bench is shorter
		}
		if s.travel > 0.25 {
			s.partial = pick(w, 0, 0, 0, 0.15)
		}
		l.skills = append(l.skills, s)
	}
	add(skill{lift: rep.Squat, slowest: w.normal(0.27, 0.05), free: w.normal(1.2, 0.15), travel: w.between(0.38, 0.8), racked: true}, 150)
	bench := w.between(0.22, 0.48)
	if w.chance(0.4) {
		bench = w.between(0.13, 0.2)
	}
	add(skill{lift: rep.BenchPress, slowest: w.normal(0.14, 0.04), free: w.normal(1.2, 0.2), travel: bench, racked: true}, 100)
	add(skill{lift: rep.Deadlift, variant: pick(w, "", "", "sumo"), slowest: w.normal(0.18, 0.05), free: w.normal(1.0, 0.15),
		travel: w.between(0.32, 0.65), dropped: w.chance(0.6)}, 180)
	if w.chance(0.5) {
		add(skill{lift: "overhead press", slowest: w.normal(0.2, 0.04), free: w.normal(1.3, 0.2), travel: w.between(0.45, 0.65), racked: true}, 60)
	}
	if w.chance(0.4) {
		add(skill{lift: "row", slowest: w.normal(0.45, 0.06), free: w.normal(1.4, 0.15), travel: w.between(0.3, 0.5)}, 90)
	}
	if w.chance(0.3) {
		add(skill{lift: "power clean", slowest: w.normal(1.0, 0.1), free: w.normal(2.1, 0.15), travel: w.between(0.8, 1.15), dropped: true}, 90)
	}
	return l
}

// doneSet is a set as it was done.
type doneSet struct {
	id    int32
	skill *skill
	day   rep.Day
	load  float64
	reps  []doneRep
	rpe   float64
	warm  bool
}

// doneRep is a rep as it was done.
type doneRep struct {
	id          int32
	what        simulate.What
	speed, peak float64
	travel, dur float64
	start       float64 // of the concentric, s after midnight
}

var firstDay = rep.DayOf(2025, 9, 1)

// train draws what was lifted in a season.
func (w *world) train(l *lifter) []doneSet {
	var sets []doneSet
	for week := range l.weeks {
		for session := range l.perWeek {
			day := firstDay + rep.Day(7*week+[]int{0, 2, 4, 5}[session])
			at := w.between(6, 20) * 3600
			for range w.whole(1, 3) {
				s := &l.skills[w.IntN(len(l.skills))]
				if len(sets) > 0 && sets[len(sets)-1].day == day && sets[len(sets)-1].skill == s {
					continue
				}
				sets = append(sets, w.trainLift(l, s, week, day, &at)...)
				at += w.between(200, 1200)
			}
		}
	}
	return sets
}

// plan is one set as intended.
type plan struct {
	load float64
	reps int
	warm bool
}

func (w *world) plan(l *lifter, s *skill, week int) []plan {
	step := pick(w, 2.5, 2.5, 5, 1)
	plate := func(kg float64) float64 { return max(15, step*math.Round(kg/step)) }
	reps := pick(w, 1, 1, 2, 3, 3, 5, 5, 6, 8, 10)
	left := pick(w, 0.5, 1, 2, 2, 3, 4)
	if w.chance(l.to10) {
		left = 0
	}
	share := 1 / (1 + (float64(reps)+left-1)/w.between(28, 34))
	if week < l.back {
		share *= 0.4 + 0.5*float64(week)/float64(l.back)
	}
	top := plate(share * s.max)
	var out []plan
	for at, n := plate(0.25*s.max), 8; at < 0.95*top; at, n = plate(at+w.between(0.15, 0.3)*s.max), max(1, n-w.whole(1, 3)) {
		out = append(out, plan{at, n, true})
		if w.chance(0.15) {
			out = append(out, plan{at, n, true}) // once more
		}
	}
	out = append(out, plan{top, reps, false})
	switch w.IntN(5) {
	case 0: // 5 × 5
		for range w.whole(2, 5) {
			out = append(out, plan{top, reps, false})
		}
	case 1: // back-offs
		for range w.whole(1, 4) {
			out = append(out, plan{plate(top * 0.88), reps + 1, false})
		}
	case 2: // a ramp of singles, then one lighter single
		out = append(out, plan{plate(top * 1.03), 1, false}, plan{plate(top * 0.92), 1, false})
	case 3: // a wave
		for range 2 {
			out = append(out, plan{plate(top * 0.93), reps + 1, false}, plan{top, reps, false})
		}
	}
	return out
}

func (w *world) trainLift(l *lifter, s *skill, week int, day rep.Day, at *float64) []doneSet {
	today := w.normal(0, s.daily)
	travel := s.travel
	if s.change != 0 && week >= s.from {
		travel *= 1 + s.change
	}
	if w.chance(s.partial) {
		travel *= w.between(0.5, 0.75)
	}
	slower := 1.0
	if w.chance(l.tempo) {
		slower = w.between(0.5, 0.75) // pressed slowly on purpose
	}
	cluster, pausing := w.chance(l.cluster), w.chance(l.pausing)
	var sets []doneSet
	for _, p := range w.plan(l, s, week) {
		w.sets++
		set := doneSet{id: w.sets, skill: s, day: day, load: p.load, warm: p.warm}
		limit := max(1, 1+31*(s.max/p.load-1)+w.normal(0, 0.4))
		n := max(1, min(p.reps, int(limit)))
		fails := !p.warm && p.load > 0.75*s.max && (float64(p.reps) > limit || w.chance(l.failing))
		clock := *at + w.between(4, 20)
		for k := range n {
			fresh := s.speed(p.load) + today
			spent := min(1, float64(k)/max(1, limit-1))
			r := doneRep{id: w.event(), what: simulate.TrueRep, travel: travel * w.normal(1, s.scatter)}
			v := fresh - (fresh-s.slowest)*spent*math.Sqrt(spent) + w.normal(0, s.perRep)
			if slower < 1 && p.load < 0.8*s.max {
				v *= slower
			}
			if pausing {
				r.what = simulate.Paused
				v -= 0.04
			}
			r.speed = max(v, 0.04)
			if r.speed < 0.15 {
				r.what = simulate.Grinder
			}
			shape := w.between(1.3, 1.75) + max(0, 0.6*(0.4-r.speed))
			r.peak = r.speed * shape
			if fails && k == n-1 {
				r.what = simulate.Missed
				r.travel *= w.between(0.2, 0.9)
				r.speed = min(0.8*s.slowest, r.travel/w.between(0.8, 4))
				r.peak = r.speed * w.between(1.5, 3.5)
			}
			r.dur = r.travel / r.speed
			clock += w.between(0.6, 2.0)
			if pausing {
				clock += w.between(0.5, 2)
			}
			r.start = clock
			clock += r.dur + w.between(0.2, 1.5)
			switch {
			case cluster:
				clock += w.between(12, 28)
			case p.load > 0.8*s.max:
				clock += w.skewed(0, 9)
			}
			set.reps = append(set.reps, r)
		}
		set.rpe = max(5, min(10, 0.5*math.Round(2*(10-(limit-float64(n))))))
		if fails {
			set.rpe = 10
		}
		*at = clock + w.between(70, 330)
		sets = append(sets, set)
	}
	return sets
}

func (w *world) event() int32 {
	w.events++
	return w.events
}

// speed returns the speed of a first rep at a load on an average day.
func (s *skill) speed(load float64) float64 {
	x := load / s.max
	return s.free + (s.slowest-s.free)*(x+s.bend*x*(1-x))
}
