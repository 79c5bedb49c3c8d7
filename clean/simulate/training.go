package simulate

import (
	"math"

	"repsift/ingest/rep"
)

// doneSet is a set as it was done.
type doneSet struct {
	id      int32
	skill   *skill
	day     rep.Day
	week    int
	load    float64
	at      float64 // s after midnight
	reps    []doneRep
	rpe     float64
	working bool
}

// doneRep is a rep as it was done.
type doneRep struct {
	id          int32
	what        What
	speed, peak float64 // m/s
	travel, dur float64 // m, s
	start       float64 // of the concentric, s after midnight
}

var firstDay = rep.DayOf(2026, 1, 5)

// train draws what was lifted in a season.
func (w *world) train(l *lifter) []doneSet {
	var sets []doneSet
	weeks := w.whole(4, 14)
	for week := range weeks {
		for session, lifts := range [][]int{{0, 1}, {2, 1}, {0, 2}} {
			at := w.between(16, 20) * 3600
			for _, k := range lifts {
				day := firstDay + rep.Day(7*week+2*session)
				sets = append(sets, w.trainLift(l, &l.lifts[k], day, week, &at)...)
				at += w.between(300, 900)
			}
		}
	}
	return sets
}

// trainLift draws one lift of a session; at is the clock.
func (w *world) trainLift(l *lifter, s *skill, day rep.Day, week int, at *float64) []doneSet {
	today := w.normal(0, s.daily)
	plate := func(share float64) float64 { return max(20, 2.5*math.Round(share*s.max/2.5)) }
	type planned struct {
		load    float64
		reps    int
		working bool
	}
	var plan []planned
	reps := pick(w, 1, 1, 2, 3, 4, 5, 6, 8)
	left := pick(w, 0.3, 1, 1, 2, 2, 3, 4) // reps in reserve
	if w.chance(l.grinding) {
		left = 0
	}
	top := plate(min(1.0, 1/(1+(float64(reps)+left-1)/30)) * w.between(0.98, 1.005))
	warm := []float64{0, 0.4, 0.55, 0.7, 0.8, 0.9}[:w.whole(3, 6)]
	for i, share := range warm {
		load := plate(share * top / s.max)
		if load < top && (len(plan) == 0 || load > plan[len(plan)-1].load) {
			plan = append(plan, planned{load, []int{w.whole(5, 10), 5, 4, 3, 2, 1}[i], false})
		}
	}
	plan = append(plan, planned{top, reps, true})
	switch w.IntN(3) {
	case 0: // straight sets
		for range w.whole(1, 3) {
			plan = append(plan, planned{top, reps, true})
		}
	case 1: // back-offs
		load := plate(w.between(0.8, 0.92) * top / s.max)
		for range w.whole(2, 4) {
			plan = append(plan, planned{load, max(2, reps), true})
		}
	}
	travel := s.travel
	if s.drift != 0 && week >= s.driftWeek {
		travel *= 1 + s.drift
	}
	var sets []doneSet
	for _, p := range plan {
		w.sets++
		set := doneSet{id: w.sets, skill: s, day: day, week: week, load: p.load, at: *at, working: p.working}
		limit := s.limit(p.load)
		n := min(p.reps, int(math.Floor(limit+0.3)))
		miss := p.working && p.load > 0.8*s.max && (float64(p.reps) > limit || w.chance(l.missing))
		clock := *at + w.between(5, 15)
		paused := w.chance(s.paused)
		for k := range max(1, n) {
			r := w.rep(s, p.load, today, travel, float64(k)/max(limit-1, 1), paused)
			if miss && k == max(1, n)-1 {
				w.fail(s, &r)
			}
			clock += w.between(0.7, 1.6) // down
			r.start = clock
			clock += r.dur + w.between(0.5, 2.5)
			if p.load > 0.85*s.max {
				clock += w.between(0, 5) // breaths
			}
			set.reps = append(set.reps, r)
		}
		set.rpe = max(5, min(10, 0.5*math.Round(2*(10-(limit-float64(n)))+w.between(-0.6, 0.6))))
		if miss {
			set.rpe = 10
		}
		*at = clock + w.between(90, 300)
		sets = append(sets, set)
	}
	return sets
}

// rep draws one rep; spent is how much of the reps possible lie behind, 0 to 1.
func (w *world) rep(s *skill, load, today, travel, spent float64, paused bool) doneRep {
	w.events++
	fresh := s.fresh(load) + today
	v := fresh - (fresh-s.slowest)*math.Pow(min(spent, 1), 1.3) + w.normal(0, s.perRep)
	r := doneRep{id: w.events}
	if paused {
		r.what = Paused
		v -= s.pause
	}
	r.speed = max(v, 0.045)
	if r.speed < 0.15 {
		r.what = Grinder
	}
	r.travel = travel * w.normal(1, s.scatter)
	r.dur = r.travel / r.speed
	// A light rep has one smooth peak; a grinder peaks early and crawls.
	r.peak = r.speed*w.between(1.35, 1.8) + w.between(0.02, 0.2)
	return r
}

// fail turns a rep into a missed one: it stops short after a struggle.
func (w *world) fail(s *skill, r *doneRep) {
	r.what = Missed
	r.travel *= w.between(0.25, 0.85)
	r.speed = max(0.03, min(r.speed, s.slowest)*w.between(0.4, 0.95))
	r.speed = min(r.speed, r.travel/w.between(0.8, 1.5)) // a struggle lasts
	r.dur = r.travel / r.speed
	r.peak = r.speed*w.between(1.5, 3) + w.between(0.02, 0.1)
}
