package profile

import (
	"runtime"
	"slices"
	"sync"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/ready"
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
	blocks := make([][]stretch, len(hs))
	for i := 0; i < len(hs); {
		j := i
		for j < len(hs) && hs[j].lifter == hs[i].lifter {
			j++
		}
		st := stretches(s, trainingDays(hs[i:j]))
		for ; i < j; i++ {
			blocks[i] = st
		}
	}
	// Lifts do not depend on one another: as many at once as there are cores.
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), max(len(hs), 1)) {
		wg.Go(func() {
			for i := range next {
				lifts[i] = profileLift(&hs[i], s, blocks[i])
			}
		})
	}
	for i := range hs {
		next <- i
	}
	close(next)
	wg.Wait()

	p := &Profiles{Lifters: []Lifter{}, Agreement: agreements(devicePairs(res)), Cautions: everyPage}
	for i := 0; i < len(hs); {
		j := i
		for j < len(hs) && hs[j].lifter == hs[i].lifter {
			j++
		}
		l := Lifter{Name: hs[i].lifter, Lifts: lifts[i:j:j]}
		for _, d := range trainingDays(hs[i:j]) {
			l.add(d)
		}
		l.Sessions = l.Days
		p.Lifters = append(p.Lifters, l)
		i = j
	}
	return p
}

// trainingDays returns the days of all lifts of a lifter, in order.
func trainingDays(hs []history) []rep.Day {
	var days []rep.Day
	for _, h := range hs {
		for i := range h.sets {
			days = append(days, h.sets[i].day)
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// profileLift answers every question about one lifter's one lift.
func profileLift(h *history, s *season.Season, blocks []stretch) Lift {
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
	slowest, last := newEffortLine(recent, slowestOf), newEffortLine(recent, lastOf)
	l.Effort = effortChart(recent, slowest, last, h.lift, l.LoadVelocity.V1RM)

	points := dayPoints(inMain)
	l.Readiness = readiness(inMain)
	l.ReadinessNow = Readiness{Verdict: NotEnough, Usual: notYet(ready.Need, 0, earlierDays), LoadKg: unsaid, Speed: unsaid,
		Slower: unsaid, AsUsual: unsaid, Faster: unsaid, TypicalError: unsaid, MDC: unsaid, SWC: unsaid}
	if n := len(l.Readiness); n > 0 {
		l.ReadinessNow = l.Readiness[n-1]
	}
	l.Progress = progress(points)
	l.E1RMTrend = e1RMTrend(l.E1RM)
	l.PersonalBests = personalBests(points, l.To)
	l.VelocityLoss = velocityLoss(recent, last, l.LoadVelocity.Table)
	view := blockView{sets: ofVariant, main: l.Main, e: e, effort: slowest, now: l.E1RMNow}
	l.Blocks = view.blocks(blocks)

	for _, g := range gs[min(1, len(gs)):] {
		l.Splits = append(l.Splits, split(h, g, inMain))
	}
	return l
}
