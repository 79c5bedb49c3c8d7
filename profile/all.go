package profile

import (
	"runtime"
	"sync"

	"repsift/clean"
	"repsift/ingest/season"
)

// everyPage are the cautions that hold for all numbers.
var everyPage = []string{
	"These are estimates from past sets, not prescriptions.",
	"Heavy lifting needs safeties or spotters.",
	"Pain or illness is for a licensed professional.",
	"The rules of your gym, federation and country come first.",
}

// All returns the numbers of every lifter. s may be nil. The same input gives
// the same result, whatever the machine.
func All(res *clean.Result, s *season.Season) *Profiles {
	hs := histories(res)
	lifts := make([]Lift, len(hs))
	// Lifts do not depend on one another: as many at once as there are cores.
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), max(len(hs), 1)) {
		wg.Go(func() {
			for i := range next {
				lifts[i] = profileLift(&hs[i], s)
			}
		})
	}
	for i := range hs {
		next <- i
	}
	close(next)
	wg.Wait()

	p := &Profiles{Lifters: []Lifter{}, Agreement: []Agreement{}, Cautions: everyPage}
	for i := 0; i < len(hs); {
		j := i
		for j < len(hs) && hs[j].lifter == hs[i].lifter {
			j++
		}
		l := Lifter{Name: hs[i].lifter, Lifts: lifts[i:j:j]}
		l.Span, l.Sessions = sessions(hs[i:j])
		p.Lifters = append(p.Lifters, l)
		i = j
	}
	return p
}

// sessions returns the days of all lifts of a lifter.
func sessions(hs []history) (Span, int) {
	days := map[int32]bool{}
	var s Span
	for _, h := range hs {
		for i := range h.sets {
			d := h.sets[i].day
			if len(days) == 0 || d < s.From {
				s.From = d
			}
			if len(days) == 0 || d > s.To {
				s.To = d
			}
			days[int32(d)] = true
		}
	}
	s.Days = len(days)
	return s, len(days)
}

// profileLift answers every question about one lifter's one lift.
func profileLift(h *history, s *season.Season) Lift {
	l := Lift{Lift: h.lift, Sets: len(h.sets), Span: span(h.sets), Splits: []Split{}, Cautions: []string{}}
	for i := range h.sets {
		l.Reps += h.sets[i].reps + h.sets[i].missed
	}
	gs := groups(h.sets)
	variant := mainVariant(h.sets, gs)
	if len(gs) > 0 {
		l.Main = gs[0]
	} else {
		l.Main.Variant = variant
	}
	ofVariant := where(h.sets, func(s *set) bool { return s.group.Variant == variant })
	inMain := where(h.sets, func(s *set) bool { return s.timed() && s.group == l.Main })
	declared := maxima(s, h.lifter, h.lift, variant)

	line := newLoadVelocity(inMain)
	line.v1 = expected1RMVelocity(h.lift, inMain, declared)
	e := newE1RM(ofVariant, declared)
	// The line speaks of the 1RM by what is known without the singles; then
	// the singles tell the velocity at 1RM. The other way round they would
	// count twice.
	e.addLine(line)
	l.E1RMNow, l.E1RMFrom = e.now()
	kg, cv, n := e.nearMax()
	line.v1.learn(line.line, h.lift, kg, cv, n)
	e.addLineDays(line)
	l.E1RM, l.E1RMOn, l.E1RMNotes = e.all(), e.end, e.cautions(l.E1RMNow, l.E1RMFrom)

	l.LoadVelocity = line.profile(l.E1RMNow)
	recent := since(inMain, l.To, effortDays)
	l.Effort = effortChart(recent, h.lift, l.LoadVelocity.V1RM)

	for _, g := range gs[min(1, len(gs)):] {
		l.Splits = append(l.Splits, split(h, g, inMain))
	}
	return l
}
