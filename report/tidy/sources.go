package tidy

import (
	"math/bits"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// drawn are rows of a table: row i of a file is row rows[i] of t.
type drawn struct {
	t    *rep.Table
	rows []int32
}

func (d drawn) text(column *rep.Texts) any {
	if sym, ok := column.Only(); ok {
		return columnar.Uniform{Text: d.t.Text.Text(sym)}
	}
	name := func(code uint32) string { return d.t.Text.Text(rep.Sym(code)) }
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		N:     d.t.Text.Len(),
		Text:  name,
		Cells: columnar.Texts(func(i int) string { return name(uint32(column.At(d.rows[i]))) }),
	}
}

func (d drawn) number(column *rep.Floats) any {
	if column.Empty() {
		return columnar.Missing{}
	}
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		N:     rep.MostCodes,
		Value: func(code uint32) (int64, bool) {
			v := column.OfCode(code)
			return columnar.Bits(v), v == v
		},
		Cells: columnar.Floats(func(i int) rep.Null[float64] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) count(column *rep.Counts) columnar.Coded {
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		N:     rep.MostCodes,
		Value: func(code uint32) (int64, bool) { return int64(code), true },
		Cells: columnar.Ints(func(i int) rep.Null[int32] { return rep.Some(column.At(d.rows[i])) }),
	}
}

func (d drawn) recorded() columnar.Coded {
	column := &d.t.RepRecorded
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		N:     rep.MostCodes,
		Value: func(code uint32) (int64, bool) {
			v := column.OfCode(code)
			return int64(v.V), v.OK
		},
		Cells: columnar.Ints(func(i int) rep.Null[int32] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) day() columnar.Coded {
	column := &d.t.Date
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return column.Codes(dst, d.rows[from:to]) },
		N:     rep.MostCodes,
		Value: func(code uint32) (int64, bool) { return int64(column.OfCode(code)), true },
		Cells: columnar.Days(func(i int) rep.Day { return column.At(d.rows[i]) }),
	}
}

func (d drawn) moment() columnar.Wholes {
	column := &d.t.PerformedAt
	return columnar.Wholes{
		All: func(dst []int64, from, to int) []int64 {
			return column.Milliseconds(dst, d.rows[from:to])
		},
		Cells: columnar.Instants(func(i int) rep.Null[rep.Instant] { return column.At(d.rows[i]) }),
	}
}

func (d drawn) row() columnar.Wholes {
	return columnar.Wholes{
		All: func(dst []int64, from, to int) []int64 {
			dst = slices.Grow(dst, to-from)
			for _, r := range d.rows[from:to] {
				dst = append(dst, int64(d.t.Row[r]))
			}
			return dst
		},
		Cells: columnar.Ints(func(i int) rep.Null[int32] { return rep.Some(d.t.Row[d.rows[i]]) }),
	}
}

func (d drawn) id() columnar.IDs {
	return columnar.IDs{
		All: func(dst []uint64, from, to int) []uint64 { return d.t.IDs(dst, d.rows[from:to]) },
		At:  func(i int) uint64 { return d.t.ID(d.rows[i]) },
	}
}

// few is a column of names of which the table tells many at once.
func (d drawn) few(c columnar.Coded, all func(dst []uint32, rows []int32) []uint32) columnar.Coded {
	c.Codes = func(dst []uint32, from, to int) []uint32 { return all(dst, d.rows[from:to]) }
	return c
}

// rare is a column that few rows have.
func (d drawn) rare(column rep.Rare) any {
	if len(column) == 0 {
		return columnar.Missing{}
	}
	return columnar.Floats(func(i int) rep.Null[float64] { return column.At(d.rows[i]) })
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
	s["missed"] = columnar.Bools(func(i int) bool { return t.Missed(d.rows[i]) })
	s["flags"] = columnar.Kinds{Of: t.Flags, Rows: d.rows}
	s["mean_propulsive_velocity_m_s"] = d.rare(t.MeanPropulsive)
	s["sticking_velocity_m_s"] = d.rare(t.Sticking)
	s["time_to_peak_s"] = d.rare(t.TimeToPeak)
	s["eccentric_s"] = d.rare(t.Eccentric)
	changes := changesOf(t)
	changed := func(of func(*rep.Recorded) rep.Null[float64]) any {
		if !changes.any(of) {
			return columnar.Missing{}
		}
		return columnar.Floats(func(i int) (v rep.Null[float64]) {
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
	s["session"], s["set"], s["rep"], s["set_role"] = columnar.Missing{}, columnar.Missing{}, columnar.Missing{}, columnar.Missing{}
	s["filter"] = few(func(i int) rep.Kind { return aside(i).Filter }, len(rep.KindNames())+1)
	s["reason"] = columnar.Texts(func(i int) string { return aside(i).Reason })
	s["measured"] = columnar.Floats(func(i int) rep.Null[float64] { return aside(i).Measured })
	s["limit"] = columnar.Floats(func(i int) rep.Null[float64] { return aside(i).Limit })
	return s
}

func role(at func(i int) rep.Role) columnar.Coded { return few(at, int(rep.Work)+1) }

func rpeFrom(at func(i int) rep.RPEFrom) columnar.Coded { return few(at, int(rep.RPEHandLog)+1) }

// few is a column of names that are numbered 0 … n-1.
func few[T interface {
	~uint8
	String() string
}](at func(i int) T, n int) columnar.Coded {
	return columnar.Coded{
		Codes: func(dst []uint32, from, to int) []uint32 {
			dst = slices.Grow(dst, to-from)
			for i := from; i < to; i++ {
				dst = append(dst, uint32(at(i)))
			}
			return dst
		},
		N:     n,
		Text:  func(code uint32) string { return T(code).String() },
		Cells: columnar.Texts(func(i int) string { return at(i).String() }),
	}
}
