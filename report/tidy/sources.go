package tidy

import (
	"math/bits"

	"repsift/clean"
	"repsift/ingest/rep"
)

// A source gives the values of one column, row by row; rows are counted from
// 0. The Parquet writer asks each source for one row group at a time.
type (
	texts    func(i int) string // "" is null in an optional column
	ids      func(i int) uint64 // rep ids
	days     func(i int) rep.Day
	bools    func(i int) bool
	floats   func(i int) rep.Null[float64]
	ints     func(i int) rep.Null[int32]
	instants func(i int) rep.Null[rep.Instant]
	kinds    func(i int) rep.Kinds
)

// coded is a source of texts that are known by number, so that none is looked
// up twice.
type coded struct {
	code func(i int) int
	name func(code int) string // "" is null in an optional column
	n    int                   // codes are 0 … n-1
}

// repSources returns the columns of reps; row tells which row of t stands in
// row i of the file.
func repSources(t *rep.Table, row func(i int) int32) map[string]any {
	sym := func(column *rep.Texts) coded {
		return coded{
			code: func(i int) int { return int(column.At(row(i))) },
			name: func(code int) string { return t.Text.Text(rep.Sym(code)) },
			n:    t.Text.Len(),
		}
	}
	some := func(column *rep.Floats) floats {
		return func(i int) rep.Null[float64] { return rep.Some(column.Get(row(i))) }
	}
	maybe := func(column *rep.Floats) floats { return func(i int) rep.Null[float64] { return column.At(row(i)) } }
	rare := func(column rep.Rare) floats { return func(i int) rep.Null[float64] { return column.At(row(i)) } }
	whole := func(column *rep.Counts) ints {
		return func(i int) rep.Null[int32] { return rep.Some(column.At(row(i))) }
	}
	changes := changesOf(t)
	recorded := func(of func(*rep.Recorded) rep.Null[float64]) floats {
		return func(i int) (v rep.Null[float64]) {
			if r := changes.at(row(i)); r != nil {
				v = of(r)
			}
			return v
		}
	}
	return map[string]any{
		"rep_id":                       ids(func(i int) uint64 { return t.ID(row(i)) }),
		"lifter":                       sym(&t.Lifter),
		"session_date":                 days(func(i int) rep.Day { return t.Date.At(row(i)) }),
		"performed_at":                 instants(func(i int) rep.Null[rep.Instant] { return t.PerformedAt.At(row(i)) }),
		"session":                      whole(&t.Session),
		"lift":                         sym(&t.Lift),
		"variant":                      sym(&t.Variant),
		"bar":                          sym(&t.Bar),
		"tether":                       sym(&t.Tether),
		"load_kg":                      some(&t.LoadKg),
		"set":                          whole(&t.Set),
		"rep":                          whole(&t.Number),
		"rep_recorded":                 ints(func(i int) rep.Null[int32] { return t.RepRecorded.At(row(i)) }),
		"mean_velocity_m_s":            some(&t.MeanVelocity),
		"peak_velocity_m_s":            maybe(&t.PeakVelocity),
		"rom_m":                        maybe(&t.ROM),
		"concentric_s":                 maybe(&t.Concentric),
		"rpe":                          maybe(&t.RPE),
		"rpe_from":                     rpeFrom(func(i int) rep.RPEFrom { return t.RPEFrom(row(i)) }),
		"missed":                       bools(func(i int) bool { return t.Missed(row(i)) }),
		"set_role":                     role(func(i int) rep.Role { return t.Role(row(i)) }),
		"device":                       sym(&t.Device),
		"flags":                        kinds(func(i int) rep.Kinds { return t.Flags[row(i)] }),
		"load_recorded_kg":             recorded(func(r *rep.Recorded) rep.Null[float64] { return r.LoadKg }),
		"mean_velocity_recorded_m_s":   recorded(func(r *rep.Recorded) rep.Null[float64] { return r.MeanVelocity }),
		"rom_recorded_m":               recorded(func(r *rep.Recorded) rep.Null[float64] { return r.ROM }),
		"concentric_recorded_s":        recorded(func(r *rep.Recorded) rep.Null[float64] { return r.Concentric }),
		"source":                       sym(&t.Source),
		"sheet":                        sym(&t.Sheet),
		"row":                          ints(func(i int) rep.Null[int32] { return rep.Some(t.Row[row(i)]) }),
		"mean_propulsive_velocity_m_s": rare(t.MeanPropulsive),
		"sticking_velocity_m_s":        rare(t.Sticking),
		"time_to_peak_s":               rare(t.TimeToPeak),
		"eccentric_s":                  rare(t.Eccentric),
	}
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

// asideSources returns the columns of set_aside.
func asideSources(t *rep.Table, aside func(i int) *clean.Aside) map[string]any {
	s := repSources(t, func(i int) int32 { return aside(i).Row })
	none := ints(func(int) rep.Null[int32] { return rep.Null[int32]{} })
	s["session"], s["set"], s["rep"] = none, none, none
	s["set_role"] = role(func(int) rep.Role { return rep.RoleUnknown })
	s["filter"] = texts(func(i int) string { return aside(i).Filter.String() })
	s["reason"] = texts(func(i int) string { return aside(i).Reason })
	s["measured"] = floats(func(i int) rep.Null[float64] { return aside(i).Measured })
	s["limit"] = floats(func(i int) rep.Null[float64] { return aside(i).Limit })
	return s
}

// setSources returns the columns of sets; at tells which set stands in row i of
// the file.
func setSources(sets *rep.Sets, at func(i int) int) map[string]any {
	t := sets.Table()
	text := func(column *rep.Texts, of func(*rep.Set) string) texts {
		return func(i int) string {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return of(w)
			}
			return t.Text.Text(column.At(sets.Rows(i)[0]))
		}
	}
	whole := func(column func(row int32) int32, of func(*rep.Set) int32) ints {
		return func(i int) rep.Null[int32] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return rep.Some(of(w))
			}
			return rep.Some(column(sets.Rows(i)[0]))
		}
	}
	speed := func(of func(rep.Speeds) rep.Null[float64]) floats {
		return func(i int) rep.Null[float64] { return of(sets.Speeds(at(i))) }
	}
	count := func(of func(i int) int32) ints {
		return func(i int) rep.Null[int32] { return rep.Some(of(at(i))) }
	}
	return withLog(func(i int) *rep.Logged { return sets.Log(at(i)) }, map[string]any{
		"lifter":       text(&t.Lifter, func(s *rep.Set) string { return s.Lifter }),
		"session_date": days(func(i int) rep.Day { return sets.Date(at(i)) }),
		"session":      whole(t.Session.At, func(s *rep.Set) int32 { return s.Session }),
		"performed_at": instants(func(i int) rep.Null[rep.Instant] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.PerformedAt
			}
			return t.PerformedAt.At(sets.Rows(i)[0])
		}),
		"lift":    text(&t.Lift, func(s *rep.Set) string { return s.Lift }),
		"variant": text(&t.Variant, func(s *rep.Set) string { return s.Variant }),
		"bar":     text(&t.Bar, func(s *rep.Set) string { return s.Bar }),
		"tether":  text(&t.Tether, func(s *rep.Set) string { return s.Tether }),
		"load_kg": floats(func(i int) rep.Null[float64] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.LoadKg
			}
			return rep.Some(t.LoadKg.Get(sets.Rows(i)[0]))
		}),
		"set": ints(func(i int) rep.Null[int32] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.Number
			}
			return rep.Some(t.Set.At(sets.Rows(i)[0]))
		}),
		"set_role": role(func(i int) rep.Role {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.Role
			}
			return t.Role(sets.Rows(i)[0])
		}),
		"reps":           count(sets.Reps),
		"reps_missed":    count(func(i int) int32 { return sets.Speeds(i).Missed }),
		"reps_set_aside": count(sets.Aside),
		"first_m_s":      speed(func(v rep.Speeds) rep.Null[float64] { return v.First }),
		"fastest_m_s":    speed(func(v rep.Speeds) rep.Null[float64] { return v.Fastest }),
		"last_m_s":       speed(func(v rep.Speeds) rep.Null[float64] { return v.Last }),
		"slowest_m_s":    speed(func(v rep.Speeds) rep.Null[float64] { return v.Slowest }),
		"velocity_loss":  speed(func(v rep.Speeds) rep.Null[float64] { return v.Loss }),
		"rpe": floats(func(i int) rep.Null[float64] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.RPE
			}
			return t.RPE.At(sets.Rows(i)[0])
		}),
		"rpe_from": rpeFrom(func(i int) rep.RPEFrom {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.RPEFrom
			}
			return t.RPEFrom(sets.Rows(i)[0])
		}),
		"device": text(&t.Device, func(s *rep.Set) string { return s.Device }),
		"source": text(&t.Source, func(s *rep.Set) string { return s.Source }),
		"sheet":  text(&t.Sheet, func(s *rep.Set) string { return s.Sheet }),
		"row":    whole(func(row int32) int32 { return t.Row[row] }, func(s *rep.Set) int32 { return s.Row }),
	})
}

// withLog adds what the hand log says of each set.
func withLog(log func(i int) *rep.Logged, s map[string]any) map[string]any {
	num := func(of func(*rep.Logged) rep.Null[float64]) floats {
		return func(i int) (v rep.Null[float64]) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		}
	}
	whole := func(of func(*rep.Logged) rep.Null[int32]) ints {
		return func(i int) (v rep.Null[int32]) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		}
	}
	text := func(of func(*rep.Logged) string) texts {
		return func(i int) (v string) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		}
	}
	s["logged"] = bools(func(i int) bool { return log(i) != nil })
	s["logged_load_kg"] = num(func(l *rep.Logged) rep.Null[float64] { return l.LoadKg })
	s["logged_reps"] = whole(func(l *rep.Logged) rep.Null[int32] { return l.Reps })
	s["logged_rpe"] = num(func(l *rep.Logged) rep.Null[float64] { return l.RPE })
	s["logged_rpe_high"] = num(func(l *rep.Logged) rep.Null[float64] { return l.RPEHigh })
	s["logged_first_m_s"] = num(func(l *rep.Logged) rep.Null[float64] { return l.First })
	s["logged_fastest_m_s"] = num(func(l *rep.Logged) rep.Null[float64] { return l.Fastest })
	s["logged_last_m_s"] = num(func(l *rep.Logged) rep.Null[float64] { return l.Last })
	s["logged_slowest_m_s"] = num(func(l *rep.Logged) rep.Null[float64] { return l.Slowest })
	s["logged_mean_m_s"] = num(func(l *rep.Logged) rep.Null[float64] { return l.Mean })
	s["logged_text"] = text(func(l *rep.Logged) string { return l.Text })
	s["log_source"] = text(func(l *rep.Logged) string { return l.Source })
	s["log_sheet"] = text(func(l *rep.Logged) string { return l.Sheet })
	s["log_row"] = whole(func(l *rep.Logged) rep.Null[int32] { return rep.Some(l.Row) })
	return s
}

func role(at func(i int) rep.Role) coded {
	return coded{func(i int) int { return int(at(i)) }, func(code int) string { return rep.Role(code).String() }, int(rep.Work) + 1}
}

func rpeFrom(at func(i int) rep.RPEFrom) coded {
	return coded{func(i int) int { return int(at(i)) }, func(code int) string { return rep.RPEFrom(code).String() }, int(rep.RPEHandLog) + 1}
}
