package tidy

import (
	"maps"
	"sync"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// setSources returns the columns of sets; at tells which set stands in row i of
// the file.
func setSources(sets *rep.Sets, at func(i int) int) map[string]any {
	out := speedSources(sets, at)
	count := func(of func(i int) int32) columnar.Wholes {
		return columnar.Wholes{
			All: func(dst []int64, from, to int) []int64 {
				for i := from; i < to; i++ {
					dst = append(dst, int64(of(at(i))))
				}
				return dst
			},
			Cells: columnar.Ints(func(i int) rep.Null[int32] { return rep.Some(of(at(i))) }),
		}
	}
	out["reps"], out["reps_set_aside"] = count(sets.Reps), count(sets.Aside)
	maps.Copy(out, logSources(sets, at))
	rows := make([]int32, sets.Len())
	for i := range rows {
		if sets.Whole(at(i)) != nil {
			maps.Copy(out, mixedSources(sets, at))
			return out
		}
		rows[i] = sets.Rows(at(i))[0]
	}
	maps.Copy(out, drawn{sets.Table(), rows}.ofSet())
	return out
}

// mixedSources returns what the reps of a set have in common, of sets some of
// which are held whole.
func mixedSources(sets *rep.Sets, at func(i int) int) map[string]any {
	t := sets.Table()
	text := func(column *rep.Texts, of func(*rep.Set) string) columnar.Texts {
		return func(i int) string {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return of(w)
			}
			return t.Text.Text(column.At(sets.Rows(i)[0]))
		}
	}
	whole := func(column func(row int32) int32, of func(*rep.Set) int32) columnar.Ints {
		return func(i int) rep.Null[int32] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return rep.Some(of(w))
			}
			return rep.Some(column(sets.Rows(i)[0]))
		}
	}
	return map[string]any{
		"lifter":       text(&t.Lifter, func(s *rep.Set) string { return s.Lifter }),
		"session_date": columnar.Days(func(i int) rep.Day { return sets.Date(at(i)) }),
		"session":      whole(t.Session.At, func(s *rep.Set) int32 { return s.Session }),
		"performed_at": columnar.Instants(func(i int) rep.Null[rep.Instant] {
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
		"load_kg": columnar.Floats(func(i int) rep.Null[float64] {
			i = at(i)
			if w := sets.Whole(i); w != nil {
				return w.LoadKg
			}
			return rep.Some(t.LoadKg.Get(sets.Rows(i)[0]))
		}),
		"set": columnar.Ints(func(i int) rep.Null[int32] {
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
		"rpe": columnar.Floats(func(i int) rep.Null[float64] {
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
	}
}

// speedSources returns the columns that come from the speeds of a set's reps.
func speedSources(sets *rep.Sets, at func(i int) int) map[string]any {
	s := &speeds{sets: sets, at: at, of: map[int]*speedsOf{}}
	out := map[string]any{
		"reps_missed": columnar.Wholes{
			All:   func(dst []int64, from, to int) []int64 { return append(dst, s.stretch(from, to).missed...) },
			Cells: columnar.Ints(func(i int) rep.Null[int32] { return rep.Some(sets.Speeds(at(i)).Missed) }),
		},
	}
	for k, name := range speedNames {
		out[name] = columnar.Reals{
			All:   func(from, to int) []float64 { return s.stretch(from, to).columns[k] },
			Cells: columnar.Floats(func(i int) rep.Null[float64] { return speedsIn(sets.Speeds(at(i)))[k] }),
		}
	}
	return out
}

var speedNames = [...]string{"first_m_s", "fastest_m_s", "last_m_s", "slowest_m_s", "velocity_loss"}

func speedsIn(v rep.Speeds) [len(speedNames)]rep.Null[float64] {
	return [...]rep.Null[float64]{v.First, v.Fastest, v.Last, v.Slowest, v.Loss}
}

// speeds keeps the speeds of the sets that are being written: six columns ask
// for those of the same sets at about the same time.
type speeds struct {
	sets *rep.Sets
	at   func(i int) int
	mu   sync.Mutex
	of   map[int]*speedsOf // by the first row
}

// speedsOf are those of one row group.
type speedsOf struct {
	once    sync.Once
	columns [len(speedNames)][]float64
	missed  []int64
	asked   int
}

// stretch returns the speeds of rows from…to-1. It forgets them once every
// column has asked.
func (s *speeds) stretch(from, to int) *speedsOf {
	s.mu.Lock()
	g := s.of[from]
	if g == nil {
		g = new(speedsOf)
		s.of[from] = g
	}
	if g.asked++; g.asked > len(speedNames) {
		delete(s.of, from)
	}
	s.mu.Unlock()
	g.once.Do(func() {
		g.missed = make([]int64, to-from)
		for k := range g.columns {
			g.columns[k] = make([]float64, to-from)
		}
		for i := range g.missed {
			first, fastest, last, slowest, loss, missed := s.sets.EachSpeed(s.at(from + i))
			g.missed[i] = int64(missed)
			for k, v := range [...]float64{first, fastest, last, slowest, loss} {
				g.columns[k][i] = v
			}
		}
	})
	return g
}

// logSources returns what the hand log says of each set.
func logSources(sets *rep.Sets, at func(i int) int) map[string]any {
	log := func(i int) *rep.Logged { return sets.Log(at(i)) }
	number := func(of func(*rep.Logged) rep.Null[float64]) any {
		return columnar.Floats(func(i int) (v rep.Null[float64]) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		})
	}
	whole := func(of func(*rep.Logged) rep.Null[int32]) any {
		return columnar.Ints(func(i int) (v rep.Null[int32]) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		})
	}
	text := func(of func(*rep.Logged) string) any {
		return columnar.Texts(func(i int) (v string) {
			if l := log(i); l != nil {
				v = of(l)
			}
			return v
		})
	}
	if !sets.Logged() {
		number = func(func(*rep.Logged) rep.Null[float64]) any { return columnar.Missing{} }
		whole = func(func(*rep.Logged) rep.Null[int32]) any { return columnar.Missing{} }
		text = func(func(*rep.Logged) string) any { return columnar.Missing{} }
	}
	return map[string]any{
		"logged":             columnar.Bools(func(i int) bool { return log(i) != nil }),
		"logged_load_kg":     number(func(l *rep.Logged) rep.Null[float64] { return l.LoadKg }),
		"logged_reps":        whole(func(l *rep.Logged) rep.Null[int32] { return l.Reps }),
		"logged_rpe":         number(func(l *rep.Logged) rep.Null[float64] { return l.RPE }),
		"logged_rpe_high":    number(func(l *rep.Logged) rep.Null[float64] { return l.RPEHigh }),
		"logged_first_m_s":   number(func(l *rep.Logged) rep.Null[float64] { return l.First }),
		"logged_fastest_m_s": number(func(l *rep.Logged) rep.Null[float64] { return l.Fastest }),
		"logged_last_m_s":    number(func(l *rep.Logged) rep.Null[float64] { return l.Last }),
		"logged_slowest_m_s": number(func(l *rep.Logged) rep.Null[float64] { return l.Slowest }),
		"logged_mean_m_s":    number(func(l *rep.Logged) rep.Null[float64] { return l.Mean }),
		"logged_text":        text(func(l *rep.Logged) string { return l.Text }),
		"log_source":         text(func(l *rep.Logged) string { return l.Source }),
		"log_sheet":          text(func(l *rep.Logged) string { return l.Sheet }),
		"log_row":            whole(func(l *rep.Logged) rep.Null[int32] { return rep.Some(l.Row) }),
	}
}
