package profile

import "repsift/ingest/rep"

// SpeedTrend is the speed of one load over time: the fastest rep of each day.
type SpeedTrend struct {
	LoadKg Number `json:"load_kg"`
	Span
	PerWeek Estimate   `json:"change_m_s_per_week"` // Theil-Sen
	P       Number     `json:"mann_kendall_p"`      // two-sided; null when not enough yet
	First   Number     `json:"first_m_s"`           // the trend line on the first day
	Last    Number     `json:"last_m_s"`            // and on the last
	Points  []DayPoint `json:"points"`
}

// E1RMTrend is the e1RM over time: Theil-Sen through one value a session.
type E1RMTrend struct {
	From    string   `json:"from"` // the source with most sessions
	PerWeek Estimate `json:"change_kg_per_week"`
	P       Number   `json:"mann_kendall_p"`
}

// PersonalBest is the fastest rep ever recorded at a load.
type PersonalBest struct {
	LoadKg Number  `json:"load_kg"`
	Speed  Number  `json:"speed_m_s"`
	Date   rep.Day `json:"date"`
	Latest bool    `json:"latest"`     // done in the lift's latest session
	Before Number  `json:"before_m_s"` // the best until then; null for a first
}
