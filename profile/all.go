package profile

import (
	"fmt"
	"runtime"
	"slices"
	"sync"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/agree"
	"repsift/profile/block"
	"repsift/profile/e1rm"
	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/loss"
	"repsift/profile/progress"
	"repsift/profile/ready"
	"repsift/profile/sets"
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
	ls := sets.Lifts(res)
	lifts := make([]Lift, len(ls))
	blocks := make([][]block.Stretch, len(ls))
	p := &Profiles{Lifters: []Lifter{}, Agreement: agree.All(agree.Pairs(res), res.Devices), Cautions: everyPage}
	for i := 0; i < len(ls); {
		var days []rep.Day
		j := i
		for ; j < len(ls) && ls[j].Lifter == ls[i].Lifter; j++ {
			days = append(days, ls[j].Days()...)
		}
		slices.Sort(days)
		days = slices.Compact(days)
		l := Lifter{Name: ls[i].Lifter, Sessions: len(days), Lifts: lifts[i:j:j]}
		for _, d := range days {
			l.Add(d)
		}
		p.Lifters = append(p.Lifters, l)
		st := block.Stretches(s, days)
		for ; i < j; i++ {
			blocks[i] = st
		}
	}
	// Lifts do not depend on one another: as many at once as there are cores.
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), max(len(ls), 1)) {
		wg.Go(func() {
			for i := range next {
				h := ls[i].History()
				lifts[i] = profileLift(&h, s, blocks[i])
			}
		})
	}
	for i := range ls {
		next <- i
	}
	close(next)
	wg.Wait()
	for i := range p.Lifters {
		// Nothing is left of a lift whose every load is in doubt.
		p.Lifters[i].Lifts = slices.DeleteFunc(p.Lifters[i].Lifts, func(l Lift) bool { return l.Sets == 0 })
	}
	return p
}

// profileLift answers every question about one lifter's one lift.
func profileLift(h *sets.History, s *season.Season, blocks []block.Stretch) Lift {
	l := Lift{Lift: h.Lift, Sets: len(h.Sets), Span: sets.SpanOf(h.Sets), Splits: []Split{}, Cautions: []string{}}
	for i := range h.Sets {
		l.Reps += h.Sets[i].Reps + h.Sets[i].Missed
	}
	gs := sets.Groups(h.Sets)
	variant := sets.MainVariant(h.Sets, gs)
	if len(gs) > 0 {
		l.Main = gs[0]
	} else {
		l.Main.Variant = variant
	}
	ofVariant := sets.Where(h.Sets, func(s *sets.Set) bool { return s.Group.Variant == variant })
	inMain := sets.Where(h.Sets, func(s *sets.Set) bool { return s.Timed() && s.Group == l.Main })
	declared := e1rm.Maxima(s, h.Lifter, h.Lift, variant)

	line := loadline.NewChart(inMain)
	line.V1 = loadline.ExpectedV1RM(h.Lift, inMain, declared)
	e := e1rm.Gather(ofVariant, declared)
	// The line speaks of the 1RM by what is known without the singles; then
	// the singles tell the velocity at 1RM. The other way round they would
	// count twice.
	e.AddLine(line)
	l.E1RMNow, l.E1RMFrom = e.Now()
	kg, cv, n := e.NearMax()
	line.V1.Learn(line.Line, h.Lift, kg, cv, n)
	e.AddLineDays(line)
	l.E1RM, l.E1RMOn, l.E1RMNotes = e.History(), e.End, e.Cautions(l.E1RMNow, l.E1RMFrom)

	l.LoadVelocity = line.Profile(l.E1RMNow)
	recent := sets.Since(inMain, l.To, sets.EffortDays)
	slowest, last := effort.NewSetLine(recent, effort.SlowestOf), effort.NewSetLine(recent, effort.LastOf)
	l.Effort = effort.NewChart(recent, slowest, last, h.Lift, l.LoadVelocity.V1RM)

	points := sets.Points(inMain)
	l.Readiness = ready.Days(inMain)
	l.ReadinessNow = ready.Latest(l.Readiness)
	l.Progress = progress.Speeds(points)
	l.E1RMTrend = progress.OfE1RM(l.E1RM)
	l.PersonalBests = progress.PersonalBests(points, l.To)
	l.VelocityLoss = loss.New(recent, last, l.LoadVelocity.Table)
	view := block.View{Sets: ofVariant, Main: l.Main, Claims: e, Effort: slowest, Now: l.E1RMNow}
	l.Blocks = view.Blocks(blocks)

	l.Cautions = append(l.Cautions, readAs(inMain)...)
	for _, g := range gs[min(1, len(gs)):] {
		l.Splits = append(l.Splits, split(h, g, inMain))
	}
	return l
}

// readAs says which units' speeds stand as the main group's by a correction.
func readAs(own []sets.Set) []string {
	var out []string
	for i := range own {
		c := own[i].ReadAs
		if c.Device == "" {
			continue
		}
		text := fmt.Sprintf("Speeds of the %s count as the %s's by the correction in the season file. How far that may be off is not declared there and counts as nothing.", c.Device, c.As)
		if c.Error > 0 {
			text = fmt.Sprintf("Speeds of the %s count as the %s's by the correction in the season file, which may be off by %.3f m/s (SD): lines, 1RM, readiness and changes between blocks carry that.", c.Device, c.As, c.Error)
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}
