package ready

import (
	"math"
	"sort"
	"sync"

	"repsift/ingest/rep"
	"repsift/profile/mixed"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Verdict says how a warm-up compares with the lifter's earlier days.
type Verdict string

// The verdicts.
const (
	AsUsual   Verdict = "as usual"
	Faster    Verdict = "faster"
	Slower    Verdict = "slower"
	NotEnough Verdict = "not enough yet"
)

// Readiness compares the last warm-up of one session with earlier days only.
type Readiness struct {
	Date    rep.Day         `json:"date"`
	LoadKg  number.Number   `json:"load_kg"`   // of the habitual last warm-up
	Speed   number.Number   `json:"speed_m_s"` // fastest rep of it on the day
	Usual   number.Estimate `json:"usual_m_s"` // lo, hi: the normal range of the day
	Verdict Verdict         `json:"verdict"`
	// AsSlow is the share of usual days, 0 to 1, whose warm-up is as slow as
	// this one or slower. The verdict says the same: slower under 0.025,
	// faster over 0.975. Chances of a true change, with every change as likely
	// as none before (Hopkins 2004), are not told: they call ordinary days
	// probably different.
	AsSlow number.Number `json:"usual_days_as_slow"`

	TypicalError number.Number `json:"typical_error_m_s"`       // day to day
	MDC          number.Number `json:"mdc95_m_s"`               // 1.96·√2·typical error: one day against one day
	SWC          number.Number `json:"smallest_worthwhile_m_s"` // the least change that matters; see SWCFrom
	SWCFrom      string        `json:"smallest_worthwhile_from"`
}

const (
	// habitDays is how many of the latest days tell the habit.
	habitDays = 12
	// smallestStep is the smallest change of a load, kg: a pair of the
	// smallest plates most gyms have (common practice, no source).
	smallestStep = 2.5

	earlierDays = "earlier days with such a warm-up"
)

// warmUps are the warm-ups of one day, by load: the fastest rep of each.
type warmUps struct {
	day   rep.Day
	loads []sets.DayPoint // by load

	// Sums of squares of the loads, and of loads with speeds, around their means.
	square, product float64
}

func newWarmUps(loads []sets.DayPoint) warmUps {
	w := warmUps{day: loads[0].Date, loads: loads}
	var mx, my float64
	n := float64(len(loads))
	for i := range loads {
		mx += float64(loads[i].LoadKg) / n
		my += float64(loads[i].Speed) / n
	}
	for i := range loads {
		off := float64(loads[i].LoadKg) - mx
		w.square += off * off
		w.product += off * (float64(loads[i].Speed) - my)
	}
	return w
}

// heaviest returns the last warm-up of the day: the heaviest.
func (w *warmUps) heaviest() sets.DayPoint { return w.loads[len(w.loads)-1] }

// near returns the warm-up of the day nearest to a load, within reach; nil where
// there is none.
func (w *warmUps) near(kg, reach float64) *sets.DayPoint {
	var best *sets.DayPoint
	for i := range w.loads {
		off := math.Abs(float64(w.loads[i].LoadKg) - kg)
		if off <= reach && (best == nil || off < math.Abs(float64(best.LoadKg)-kg)) {
			best = &w.loads[i]
		}
	}
	return best
}

// Days compares each session's last warm-up with the sessions before it,
// never with later ones.
func Days(own []sets.Set) []Readiness {
	room := rooms.Get().(*room)
	defer rooms.Put(room)
	days, points := room.warmUps[:0], sets.PointsWhere(room.points, own, func(s *sets.Set) bool { return s.Role == rep.WarmUp })
	for i := 0; i < len(points); {
		j := i
		for j < len(points) && points[j].Date == points[i].Date {
			j++
		}
		days = append(days, newWarmUps(points[i:j:j]))
		i = j
	}
	room.warmUps, room.points = days, points
	out := make([]Readiness, len(days))
	for i := range days {
		out[i] = room.on(days[:i], &days[i])
	}
	return out
}

// Latest returns the last of days, or the statement that there is none.
func Latest(days []Readiness) Readiness {
	if n := len(days); n > 0 {
		return days[n-1]
	}
	u := number.Unsaid
	return Readiness{Verdict: NotEnough, Usual: number.NotYet(Need, 0, earlierDays), LoadKg: u, Speed: u,
		AsSlow: u, TypicalError: u, MDC: u, SWC: u}
}

// habitual returns the warm-up of the day that the lifter's earlier days had
// most surely: the heaviest of today that at least half of the latest earlier
// days came near, else the heaviest.
func habitual(earlier []warmUps, today *warmUps) sets.DayPoint {
	recent := earlier[max(0, len(earlier)-habitDays):]
	for k := len(today.loads) - 1; k >= 0; k-- {
		kg := float64(today.loads[k].LoadKg)
		n := 0
		for i := range recent {
			if recent[i].near(kg, NearLoad*kg) != nil {
				n++
			}
		}
		if n >= Need && 2*n >= len(recent) {
			return today.loads[k]
		}
	}
	return today.heaviest()
}

// rooms are used again from lift to lift.
var rooms = sync.Pool{New: func() any { return new(room) }}

// room is used again from day to day.
type room struct {
	points  []sets.DayPoint // of the lift
	warmUps []warmUps       // by day

	days   []Day
	values []float64 // of the columns
	cols   []mixed.Column
	at     []float64
	fit    mixed.Fit
	last   Usual
}

// on compares a day with the days before it.
func (room *room) on(earlier []warmUps, today *warmUps) Readiness {
	last := habitual(earlier, today)
	kg, speed := float64(last.LoadKg), float64(last.Speed)
	r := Readiness{Date: today.day, LoadKg: last.LoadKg, Speed: last.Speed, Verdict: NotEnough,
		AsSlow: number.Unsaid, TypicalError: number.Unsaid, MDC: number.Unsaid, SWC: number.Unsaid}
	days := room.days[:0]
	for i := sort.Search(len(earlier), func(i int) bool { return earlier[i].day > today.day-sets.NowDays }); i < len(earlier); i++ {
		w := &earlier[i]
		if p := w.near(kg, NearLoad*kg); p != nil {
			days = append(days, Day{WeeksAgo: sets.Weeks(today.day, w.day), Kg: float64(p.LoadKg), Speed: float64(p.Speed), Unit: Unit{p.ReadFrom, p.Error}})
		}
	}
	room.days = days
	perKg := fallPerKg(earlier)
	u, err := room.usual(days, kg, perKg, Unit{last.ReadFrom, last.Error})
	if err != nil {
		r.Usual = number.NotYet(Need, min(len(days), Need-1), earlierDays)
		return r
	}
	v, lo, hi := u.Range(number.Level)
	r.Usual = number.Known(v, lo, hi, len(days), earlierDays).NotNegative()
	switch {
	case speed < lo:
		r.Verdict = Slower
	case speed > hi:
		r.Verdict = Faster
	default:
		r.Verdict = AsUsual
	}
	r.TypicalError, r.MDC = number.Number(u.TypicalError), number.Number(MinimalDetectableChange(u.TypicalError))
	worth := smallestStep * -perKg
	r.SWCFrom = "what 2.5 kg more on the bar costs in speed (common practice, no source)"
	if !(worth > 0) {
		worth = SmallestWorthwhile(u.TypicalError)
		r.SWCFrom = "0.2 × SD of the lifter's own days (after Hopkins 2004)"
	}
	r.SWC, r.AsSlow = number.Number(worth), number.Number(u.AsSlow(speed))
	return r
}

// fallPerKg returns the change of speed per kg within the earlier days, by
// least squares through each day's warm-ups with the day's mean taken off; NaN
// where they do not tell.
func fallPerKg(days []warmUps) float64 {
	n := 0
	var square, product float64
	for _, d := range days[max(0, len(days)-habitDays):] {
		n += len(d.loads)
		square += d.square
		product += d.product
	}
	if n < 3 || !(square > 0) || !(product < 0) {
		return math.NaN()
	}
	return product / square
}
