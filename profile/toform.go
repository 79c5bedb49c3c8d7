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

// points puts points of one load, role and unit together.
func (s sessions) points(ps []DayPoint) ([]pointsForm, error) {
	ps = slices.Clone(ps)
	slices.SortStableFunc(ps, byLoad)
	session := make([]int, len(ps))
	for i := range ps {
		var err error
		if session[i], err = s.number(ps[i].Date); err != nil {
			return nil, err
		}
	}
	out := []pointsForm{}
	for i := 0; i < len(ps); {
		j := i + 1
		for j < len(ps) && byLoad(ps[j], ps[i]) == 0 {
			j++
		}
		f := pointsForm{LoadKg: ps[i].LoadKg, Role: ps[i].Role, ReadFrom: ps[i].ReadFrom, Session: session[i:j]}
		put(ps[i:j], f.links())
		out = append(out, f)
		i = j
	}
	return out, nil
}

func byLoad(a, b DayPoint) int {
	return cmp.Or(cmp.Compare(a.LoadKg, b.LoadKg), cmp.Compare(a.Role, b.Role), cmp.Compare(a.ReadFrom, b.ReadFrom))
}

// readiness puts days together of which the same is known, in the order of the
// first.
func (s sessions) readiness(days []Readiness) []readyForm {
	type known struct {
		known       bool
		level       float64
		of, swcFrom string
	}
	var kinds []known
	of := map[known][]Readiness{}
	for _, r := range days {
		k := known{r.Usual.Known, r.Usual.Level, r.Usual.Of, r.SWCFrom}
		if of[k] == nil {
			kinds = append(kinds, k)
		}
		of[k] = append(of[k], r)
	}
	out := make([]readyForm, len(kinds))
	for i, k := range kinds {
		f := &out[i]
		f.Level, f.Of, f.SWCFrom = k.level, k.of, k.swcFrom
		for _, r := range of[k] {
			f.Date, f.Verdict = append(f.Date, s.text(r.Date)), append(f.Verdict, r.Verdict)
			if k.known {
				f.N = append(f.N, r.Usual.N)
			} else {
				f.Need, f.Have = append(f.Need, r.Usual.Need), append(f.Have, r.Usual.Have)
			}
		}
		all, compared := f.links()
		put(of[k], all)
		if k.known {
			put(of[k], compared)
		}
	}
	return out
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

func stopsOf(rows []StopAtLoss) (f stopForm) {
	for i := range rows {
		f.Percent = append(f.Percent, rows[i].Percent)
		f.Speed = append(f.Speed, number.Column(rows[i].At, lossAt))
	}
	if len(rows) > 0 {
		for _, x := range rows[0].At {
			f.Loss = append(f.Loss, x.Loss)
		}
	}
	put(rows, f.links())
	return f
}
