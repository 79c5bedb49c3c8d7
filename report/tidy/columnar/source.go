// Package columnar writes Parquet files column by column.
//
// Each column of a file has a source, which gives its values; a [File] takes rows
// of all sources, a row group at a time:
//
//  1. The values of a column in the row group are gathered, nulls apart
//     (encode.go), and numbered where they repeat (numbers.go).
//  2. What is fit for it becomes pages: a dictionary, differences, or the values
//     as they are (pages.go).
//  3. The column chunks, which are encoded side by side, are written in order
//     (file.go).
//
// Encodings, structures and compression are those of the libraries. They write
// rows themselves, too, but through structs that takes ten times as long
// (BenchmarkReps of package tidy). What a table says is not known here, nor how
// files are read.
package columnar

import (
	"math"

	"repsift/ingest/rep"
)

// A source gives the values of one column. Rows are counted from 0, and any
// number of goroutines may ask at once. These give them one by one:
type (
	Texts    func(i int) string // "" is null in an optional column
	Days     func(i int) rep.Day
	Bools    func(i int) bool
	Floats   func(i int) rep.Null[float64]
	Ints     func(i int) rep.Null[int32]
	Instants func(i int) rep.Null[rep.Instant]
)

// These give many at once: a row group at a time. The others cost a call a
// value. What is added to dst are the values of rows from…to-1.
type (
	// Missing is a column without any value.
	Missing struct{}

	// Uniform is a column of one text; "" is null in an optional column.
	Uniform struct{ Text string }

	// Coded is a column of few different values, known by number.
	Coded struct {
		Codes func(dst []uint32, from, to int) []uint32 // nil where there are none for these rows
		N     int                                       // codes are 0 … N-1
		Text  func(code uint32) string                  // "" is null in an optional column
		Value func(code uint32) (int64, bool)           // where it is no text: the number or its [Bits], or false for null
		Cells any                                       // the same column, one by one
	}

	// Wholes is a column of numbers that hardly repeat; [None] is null.
	Wholes struct {
		All   func(dst []int64, from, to int) []int64
		Cells any // one by one
	}

	// Reals is a column of numbers; NaN is null.
	Reals struct {
		All   func(from, to int) []float64
		Cells any // one by one
	}

	// IDs is a column of rep ids.
	IDs struct {
		All func(dst []uint64, from, to int) []uint64
		At  func(i int) uint64
	}

	// Kinds is a column of lists of filters: row i is that of Rows[i] in Of.
	Kinds struct {
		Of   []rep.Kinds
		Rows []int32
	}
)

// None is null among whole numbers: it is below all that are written.
const None int64 = math.MinInt64

// Bits returns a number with a fraction as [Coded.Value] gives it.
func Bits(v float64) int64 { return int64(math.Float64bits(v)) }
