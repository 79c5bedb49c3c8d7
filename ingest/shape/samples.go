package shape

import "repsift/ingest/shape/column"

// samples: one line is a moment of a trace, many a second. Its reps are found
// in the whole of it, not line by line: without finish and end the source stops
// and says so.
var samples = Shape{Name: "samples", fits: fitsSamples}

func fitsSamples(t *Table) (float64, string) {
	at := t.Column(column.SampleTime)
	if at == nil || t.Column(column.Position) == nil && t.Column(column.MeanVelocity) == nil || t.Rows < 50 {
		return 0, ""
	}
	if at.Stats.Share(at.Stats.Rising()) < 0.95 || t.Column(column.RepNumber) != nil || t.Column(column.Date) != nil {
		return 0, ""
	}
	return 2, "a time that rises in small equal steps, beside a position or speed of the bar"
}
