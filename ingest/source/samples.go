package source

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/unit"
)

// samplesLeast is how many rows a trace has at least.
const samplesLeast = 50

// ofSamples reports whether a line of the table is a sample.
func (k *kind) ofSamples() bool { return k.Has(column.SampleTime) || k.Stamped || k.Paced }

// declareSamples makes the headings that samples = { … } names those of the
// columns they are.
func (s *Source) declareSamples() {
	d := s.declared.Samples
	if d == nil {
		return
	}
	columns := maps.Clone(s.declared.Columns)
	if columns == nil {
		columns = make(map[string]string)
	}
	for f, heading := range map[column.Field]string{column.SampleTime: d.Time, column.Position: d.Position, column.MeanVelocity: d.Velocity} {
		if heading != "" {
			columns[f.String()] = heading
		}
	}
	s.declared.Columns = columns
}

// position finds the position of the bar in a table that has the times of samples
// but no column called position or speed: the one column whose numbers can be
// how far a bar moved. Where several can, it asks.
func (s *Source) position(k *kind) *Ask {
	timed := k.Has(column.SampleTime) && !k.Has(column.Date) || k.Stamped || k.Paced
	if !timed || k.Has(column.Position) || k.Has(column.RepNumber) || k.Rows < samplesLeast {
		return nil
	}
	if c := k.Column(column.MeanVelocity); c != nil && c.Words.Has != 0 {
		return nil
	}
	var can []*column.Column
	for _, c := range k.Columns {
		if byHeading := c.Words.Has != 0 || c.Score >= column.Declared; byHeading && c.Field != column.Nothing || c.Stats.Share(c.Stats.Numbers) < 0.95 {
			continue
		}
		if name, _ := travelUnit(c.Stats.Values); name != "" && c.Field != column.SampleTime {
			can = append(can, c)
		}
	}
	if len(can) == 1 {
		can[0].Field, can[0].Score, can[0].Evidence = column.Position, 0.5, "values: beside the time only these can be how far a bar moved"
		return nil
	}
	if len(can) == 0 {
		return nil
	}
	a := &Ask{Place: rep.Place{Source: s.Name}, Problem: "samples of a trace: beside the time several columns can be the position of the bar"}
	for _, c := range can {
		a.Lines = append(a.Lines, fmt.Sprintf("samples = { position = %s }", quote(c.Heading)))
	}
	return a
}

// sampleUnit gives a column of a trace its unit where neither heading nor cells
// nor season file do: done reports whether that was all there is to settle.
// Times are told by their steps, since a unit takes 10 to 1000 samples a second;
// positions and speeds by how far a bar moves and how fast. What leaves two
// readings, and counts of an encoder, are asked about.
func (s *Source) sampleUnit(k *kind, c *column.Column) (done bool, ask *Ask) {
	if c.Field != column.SampleTime && c.Field != column.Position && (c.Field != column.MeanVelocity || !k.ofSamples()) {
		return false, nil
	}
	known := s.samplesOf(k.parts[0])
	if c.Field == column.Position && known.MetresPerCount > 0 {
		from := "season file"
		if d := s.declared.Samples; d == nil || d.MetresPerCount == 0 {
			from = "the lines above or the heading"
			s.say("column %q: %s say %g m a count", c.Heading, from, known.MetresPerCount)
		}
		c.Unit, c.UnitFrom = unit.Unit{}, fmt.Sprintf("%s: %g m a count", from, known.MetresPerCount)
		return true, nil
	}
	if c.Field == column.SampleTime && k.Paced {
		c.Unit, c.UnitFrom = unit.Unit{}, fmt.Sprintf("counts samples, %g a second", known.Hz)
		return true, nil
	}
	if _, said := c.UnitOf(c.Field); said || s.declaredUnit(c.Field).Name != "" {
		return false, nil
	}
	name, why := "", ""
	switch c.Field {
	case column.SampleTime:
		name, why = timeUnit(c.Stats.Values)
	case column.Position:
		name, why = travelUnit(c.Stats.Values)
	default:
		name, why = speedUnit(c.Stats.Values)
	}
	u, ok := unit.ParseFor(c.Field.Quantity(), name)
	if !ok || s.longer && c.Field != column.SampleTime { // at rest a bar sways by millimetres, or by 0.3 of one

		ask = s.askUnit(c, c.Field.Quantity())
		if c.Field == column.Position {
			s.askTravel(c, ask)
			counts := "samples = { metres_per_count = 0.0001 }"
			if ask.Lines = append(ask.Lines, counts); counted(c.Heading) {
				ask.Problem, ask.Lines = "counts of an encoder, and nothing says how long one is", []string{counts}
			}
		}
		return true, ask
	}
	c.Unit, c.UnitFrom = u, "values"
	s.say("column %q: no unit given; read in %s, because %s", c.Heading, u.Name, why)
	return true, nil
}

// askTravel leaves those units in a question in which a bar can have moved as far.
func (s *Source) askTravel(c *column.Column, ask *Ask) {
	if len(c.Stats.Values) == 0 {
		return
	}
	lo, hi := slices.Min(c.Stats.Values), slices.Max(c.Stats.Values)
	var lines, names []string
	for _, u := range column.Plausible(c.Field, c.Stats) {
		if way := u.SI(hi - lo); way >= 0.1 && way <= 3 {
			lines, names = append(lines, fmt.Sprintf("units = { %s = %s }", c.Field, quote(u.Name))), append(names, u.Name)
		}
	}
	if len(lines) > 0 {
		ask.Lines, ask.Problem = lines, fmt.Sprintf("no unit is given, and positions from %g to %g can be in %s, or counts of an encoder", lo, hi, either(names))
	}
}

// timeUnit returns the unit in which samples lie 1 to 100 ms apart; "" where
// that is none, or the times only count samples.
func timeUnit(times []float64) (name, why string) {
	var steps []float64
	whole := true
	for i := 1; i < len(times); i++ {
		if d := times[i] - times[i-1]; d > 0 {
			steps = append(steps, d)
		}
		whole = whole && times[i] == math.Trunc(times[i])
	}
	if len(steps) == 0 {
		return "", ""
	}
	slices.Sort(steps)
	step := steps[len(steps)/2]
	switch {
	case whole && step == 1:
		return "", "" // milliseconds, or a number of the sample
	case step >= 0.0009 && step <= 0.11:
		name = "s"
	case step >= 0.9 && step <= 110:
		name = "ms"
	case step >= 900 && step <= 110e3:
		name = "µs"
	}
	return name, fmt.Sprintf("the samples lie %.4g apart", step)
}

// travelUnit returns the unit in which a bar has moved like one that was
// lifted, 0.15 to 2.5 m; "" where there is none, or whole numbers may be counts.
func travelUnit(positions []float64) (name, why string) {
	if len(positions) == 0 {
		return "", ""
	}
	whole := !slices.ContainsFunc(positions, func(v float64) bool { return v != math.Trunc(v) })
	way := slices.Max(positions) - slices.Min(positions)
	switch {
	case whole:
		return "", ""
	case way >= 0.15 && way <= 2.5:
		name = "m"
	case way >= 150 && way <= 2500:
		name = "mm"
	}
	return name, fmt.Sprintf("they span %.4g", way)
}

// speedUnit returns the unit in which the fastest sample has the speed of a
// barbell, 0.2 to 4 m/s.
func speedUnit(speeds []float64) (name, why string) {
	top := 0.0
	for _, v := range speeds {
		top = max(top, math.Abs(v))
	}
	switch {
	case top >= 0.2 && top <= 4:
		name = "m/s"
	case top >= 200 && top <= 4000:
		name = "mm/s"
	case top >= 20 && top <= 180:
		name = "cm/s"
	}
	return name, fmt.Sprintf("the fastest is %.4g", top)
}
