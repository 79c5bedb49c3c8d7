// Package e1rm gathers what a lifter's sets, maxima and load-velocity line say of
// the 1RM, dated, and combines it into the 1RM now.
package e1rm

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/loadline"
	"repsift/profile/number"
	"repsift/profile/onerm"
	"repsift/profile/sets"
)

// Where an e1RM can come from, as the from column has it.
const (
	FromSingle   = "top single"       // load and RPE of the day's top single
	FromRepSet   = "rep-max set"      // load, reps and RPE of the day's hardest set of 2 to 10
	FromLine     = "load-velocity"    // the line at the lifter's velocity at 1RM, day by day
	FromDeclared = "declared maximum" // a meet or tested single of the season file
)

// Entry is one estimate of the 1RM, dated by its session.
type Entry struct {
	Date rep.Day         `json:"date"`
	From string          `json:"from"`
	Kg   number.Estimate `json:"kg"`
	What string          `json:"what"` // "180 kg × 1 at RPE 9"; of the line, what it shares with its other days
}

// Told says what is behind an entry.
func (e *Entry) Told() string {
	if e.From == FromLine {
		return fmt.Sprintf("%d %s, %s", e.Kg.N, Counted(e.From), e.What)
	}
	return e.What
}

// Counted is what n counts of an entry from such a source.
func Counted(from string) string {
	switch from {
	case FromLine:
		return "loads of the day"
	case FromDeclared:
		return "declared maxima"
	}
	return "sets"
}

// Evidence is how much one source counts in e1rm_now_kg.
type Evidence struct {
	From   string          `json:"from"`
	N      int             `json:"n"`      // sessions
	Latest rep.Day         `json:"latest"` // of them
	Kg     number.Estimate `json:"kg"`     // what this source alone says of now
	Weight number.Number   `json:"weight"` // share in the combined number, 0 to 1
}

const (
	// claimDays is how far back sets speak of the 1RM now; declared maxima
	// are asked twice as far.
	claimDays = sets.NowDays
	// liftedDays is how long a load that was lifted speaks against a lower 1RM.
	liftedDays = 28
	// MostClaims is how many of the latest claims are combined at most.
	MostClaims = 40
)

// claim is what one set, maximum or line says of the 1RM of a day.
type claim struct {
	onerm.Claim
	day  rep.Day
	what string
}

// Claims are all that speaks of the 1RM of a lift.
type Claims struct {
	End     rep.Day // what "now" means: the last session or maximum
	history []Entry // from the line, day by day
	claims  []claim // singles, sets and maxima, by day
	lines   []claim // at most one: the line, now

	declared, lifted float64 // the heaviest maximum and the heaviest load done of late; 0: none
}

// Maxima returns the declared maxima of a lift, by day, one a day; s may be nil.
// A variant that either side leaves unsaid fits any.
func Maxima(s *season.Season, lifter, lift, variant string) []sets.Maximum {
	var out []sets.Maximum
	if s == nil {
		return nil
	}
	for _, m := range s.Maxima {
		if m.Lifter == lifter && m.Lift == lift && (m.Variant == "" || variant == "" || m.Variant == variant) {
			out = append(out, sets.Maximum{Day: m.Date, Kg: m.LoadKg})
		}
	}
	slices.SortStableFunc(out, func(a, b sets.Maximum) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(b.Kg, a.Kg)) })
	return slices.CompactFunc(out, func(a, b sets.Maximum) bool { return a.Day == b.Day })
}

// Gather gathers what the sets of one variant and the maxima say.
func Gather(own []sets.Set, maxima []sets.Maximum) *Claims {
	e := &Claims{}
	for i := range own {
		e.End = max(e.End, own[i].Day)
	}
	for _, m := range maxima {
		e.End = max(e.End, m.Day)
	}
	for len(own) > 0 {
		n := 1
		for n < len(own) && own[n].Day == own[0].Day {
			n++
		}
		e.session(own[:n])
		own = own[n:]
	}
	for _, m := range maxima {
		e.claims = append(e.claims, claim{onerm.Claim{Source: onerm.Maximum, Kg: m.Kg, CV: onerm.Declared}, m.Day, number.Kilos(m.Kg) + " declared"})
	}
	for i := range e.claims {
		c := &e.claims[i]
		c.WeeksAgo = sets.Weeks(c.day, e.End)
		if c.Source == onerm.Maximum && c.day > e.End-liftedDays {
			e.declared = math.Max(e.declared, c.Kg)
		}
	}
	return e
}

// session takes the claims of one day: of its singles, and of its sets of two
// to ten, the first at the heaviest load. They are chosen by load, never by
// call: the highest of several calls is high by chance too.
func (e *Claims) session(own []sets.Set) {
	var single, hard *sets.Set
	for i := range own {
		s := &own[i]
		if s.Reps < 1 || !(s.Load > 0) {
			continue
		}
		if s.Day > e.End-liftedDays {
			e.lifted = math.Max(e.lifted, s.Load)
		}
		if _, _, ok := onerm.FromSet(s.Load, s.Reps, s.RPE); !ok || s.Missed > 0 {
			continue
		}
		if s.Single() {
			if single == nil || s.Load > single.Load {
				single = s
			}
		} else if hard == nil || s.Load > hard.Load {
			hard = s
		}
	}
	if single != nil {
		e.claim(onerm.Single, single)
	}
	if hard != nil {
		e.claim(onerm.RepSet, hard)
	}
}

func (e *Claims) claim(from onerm.Source, s *sets.Set) {
	kg, cv, _ := onerm.FromSet(s.Load, s.Reps, s.RPE)
	e.claims = append(e.claims, claim{onerm.Claim{Source: from, Kg: kg, CV: cv}, s.Day,
		fmt.Sprintf("%s × %d at RPE %s", number.Kilos(s.Load), s.Reps, number.Plain(s.RPE))})
}

func fromName(s onerm.Source) string {
	return [...]string{onerm.Single: FromSingle, onerm.RepSet: FromRepSet, onerm.Line: FromLine, onerm.Maximum: FromDeclared}[s]
}

// AddLine adds what the load-velocity line says of now, at the velocity at 1RM
// that is known without the claims here.
func (e *Claims) AddLine(l *loadline.Chart) {
	if l.Line == nil || !l.V1.Known {
		return
	}
	v, lo, hi, ok := l.Line.Crossing(l.V1.Mean, l.V1.SD, number.Level)
	if !ok || !(lo > 0) {
		return
	}
	cv := math.Log(hi/lo) / (2 * 1.96)
	e.lines = []claim{{onerm.Claim{Source: onerm.Line, Kg: v, CV: cv, WeeksAgo: sets.Weeks(l.End, e.End)}, l.End,
		fmt.Sprintf("line of %d days at %.2f m/s", l.Span.Days, l.V1.Mean)}}
}

// AddLineDays adds to the history what the line, shifted to each of its days,
// says at the velocity at 1RM.
func (e *Claims) AddLineDays(l *loadline.Chart) {
	if l.Line == nil || !l.V1.Known {
		return
	}
	days := l.Line.DayLoads(l.V1.Mean, l.V1.SD)
	e.history = slices.Grow(e.history, len(days))
	at := fmt.Sprintf("line at %.2f m/s", l.V1.Mean)
	for _, d := range days {
		half := 1.96 * d.SD
		if d.Kg > half {
			e.history = append(e.history, Entry{Date: l.Points[d.First].Date, From: FromLine,
				Kg: number.Known(d.Kg, d.Kg-half, d.Kg+half, d.Points, Counted(FromLine)), What: at})
		}
	}
}

// Now combines all claims.
func (e *Claims) Now() (number.Estimate, []Evidence) {
	const of = "top singles or sets of up to ten at RPE 7 or more, declared maxima, or load-velocity lines"
	var cs []onerm.Claim
	by := map[onerm.Source][]claim{}
	for _, c := range append(slices.Clone(e.claims), e.lines...) {
		limit := rep.Day(claimDays)
		if c.Source == onerm.Maximum {
			limit *= 2
		}
		if c.day > e.End-limit {
			by[c.Source] = append(by[c.Source], c)
			cs = append(cs, c.Claim)
		}
	}
	all, err := onerm.Combine(onerm.Latest(cs, MostClaims))
	if err != nil {
		return number.NotYet(1, 0, of), []Evidence{}
	}
	v, lo, hi := all.Interval(number.Level, e.declared, e.lifted)
	now := number.Known(v, lo, hi, len(cs), "claims")
	ev := []Evidence{}
	for s := range onerm.Sources {
		if len(by[s]) == 0 {
			continue
		}
		var own []onerm.Claim
		x := Evidence{From: fromName(s), N: len(by[s]), Weight: number.Number(all.Weight[s])}
		for _, c := range by[s] {
			own = append(own, c.Claim)
			x.Latest = max(x.Latest, c.day)
		}
		one := all
		if len(own) < len(cs) {
			one, err = onerm.Combine(onerm.Latest(own, MostClaims))
		}
		if err == nil {
			v, lo, hi := one.Interval(number.Level, 0, 0)
			x.Kg = number.Known(v, lo, hi, len(own), "claims")
		}
		ev = append(ev, x)
	}
	return now, ev
}

// NearMax combines the claims of singles and maxima, which say where on the
// line the 1RM lies; n is how many.
func (e *Claims) NearMax() (kg, cv float64, n int) {
	var cs []onerm.Claim
	for _, c := range e.claims {
		if c.Source != onerm.RepSet && c.day > e.End-claimDays {
			cs = append(cs, c.Claim)
		}
	}
	c, err := onerm.Combine(onerm.Latest(cs, MostClaims))
	if err != nil {
		return 0, 0, 0
	}
	return c.Kg, c.CV(), len(cs)
}

// Lifted returns the heaviest declared maximum of the last four weeks; 0: none.
func Lifted(cs []onerm.Claim) float64 {
	var kg float64
	for _, c := range cs {
		if c.Source == onerm.Maximum && 7*c.WeeksAgo < liftedDays {
			kg = math.Max(kg, c.Kg)
		}
	}
	return kg
}

// Between returns the claims of the days from and to, with their age on the
// day end.
func (e *Claims) Between(from, to, end rep.Day) []onerm.Claim {
	var out []onerm.Claim
	for _, c := range e.claims {
		if c.day >= from && c.day <= to {
			k := c.Claim
			k.WeeksAgo = math.Max(sets.Weeks(c.day, end), 0)
			out = append(out, k)
		}
	}
	return out
}

// History returns the claims by date, then source: what each session said, and
// each declared maximum as the fact it is.
func (e *Claims) History() []Entry {
	out := slices.Clone(e.history)
	for _, c := range e.claims {
		x := Entry{Date: c.day, From: fromName(c.Source), What: c.what}
		if c.Source == onerm.Maximum {
			x.Kg = number.Known(c.Kg, c.Kg, c.Kg, 1, Counted(x.From))
		} else {
			lo, hi := c.Interval(number.Level)
			x.Kg = number.Known(c.Kg, lo, hi, 1, Counted(x.From))
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(fromRank(a.From), fromRank(b.From)))
	})
	if out == nil {
		out = []Entry{}
	}
	return out
}

func fromRank(from string) int {
	return slices.Index([]string{FromDeclared, FromSingle, FromRepSet, FromLine}, from)
}

// Cautions says what to know of the 1RM.
func (e *Claims) Cautions(now number.Estimate, ev []Evidence) []string {
	out := []string{}
	if !now.Known {
		return out
	}
	if len(ev) == 1 && ev[0].From == FromLine {
		out = append(out, "Only the load-velocity line speaks of the 1RM; in published squat and deadlift tests such lines were mostly too high.")
	}
	if len(ev) == 1 && ev[0].From == FromRepSet {
		out = append(out, "Only sets of several reps speak of the 1RM; people differ much in the reps they can do at a share of it.")
	}
	var latest rep.Day
	for _, x := range ev {
		latest = max(latest, x.Latest)
	}
	if e.End-latest > 28 {
		out = append(out, fmt.Sprintf("The last evidence is from %s.", latest))
	}
	return out
}
