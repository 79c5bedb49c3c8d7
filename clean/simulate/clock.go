package simulate

import "math"

// Clock is what an export says of time.
type Clock uint8

// From the coarsest to the finest.
const (
	NoClock       Clock = iota // a date only
	SetMinutes                 // the set's start, to the minute
	SetSeconds                 // likewise, to the second
	RepTwoSeconds              // of each rep, to two seconds
	RepSeconds
	RepMillis
)

// Time returns the time a row carries, in seconds, of a set that began at set
// and a movement at at.
func (c Clock) Time(set, at float64) (s float64, ok bool) {
	switch c {
	case SetMinutes:
		return math.Floor(set/60) * 60, true
	case SetSeconds:
		return math.Floor(set), true
	case RepTwoSeconds:
		return math.Floor(at/2) * 2, true
	case RepSeconds:
		return math.Floor(at), true
	case RepMillis:
		return at, true
	}
	return 0, false
}

// Shows reports whether an export has travel or duration of a row or, of a
// glitch, the column that gives it away.
func Shows(needs string, peak, travel, dur bool) bool {
	switch needs {
	case "speed":
		return true
	case "peak":
		return peak
	case "travel":
		return travel
	case "dur":
		return dur && travel
	}
	return travel || dur
}
