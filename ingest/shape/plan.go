package shape

import (
	"time"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape/column"
	"repsift/ingest/shorthand"
	"repsift/ingest/trace"
	"repsift/ingest/unit"
)

// Plan says how the rows of one table become reps and notes. It is compiled
// once from what was recognised and declared, and holds no state: several
// decoders may share one. A plan whose blanks repeat the row above
// ([Plan.Fills]) has to be decoded from the first row on; others in any blocks
// of rows.
type Plan struct {
	Shape *Shape
	Cells []Cell
	Base  []Carried // fields that the table's surroundings give

	// Labels are rows between the data that give fields to the rows below, in
	// order of rows: "Squat" above the sets of squats.
	Labels []Label

	Source, Sheet       string
	Date1904            bool
	Order               date.Order
	Zone                *time.Location // of local clocks
	Mark                number.DecimalMark
	Habit               shorthand.Options // orders only
	LoadUnit, SpeedUnit unit.Unit         // of numbers without one in shorthand
	Season              *season.Season    // not nil
	Bar, Tether         string            // declared for rows that do not say
	Device              string            // "" where a column tells
	HandLog             bool
	Block               rep.Null[int32] // the set every row belongs to where no column says
	Corrections         map[int32][]season.Correction
	Samples             season.Samples // what is declared, or stated around the table
	Stamped, Paced      bool           // as in [Table]

	// Width, where it is not 0, is the number of cells a row of a text can have:
	// one with more holds a delimiter that is not in quotes, and what stands
	// where cannot be told.
	Width int

	// Lines says that the one column is a log's lines as plain text ([Line]).
	Lines bool

	// Lost, where it is not "", is why no row of the table can be read: each is
	// filed as lost with it.
	Lost string
}

// Cell says how the cells of one column become a field.
type Cell struct {
	Index   int // in the row, from 0
	Field   column.Field
	Nth     int // of reps across: which rep; of a lifter: 2 is the family name
	Set     int // of several sets across: which
	Heading string
	Unit    unit.Unit // of numbers without one of their own
	Step    float64   // finest step of the column, as written; 0: unknown
	Numbers DateNumbers
	Fill    bool // a blank repeats the cell above
}

// DateNumbers says what plain numbers in a column of dates are.
type DateNumbers uint8

// What they can be.
const (
	NoNumbers   DateNumbers = iota
	SerialDays              // a spreadsheet's days
	UnixSeconds             // seconds, milliseconds, … since 1970
)

// Carried is a field given by a table's surroundings.
type Carried struct {
	Field column.Field
	Text  string
	Unit  unit.Unit // of a load that does not name its own
	From  string    // "sheet name", "line 3", "season file", …
}

// Label is a row that gives fields to the rows below it.
type Label struct {
	Row    int32
	Fields []Carried
}

// Fills reports whether a blank cell of the plan takes the value above.
func (p *Plan) Fills() bool {
	for i := range p.Cells {
		if p.Cells[i].Fill {
			return true
		}
	}
	return false
}

// Alone reports whether the rows of the plan stand for themselves, so that
// blocks of them may be decoded side by side.
func (p *Plan) Alone() bool {
	return !p.Fills() && !p.Lines && len(p.Labels) == 0 && (p.Shape == nil || p.Shape.end == nil)
}

// Sink takes what decoding finds.
type Sink struct {
	Reps   *rep.Table
	Notes  []rep.SetNote
	Unread []rep.Unread
	Ledger rep.Ledger

	// Came, where there is one, is told again and again that reps have come, and
	// how many the source will have in all as far as is known, else 0. It may
	// empty Reps, and returns how many there may be at once.
	Came func(expected int) (room int, err error)

	KeepTraces bool // keep raw traces as they were read, to draw them
	Traces     []Traced
	Removed    []Removed // from reps of traces, in order of rows
}

// Removed says what was taken out of a rep of a trace, a slip of the tether or bar
// flex, or that samples are missing in it.
type Removed struct {
	Sheet string
	Row   int32 // of the rep's first sample
	Text  string
}

// Traced is a raw trace that was read whole.
type Traced struct {
	Of      rep.Rep // its first sample: whose, when, which lift and load
	Summary trace.Summary
	Series  []trace.Sample // smoothed
	Found   []trace.Found  // every movement, in order of time
}

// Outcome is what became of a row. Of several tables side by side in a row the
// strongest, which is the greatest, counts in the ledger.
type Outcome uint8

// The outcomes.
const (
	NotData Outcome = iota
	Unread
	SetNote
	RepRow
)

// Add counts what another sink's ledger counted.
func (s *Sink) Add(l rep.Ledger) {
	s.Ledger.Rows += l.Rows
	s.Ledger.RepRows += l.RepRows
	s.Ledger.SetNotes += l.SetNotes
	s.Ledger.Unread += l.Unread
	s.Ledger.NotData += l.NotData
	s.Ledger.Reps += l.Reps
}

// Count puts a row into the ledger.
func (s *Sink) Count(o Outcome) {
	s.Ledger.Rows++
	switch o {
	case NotData:
		s.Ledger.NotData++
	case Unread:
		s.Ledger.Unread++
	case SetNote:
		s.Ledger.SetNotes++
	case RepRow:
		s.Ledger.RepRows++
	}
}
