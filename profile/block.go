package profile

// Block is one stretch of training of one lift, and how it differs from the
// block before.
type Block struct {
	Name     string `json:"name"`
	Declared bool   `json:"declared"` // in the season file; else found by gaps of training
	Span
	Sessions int    `json:"sessions"`
	Sets     int    `json:"sets"`      // warm-ups left out
	HardSets int    `json:"hard_sets"` // called RPE 7 or more, or without a call and at a speed of RPE 7 or more
	Reps     int    `json:"reps"`
	Tonnage  Number `json:"tonnage_kg"` // Σ load × reps done, warm-ups left out

	Intensity []IntensityBand `json:"intensity"` // of the e1RM of the day, lightest band first
	MeanRPE   Estimate        `json:"mean_rpe"`
	Loss      Estimate        `json:"velocity_loss"` // mean of sets of two or more, warm-ups left out
	E1RM      Estimate        `json:"e1rm_kg"`       // at the end of the block

	Against      string       `json:"against"` // name of the block before; empty for the first
	E1RMChange   Estimate     `json:"e1rm_change_kg"`
	SpeedChange  Estimate     `json:"speed_change_m_s"`  // at common loads, days compared
	EffortChange Estimate     `json:"effort_change_m_s"` // speed at the same called RPE
	AtLoads      []LoadChange `json:"at_loads"`
	Cautions     []string     `json:"cautions"`
}

// IntensityBand counts working sets by share of the e1RM.
type IntensityBand struct {
	FromPercent int `json:"from_percent"` // inclusive
	ToPercent   int `json:"to_percent"`   // exclusive; 0: no upper end
	Sets        int `json:"sets"`
	Reps        int `json:"reps"`
}

// LoadChange is the speed of one load in this block against the one before.
type LoadChange struct {
	LoadKg Number   `json:"load_kg"`
	Before Number   `json:"before_m_s"`
	Now    Number   `json:"now_m_s"`
	Change Estimate `json:"change_m_s"`
}
