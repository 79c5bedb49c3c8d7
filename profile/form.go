package profile

import (
	"repsift/profile/number"
)

// profiles.json holds what profiles hold, in another shape where there is a line
// a day or a line a point: as columns, which are lists of the same length under
// the name of what they hold. So names, and what is the same in all lines, stand
// once, and a table of R or of pandas is made of such an object as it is. A column
// of which nothing is known in any line is left out.
//
// The fields of a form stand for those of the same name in what it embeds. toform.go
// makes forms, fromform.go reads them.
//
// Columns are lists of plain numbers and texts, without a method that writes them:
// what a MarshalJSON gives is read again by encoding/json.

// numbers is a column of [Number]; nil is a number that cannot be said.
type numbers = []*float64

// link is a column of numbers and the field of a row that it holds.
type link[Row any] struct {
	column *numbers
	of     func(*Row) *Number
}

// lifterForm is a lifter as profiles.json has it.
type lifterForm struct {
	Name string `json:"lifter"`
	Span
	Sessions     int        `json:"sessions"`
	SessionDates []string   `json:"session_dates"` // of session 1 first; numbered as in the tables of reps and sets
	Lifts        []liftForm `json:"lifts"`
}

type liftForm struct {
	*Lift
	Effort       effortForm   `json:"effort_chart"`
	LoadVelocity speedForm    `json:"load_velocity"`
	E1RM         []e1rmForm   `json:"e1rm"`
	E1RMLine     string       `json:"e1rm_line,omitempty"` // what is behind the entries from the line
	Readiness    []readyForm  `json:"readiness"`
	VelocityLoss lossForm     `json:"velocity_loss"`
	Splits       []splitForm  `json:"splits"`
	Points       []pointsForm `json:"points"` // of all days; by load, then role
}

type splitForm struct {
	*Split
	Effort       effortForm   `json:"effort_chart"`
	LoadVelocity speedForm    `json:"load_velocity"`
	Points       []pointsForm `json:"points"` // of the line
}

// pointsForm is the fastest reps of the days on which a load was done in one
// role. The load-velocity line rests on those since its first day, a line of
// progress on those of its load, on each day the fastest.
type pointsForm struct {
	LoadKg   Number  `json:"load_kg"`
	Role     string  `json:"set_role"`
	ReadFrom string  `json:"read_from,omitempty"` // see [DayPoint]
	Session  []int   `json:"session"`
	Speed    numbers `json:"speed_m_s"`
}

func (f *pointsForm) links() []link[DayPoint] {
	return []link[DayPoint]{{&f.Speed, func(p *DayPoint) *Number { return &p.Speed }}}
}

// readyForm is days of which the same is known: those that were compared with
// earlier ones, or those that cannot be yet, which have need and have instead of
// what is usual.
type readyForm struct {
	Date         []string  `json:"date"`
	LoadKg       numbers   `json:"load_kg"`
	Speed        numbers   `json:"speed_m_s"`
	Verdict      []Verdict `json:"verdict"`
	Usual        numbers   `json:"usual_m_s,omitempty"`
	Lo           numbers   `json:"usual_lo_m_s,omitempty"`
	Hi           numbers   `json:"usual_hi_m_s,omitempty"`
	Level        float64   `json:"level,omitempty"`
	N            []int     `json:"n,omitempty"`
	Need         []int     `json:"need,omitempty"`
	Have         []int     `json:"have,omitempty"`
	Of           string    `json:"of,omitempty"` // what n, need and have count
	AsSlow       numbers   `json:"usual_days_as_slow,omitempty"`
	TypicalError numbers   `json:"typical_error_m_s,omitempty"`
	MDC          numbers   `json:"mdc95_m_s,omitempty"`
	SWC          numbers   `json:"smallest_worthwhile_m_s,omitempty"`
	SWCFrom      string    `json:"smallest_worthwhile_from,omitempty"`
}

// links are the columns of all days, then those of days that were compared.
func (f *readyForm) links() (all, compared []link[Readiness]) {
	return []link[Readiness]{
			{&f.LoadKg, func(r *Readiness) *Number { return &r.LoadKg }},
			{&f.Speed, func(r *Readiness) *Number { return &r.Speed }},
		}, []link[Readiness]{
			{&f.Usual, func(r *Readiness) *Number { return (*Number)(&r.Usual.Value) }},
			{&f.Lo, func(r *Readiness) *Number { return (*Number)(&r.Usual.Lo) }},
			{&f.Hi, func(r *Readiness) *Number { return (*Number)(&r.Usual.Hi) }},
			{&f.AsSlow, func(r *Readiness) *Number { return &r.AsSlow }},
			{&f.TypicalError, func(r *Readiness) *Number { return &r.TypicalError }},
			{&f.MDC, func(r *Readiness) *Number { return &r.MDC }},
			{&f.SWC, func(r *Readiness) *Number { return &r.SWC }},
		}
}

type speedForm struct {
	*LoadVelocity
	Table []percentForm `json:"table"`
	Curve curveForm     `json:"curve"`
}

// percentForm is a [PercentRow].
type percentForm struct {
	Percent int      `json:"percent_1rm"`
	LoadKg  *float64 `json:"load_kg"`
	LoadLo  *float64 `json:"load_lo_kg"`
	LoadHi  *float64 `json:"load_hi_kg"`
	Fastest *float64 `json:"fastest_m_s"`
	Lo      *float64 `json:"lo_m_s"`
	Hi      *float64 `json:"hi_m_s"`
	Outside bool     `json:"outside_data"`
}

type curveForm struct {
	LoadKg numbers `json:"load_kg,omitempty"`
	Speed  numbers `json:"speed_m_s,omitempty"`
	MeanLo numbers `json:"mean_lo_m_s,omitempty"`
	MeanHi numbers `json:"mean_hi_m_s,omitempty"`
	NextLo numbers `json:"next_lo_m_s,omitempty"`
	NextHi numbers `json:"next_hi_m_s,omitempty"`
}

func (f *curveForm) links() []link[CurvePoint] {
	return []link[CurvePoint]{
		{&f.LoadKg, func(p *CurvePoint) *Number { return &p.LoadKg }},
		{&f.Speed, func(p *CurvePoint) *Number { return &p.Speed }},
		{&f.MeanLo, func(p *CurvePoint) *Number { return &p.MeanLo }},
		{&f.MeanHi, func(p *CurvePoint) *Number { return &p.MeanHi }},
		{&f.NextLo, func(p *CurvePoint) *Number { return &p.NextLo }},
		{&f.NextHi, func(p *CurvePoint) *Number { return &p.NextHi }},
	}
}

// e1rmForm is an [E1RM]. What an entry from the line rests on stands once, in
// E1RMLine, and what n counts goes with where an entry comes from.
type e1rmForm struct {
	Date string `json:"date"`
	From string `json:"from"`
	Kg   kgForm `json:"kg"`
	What string `json:"what,omitempty"`
}

type kgForm struct {
	Value *float64 `json:"value"`
	Lo    *float64 `json:"lo"`
	Hi    *float64 `json:"hi"`
	Level float64  `json:"level"`
	N     int      `json:"n"`
}

type effortForm struct {
	*EffortChart
	ByRPE   byRPEForm       `json:"by_rpe"`
	BySpeed bySpeedForm     `json:"by_speed"`
	LastRep effortLineForm  `json:"last_rep"`
	Points  effortPointForm `json:"points"`
}

type effortLineForm struct {
	*EffortLine
	ByRPE   byRPEForm   `json:"by_rpe"`
	BySpeed bySpeedForm `json:"by_speed"`
}

// byRPEForm is rows of [AtRPE]; level and what is counted are those of the
// speed.
type byRPEForm struct {
	RPE    []float64 `json:"rpe,omitempty"`
	Speed  numbers   `json:"speed_m_s,omitempty"`
	Lo     numbers   `json:"lo_m_s,omitempty"`
	Hi     numbers   `json:"hi_m_s,omitempty"`
	MeanLo numbers   `json:"mean_lo_m_s,omitempty"`
	MeanHi numbers   `json:"mean_hi_m_s,omitempty"`
	countForm
}

func (f *byRPEForm) links() []link[AtRPE] {
	return []link[AtRPE]{
		{&f.Speed, func(r *AtRPE) *Number { return (*Number)(&r.Speed.Value) }},
		{&f.Lo, func(r *AtRPE) *Number { return (*Number)(&r.Speed.Lo) }},
		{&f.Hi, func(r *AtRPE) *Number { return (*Number)(&r.Speed.Hi) }},
		{&f.MeanLo, func(r *AtRPE) *Number { return &r.MeanLo }},
		{&f.MeanHi, func(r *AtRPE) *Number { return &r.MeanHi }},
	}
}

// bySpeedForm is rows of [ToRPE].
type bySpeedForm struct {
	Speed numbers `json:"speed_m_s,omitempty"`
	RPE   numbers `json:"rpe,omitempty"`
	Lo    numbers `json:"rpe_lo,omitempty"`
	Hi    numbers `json:"rpe_hi,omitempty"`
	countForm
}

func (f *bySpeedForm) links() []link[ToRPE] {
	return []link[ToRPE]{
		{&f.Speed, func(r *ToRPE) *Number { return &r.Speed }},
		{&f.RPE, func(r *ToRPE) *Number { return (*Number)(&r.RPE.Value) }},
		{&f.Lo, func(r *ToRPE) *Number { return (*Number)(&r.RPE.Lo) }},
		{&f.Hi, func(r *ToRPE) *Number { return (*Number)(&r.RPE.Hi) }},
	}
}

// countForm is what stands behind each line of a table of estimates.
type countForm struct {
	Level float64 `json:"level,omitempty"`
	N     int     `json:"n,omitempty"`
	Of    string  `json:"of,omitempty"`
}

func counted(e *Estimate) countForm { return countForm{e.Level, e.N, e.Of} }

// on says of an estimate what stands behind it.
func (f countForm) on(e *Estimate) { e.Known, e.Level, e.N, e.Of = true, f.Level, f.N, f.Of }

type effortPointForm struct {
	Session []int     `json:"session,omitempty"`
	Set     []int32   `json:"set,omitempty"`
	LoadKg  numbers   `json:"load_kg,omitempty"`
	Reps    []int     `json:"reps,omitempty"`
	RPE     []float64 `json:"rpe,omitempty"`
	RPEHigh numbers   `json:"rpe_high,omitempty"`
	Slowest numbers   `json:"slowest_m_s,omitempty"`
	Last    numbers   `json:"last_m_s,omitempty"`
	InLine  []bool    `json:"in_line,omitempty"`
}

func (f *effortPointForm) links() []link[EffortPoint] {
	return []link[EffortPoint]{
		{&f.LoadKg, func(p *EffortPoint) *Number { return &p.LoadKg }},
		{&f.RPEHigh, func(p *EffortPoint) *Number { return &p.RPEHigh }},
		{&f.Slowest, func(p *EffortPoint) *Number { return &p.Slowest }},
		{&f.Last, func(p *EffortPoint) *Number { return &p.Last }},
	}
}

type lossForm struct {
	*VelocityLoss
	StopAtLoss []stopForm `json:"stop_at_loss"`
}

// stopForm is a [StopAtLoss].
type stopForm struct {
	Percent int       `json:"percent_1rm"`
	LoadKg  *float64  `json:"load_kg"`
	Fastest *float64  `json:"fastest_m_s"`
	Loss    []float64 `json:"loss,omitempty"`
	Speed   numbers   `json:"speed_m_s,omitempty"`
}

func (f *stopForm) links() []link[LossTo] {
	return []link[LossTo]{{&f.Speed, func(x *LossTo) *Number { return &x.Speed }}}
}

// put fills the columns of a form from rows.
func put[Row any](rows []Row, links []link[Row]) {
	for _, l := range links {
		*l.column = number.Column(rows, l.of)
	}
}
