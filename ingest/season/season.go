// Package season reads the season file: the TOML page on which a coach
// declares what the exports do not say. Every part of it is optional. Reading
// is strict: an unknown key, a wrong type or an impossible value is an error
// that points a caret at the spot and offers the nearest known word; all
// faults of a file are told at once.
//
// A Season is plain data and answers lookups. Filters stay data here (kind,
// limits, where they apply); cleaning compiles them.
package season

import (
	"time"

	"repsift/ingest/rep"
)

// Season is what one season file declares. The zero Season declares nothing.
type Season struct {
	File        string         // name for messages; empty when there is no file
	Name        string         // season = "…"
	Location    *time.Location // nil where no timezone is declared
	Sources     []Source
	Setups      []Setup
	Lifters     []Lifter
	Lifts       []Lift
	Filters     []Filter
	Blocks      []Block
	Maxima      []Maximum
	Corrections []Correction
	Devices     []DeviceCorrection

	// AsWritten leaves the names of lifters and lifts as the sources write them,
	// for a draft of a season file.
	AsWritten bool

	// Built by Read from Lifters and Lifts, which are not to be changed then.
	// A Season made by hand goes without, and each lookup builds its own.
	spellings *spellings
}

// Source declares what some files do not say of themselves.
type Source struct {
	Files     []string // patterns, relative to the input root: exports/north/*.csv, **/log.xlsx
	Device    string
	Bar       string
	Tether    string
	Lifter    string
	Lift      string
	Variant   string
	Date      rep.Null[rep.Day]
	LoadKg    rep.Null[float64]
	Set       rep.Null[int32]
	DateOrder DateOrder
	Shape     string            // one of shape names; empty: recognised
	Shorthand string            // "sets x reps" or "reps x sets"; empty: by evidence
	Encoding  string            // "utf-8", "windows-1252", …; empty: recognised
	Delimiter string            // empty: recognised
	Decimal   string            // "." or ","; empty: recognised
	Units     map[string]string // field → unit, as declared: load → lb
	Columns   map[string]string // field → heading in the file
	NameParts string            // "{date}_{lifter}_{lift}_{load}kg_set{set}"
	Samples   *Samples          // raw traces
	Skip      bool              // leave the files out
	Line      int               // where the table stands in the season file
}

// DateOrder is the order of day, month and year in a source's dates.
type DateOrder uint8

// The date orders that can be declared.
const (
	AnyOrder DateOrder = iota
	DayMonthYear
	MonthDayYear
	YearMonthDay
)

// Samples declares what a raw trace leaves unclear.
type Samples struct {
	Time, Position, Velocity string  // headings
	MetresPerCount           float64 // 0: positions are lengths
	Up                       string  // "positive" or "negative"; empty: by evidence
	CutoffHz                 float64 // 0: by residual analysis
	Hz                       float64 // sampling rate of samples that carry no time
}

// Setup declares how the bar was rigged, for rows that do not say. Empty
// conditions hold for all; the narrowest that fits wins, the later of two.
type Setup struct {
	Lifts, Lifters, Devices []string
	From, To                rep.Null[rep.Day] // inclusive
	Bar, Tether             string
	Line                    int
}

// Lifter declares a lifter's name and the other spellings met.
type Lifter struct {
	Name    string
	Spelled []string
	Line    int
}

// Lift declares other spellings of a lift and the variant they mean.
type Lift struct {
	Name    string
	Variant string
	Spelled []string
	Line    int
}

// Filter declares one filter of cleaning. Empty conditions hold for all.
type Filter struct {
	Kind                                   rep.Kind
	Lifts, Lifters, Devices, Bars, Tethers []string
	Flag                                   bool               // action = "flag"; else set aside
	Off                                    bool               // action = "off": the default of this kind is not run there
	Limits                                 map[string]float64 // limit name (with its unit: floor_m) → value
	Prefer                                 []string           // second device: units in order of trust
	Line                                   int
}

// Block is a stretch of training.
type Block struct {
	Name     string
	From, To rep.Day // inclusive
	Line     int
}

// Maximum is a lift that was done: a meet or a tested single.
type Maximum struct {
	Lifter, Lift, Variant string
	LoadKg                float64
	Date                  rep.Day
	Line                  int
}

// Correction changes one value of one row and keeps what was read.
type Correction struct {
	Source, Sheet string
	Row           int32
	Rep           rep.Null[int32] // rep_recorded, where a row holds several
	Field         string          // a column of rep.Columns without its unit: load, mean_velocity, lifter, lift, date, …
	Value         string          // as written; numbers in the unit of the column in rep.Columns
	Why           string
	Line          int
}
