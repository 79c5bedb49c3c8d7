package shape

import (
	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
	"repsift/ingest/unit"
)

// Plan says how the rows of one table become reps and notes. It is compiled
// once from what was recognised and declared, and holds no state: several
// decoders may share one. A plan whose blanks repeat the row above
// ([Plan.Fills]) has to be decoded from the first row on; others in any blocks
// of rows.
type Plan struct {
	shape *shape
	cells []cellPlan
	base  []carried // fields that the table's surroundings give, the strongest last

	source, sheet string
	date1904      bool
	mark          number.DecimalMark
	habit         shorthand.Options // orders only
	loadUnit      unit.Unit         // of loads without one: in shorthand
	speedUnit     unit.Unit         // likewise of speeds
	zone          zone
	season        *season.Season
	bar, tether   string // declared for rows that do not say
	device        string
	handLog       bool
	timed         bool            // there are times of day without a zone
	block         rep.Null[int32] // the set every row belongs to where no column says
	corrections   map[int32][]season.Correction
}

// cellPlan says how the cells of one column become a field.
type cellPlan struct {
	index   int
	field   Field
	nth     int
	heading string
	unit    unit.Unit // of numbers without one of their own
	step    float64   // finest step of the column, as written; 0: unknown
	order   date.Order
	numeric dateNumbers
	fill    bool // a blank repeats the cell above
	parse   parser
}

// parser reads a cell that is not blank into the decoder's row; a problem is
// one phrase.
type parser func(d *decoder, c *cellPlan, cell *table.Cell) (problem string)

// dateNumbers says what plain numbers in a column of dates are.
type dateNumbers uint8

const (
	noNumbers   dateNumbers = iota
	serialDays              // a spreadsheet's days
	unixSeconds             // seconds, milliseconds, … since 1970
)

// carried is a field given by a table's surroundings.
type carried struct {
	field Field
	text  string
	unit  unit.Unit // for loads
	from  string    // "sheet name", "line 3", "season file", …
}

// Fills reports whether a blank cell of the plan takes the value above.
func (p *Plan) Fills() bool {
	for i := range p.cells {
		if p.cells[i].fill {
			return true
		}
	}
	return false
}

// Sink takes what decoding finds.
type Sink struct {
	Reps   *rep.Table
	Notes  []rep.SetNote
	Unread []rep.Unread
	Ledger rep.Ledger
}

// outcome is what became of a row; the strongest of several tables side by
// side counts in the ledger.
type outcome uint8

const (
	notData outcome = iota
	unread
	setNote
	repRow
)

func (s *Sink) count(o outcome) {
	s.Ledger.Rows++
	switch o {
	case notData:
		s.Ledger.NotData++
	case unread:
		s.Ledger.Unread++
	case setNote:
		s.Ledger.SetNotes++
	case repRow:
		s.Ledger.RepRows++
	}
}

// fieldSet is a set of fields.
type fieldSet uint64

func (s fieldSet) has(f Field) bool         { return s&(1<<f) != 0 }
func (s fieldSet) with(f Field) fieldSet    { return s | 1<<f }
func (s fieldSet) without(f Field) fieldSet { return s &^ (1 << f) }
