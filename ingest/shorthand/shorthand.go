// Package shorthand reads the notes by which lifters log their sets: one cell or
// line, "180x5 @8", gives one [Entry] or several.
//
// # Grammar
//
// In EBNF; blanks may stand between any two parts, except where parts are
// written without one in quotes. × and * and the Cyrillic х are x; – and − are -.
//
//	log      = [ label ] part { sep part } .
//	sep      = ";" | newline | "|" | "," | "/" | ">" | "→" | "+" | "-" | (nothing) .
//	part     = product | list | at | effort | missed | speeds | words .
//	label    = words ":" | "#" int | int ")" | "set" int ":" .
//
//	product  = term { x term } .                        180x5   3x5x102.5kg   bw+10 x 8
//	x        = "x" | "of" | "by" | "for" .
//	term     = load | count .
//	load     = number [ unit ] | number "%" | "+" number | "-" number [ "%" ]
//	         | "bw" [ ( "+" | "-" ) number [ unit ] ] | "bar" .
//	count    = int [ "reps" | "sets" ] | "amrap" .
//	list     = int { ( "," | "/" | "-" | blank ) int } . 140/5/5/4   5,5,4
//	at       = "@" ( effort | load { ( "," | "/" ) load } | speed ) .
//	effort   = rpe [ ( "-" | "/" ) rpe ] | "RPE" rpe | rpe "RPE" | "RIR" rir | rir "RIR" .
//	missed   = "x" | "F" | "missed" [ int ] | int "missed" | "+" [ int ] "F" | "(" int ")" .
//	speeds   = speed { ( "/" | "," | "-" | ">" | blank ) speed } | which speed | speed which .
//	which    = "first" | "last" | "best" | "slowest" | "avg" | … .
//	number   = digits [ ( "." | "," ) digits ] [ "½" ] .
//
// # Rules
//
// They decide what the grammar leaves open. All are common practice, no source,
// but for the last.
//
//   - A number of 20 or more, with a fraction, or with a unit of load is a load;
//     a smaller whole one counts sets or reps. Where the load has a column of its
//     own (Options.HasLoad) whole numbers up to 50 count.
//   - 180x5 is load × reps, 5x140 reps × load, 140/5/5/4 a load and the reps of
//     three sets. 5x3 is a pair of which one counts sets; which, says
//     Options.Order, or a number above 12 (reps), or a list beside it
//     ("3x5 (5,5,4)"), or words ("3 sets of 5"). Else the entry is Ambiguous.
//     Three numbers with the load in front, 140x5x3, are load × a pair, of which
//     Options.LoadFirst decides; many who write 5x3@140 for five triples write
//     140x3x5 for them, so one order says nothing of the other.
//   - @ and up to 10 is an RPE, from 20 a load, below 1 with two digits behind
//     the point a speed.
//   - In "60, 100, 140x3" the reps belong to the load they stand at: 60 and 100
//     have none. "x5" after a comma is at the load before.
//   - Numbers joined by commas without blanks are a list from three on
//     ("5,5,4"). Two are one number where the second can only be a fraction (of
//     a load: 5, 25, 50, 75; of an RPE: 5; of a speed, behind a 0: any), else
//     two.
//   - A number below 1, or below 3 with two or more digits behind the point, is
//     a speed, and so is what carries a unit of speed. Two of them joined by a
//     dash or arrow are the first and the last rep, else they are the reps in
//     order. One alone, in a set of more than one rep, is UnsaidRep.
//   - 180x5(4): five tried, four made. 180x1x, 180x1 miss, 180x0: the last rep
//     failed. 180x3+1F: a fourth was tried and failed. 140xAMRAP (9): nine made.
//   - Once words stand behind load or reps, bare numbers belong to the words
//     ("knee 3/10"); products, RPE and speeds are still read.
//   - RIR is converted, RPE = 10 − RIR (Zourdos et al. 2016, J Strength Cond Res
//     30(1):267–275, where 9 is one repetition remaining, 8 two).
//
// What is left, a number that fits nowhere or letters within one ("12O"), is an
// error: nothing is dropped but words, and those are kept in Comment.
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
	Order     Order // of a pair alone, before a load or before "@": 5x3@140, 3x5x140
	LoadFirst Order // of a pair behind its load: 140x5x3. What a season file declares sets both.

	// HasLoad says that the load stands in a column of its own: "5/5/4" and
	// "20x3" are then reps and sets, not loads.
	HasLoad bool
}

// LoadKind says how a load was written.
type LoadKind uint8

// The kinds of load.
const (
	NoLoad       LoadKind = iota
	Absolute              // 180, 180 kg, 405lb
	Added                 // +20, -10: on top of the load before; see Load.On
	AddedPercent          // -10%: of the load before
	Bodyweight            // bw, bw+10, bw-20: V is what was added
	PercentMax            // 80%: of the maximum
	EmptyBar              // bar x 10
)

// Load is a load as written.
type Load struct {
	Kind LoadKind
	V    float64
	Step float64 // size of the last written digit
	Unit string  // as written: "kg", "lb"; "" where unsaid
}

// On returns a load that was written relative to the one before it as a load of
// its own; other kinds as they are. False where prev is no absolute load, or
// the two have different units.
func (l Load) On(prev Load) (Load, bool) {
	if l.Kind != Added && l.Kind != AddedPercent {
		return l, true
	}
	if prev.Kind != Absolute || l.Unit != "" && l.Unit != prev.Unit {
		return l, false
	}
	sum := prev
	if l.Kind == AddedPercent {
		sum.V += prev.V * l.V / 100
		sum.Step = 0
	} else {
		sum.V += l.V
		sum.Step = min(l.Step, prev.Step)
	}
	return sum, sum.V > 0
}

// Which says which reps of the set a speed belongs to.
type Which uint8

// What a logged speed can be.
const (
	UnsaidRep Which = iota // one speed, and nothing says of which rep
	EachRep                // the reps in order, one speed each
	First                  // the first rep
	Last                   // the last rep
	Fastest                // the fastest rep
	Slowest                // the slowest rep
	Mean                   // the mean of the set
	Peak                   // a peak velocity, of no said rep: no mean concentric velocity
)

// Speed is a logged speed.
type Speed struct {
	Which Which
	V     float64
	Step  float64
	Unit  string // as written: "m/s", "cm/s"; "" where unsaid
}

// Entry is one set, or several equal ones. 0 means unsaid in every number of it.
type Entry struct {
	Load Load

	Sets     int   // equal sets; 0: unsaid, one
	Reps     int   // reps of each set, the missed ones included
	RepsList []int // reps of each set where they are listed: 140/5/5/4; Reps is then 0
	Missed   int   // of Reps (of the last set, where there are several), failed

	// Ambiguous says that Sets and Reps may be the other way round: 5x3 with
	// no order known. They hold the reading sets x reps; Swapped has the other.
	Ambiguous bool
	LoadFirst bool // Sets and Reps were written behind their load: 140x5x3

	RPE, RPEHigh float64   // 1…10; RPEHigh only for a range. RIR is converted
	RPEList      []float64 // RPE of each set where they are listed; RPE is then the last

	Speeds []Speed

	Comment string // words that say nothing of the above
	Text    string // the entry as written

	// The pair as written, and the order where the entry itself tells it: what
	// a Habit learns from.
	first, second int
	by            Order
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
	Problem string // what is wrong, with the part it is about
}

// Error returns the text and the problem: `"180x5 @11": 11 is no RPE …`.
func (e *Error) Error() string { return fmt.Sprintf("%.60q: %s", e.Text, e.Problem) }
