package source

import (
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// clocked tells of a table how the times of its samples are known: by a column of
// plain times, whatever its heading; by dates and times that go by in small
// steps; or by a rate. Of the latter a column that only counts the samples becomes
// their time.
func (s *Source) clocked(k *kind) {
	if k.Rows < samplesLeast {
		return
	}
	position := k.Column(column.Position)
	for _, c := range k.Columns {
		if position == nil && (c.Field == column.ROM || c.Named && c.Unit.Quantity == unit.Length) && c.Score < column.Declared && c.Stats.Smooth() {
			position = c
		}
		k.Stamped = k.Stamped || (c.Field == column.Date || c.Field == column.Clock) && c.Stats.Dense()
	}
	timed := k.Column(column.SampleTime)
	if timed != nil && timed.Stats.Share(timed.Stats.Rising()) < steady {
		timed = nil
	}
	hz := s.samplesOf(k.parts[0]).Hz
	if timed == nil && !k.Stamped && !k.Has(column.SampleTime) {
		timed = k.likeTime(position != nil, hz > 0)
		k.Paced = hz > 0 && (timed == nil || timed.Stats.Counting())
		if timed != nil {
			timed.Field, timed.Score, timed.Evidence = column.SampleTime, 0.5, "values: they rise steadily beside the position of a bar"
		}
	}
	if position != nil && position.Field != column.Position && (timed != nil || k.Stamped || k.Paced) {
		position.Field, position.Evidence = column.Position, "values: they follow each other as the positions of a bar do"
	}
}

const steady = 0.95 // of its rows: so many times of samples rise

// likeTime returns the one column that is no field, or one of times, and rises
// steadily; nil where there is none, or several. A column that counts the samples
// is one only where their rate is known; beside no position, only one that a
// heading calls so.
func (k *kind) likeTime(position, paced bool) (found *column.Column) {
	for _, c := range k.Columns {
		switch c.Field {
		case column.Nothing, column.Known, column.Date, column.Clock, column.Concentric:
		default:
			continue
		}
		counting := c.Stats.Counting()
		if c.Score >= column.Declared || !c.Stats.Ticking() || counting && !paced || !counting && !position || !position && !c.Words.Has.Has(words.Sample) {
			continue
		}
		if found != nil {
			return nil
		}
		found = c
	}
	return found
}
