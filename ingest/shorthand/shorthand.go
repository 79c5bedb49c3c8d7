// Package shorthand reads the notes by which lifters log their sets.
package shorthand

import "fmt"

// Order says which of sets and reps is written first: 5x3 is five sets of three
// or three sets of five.
type Order uint8

// The orders.
const (
	Undecided Order = iota
	SetsReps
	RepsSets
)

// String returns the order as the season file's shorthand key has it.
func (o Order) String() string { return [...]string{"", "sets x reps", "reps x sets"}[o] }

// Options tells Parse what is known beside the text. The zero Options knows
// nothing.
type Options struct {
	Order Order

	// HasLoad says that the load stands in a column of its own: "5/5/4" and
	// "20x3" are then reps and sets, not loads.
	HasLoad bool
}

// LoadKind says how a load was written.
type LoadKind uint8

// The kinds of load.
const (
	NoLoad     LoadKind = iota
	Absolute            // 180, 180 kg, 405lb
	Added               // +20: so much on top of the load before
	Bodyweight          // bw, bw+10: V is what was added
	PercentMax          // 80%: of the maximum, or of what the program means
	EmptyBar            // bar x 10
)

// Load is a load as written.
type Load struct {
	Kind LoadKind
	V    float64
	Step float64 // size of the last written digit
	Unit string  // as written: "kg", "lb"; "" where unsaid
}

// Which says which reps of the set a speed belongs to.
type Which uint8

// What a logged speed can be.
const (
	Each    Which = iota // the reps in order, one speed each
	First                // the first rep
	Last                 // the last rep
	Fastest              // the fastest rep
	Slowest              // the slowest rep
	Mean                 // the mean of the set
)

// Speed is a logged speed.
type Speed struct {
	Which Which
	V     float64
	Step  float64
	Unit  string // as written: "m/s", "cm/s"; "" where unsaid
}

// Entry is one set, or several equal ones. 0 means unsaid in every number of it
// that has no other meaning of its own.
type Entry struct {
	Load Load

	Sets     int   // equal sets; 0: unsaid, one
	Reps     int   // reps of each set, the missed ones included
	RepsList []int // reps of each set where they are listed: 140/5/5/4; Reps is then 0
	Missed   int   // of Reps, or of the last in RepsList, failed

	// Ambiguous says that Sets and Reps may be the other way round: 5x3 with
	// no order known. They hold the reading sets x reps; Swapped has the other.
	Ambiguous bool

	RPE, RPEHigh float64   // 1…10; RPEHigh only for a range. RIR is converted: RPE = 10 − RIR
	RPEList      []float64 // RPE of each set where they are listed; RPE is then the last

	Speeds []Speed

	Comment string // words that say nothing of the above
	Text    string // the entry as written
}

// Swapped returns the entry with sets and reps the other way round.
func (e Entry) Swapped() Entry {
	e.Sets, e.Reps = e.Reps, e.Sets
	return e
}

// Error says what in a text is not shorthand.
type Error struct {
	Text    string
	Pos     int    // byte in Text where reading stopped
	Problem string // `"180xx5" …`
}

// Error returns the problem with the text it stands in.
func (e *Error) Error() string { return fmt.Sprintf("%.60q: %s", e.Text, e.Problem) }

// Parse returns the entries of a text, in order.
func Parse(text string, opt Options) ([]Entry, error) {
	return nil, &Error{Text: text, Problem: "is no set"}
}

// ParseRPE reads a cell that holds an RPE or RIR alone: "8", "@7,5", "8-8.5",
// "RPE 9", "2 RIR". high is 0 unless it is a range.
func ParseRPE(text string) (rpe, high float64, err error) {
	return 0, 0, &Error{Text: text, Problem: "is no RPE"}
}

// Habit gathers what the entries of a log say about the order of sets and
// reps. The zero Habit is empty and ready.
type Habit struct {
	SetsFirst, RepsFirst int // entries that leave only this order
	Either               int // entries with two readings
}

// Add takes one text of the log into account.
func (h *Habit) Add(text string, opt Options) {}

// Merge takes the habit of o into account.
func (h *Habit) Merge(o Habit) {}

// Order returns the order the log is written in, Undecided where the entries do
// not say or contradict each other.
func (h Habit) Order() Order { return Undecided }
