// Package rep is the one rep schema that every stage shares: a rep, a logged
// set, the place each came from, and the ledger that says nothing was lost.
//
// A [Rep] is the record that readers hand over, one at a time. A [Table] is
// where reps stay: one slice a column, so that a season of ten million reps
// fits a laptop and a filter walks only the columns it needs. [Columns] is the
// single list of what a rep row is called, its unit and its meaning; files,
// headings, codebook and data package are all drawn from it.
//
// Every float past this door is in SI units (load in kg, as the sport has it)
// and a missing value is a [Null], never 0 and never NaN.
//
// The package imports only the standard library and knows no file format.
package rep

// Rep is one repetition as it was read, and after cleaning as it was numbered.
type Rep struct {
	Lifter      string        // the season file's name, else as written
	Date        Day           // local calendar day
	PerformedAt Null[Instant] // start of the rep or of its set
	Lift        string        // "squat", "bench press", "deadlift" or another lift's own name
	Variant     string        // "sumo", "paused", …; empty when unsaid
	Bar         string        // "stiff", "deadlift" or as declared; empty when unsaid
	Tether      string        // "centre", "inside sleeve", "sleeve end"; empty when unsaid
	Device      string        // nickname of the unit; HandLog for speeds written by hand
	LoadKg      float64       // bar plus plates

	// SetMark tells reps of one source apart by set where the source does so
	// (a set column, one row a set, a block): reps of one source, lifter, day
	// and lift with the same mark are one set. Null: the source does not say,
	// and cleaning splits by load, time and rep number.
	SetMark     Null[int32]
	RepRecorded Null[int32] // rep number as given, or position in the row

	MeanVelocity float64       // m/s, mean concentric velocity
	PeakVelocity Null[float64] // m/s
	ROM          Null[float64] // m, concentric displacement
	Concentric   Null[float64] // s, concentric duration
	Further      Further       // measures that few sources have
	RPE          Null[float64] // RPE of the whole set
	RPEFrom      RPEFrom
	Missed       bool // marked as failed by the source, or recognised in cleaning

	// Steps are the sizes of the last written digit, in SI units: 41.3 cm/s
	// has a step of 0.001 m/s. 0 is unknown. Duplicates are told by them.
	LoadStep, MeanStep, PeakStep, ROMStep float64

	// Recorded holds values as read, only where something changed them.
	Recorded Recorded

	Source string // file, relative to the input root
	Sheet  string // empty where the format has no sheets
	Row    int32  // 1-based line or row; of a trace, the rep's first sample

	// Set by cleaning.
	Session int32
	Set     int32
	Rep     int32
	Role    Role
	Flags   Kinds
}

// Further holds measures of a rep beyond those that every unit gives. A trace
// has them, and some exports; package trace says how each is defined.
type Further struct {
	MeanPropulsive Null[float64] // m/s, mean velocity of the propulsive phase
	Sticking       Null[float64] // m/s, slowest of the sticking region
	TimeToPeak     Null[float64] // s, from the start of the concentric to peak velocity
	Eccentric      Null[float64] // s, duration of the lowering before
}

// HandLog is the device of speeds that were written down by hand.
const HandLog = "hand log"

// Names of the three competition lifts and of the usual rigging.
const (
	Squat      = "squat"
	BenchPress = "bench press"
	Deadlift   = "deadlift"

	StiffBar    = "stiff"
	DeadliftBar = "deadlift"

	TetherCentre       = "centre"
	TetherInsideSleeve = "inside sleeve"
	TetherSleeveEnd    = "sleeve end"
)

// Recorded keeps what a source said where cleaning or a declared correction
// put another value in its place.
type Recorded struct {
	LoadKg, MeanVelocity, ROM, Concentric Null[float64]
}

func (r *Recorded) empty() bool {
	return !(r.LoadKg.OK || r.MeanVelocity.OK || r.ROM.OK || r.Concentric.OK)
}

// RPEFrom says where an RPE was written.
type RPEFrom uint8

// Where an RPE can come from.
const (
	RPEUnknown RPEFrom = iota // no RPE
	RPEExport                 // a unit's export
	RPEHandLog                // a log kept by hand
)

// String returns the value as written in the rpe_from column.
func (f RPEFrom) String() string { return [...]string{"", "export", HandLog}[f] }

// Role is what a set was for.
type Role uint8

// Roles of a set, as the set_role column has them.
const (
	RoleUnknown Role = iota
	WarmUp
	Top
	BackOff
	Work
)

// String returns the value as written in the set_role column.
func (r Role) String() string { return [...]string{"", "warm-up", "top", "back-off", "work"}[r] }
