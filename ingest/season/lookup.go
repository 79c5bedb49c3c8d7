package season

import (
	"errors"
	"io"
	"time"

	"repsift/ingest/rep"
)

// Read reads a season file; name is used in messages only. Faults in it are
// returned together as a [*Faults], any other error comes from r.
func Read(name string, r io.Reader) (*Season, error) { return nil, errors.ErrUnsupported }

// Source returns what is declared for a file: all [[source]] tables with a
// pattern that matches its name (relative to the input root), laid over each
// other in file order; the later wins, key by key. The zero Source where
// nothing is declared. A nil Season declares nothing.
func (s *Season) Source(file string) Source { return Source{} }

// Lifter returns the name of a lifter from one way of writing it: the declared
// name where a [[lifter]] has the spelling (case, runs of blanks and Unicode
// form aside), else the text as written, trimmed, runs of blanks made one. Use
// [Season.Names] where several writings of one undeclared name can meet.
func (s *Season) Lifter(written string) string { return written }

// Names returns the name of each lifter seen, by the writing: as
// [Season.Lifter], and writings that differ only by case, blanks or Unicode
// form get one name whatever their order.
func (s *Season) Names(seen []string) map[string]string { return nil }

// Lift returns lift and variant from one way of writing them: as a [[lift]]
// declares, else in the usual words ([KnownLift]), else the text itself,
// trimmed and in lower case.
func (s *Season) Lift(written string) (lift, variant string) { return written, "" }

// KnownLift returns the lift and variant that a written name means in the
// usual words of the trade, in many languages; false for what is not one of
// the three lifts or has a word that is neither a lift's nor a variant's.
func KnownLift(written string) (lift, variant string, ok bool) { return "", "", false }

// KnownVariant returns the variant that a written word means.
func KnownVariant(written string) (variant string, ok bool) { return "", false }

// Setup returns how the bar was rigged for rows that do not say: of the
// [[setup]] tables that fit, the narrowest, of two equally narrow the later;
// bar and tether are looked up apart. Empty where none is declared.
func (s *Season) Setup(lifter, lift, device string, day rep.Day) (bar, tether string) { return "", "" }

// Zone returns the time zone of local times: UTC where none is declared.
func (s *Season) Zone() *time.Location { return time.UTC }

// Similar returns pairs of names that may be one person's: to be suggested,
// never merged.
func Similar(names []string) [][2]string { return nil }

// Limit is one limit that a [[filter]] of a kind can declare.
type Limit struct {
	Name    string // with its unit: floor_m
	Meaning string
	Lo, Hi  float64 // what may be declared, both ends included
	Whole   bool
}

// Limits returns the limits of a kind, in the order of the reference.
func Limits(kind rep.Kind) []Limit { return nil }

// NameParts is a compiled name_parts pattern.
type NameParts struct{}

// ParseNameParts compiles a pattern such as {date}_{lifter}_{lift}_{load}kg_set{set}.
func ParseNameParts(pattern string) (*NameParts, error) { return nil, errors.ErrUnsupported }

// Match takes a file's base name without extension, or a sheet's name, apart:
// field → text, lifter and lift with blanks for underscores, load with its unit
// where pattern or name has one ("140kg"). It returns an error where the name does
// not fit, or fits in two ways that what s declares and the usual words of the
// lifts do not decide.
func (n *NameParts) Match(name string, s *Season) (map[string]string, error) { return nil, errors.ErrUnsupported }

// Faults are all faults of one season file, sorted by line.
type Faults struct{}

func (f *Faults) Error() string { return "" }
