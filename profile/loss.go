package profile

// VelocityLoss is how much speed is lost within sets, and when to end one.
type VelocityLoss struct {
	Mean   Estimate    `json:"mean"` // of working sets of two or more reps
	ByRPE  []LossAtRPE `json:"by_rpe"`
	ByLeft []SpeedLeft `json:"by_reps_left"`
	// LossPerRep is the mean share lost with each rep of a set.
	LossPerRep Estimate `json:"loss_per_rep"`
	// Stop is the speed of a rep at which to end a back-off set so that it
	// would be called this RPE.
	Stop []StopAtRPE `json:"stop_at_rpe"`
	// StopAtLoss is the same for a chosen velocity loss, load by load.
	StopAtLoss []StopAtLoss `json:"stop_at_loss"`
	Cautions   []string     `json:"cautions"`
}

// LossAtRPE is the loss of sets called an RPE.
type LossAtRPE struct {
	RPE  float64 `json:"rpe"`
	Sets int     `json:"sets"`
	Loss Number  `json:"loss"`
	SD   Number  `json:"sd"`
}

// SpeedLeft is the speed of reps after which this many were left, by the RPE
// called: reps left = reps to come in the set + (10 − RPE).
type SpeedLeft struct {
	Left  int    `json:"reps_left"`
	Reps  int    `json:"reps"`
	Sets  int    `json:"sets"`
	Speed Number `json:"speed_m_s"`
	SD    Number `json:"sd_m_s"`
}

// StopAtRPE is a speed at which to end a set.
type StopAtRPE struct {
	RPE   float64  `json:"rpe"`
	Speed Estimate `json:"speed_m_s"` // lo, hi: the last rep of the next such set
}

// StopAtLoss is the last speed to do at a load for a velocity loss.
type StopAtLoss struct {
	Percent int      `json:"percent_1rm"`
	LoadKg  Number   `json:"load_kg"`
	Fastest Number   `json:"fastest_m_s"`
	At      []LossTo `json:"at"`
}

// LossTo is the speed a loss leads to.
type LossTo struct {
	Loss  float64 `json:"loss"`
	Speed Number  `json:"speed_m_s"`
}
