package rep

import "strings"

// Kind is a kind of filter. The names are those of the season file, of the
// filter column and of the flags column; they live here so that the reader of
// the season file and cleaning share them.
type Kind uint8

// The filter kinds, in the order in which they look at a rep.
const (
	Correction Kind = iota // not a filter: a declared [[correction]] changed a value
	Duplicate
	SecondDevice
	SpeedLimits
	ShortTravel
	UsualTravel
	TravelCheck
	PeakCheck
	Rebound
	Rack
	SplitRep
	LogCount
	LoadCheck
	FlexAllowance
	FusedRep // two reps counted as one: marked, kept out of profiles
	numKinds
)

var kindNames = [numKinds]string{"correction", "duplicate", "second device", "speed limits", "short travel",
	"usual travel", "travel check", "peak check", "rebound", "rack", "split rep", "log count", "load check",
	"flex allowance", "fused rep"}

// String returns the kind's name.
func (k Kind) String() string { return kindNames[k] }

// KindOf returns the kind of a name.
func KindOf(name string) (Kind, bool) {
	for k, n := range kindNames {
		if n == name {
			return Kind(k), true
		}
	}
	return 0, false
}

// KindNames returns the names a [[filter]] may have, in running order.
func KindNames() []string { return kindNames[Duplicate:] }

// Kinds is a set of kinds: a rep's flags.
type Kinds uint16

var _ [16 - numKinds]struct{} // they fit

// With returns the set with k added.
func (s Kinds) With(k Kind) Kinds { return s | 1<<k }

// Has reports whether k is in the set.
func (s Kinds) Has(k Kind) bool { return s&(1<<k) != 0 }

// Names returns the names in the set, in running order; nil for none.
func (s Kinds) Names() []string {
	var names []string
	for k := range numKinds {
		if s.Has(k) {
			names = append(names, k.String())
		}
	}
	return names
}

// String returns the names joined by "; ".
func (s Kinds) String() string { return strings.Join(s.Names(), "; ") }
