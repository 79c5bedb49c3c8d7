package profile

import "repsift/ingest/rep"

// LoadVelocity is the load-velocity profile: the fastest rep of each load and
// day, warm-ups included, as a straight line on the latest day of the lift.
type LoadVelocity struct {
	Points int `json:"points_n"` // loads × days in the line
	Span
	Intercept Estimate `json:"intercept_m_s"`       // speed at no load
	Slope     Estimate `json:"slope_m_s_per_kg"`    // within days
	DaySD     Number   `json:"day_sd_m_s"`          // how much whole days differ (REML)
	DaySDLo   Number   `json:"day_sd_lo_m_s"`       // its 95 % interval
	DaySDHi   Number   `json:"day_sd_hi_m_s"`       //
	Scatter   Number   `json:"scatter_m_s"`         // within a day (REML)
	Drift     Estimate `json:"drift_m_s_per_week"`  // at the same load
	V1RM      Estimate `json:"velocity_at_1rm_m_s"` // see V1RMFrom
	V1RMFrom  string   `json:"velocity_at_1rm_from"`

	Table []PercentRow `json:"table"` // %1RM 100, 95 … 50
	Curve []CurvePoint `json:"curve"` // the line and its bands, lightest load first, for charts
	At    []DayPoint   `json:"points"`

	Curvature Estimate `json:"curvature"`        // quadratic term, m/s per kg²
	Curved    bool     `json:"curved"`           // the interval of Curvature excludes 0: say so
	Uneven    Number   `json:"uneven_scatter_p"` // probability of so uneven a scatter by chance (Breusch-Pagan, studentised)
	Cautions  []string `json:"cautions"`
}

// PercentRow is a line of the %1RM table.
type PercentRow struct {
	Percent int    `json:"percent_1rm"`
	LoadKg  Number `json:"load_kg"`
	LoadLo  Number `json:"load_lo_kg"`
	LoadHi  Number `json:"load_hi_kg"`
	Fastest Number `json:"fastest_m_s"` // of the fastest rep at LoadKg
	Lo      Number `json:"lo_m_s"`      // range of 95 of 100 days
	Hi      Number `json:"hi_m_s"`
	Outside bool   `json:"outside_data"` // the load is lighter or heavier than any measured
}

// CurvePoint is the line at a load.
type CurvePoint struct {
	LoadKg Number `json:"load_kg"`
	Speed  Number `json:"speed_m_s"`
	MeanLo Number `json:"mean_lo_m_s"` // where the line may lie
	MeanHi Number `json:"mean_hi_m_s"`
	NextLo Number `json:"next_lo_m_s"` // where the next day's fastest rep may lie
	NextHi Number `json:"next_hi_m_s"`
}

// DayPoint is the fastest rep of a load on a day.
type DayPoint struct {
	Date   rep.Day `json:"date"`
	LoadKg Number  `json:"load_kg"`
	Speed  Number  `json:"speed_m_s"`
	Role   string  `json:"set_role"`
}
