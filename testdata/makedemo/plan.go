package main

import (
	"math"
	"time"
)

// set is one set as it was truly done.
type set struct {
	lifter *lifter
	*ability
	date   time.Time
	start  time.Time // of its first rep
	kg     float64
	lb     float64 // as the plates say; 0: kg plates
	number int     // in session and lift
	role   role
	spent  int // sets of work done before it, of this lift
	to     destination
	reps   []move // false ones included, in the order done
	rpe    float64

	at place // of its first kept rep
}

type role uint8

const (
	warmUp role = iota
	top
	backOff
	test // a further single
)

// move is one movement of the bar that an encoder counts as a rep.
type move struct {
	what   string // true rep, grinder, missed rep, or a false one
	start  time.Time
	v      float64 // m/s, mean
	peak   float64 // m/s
	travel float64 // m
}

func (m *move) seconds() float64 { return m.travel / m.v }

// rep says whether the movement is a rep that was done or tried.
func (m *move) rep() bool { return m.what == trueRep || m.what == grinder || m.what == missedRep }

const (
	trueRep   = "true rep"
	grinder   = "grinder"
	missedRep = "missed rep"
)

// done returns the number of reps that were made.
func (s *set) done() int {
	n := 0
	for i := range s.reps {
		if s.reps[i].rep() && s.reps[i].what != missedRep {
			n++
		}
	}
	return n
}

// goal is a set as it was planned.
type goal struct {
	kg   float64
	reps int
	role role
}

// season returns all sets of the club by lifter and date.
func season() []*set {
	var sets []*set
	for _, l := range club {
		for w := l.first; w <= l.last; w++ {
			if l == ines && w == volumeWeeks {
				continue // away
			}
			for i, d := range l.days {
				sets = append(sets, session(l, firstDay.AddDate(0, 0, 7*w+d), i)...)
			}
		}
	}
	return sets
}

// session returns the sets of one day: two lifts, one of them heavy.
func session(l *lifter, date time.Time, nth int) []*set {
	const squatAt, benchAt, deadliftAt = 0, 1, 2
	heavy, light := [...]int{squatAt, benchAt, deadliftAt}[nth], [...]int{benchAt, deadliftAt, squatAt}[nth]
	clock := l.start
	if date.Weekday() == time.Saturday {
		clock = map[*lifter]string{ines: "10:10", kaethe: "09:40", tomas: "10:00", ruben: "11:15"}[l]
	}
	at, err := time.Parse("15:04", clock)
	if err != nil {
		panic(err)
	}
	rng := random("session", l.name, date.Format(time.DateOnly))
	now := date.Add(time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute)
	now = now.Add(time.Duration(rng.IntN(400)) * time.Second)
	var sets []*set
	for i, which := range []int{heavy, light} {
		a := l.abilities[which]
		goals := plan(l, a, date, i == 0)
		work := 0
		for k, g := range goals {
			s := &set{lifter: l, ability: a, date: date, start: now, kg: g.kg, number: k + 1, role: g.role, to: whereTo(l, date)}
			if s.to == toGuest {
				s.lb = math.Round(g.kg/poundKg/5) * 5
				s.kg = s.lb * poundKg
			}
			for _, t := range traced {
				if t.lifter == l && t.date.Equal(date) && t.lift == a.lift && g.role == backOff && goals[k-1].role == top {
					s.to = toTrace
				}
			}
			s.spent = work
			if g.role != warmUp {
				work++
			}
			s.perform(g.reps)
			sets = append(sets, s)
			rest := 150 + rng.IntN(90)
			if g.role != warmUp {
				rest += 90
			}
			now = now.Add(time.Duration(rest) * time.Second)
		}
		now = now.Add(6 * time.Minute)
	}
	return sets
}

const poundKg = 0.45359237 // exact (international pound, 1959)

// plan returns the goals of one lift of one day: warm-ups on the lifter's own
// ladder of loads, a top set or single, back-offs.
func plan(l *lifter, a *ability, date time.Time, heavy bool) []goal {
	w := weekOf(date)
	expected := a.max + a.gain*float64(w-l.first)
	var reps, offReps, offs int
	var rpe, share float64
	switch {
	case l == ines && a.lift == squat && date.Equal(testDay):
		return append(ladder(a, 142.5), goal{142.5, 1, top})
	case l == ruben:
		reps, rpe, offReps, offs, share = 5, 7+0.3*float64(w-l.first), 5, 2, 0.95
	case w < volumeWeeks:
		reps = [...]int{6, 6, 5, 5, 4, 4, 3, 2}[w]
		rpe = [...]float64{7, 7.5, 7.5, 8, 8, 8.5, 8.5, 8.5}[w]
		offReps, offs, share = reps, 3, 0.95
	default:
		reps = 1
		rpe = [...]float64{7.5, 8, 8, 8.5, 9, 9.5}[w-volumeWeeks]
		offReps, offs, share = [...]int{3, 3, 3, 3, 2, 2}[w-volumeWeeks], 3, 0.89
	}
	if !heavy {
		reps, offReps, offs, rpe = reps+2, offReps+2, 2, rpe-1
	}
	load := plates(expected * (1 - perRep*(float64(reps-1)+10-rpe)))
	goals := ladder(a, load)
	off := plates(load * share)
	for clash(goals, off) {
		off -= 2.5
	}
	goals = append(goals, goal{load, reps, top})
	if heavy && w == weeks-1 && l != ruben {
		goals = append(goals, goal{load + 2.5*math.Ceil(load/100), 1, test})
	}
	for i := range offs {
		g := goal{off, offReps, backOff}
		if heavy && i == offs-1 && allOut(l, w) {
			g.reps = 12 // as many as go
		}
		goals = append(goals, g)
	}
	return goals
}

// allOut reports whether the last back-off of a heavy day goes to failure, or
// nearly: Tomás likes it.
func allOut(l *lifter, week int) bool {
	switch week {
	case 3, 6, 10:
		return l != ruben
	case 1, 5, 9, 11:
		return l == tomas
	}
	return false
}

func plates(kg float64) float64 { return math.Max(20, math.Round(kg/2.5)*2.5) }

// ladder returns the warm-ups to a top load: the same loads all season, so
// that days can be compared, as far as they lie below it.
func ladder(a *ability, load float64) []goal {
	var goals []goal
	for i, share := range []float64{0.3, 0.45, 0.6, 0.7, 0.8, 0.88} {
		kg := math.Max(20, math.Round(a.max*share/5)*5)
		if kg > 0.93*load {
			break
		}
		goals = append(goals, goal{kg, [...]int{5, 4, 3, 2, 1, 1}[i], warmUp})
	}
	return goals
}

func clash(goals []goal, kg float64) bool {
	for _, g := range goals {
		if g.kg == kg {
			return true
		}
	}
	return false
}
