// Package number reads numbers as people and spreadsheets write them: with a
// decimal comma or point, thousands marks, a unit behind, a percent sign, as a
// duration, or as one of the many ways to say "nothing here".
//
// A text is read where it leaves one reading. "1,234" is 1234 to one writer and
// 1.234 to another: then the [DecimalMark] of the source decides, which
// [Evidence] gathers from a whole column or file, or Parse says that it is
// ambiguous. "0,41", "1.234,5" and "1 234" leave one reading and need no mark.
//
// Not a number, and an error: NaN, Inf, numbers beyond a float64, "12O".
package number

import "fmt"

// DecimalMark is the sign between a number's whole and its fraction.
type DecimalMark uint8

// The decimal marks.
const (
	AnyMark DecimalMark = iota // not known: what has two readings is an error
	Point
	Comma
)

// String returns the mark as a season file declares it, "" for AnyMark.
func (m DecimalMark) String() string { return [...]string{"", ".", ","}[m] }

// Value is a number as written.
type Value struct {
	V float64 // finite

	// Step is the size of the last written digit: 0.01 for "0.40", 1 for
	// "180", 10 for "1.2e2".
	Step float64

	// Unit is the unit behind the number as written, "" for none; it is one
	// that package unit knows, if only for one quantity ("ms" as a velocity:
	// ask unit.ParseFor). A duration ("1:05.2") comes out in seconds with
	// the unit "s".
	Unit string

	// Percent says that a percent sign stood behind. V is as written: 85 for
	// "85 %".
	Percent bool
}

// Error says why a text is not a number.
type Error struct {
	Text    string
	Problem string // `is not a number`, …

	// Ambiguous says that the text has two readings and a declared decimal
	// mark would settle it.
	Ambiguous bool
}

// Error returns `"12O" is not a number`.
func (e *Error) Error() string { return fmt.Sprintf("%.60q %s", e.Text, e.Problem) }
