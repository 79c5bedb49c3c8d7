package profile

import "repsift/ingest/rep"

// EffortChart is RPE against the speed of the slowest and of the last rep of a
// set.
type EffortChart struct {
	Levels []EffortLevel `json:"levels"` // called levels only, lowest first
	EffortLine
	LastRep EffortLine    `json:"last_rep"` // the same against the last rep done
	Points  []EffortPoint `json:"points"`   // by date and set
	// DriftPerWeek is how the speed at the same called RPE changed, m/s per
	// week: more than nothing means calls or strength changed their meaning.
	DriftPerWeek Estimate `json:"drift_m_s_per_week"`
	// CallBias is the RPE at which the line reaches the lifter's velocity at
	// 1RM, minus the RPE at which powerlifters call a 1RM (Helms 2017: 9.6 to
	// 9.7). Below 0: sets are harder than they are called.
	CallBias Estimate `json:"call_bias_rpe"`
	Cautions []string `json:"cautions"`
}

// EffortLevel is the average a coach would write down by hand: all sets called
// this RPE.
type EffortLevel struct {
	RPE     float64 `json:"rpe"`
	Sets    int     `json:"sets"`
	Slowest Number  `json:"slowest_m_s"` // mean
	SD      Number  `json:"sd_m_s"`      // sample SD; null for one set
	Last    Number  `json:"last_m_s"`
	LastSD  Number  `json:"last_sd_m_s"`
}

// EffortLine is speed over RPE as a straight line.
type EffortLine struct {
	Sets     int      `json:"sets"` // in the line: called RPE 5 or more
	Days     int      `json:"days"`
	AtRPE8   Estimate `json:"at_rpe8_m_s"` // mean speed of sets called 8
	PerRPE   Estimate `json:"per_rpe_m_s"` // change of speed per RPE point
	Scatter  Number   `json:"scatter_m_s"` // SD of a set of one day around its day's line
	DaySD    Number   `json:"day_sd_m_s"`  // SD of days around the line
	ByRPE    []AtRPE  `json:"by_rpe"`      // RPE 6, 6.5, … 10; empty when not enough yet
	BySpeed  []ToRPE  `json:"by_speed"`    // fastest first; empty when not enough yet
	PriorSay string   `json:"prior"`       // what was assumed about the slope
}

// AtRPE is the speed to expect of a set called RPE: the line and the interval
// that holds the next such set.
type AtRPE struct {
	RPE    float64  `json:"rpe"`
	Speed  Estimate `json:"speed_m_s"`   // lo, hi: the next set, on another day
	MeanLo Number   `json:"mean_lo_m_s"` // where the line itself may lie
	MeanHi Number   `json:"mean_hi_m_s"`
}

// ToRPE is the RPE the lifter would call a set of this speed.
type ToRPE struct {
	Speed Number   `json:"speed_m_s"`
	RPE   Estimate `json:"rpe"` // lo, hi: the next call; never above 10
}

// EffortPoint is one set of the chart.
type EffortPoint struct {
	Date    rep.Day `json:"date"`
	Set     int32   `json:"set"` // 0: a logged set without a number
	LoadKg  Number  `json:"load_kg"`
	Reps    int     `json:"reps"`
	RPE     float64 `json:"rpe"` // middle of a called range
	RPEHigh Number  `json:"rpe_high"`
	Slowest Number  `json:"slowest_m_s"`
	Last    Number  `json:"last_m_s"`
	InLine  bool    `json:"in_line"`
}
