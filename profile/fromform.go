package profile

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"repsift/ingest/rep"
	"repsift/profile/e1rm"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// UnmarshalJSON reads a lifter of profiles.json. All is as it was, to seven
// digits; of how far the speeds of a unit that is read as another may be off
// ([DayPoint]), nothing is written.
func (l *Lifter) UnmarshalJSON(b []byte) error {
	var f lifterForm
	if err := json.Unmarshal(b, &f); err != nil {
		return err
	}
	*l = Lifter{Name: f.Name, Span: f.Span, Sessions: f.Sessions, SessionDates: make([]rep.Day, len(f.SessionDates)), Lifts: make([]Lift, len(f.Lifts))}
	for i, text := range f.SessionDates {
		if err := l.SessionDates[i].UnmarshalText([]byte(text)); err != nil {
			return fmt.Errorf("session_dates of %s: %w", l.Name, err)
		}
	}
	s := sessions{days: l.SessionDates}
	for i := range f.Lifts {
		if f.Lifts[i].Lift == nil {
			return fmt.Errorf("lift %d of %s is empty", i+1, l.Name)
		}
		if err := s.liftBack(&f.Lifts[i]); err != nil {
			return fmt.Errorf("%s, %s: %w", l.Name, f.Lifts[i].Lift.Lift, err)
		}
		l.Lifts[i] = *f.Lifts[i].Lift
	}
	return nil
}

// day returns the day of a session.
func (s sessions) day(number int) (rep.Day, error) {
	if number < 1 || number > len(s.days) {
		return 0, fmt.Errorf("session %d of %d", number, len(s.days))
	}
	return s.days[number-1], nil
}

// liftBack fills what the form of a lift embeds.
func (s sessions) liftBack(f *liftForm) (err error) {
	l := f.Lift
	if l.E1RM, err = f.e1rmBack(); err != nil {
		return err
	}
	if l.Readiness, err = readinessBack(f.Readiness); err != nil {
		return fmt.Errorf("readiness: %w", err)
	}
	if l.Points, err = s.pointsBack(f.Points); err != nil {
		return fmt.Errorf("points: %w", err)
	}
	for _, group := range sets.ByLoad(l.Points) {
		for i := range l.Progress {
			if t := &l.Progress[i]; t.LoadKg == group[0].LoadKg {
				t.Points = group
			}
		}
	}
	if err := f.LoadVelocity.back(&l.LoadVelocity, l.Points); err != nil {
		return fmt.Errorf("load_velocity: %w", err)
	}
	if err := s.effortBack(&f.Effort, &l.Effort); err != nil {
		return fmt.Errorf("effort_chart: %w", err)
	}
	if f.VelocityLoss.VelocityLoss != nil {
		l.VelocityLoss = *f.VelocityLoss.VelocityLoss
	}
	if l.VelocityLoss.StopAtLoss, err = stopsBack(f.VelocityLoss.StopAtLoss); err != nil {
		return fmt.Errorf("stop_at_loss: %w", err)
	}
	l.Splits = make([]Split, len(f.Splits))
	for i := range f.Splits {
		if err := s.splitBack(&f.Splits[i], &l.Splits[i]); err != nil {
			return fmt.Errorf("splits: %w", err)
		}
	}
	return nil
}

func (s sessions) splitBack(f *splitForm, x *Split) error {
	if f.Split != nil {
		*x = *f.Split
	}
	points, err := s.pointsBack(f.Points)
	if err == nil {
		err = f.LoadVelocity.back(&x.LoadVelocity, points)
	}
	if err == nil {
		err = s.effortBack(&f.Effort, &x.Effort)
	}
	return err
}

func (f *liftForm) e1rmBack() ([]E1RM, error) {
	out := make([]E1RM, len(f.E1RM))
	for i, e := range f.E1RM {
		to := &out[i]
		to.From, to.What = e.From, e.What
		if e.From == e1rm.FromLine {
			to.What = f.E1RMLine
		}
		if err := to.Date.UnmarshalText([]byte(e.Date)); err != nil {
			return nil, fmt.Errorf("e1rm: %w", err)
		}
		to.Kg = Estimate{Known: true, Value: float64(number.Of(e.Kg.Value)), Lo: float64(number.Of(e.Kg.Lo)), Hi: float64(number.Of(e.Kg.Hi)),
			Level: e.Kg.Level, N: e.Kg.N, Of: e1rm.Counted(e.From)}
	}
	return out, nil
}

func (s sessions) pointsBack(groups []pointsForm) ([]DayPoint, error) {
	out := []DayPoint{}
	for i := range groups {
		f := &groups[i]
		ps := make([]DayPoint, len(f.Session))
		for k, n := range f.Session {
			day, err := s.day(n)
			if err != nil {
				return nil, err
			}
			ps[k] = DayPoint{Date: day, LoadKg: f.LoadKg, Role: f.Role, ReadFrom: f.ReadFrom}
		}
		if err := take(ps, f.links()); err != nil {
			return nil, err
		}
		out = append(out, ps...)
	}
	slices.SortStableFunc(out, func(a, b DayPoint) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.LoadKg, b.LoadKg)) })
	return out, nil
}

func readinessBack(tables []readyForm) ([]Readiness, error) {
	out := []Readiness{}
	for i := range tables {
		f := &tables[i]
		rows := make([]Readiness, len(f.Date))
		all, compared := f.links()
		if err := take(rows, append(all, compared...)); err != nil {
			return nil, err
		}
		if len(f.Verdict) != len(rows) || len(f.N)+len(f.Have) != len(rows) || len(f.Need) != len(f.Have) {
			return nil, errUneven
		}
		for k := range rows {
			r := &rows[k]
			if err := r.Date.UnmarshalText([]byte(f.Date[k])); err != nil {
				return nil, err
			}
			r.Verdict, r.SWCFrom = f.Verdict[k], f.SWCFrom
			if len(f.N) > 0 {
				countForm{f.Level, f.N[k], f.Of}.on(&r.Usual)
			} else {
				r.Usual = number.NotYet(f.Need[k], f.Have[k], f.Of)
			}
		}
		out = append(out, rows...)
	}
	slices.SortStableFunc(out, func(a, b Readiness) int { return cmp.Compare(a.Date, b.Date) })
	return out, nil
}

// back fills a line; its points are those since its first day.
func (f *speedForm) back(p *LoadVelocity, points []DayPoint) error {
	if f.LoadVelocity != nil {
		*p = *f.LoadVelocity
	}
	p.Table, p.Curve, p.At = make([]PercentRow, len(f.Table)), make([]CurvePoint, len(f.Curve.LoadKg)), points[len(points):]
	for i := range f.Table {
		r, of := &f.Table[i], number.Of
		p.Table[i] = PercentRow{Percent: r.Percent, LoadKg: of(r.LoadKg), LoadLo: of(r.LoadLo), LoadHi: of(r.LoadHi),
			Fastest: of(r.Fastest), Lo: of(r.Lo), Hi: of(r.Hi), Outside: r.Outside}
	}
	if p.Points > 0 {
		first, _ := slices.BinarySearchFunc(points, p.From, func(p DayPoint, d rep.Day) int { return cmp.Compare(p.Date, d) })
		p.At = points[first:]
	}
	return take(p.Curve, f.Curve.links())
}

func (s sessions) effortBack(f *effortForm, c *EffortChart) (err error) {
	if f.EffortChart != nil {
		*c = *f.EffortChart
	}
	if f.LastRep.EffortLine != nil {
		c.LastRep = *f.LastRep.EffortLine
	}
	for _, line := range []struct {
		to      *EffortLine
		byRPE   *byRPEForm
		bySpeed *bySpeedForm
	}{{&c.EffortLine, &f.ByRPE, &f.BySpeed}, {&c.LastRep, &f.LastRep.ByRPE, &f.LastRep.BySpeed}} {
		line.to.ByRPE, line.to.BySpeed = make([]AtRPE, len(line.byRPE.RPE)), make([]ToRPE, len(line.bySpeed.Speed))
		for i := range line.to.ByRPE {
			line.to.ByRPE[i].RPE = line.byRPE.RPE[i]
			line.byRPE.on(&line.to.ByRPE[i].Speed)
		}
		for i := range line.to.BySpeed {
			line.bySpeed.on(&line.to.BySpeed[i].RPE)
		}
		if err := cmp.Or(take(line.to.ByRPE, line.byRPE.links()), take(line.to.BySpeed, line.bySpeed.links())); err != nil {
			return err
		}
	}
	p, n := &f.Points, len(f.Points.Session)
	c.Points = make([]EffortPoint, n)
	if len(p.Set) != n || len(p.Reps) != n || len(p.RPE) != n || len(p.InLine) != n {
		return errUneven
	}
	for i := range c.Points {
		to := &c.Points[i]
		to.Set, to.Reps, to.RPE, to.InLine = p.Set[i], p.Reps[i], p.RPE[i], p.InLine[i]
		if to.Date, err = s.day(p.Session[i]); err != nil {
			return err
		}
	}
	return take(c.Points, p.links())
}

func stopsBack(tables []stopForm) ([]StopAtLoss, error) {
	out := make([]StopAtLoss, len(tables))
	for i := range tables {
		f, r := &tables[i], &out[i]
		*r = StopAtLoss{Percent: f.Percent, LoadKg: number.Of(f.LoadKg), Fastest: number.Of(f.Fastest), At: make([]LossTo, len(f.Loss))}
		for k, x := range f.Loss {
			r.At[k].Loss = x
		}
		if err := take(r.At, f.links()); err != nil {
			return nil, err
		}
	}
	return out, nil
}

var errUneven = errors.New("columns of different lengths")

// take fills rows from the columns of a form; what a column that was left out
// holds cannot be said.
func take[Row any](rows []Row, links []link[Row]) error {
	for _, l := range links {
		column := *l.column
		if column != nil && len(column) != len(rows) {
			return errUneven
		}
		for i := range rows {
			*l.of(&rows[i]) = number.Unsaid
			if column != nil {
				*l.of(&rows[i]) = number.Of(column[i])
			}
		}
	}
	return nil
}
