package shape

// samples: one line is a moment of a trace, many a second. Its reps are found
// in the whole of it, not line by line: without finish and end the source stops
// and says so.
var samples = shape{name: "samples", fits: fitsSamples}

func fitsSamples(p *Part) (float64, string) {
	t := p.column(SampleTime)
	if t == nil || p.column(Position) == nil && p.column(MeanVelocity) == nil || p.kind.rows < 50 {
		return 0, ""
	}
	if t.stats.share(t.stats.rising()) < 0.95 || p.column(RepNumber) != nil || p.column(Date) != nil {
		return 0, ""
	}
	return 2, "a time that rises in small equal steps, beside a position or speed of the bar"
}
