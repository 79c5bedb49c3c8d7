package profile

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/e1rm"
	"repsift/profile/number"
)

// MarshalJSON writes the lifter as profiles.json has it. The error is a point on
// a day that is no session.
func (l Lifter) MarshalJSON() ([]byte, error) {
	f, err := l.Form()
	if err != nil {
		return nil, err
	}
	return json.Marshal(f)
}

// Form returns what MarshalJSON has encoding/json write, for who writes many
// lifters: what a method writes is read again by encoding/json.
func (l *Lifter) Form() (any, error) {
	f := lifterForm{Name: l.Name, Span: l.Span, Sessions: l.Sessions, SessionDates: make([]string, len(l.SessionDates)), Lifts: make([]liftForm, len(l.Lifts))}
	for i, d := range l.SessionDates {
		f.SessionDates[i] = d.String()
	}
	s := sessions{l.SessionDates, f.SessionDates}
	for i := range l.Lifts {
		if err := s.lift(&f.Lifts[i], &l.Lifts[i]); err != nil {
			return nil, fmt.Errorf("%s: %w", l.Lifts[i].Lift, err)
		}
	}
	return &f, nil
}

// sessions are the days of a lifter, and as they are written.
type sessions struct {
	days  []rep.Day
	texts []string
}

// number returns the number of the session on a day.
func (s sessions) number(d rep.Day) (int, error) {
	i, ok := slices.BinarySearch(s.days, d)
	if !ok {
		return 0, fmt.Errorf("no session on %s", d)
	}
	return i + 1, nil
}

// text writes a day, which need not be a session.
func (s sessions) text(d rep.Day) string {
	if i, ok := slices.BinarySearch(s.days, d); ok {
		return s.texts[i]
	}
	return d.String()
}

func (s sessions) lift(f *liftForm, l *Lift) (err error) {
	*f = liftForm{Lift: l, LoadVelocity: speedOf(&l.LoadVelocity), E1RM: make([]e1rmForm, len(l.E1RM)), Readiness: s.readiness(l.Readiness),
		VelocityLoss: lossForm{&l.VelocityLoss, stopsOf(l.VelocityLoss.StopAtLoss)}, Splits: make([]splitForm, len(l.Splits))}
	for i := range l.E1RM {
		e, to := &l.E1RM[i], &f.E1RM[i]
		*to = e1rmForm{s.text(e.Date), e.From, kgForm{field(e.Kg.Value), field(e.Kg.Lo), field(e.Kg.Hi), e.Kg.Level, e.Kg.N}, e.What}
		if e.From == e1rm.FromLine {
			to.What, f.E1RMLine = "", e.What
		}
	}
	if f.Effort, err = s.effort(&l.Effort); err == nil {
		f.Points, err = s.points(l.Points)
	}
	for i := range l.Splits {
		if err != nil {
			return err
		}
		x, to := &l.Splits[i], &f.Splits[i]
		*to = splitForm{Split: x, LoadVelocity: speedOf(&x.LoadVelocity)}
		if to.Effort, err = s.effort(&x.Effort); err == nil {
			to.Points, err = s.points(x.LoadVelocity.At)
		}
	}
	return err
}

// points puts points of one load, role and unit together. They come by day.
func (s sessions) points(ps []DayPoint) ([]pointsForm, error) {
	of := make([]int, len(ps))
	var groups [][]DayPoint // by load, role and unit
	var size []int
	for i := range ps {
		k, known := slices.BinarySearchFunc(groups, &ps[i], func(g []DayPoint, p *DayPoint) int { return byLoad(&g[0], p) })
		if !known {
			groups, size = slices.Insert(groups, k, ps[i:i+1]), slices.Insert(size, k, 0)
			for j := range of[:i] {
				if of[j] >= k {
					of[j]++
				}
			}
		}
		of[i] = k
		size[k]++
	}
	out, room, session := make([]pointsForm, len(groups)), make([]DayPoint, len(ps)), make([]int, len(ps))
	for k, n := range size {
		p := &groups[k][0]
		out[k] = pointsForm{LoadKg: p.LoadKg, Role: p.Role, ReadFrom: p.ReadFrom, Session: session[:0:n]}
		groups[k], room, session = room[:0:n], room[n:], session[n:]
	}
	day := 0
	for i, k := range of {
		if i == 0 || ps[i].Date != ps[i-1].Date {
			var err error
			if day, err = s.number(ps[i].Date); err != nil {
				return nil, err
			}
		}
		groups[k], out[k].Session = append(groups[k], ps[i]), append(out[k].Session, day)
	}
	for k := range out {
		put(groups[k], out[k].links())
	}
	return out, nil
}

func byLoad(a, b *DayPoint) int {
	if c := cmp.Compare(a.LoadKg, b.LoadKg); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.Role, b.Role), cmp.Compare(a.ReadFrom, b.ReadFrom))
}

// readiness puts days together of which the same is known, in the order of the
// first.
func (s sessions) readiness(days []Readiness) []readyForm {
	of := make([]int, len(days))
	var firsts, size []int
	for i := range days {
		of[i] = slices.IndexFunc(firsts, func(k int) bool { return asMuchKnown(&days[k], &days[i]) })
		if of[i] < 0 {
			of[i] = len(firsts)
			firsts, size = append(firsts, i), append(size, 0)
		}
		size[of[i]]++
	}
	out := make([]readyForm, len(firsts))
	for g, first := range firsts {
		n, known := size[g], days[first].Usual.Known
		rows := make([]Readiness, 0, n)
		f := &out[g]
		*f = readyForm{Level: days[first].Usual.Level, Of: days[first].Usual.Of, SWCFrom: days[first].SWCFrom, Date: make([]string, 0, n), Verdict: make([]Verdict, 0, n)}
		for i := range days {
			r := &days[i]
			if of[i] != g {
				continue
			}
			rows = append(rows, *r)
			f.Date, f.Verdict = append(f.Date, s.text(r.Date)), append(f.Verdict, r.Verdict)
			if known {
				f.N = append(f.N, r.Usual.N)
			} else {
				f.Need, f.Have = append(f.Need, r.Usual.Need), append(f.Have, r.Usual.Have)
			}
		}
		all, compared := f.links()
		put(rows, all)
		if known {
			put(rows, compared)
		}
	}
	return out
}

// asMuchKnown reports whether what is said of one day once may be said of both.
func asMuchKnown(a, b *Readiness) bool {
	u, v := &a.Usual, &b.Usual
	return u.Known == v.Known && u.Level == v.Level && u.Of == v.Of && a.SWCFrom == b.SWCFrom
}

func speedOf(p *LoadVelocity) speedForm {
	f := speedForm{LoadVelocity: p, Table: make([]percentForm, len(p.Table))}
	for i := range p.Table {
		r := &p.Table[i]
		n := number.Field
		f.Table[i] = percentForm{r.Percent, n(r.LoadKg), n(r.LoadLo), n(r.LoadHi), n(r.Fastest), n(r.Lo), n(r.Hi), r.Outside}
	}
	put(p.Curve, f.Curve.links())
	return f
}

func field(x float64) *float64 { return number.Field(Number(x)) }

func (s sessions) effort(c *EffortChart) (effortForm, error) {
	f := effortForm{EffortChart: c, ByRPE: byRPE(c.ByRPE), BySpeed: bySpeed(c.BySpeed)}
	f.LastRep = effortLineForm{&c.LastRep, byRPE(c.LastRep.ByRPE), bySpeed(c.LastRep.BySpeed)}
	to := &f.Points
	for i := range c.Points {
		p := &c.Points[i]
		k, err := s.number(p.Date)
		if err != nil {
			return f, err
		}
		to.Session, to.Set, to.Reps = append(to.Session, k), append(to.Set, p.Set), append(to.Reps, p.Reps)
		to.RPE, to.InLine = append(to.RPE, p.RPE), append(to.InLine, p.InLine)
	}
	put(c.Points, to.links())
	return f, nil
}

func byRPE(rows []AtRPE) (f byRPEForm) {
	for i := range rows {
		f.RPE = append(f.RPE, rows[i].RPE)
		f.countForm = counted(&rows[i].Speed)
	}
	put(rows, f.links())
	return f
}

func bySpeed(rows []ToRPE) (f bySpeedForm) {
	if len(rows) > 0 {
		f.countForm = counted(&rows[0].RPE)
	}
	put(rows, f.links())
	return f
}

func stopsOf(rows []StopAtLoss) []stopForm {
	out := make([]stopForm, len(rows))
	for i := range rows {
		r, f := &rows[i], &out[i]
		*f = stopForm{Percent: r.Percent, LoadKg: number.Field(r.LoadKg), Fastest: number.Field(r.Fastest)}
		for _, x := range r.At {
			f.Loss = append(f.Loss, x.Loss)
		}
		put(r.At, f.links())
	}
	return out
}
