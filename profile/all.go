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

// Work is what there is to work out of a result, lifter by lifter: the numbers
// of a federation need not all be held at once.
type Work struct {
	season  *season.Season
	around  Around
	lifters []lifter
}

// Around gathers what profiles say beside the lifters' own numbers, where those
// are worked out some lifters at a time.
type Around struct {
	pairs   []agree.Pair
	devices []season.DeviceCorrection
}

// Add adds what a result says. Results come in the order of their lifters.
func (a *Around) Add(res *clean.Result) {
	a.pairs = append(a.pairs, agree.Pairs(res)...)
	a.devices = res.Devices
}

// Profiles returns profiles without lifters.
func (a *Around) Profiles() *Profiles {
	return &Profiles{Lifters: []Lifter{}, Agreement: agree.All(a.pairs, a.devices), Cautions: everyPage}
}

// lifter is one lifter before anything is worked out.
type lifter struct {
	name  string
	lifts []sets.Lift
}

// Of returns the work of a result; s may be nil.
func Of(res *clean.Result, s *season.Season) *Work {
	w := &Work{season: s}
	w.around.Add(res)
	ls := sets.Lifts(res)
	for i := 0; i < len(ls); {
		j := i
		for j < len(ls) && ls[j].Lifter == ls[i].Lifter {
			j++
		}
		w.lifters = append(w.lifters, lifter{ls[i].Lifter, ls[i:j:j]})
		i = j
	}
	return w
}

// Len returns the number of lifters.
func (w *Work) Len() int { return len(w.lifters) }

// Names returns the names of the lifters of a result who have numbers, in order.
func Names(res *clean.Result) []string {
	var names []string
	for _, l := range sets.Lifts(res) {
		if n := len(names); n == 0 || names[n-1] != l.Lifter {
			names = append(names, l.Lifter)
		}
	}
	return names
}

// Around returns everything but the lifters.
func (w *Work) Around() *Profiles { return w.around.Profiles() }

// rooms are used again from lifter to lifter.
var rooms = sync.Pool{New: func() any { return new(sets.Room) }}

// Lifter returns the numbers of lifter i, by name. The same input gives the
// same result, whatever the machine.
func (w *Work) Lifter(i int) Lifter {
	own := &w.lifters[i]
	var days []rep.Day
	for k := range own.lifts {
		days = append(days, own.lifts[k].Days()...)
	}
	slices.Sort(days)
	days = slices.Compact(days)
	l := Lifter{Name: own.name, Sessions: len(days), SessionDates: days, Lifts: make([]Lift, 0, len(own.lifts))}
	for _, d := range days {
		l.Add(d)
	}
	blocks := block.Stretches(w.season, days)
	room := rooms.Get().(*sets.Room)
	defer rooms.Put(room)
	for k := range own.lifts {
		h := own.lifts[k].History(room)
		// Nothing is left of a lift whose every load is in doubt.
		if lift := profileLift(&h, w.season, blocks); lift.Sets > 0 {
			l.Lifts = append(l.Lifts, lift)
		}
	}
	return l
}

// All returns the numbers of every lifter; s may be nil.
func All(res *clean.Result, s *season.Season) *Profiles {
	w := Of(res, s)
	p := w.Around()
	p.Lifters = make([]Lifter, w.Len())
	// Lifters do not depend on one another: as many at once as there are cores.
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), max(w.Len(), 1)) {
		wg.Go(func() {
			for i := range next {
				p.Lifters[i] = w.Lifter(i)
			}
		})
	}
	for i := range w.Len() {
		next <- i
	}
	close(next)
	wg.Wait()
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

	points := sets.Points(inMain)
	l.Points = points
	line := loadline.NewChart(inMain, points)
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

	loads := sets.ByLoad(points)
	l.Readiness = ready.Days(inMain)
	l.ReadinessNow = ready.Latest(l.Readiness)
	l.Progress = progress.Speeds(loads)
	l.E1RMTrend = progress.OfE1RM(l.E1RM)
	l.PersonalBests = progress.PersonalBests(loads, l.To)
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
