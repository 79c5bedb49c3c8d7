package profile

// Agreement is how two units agree on the same sets: differences are other
// minus reference, m/s.
type Agreement struct {
	Reference string `json:"reference"`
	Other     string `json:"other"`
	Pairs     int    `json:"pairs"`
	Span
	Bias         Estimate `json:"bias_m_s"`
	SD           Number   `json:"sd_m_s"`
	LowerLimit   Estimate `json:"lower_limit_m_s"` // of agreement, 95 % of differences
	UpperLimit   Estimate `json:"upper_limit_m_s"`
	Proportional Estimate `json:"proportional"` // slope of difference on mean; 0: none
	// The line of other on reference by ordinary least products, for reading
	// one unit in terms of the other.
	Slope       Estimate     `json:"slope"`
	Intercept   Estimate     `json:"intercept_m_s"`
	Concordance Estimate     `json:"concordance"` // Lin
	Points      []PairedReps `json:"points"`
	Cautions    []string     `json:"cautions"`
}

// PairedReps is one rep, or set, as both units saw it, m/s.
type PairedReps struct {
	Reference Number `json:"reference_m_s"`
	Other     Number `json:"other_m_s"`
}
