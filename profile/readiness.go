package profile

import "repsift/ingest/rep"

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
	Date    rep.Day  `json:"date"`
	LoadKg  Number   `json:"load_kg"`   // of the habitual last warm-up
	Speed   Number   `json:"speed_m_s"` // fastest rep of it on the day
	Usual   Estimate `json:"usual_m_s"` // lo, hi: the normal range of the day
	Verdict Verdict  `json:"verdict"`
	// Chances that the day is truly slower than usual, within a smallest
	// worthwhile change of it, or faster; they add up to 1.
	Slower  Number `json:"chance_slower"`
	AsUsual Number `json:"chance_as_usual"`
	Faster  Number `json:"chance_faster"`

	TypicalError Number `json:"typical_error_m_s"`       // day to day
	MDC          Number `json:"mdc95_m_s"`               // 1.96·√2·typical error: one day against one day
	SWC          Number `json:"smallest_worthwhile_m_s"` // see SWCFrom
	SWCFrom      string `json:"smallest_worthwhile_from"`
}
