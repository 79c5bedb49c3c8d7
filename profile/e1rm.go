package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/onerm"
)

// Where an e1RM can come from, as the from column has it.
const (
	FromSingle   = "top single"       // load and RPE of the day's top single
	FromRepSet   = "rep-max set"      // load, reps and RPE of the day's hardest set of 2 to 10
	FromLine     = "load-velocity"    // the line at the lifter's velocity at 1RM, day by day
	FromDeclared = "declared maximum" // a meet or tested single of the season file
)

// E1RM is one estimate of the 1RM, dated by its session.
type E1RM struct {
	Date rep.Day  `json:"date"`
	From string   `json:"from"`
	Kg   Estimate `json:"kg"`
	What string   `json:"what"` // "180 kg × 1 at RPE 9"
}

// Evidence is how much one source counts in e1rm_now_kg.
type Evidence struct {
	From   string   `json:"from"`
	N      int      `json:"n"`      // sessions
	Latest rep.Day  `json:"latest"` // of them
	Kg     Estimate `json:"kg"`     // what this source alone says of now
	Weight Number   `json:"weight"` // share in the combined number, 0 to 1
}

const (
	// claimDays is how far back sets speak of the 1RM now; declared maxima
	// are asked twice as far.
	claimDays = nowDays
	// liftedDays is how long a load that was lifted bounds the 1RM from below.
	liftedDays = 28
	mostClaims = 40
)

// claim is what one set, maximum or line says of the 1RM of a day.
type claim struct {
	onerm.Claim
	day  rep.Day
	kg   float64
	what string
}

// e1RM gathers a lift's claims.
type e1RM struct {
	end     rep.Day
	history []E1RM
	claims  []claim // singles, sets and maxima, by day
	lines   []claim // at most one: the line, now
	lifted  float64 // the heaviest load done of late
}

// maxima returns the declared maxima of a lift, by day.
func maxima(s *season.Season, lifter, lift, variant string) []claim {
	var out []claim
	if s == nil {
		return nil
	}
	for _, m := range s.Maxima {
		if m.Lifter == lifter && m.Lift == lift && (m.Variant == "" || m.Variant == variant) {
			out = append(out, claim{Claim: onerm.Claim{Source: onerm.Maximum, Kg: m.LoadKg, CV: onerm.Declared},
				day: m.Date, kg: m.LoadKg, what: kilos(m.LoadKg) + " declared"})
		}
	}
	slices.SortStableFunc(out, func(a, b claim) int { return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(b.kg, a.kg)) })
	return slices.CompactFunc(out, func(a, b claim) bool { return a.day == b.day })
}

// newE1RM gathers what the sets of one variant and the maxima say.
func newE1RM(sets []set, maxima []claim) *e1RM {
	e := &e1RM{}
	for i := range sets {
		e.end = max(e.end, sets[i].day)
	}
	for len(sets) > 0 {
		n := 1
		for n < len(sets) && sets[n].day == sets[0].day {
			n++
		}
		e.session(sets[:n])
		sets = sets[n:]
	}
	for _, m := range maxima {
		e.end = max(e.end, m.day)
		e.claims = append(e.claims, m)
	}
	for i := range e.claims {
		c := &e.claims[i]
		c.WeeksAgo = weeks(c.day, e.end)
		if c.Source == onerm.Maximum && c.day > e.end-liftedDays {
			e.lifted = math.Max(e.lifted, c.kg)
		}
	}
	return e
}

// session takes the claims of one day: of its singles, and of its sets of two
// to ten, the first at the heaviest load. They are chosen by load, never by
// call: the highest of several calls is high by chance too.
func (e *e1RM) session(sets []set) {
	var single, hard *set
	for i := range sets {
		s := &sets[i]
		if s.reps < 1 || !(s.load > 0) {
			continue
		}
		if s.day > e.end-liftedDays {
			e.lifted = math.Max(e.lifted, s.load)
		}
		if _, _, ok := onerm.FromSet(s.load, s.reps, s.rpe); !ok || s.missed > 0 {
			continue
		}
		if s.single() {
			if single == nil || s.load > single.load {
				single = s
			}
		} else if hard == nil || s.load > hard.load {
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

func (e *e1RM) claim(from onerm.Source, s *set) {
	kg, cv, _ := onerm.FromSet(s.load, s.reps, s.rpe)
	e.claims = append(e.claims, claim{Claim: onerm.Claim{Source: from, Kg: kg, CV: cv}, day: s.day, kg: kg,
		what: fmt.Sprintf("%s × %d at RPE %s", kilos(s.load), s.reps, number(s.rpe))})
}

func kilos(kg float64) string { return number(math.Round(kg*100)/100) + " kg" }
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
func fromName(s onerm.Source) string {
	return [...]string{onerm.Single: FromSingle, onerm.RepSet: FromRepSet, onerm.Line: FromLine, onerm.Maximum: FromDeclared}[s]
}

// addLine adds what the load-velocity line says of now, at the velocity at 1RM
// that is known without the claims here.
func (e *e1RM) addLine(l *loadVelocity) {
	if l.line == nil || !l.v1.known {
		return
	}
	v, lo, hi, ok := l.line.Crossing(l.v1.mean, l.v1.sd, Level)
	if !ok || !(lo > 0) {
		return
	}
	cv := math.Log(hi/lo) / (2 * 1.96)
	e.lines = []claim{{Claim: onerm.Claim{Source: onerm.Line, Kg: v, CV: cv, WeeksAgo: weeks(l.end, e.end)}, day: l.end, kg: v,
		what: fmt.Sprintf("line of %d days at %.2f m/s", l.span.Days, l.v1.mean)}}
}

// addLineDays adds to the history what the line, shifted to each of its days,
// says at the velocity at 1RM.
func (e *e1RM) addLineDays(l *loadVelocity) {
	if l.line == nil || !l.v1.known {
		return
	}
	for _, d := range l.line.DayLoads(l.v1.mean, l.v1.sd) {
		half := 1.96 * d.SD
		if d.Kg > half {
			e.history = append(e.history, E1RM{Date: l.points[d.First].Date, From: FromLine,
				Kg:   known(d.Kg, d.Kg-half, d.Kg+half, d.Points, "loads of the day"),
				What: fmt.Sprintf("%d loads of the day, line at %.2f m/s", d.Points, l.v1.mean)})
		}
	}
}

// now combines all claims.
func (e *e1RM) now() (Estimate, []Evidence) {
	const of = "top singles or sets of up to ten at RPE 7 or more, declared maxima, or load-velocity lines"
	var cs []onerm.Claim
	by := map[onerm.Source][]claim{}
	for _, c := range append(slices.Clone(e.claims), e.lines...) {
		limit := rep.Day(claimDays)
		if c.Source == onerm.Maximum {
			limit *= 2
		}
		if c.day > e.end-limit {
			by[c.Source] = append(by[c.Source], c)
			cs = append(cs, c.Claim)
		}
	}
	all, err := onerm.Combine(onerm.Latest(cs, mostClaims))
	if err != nil {
		return notYet(1, 0, of), []Evidence{}
	}
	v, lo, hi := all.Interval(Level, e.lifted)
	now := known(v, lo, hi, len(cs), "claims")
	ev := []Evidence{}
	for s := range onerm.Sources {
		if len(by[s]) == 0 {
			continue
		}
		var own []onerm.Claim
		x := Evidence{From: fromName(s), N: len(by[s]), Weight: Number(all.Weight[s])}
		for _, c := range by[s] {
			own = append(own, c.Claim)
			x.Latest = max(x.Latest, c.day)
		}
		if one, err := onerm.Combine(onerm.Latest(own, mostClaims)); err == nil {
			v, lo, hi := one.Interval(Level, 0)
			x.Kg = known(v, lo, hi, len(own), "claims")
		}
		ev = append(ev, x)
	}
	return now, ev
}

// nearMax combines the claims of singles and maxima, which say where on the
// line the 1RM lies; n is how many.
func (e *e1RM) nearMax() (kg, cv float64, n int) {
	var cs []onerm.Claim
	for _, c := range e.claims {
		if c.Source != onerm.RepSet && c.day > e.end-claimDays {
			cs = append(cs, c.Claim)
		}
	}
	c, err := onerm.Combine(onerm.Latest(cs, mostClaims))
	if err != nil {
		return 0, 0, 0
	}
	return c.Kg, c.CV(), len(cs)
}

// all returns the history by date, then source: what each session said, and
// each declared maximum as the fact it is.
func (e *e1RM) all() []E1RM {
	out := slices.Clone(e.history)
	for _, c := range e.claims {
		x := E1RM{Date: c.day, From: fromName(c.Source), What: c.what}
		if c.Source == onerm.Maximum {
			x.Kg = known(c.kg, c.kg, c.kg, 1, "declared maxima")
		} else {
			lo, hi := c.Interval(Level)
			x.Kg = known(c.kg, lo, hi, 1, "sets")
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b E1RM) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(fromRank(a.From), fromRank(b.From)))
	})
	if out == nil {
		out = []E1RM{}
	}
	return out
}

func fromRank(from string) int {
	return slices.Index([]string{FromDeclared, FromSingle, FromRepSet, FromLine}, from)
}

// cautions says what to know of the 1RM.
func (e *e1RM) cautions(now Estimate, ev []Evidence) []string {
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
	if e.end-latest > 28 {
		out = append(out, fmt.Sprintf("The last evidence is from %s.", latest))
	}
	return out
}
