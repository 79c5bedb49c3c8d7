package tidy

import (
	"math"
	"math/bits"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
)

// A source gives the values of one column. Rows are counted from 0. These give
// them one by one:
type (
	texts    func(i int) string // "" is null in an optional column
	days     func(i int) rep.Day
	bools    func(i int) bool
	floats   func(i int) rep.Null[float64]
	ints     func(i int) rep.Null[int32]
	instants func(i int) rep.Null[rep.Instant]
)

// These give many at once, as the Parquet writer asks for them: a row group at
// a time. The others cost it a call a value.
type (
	// missing is a column without any value.
	missing struct{}

	// uniform is a column of one text; "" is null in an optional column.
	uniform struct{ text string }

	// coded is a column of few different values, known by number.
	coded struct {
		codes func(dst []uint32, from, to int) []uint32 // of rows from…to-1; nil where there are none
		n     int                                       // codes are 0 … n-1
		text  func(code uint32) string                  // "" is null in an optional column
		value func(code uint32) (int64, bool)           // where it is no text: the bits, or false for null
		cells any                                       // the same column, one by one
	}

	// wholes is a column of numbers that hardly repeat; [none] is null.
	wholes struct {
		all   func(dst []int64, from, to int) []int64
		cells any
	}

	// reals is a column of numbers; NaN is null.
	reals struct {
		all   func(from, to int) []float64
		cells any
	}

	// ids is a column of rep ids.
	ids struct {
		all func(dst []uint64, from, to int) []uint64
		at  func(i int) uint64
	}

	// kinds is a column of lists of filters.
	kinds struct {
		of   []rep.Kinds
		rows []int32
	}
)

const none int64 = math.MinInt64

// drawn are rows of a table: row i of a file is row rows[i] of t.
type drawn struct {
	t    *rep.Table
	rows []int32
}

func (d drawn) text(column *rep.Texts) any {
	if sym, ok := column.Only(); ok {
		return uniform{d.t.Text.Text(sym)}
	}
	name := func(code uint32) string { return d.t.Text.Text(rep.Sym(code)) }
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		n:     d.t.Text.Len(),
		text:  name,
		cells: texts(func(i int) string { return name(uint32(column.At(d.rows[i]))) }),
	}
}

func (d drawn) number(column *rep.Floats) any {
	if column.Empty() {
		return missing{}
	}
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		n:     rep.MostCodes,
		value: func(code uint32) (int64, bool) {
			v := column.OfCode(code)
			return bitsOf(v), v == v
		},
		cells: floats(func(i int) rep.Null[float64] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) count(column *rep.Counts) coded {
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		n:     rep.MostCodes,
		value: func(code uint32) (int64, bool) { return int64(code), true },
		cells: ints(func(i int) rep.Null[int32] { return rep.Some(column.At(d.rows[i])) }),
	}
}

func (d drawn) recorded() coded {
	column := &d.t.RepRecorded
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		n:     rep.MostCodes,
		value: func(code uint32) (int64, bool) {
			v := column.OfCode(code)
			return int64(v.V), v.OK
		},
		cells: ints(func(i int) rep.Null[int32] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) day() coded {
	column := &d.t.Date
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		n:     rep.MostCodes,
		value: func(code uint32) (int64, bool) { return int64(column.OfCode(code)), true },
		cells: days(func(i int) rep.Day { return column.At(d.rows[i]) }),
	}
}

func (d drawn) moment() wholes {
	column := &d.t.PerformedAt
	return wholes{
		all: func(dst []int64, from, to int) []int64 {
			return column.Milliseconds(dst, d.rows[from:to])
		},
		cells: instants(func(i int) rep.Null[rep.Instant] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) row() wholes {
	return wholes{
		all: func(dst []int64, from, to int) []int64 {
			dst = slices.Grow(dst, to-from)
			for _, r := range d.rows[from:to] {
				dst = append(dst, int64(d.t.Row[r]))
			}
			return dst
		},
		cells: ints(func(i int) rep.Null[int32] { return rep.Some(d.t.Row[d.rows[i]]) }),
	}
}

func (d drawn) id() ids {
	return ids{
		all: func(dst []uint64, from, to int) []uint64 { return d.t.IDs(dst, d.rows[from:to]) },
		at:  func(i int) uint64 { return d.t.ID(d.rows[i]) },
	}
}

// few is a column of names of which the table tells many at once.
func (d drawn) few(c coded, all func(dst []uint32, rows []int32) []uint32) coded {
	c.codes = func(dst []uint32, from, to int) []uint32 { return all(dst, d.rows[from:to]) }
	return c
}

// rare is a column that few rows have.
func (d drawn) rare(column rep.Rare) any {
	if len(column) == 0 {
		return missing{}
	}
	return floats(func(i int) rep.Null[float64] { return column.At(d.rows[i]) })
}

// ofSet returns the columns of reps in which the reps of a set agree, or of
// which the first rep speaks for its set.
func (d drawn) ofSet() map[string]any {
	t := d.t
	return map[string]any{
		"lifter":       d.text(&t.Lifter),
		"session_date": d.day(),
		"performed_at": d.moment(),
		"session":      d.count(&t.Session),
		"lift":         d.text(&t.Lift),
		"variant":      d.text(&t.Variant),
		"bar":          d.text(&t.Bar),
		"tether":       d.text(&t.Tether),
		"load_kg":      d.number(&t.LoadKg),
		"set":          d.count(&t.Set),
		"rpe":          d.number(&t.RPE),
		"rpe_from":     d.few(rpeFrom(func(i int) rep.RPEFrom { return t.RPEFrom(d.rows[i]) }), t.RPEFroms),
		"set_role":     d.few(role(func(i int) rep.Role { return t.Role(d.rows[i]) }), t.Roles),
		"device":       d.text(&t.Device),
		"source":       d.text(&t.Source),
		"sheet":        d.text(&t.Sheet),
		"row":          d.row(),
	}
}

// reps returns the columns of reps.
func (d drawn) reps() map[string]any {
	t := d.t
	s := d.ofSet()
	s["rep_id"] = d.id()
	s["rep"] = d.count(&t.Number)
	s["rep_recorded"] = d.recorded()
	s["mean_velocity_m_s"] = d.number(&t.MeanVelocity)
	s["peak_velocity_m_s"] = d.number(&t.PeakVelocity)
	s["rom_m"] = d.number(&t.ROM)
	s["concentric_s"] = d.number(&t.Concentric)
	s["missed"] = bools(func(i int) bool { return t.Missed(d.rows[i]) })
	s["flags"] = kinds{t.Flags, d.rows}
	s["mean_propulsive_velocity_m_s"] = d.rare(t.MeanPropulsive)
	s["sticking_velocity_m_s"] = d.rare(t.Sticking)
	s["time_to_peak_s"] = d.rare(t.TimeToPeak)
	s["eccentric_s"] = d.rare(t.Eccentric)
	changes := changesOf(t)
	changed := func(of func(*rep.Recorded) rep.Null[float64]) any {
		if !changes.any(of) {
			return missing{}
		}
		return floats(func(i int) (v rep.Null[float64]) {
			if r := changes.at(d.rows[i]); r != nil {
				v = of(r)
			}
			return v
		})
	}
	s["load_recorded_kg"] = changed(func(r *rep.Recorded) rep.Null[float64] { return r.LoadKg })
	s["mean_velocity_recorded_m_s"] = changed(func(r *rep.Recorded) rep.Null[float64] { return r.MeanVelocity })
	s["rom_recorded_m"] = changed(func(r *rep.Recorded) rep.Null[float64] { return r.ROM })
	s["concentric_recorded_s"] = changed(func(r *rep.Recorded) rep.Null[float64] { return r.Concentric })
	return s
}

// changes holds what the sources said of rows that were changed, so that the
// other rows cost next to nothing: a bit a row of the table, and the number of
// bits set before each word.
type changes struct {
	bits   []uint64
	before []int32
	values []rep.Recorded // in the order of the rows
}

func changesOf(t *rep.Table) *changes {
	words := t.Len()/64 + 1
	c := &changes{bits: make([]uint64, words), before: make([]int32, words)}
	for row := range t.AllRecorded() {
		c.bits[row/64] |= 1 << (row % 64)
	}
	n := int32(0)
	for i, word := range c.bits {
		c.before[i] = n
		n += int32(bits.OnesCount64(word))
	}
	c.values = make([]rep.Recorded, n)
	for row, r := range t.AllRecorded() {
		*c.at(row) = r
	}
	return c
}

// at returns what the source said of a row; nil where nothing was changed.
func (c *changes) at(row int32) *rep.Recorded {
	word, bit := c.bits[row/64], uint64(1)<<(row%64)
	if word&bit == 0 {
		return nil
	}
	return &c.values[c.before[row/64]+int32(bits.OnesCount64(word&(bit-1)))]
}

// any reports whether some row was changed in that.
func (c *changes) any(of func(*rep.Recorded) rep.Null[float64]) bool {
	for i := range c.values {
		if of(&c.values[i]).OK {
			return true
		}
	}
	return false
}

// asideSources returns the columns of set_aside; aside tells which of n reps
// stands in row i of the file.
func asideSources(t *rep.Table, n int, aside func(i int) *clean.Aside) map[string]any {
	rows := make([]int32, n)
	for i := range rows {
		rows[i] = aside(i).Row
	}
	s := drawn{t, rows}.reps()
	s["session"], s["set"], s["rep"], s["set_role"] = missing{}, missing{}, missing{}, missing{}
	s["filter"] = few(func(i int) rep.Kind { return aside(i).Filter }, len(rep.KindNames())+1)
	s["reason"] = texts(func(i int) string { return aside(i).Reason })
	s["measured"] = floats(func(i int) rep.Null[float64] { return aside(i).Measured })
	s["limit"] = floats(func(i int) rep.Null[float64] { return aside(i).Limit })
	return s
}

func role(at func(i int) rep.Role) coded { return few(at, int(rep.Work)+1) }

func rpeFrom(at func(i int) rep.RPEFrom) coded { return few(at, int(rep.RPEHandLog)+1) }

// few is a column of names that are numbered 0 … n-1.
func few[T interface {
	~uint8
	String() string
}](at func(i int) T, n int) coded {
	return coded{
		codes: func(dst []uint32, from, to int) []uint32 {
			dst = slices.Grow(dst, to-from)
			for i := from; i < to; i++ {
				dst = append(dst, uint32(at(i)))
			}
			return dst
		},
		n:     n,
		text:  func(code uint32) string { return T(code).String() },
		cells: texts(func(i int) string { return at(i).String() }),
	}
}
