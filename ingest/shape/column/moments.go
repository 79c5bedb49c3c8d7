package column

import (
	"math"
	"slices"
	"strconv"

	"repsift/ingest/date"
)

const (
	steadyRows  = 20  // fewer numbers do not show that they rise steadily
	steadyStep  = 3.0 // times the middle step: what nine in ten steps stay below
	denseRows   = 5.0 // rows a second, at least, where rows are the samples of a trace
	denseAtOnce = 1.0 // s between two moments, at most: written to whole seconds
)

// Rising returns how many numbers are above the one before, all of them by
// about the same; or as high, where a coarse clock gives several samples one time.
func (s *Stats) Rising() int {
	if len(s.Values) < steadyRows {
		return 0
	}
	var steps []float64
	level := 0
	for i := 1; i < len(s.Values); i++ {
		switch d := s.Values[i] - s.Values[i-1]; {
		case d > 0:
			steps = append(steps, d)
		case d == 0:
			level++
		}
	}
	if len(steps) < 3 {
		return 0
	}
	slices.Sort(steps)
	mid, most := steps[len(steps)/2], steadyStep
	if level > len(steps) {
		most = 1.5 // ticks of a clock are alike
	}
	if steps[len(steps)*9/10] > most*mid {
		return 0
	}
	return len(steps) + level
}

// Counting reports whether numbers count the rows: 1, 2, 3.
func (s *Stats) Counting() bool { return s.Share(s.Up) > 0.95 && s.Ones == 0 }

// Ticking reports whether numbers rise by about the same from each row to the
// next, as nothing does but a clock, or a count.
func (s *Stats) Ticking() bool {
	if len(s.Values) < steadyRows {
		return false
	}
	steps := make([]float64, len(s.Values)-1)
	for i := range steps {
		steps[i] = s.Values[i+1] - s.Values[i]
	}
	sorted := slices.Sorted(slices.Values(steps))
	mid, even := sorted[len(sorted)/2], 0
	for _, d := range steps {
		if d > mid/2 && d < 1.5*mid {
			even++
		}
	}
	return mid > 0 && 10*even >= 9*len(steps)
}

// Widen takes a number further down into account where it is beyond all before.
func (s *Stats) Widen(v float64) {
	if s.lo == s.hi && len(s.Values) > 0 {
		s.lo, s.hi = slices.Min(s.Values), slices.Max(s.Values)
	}
	if len(s.Values) == 0 || v < s.lo || v > s.hi {
		s.lo, s.hi = min(s.lo, v), max(s.hi, v)
		s.Values = append(s.Values, v)
	}
}

// Smooth reports whether numbers follow each other closely, as the positions of
// a bar do and those of reps do not: half of the steps are small beside the
// whole of their span.
func (s *Stats) Smooth() bool {
	if len(s.Values) < steadyRows {
		return false
	}
	steps := make([]float64, len(s.Values)-1)
	for i := range steps {
		steps[i] = math.Abs(s.Values[i+1] - s.Values[i])
	}
	slices.Sort(steps)
	return steps[len(steps)/2] < 0.05*(slices.Max(s.Values)-slices.Min(s.Values))
}

// Dense reports whether the cells are dates with times, times of day or Unix
// times that go by as the samples of a trace do, many in a second, and not as
// reps.
func (s *Stats) Dense() bool {
	if s.Filled() < steadyRows {
		return false
	}
	moments, rows := s.moments()
	var steps []float64
	for i := 1; i < len(moments); i++ {
		if d := moments[i] - moments[i-1]; d > 0 {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 || len(steps)*5 < len(moments)*4-5 { // most of them forwards
		return false
	}
	slices.Sort(steps)
	mid := steps[len(steps)/2]
	return mid <= denseAtOnce && float64(rows) >= denseRows*mid*float64(len(steps)+1)
}

// moments returns the moments that the first cells tell, in s, and how many cells
// these are.
func (s *Stats) moments() (at []float64, rows int) {
	const second = 1000.0 // ms
	for _, serial := range s.Serials {
		at = append(at, serial*86400)
	}
	if len(at) > 0 {
		return at, len(at)
	}
	if s.Dates.Unix > s.Filled()/2 {
		for _, v := range s.Values {
			stamp, err := date.ParseUnix(strconv.FormatFloat(v, 'f', -1, 64))
			if err != nil {
				return nil, 0
			}
			if n := len(at); n == 0 || at[n-1] != float64(stamp.Instant.V)/second {
				at = append(at, float64(stamp.Instant.V)/second)
			}
		}
		return at, len(s.Values)
	}
	for _, t := range s.Distinct {
		rows += t.N
		if ms, err := date.ParseClock(t.Text); err == nil {
			at = append(at, float64(ms)/second)
			continue
		}
		for order := date.DayMonthYear; order <= date.YearMonthDay; order++ {
			if stamp, err := date.Parse(t.Text, order); err == nil {
				if !stamp.Clock.OK {
					return nil, 0
				}
				at = append(at, float64(stamp.Day)*86400+float64(stamp.Clock.V)/second)
				break
			}
		}
	}
	if 2*len(at) < len(s.Distinct) {
		return nil, 0
	}
	return at, rows
}
