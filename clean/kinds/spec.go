package kinds

import (
	"fmt"
	"strconv"
	"strings"

	"repsift/clean/beside"
	"repsift/ingest/rep"
)

// History is what filters look at.
type History struct {
	*beside.History
	Counted []bool // by position: taken by log count in this pass or one before

	chances map[int][]float64 // by set: what strays finds in this pass
}

// Begin begins a pass.
func (h *History) Begin() { clear(h.chances) }

// Spec is what all filters of a kind share. One file a kind holds its look
// and its sentence; kinds.go lists them.
type Spec struct {
	rep.Kind
	What   string // what it does to a rep, for the codebook
	Flags  bool   // marks, and never sets aside
	Limits []Limit
	Step   Step

	// Look examines every rep of a history within scope. l holds the limits
	// in the order of the list. Nil where the kind acts at another step.
	Look func(h *History, l []float64, out *Looks)

	// Say is the reason, in one sentence, given what Look measured.
	Say func(h *History, i int, f Finding) string

	// Unit writes a measured value or a limit, where the two are of one
	// quantity; nil where they are not, or where a sentence says no more.
	Unit func(x float64) string
}

// Step orders kinds by what they build on; kinds of one step see the same reps.
type Step uint8

// The steps.
const (
	Alone  Step = iota // a rep, its set, what is usual
	Paired             // the sets of two units, without the reps set aside so far
	Logged             // the hand log's account of a set, likewise
	Steps
)

// Limit is one limit of a kind: its default for all lifts, and for some.
type Limit struct {
	Name        string
	Value       float64
	Lifts       []LiftValue
	Source      string  // of the default
	Least, Most float64 // what may be declared
}

// LiftValue is the default of one lift.
type LiftValue struct {
	Lift  string
	Value float64
}

// Of returns the default for a lift.
func (l *Limit) Of(lift string) float64 {
	for _, v := range l.Lifts {
		if v.Lift == lift {
			return v.Value
		}
	}
	return l.Value
}

// Finding is what one filter measured on one rep.
type Finding struct {
	I      int32 // position in the history's rows
	Filter uint8 // position in the list of filters
	Failed bool
	// Measured and Limit are in the unit the filter's sentence names; NaN
	// where there is no such number.
	Measured, Limit float64
}

// Looks collects the findings of one filter.
type Looks struct {
	Mask   []bool // nil: all rows
	Filter uint8
	Every  bool // keep what passed too: for the story of a row
	Found  []Finding
}

// In reports whether row i is within the filter's scope.
func (o *Looks) In(i int32) bool { return o.Mask == nil || o.Mask[i] }

// Skip reports whether reps of which all pass need not be looked at one by one.
func (o *Looks) Skip(pass bool) bool { return pass && !o.Every }

// At reports what was measured on row i.
func (o *Looks) At(i int32, failed bool, measured, limit float64) {
	if failed || o.Every {
		o.Found = append(o.Found, Finding{i, o.Filter, failed, measured, limit})
	}
}

// SpeedText writes a speed with two digits, as a coach reads it on a unit.
func SpeedText(v float64) string { return written(v, 2, " m/s") }

// TravelText writes a travel in cm.
func TravelText(m float64) string { return written(100*m, 1, " cm") }

// DurationText writes a duration.
func DurationText(s float64) string { return written(s, 2, " s") }

// written is a value with some digits and its unit. Every rep set aside has two,
// so it is not left to package fmt.
func written(x float64, digits int, unit string) string {
	var text [32]byte
	return string(append(strconv.AppendFloat(text[:0], x, 'f', digits, 64), unit...))
}

// LoadText writes a load.
func LoadText(kg float64) string { return trimZero(fmt.Sprintf("%.2f", kg)) + " kg" }

func trimZero(s string) string {
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// Count writes a number of things.
func Count(n int32, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
