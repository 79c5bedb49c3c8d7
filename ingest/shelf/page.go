package shelf

import (
	"errors"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// column is one field of every rep of a page: the different values in order of
// their first appearance, and the number of each rep's value, none where all
// are the same.
type column[T comparable] struct {
	Values  []T
	Numbers []uint32
}

// number returns the number of the value of rep i.
func (c *column[T]) number(i int) uint32 {
	if c.Numbers == nil {
		return 0
	}
	return c.Numbers[i]
}

func (c *column[T]) at(i int) T { return c.Values[c.number(i)] }

// of fills the column with the values of rows from…to.
func (c *column[T]) of(from, to int, at func(row int32) T) {
	known := map[T]uint32{}
	var last T
	number := uint32(0)
	for i := range to - from {
		v := at(int32(from + i))
		if i == 0 || v != last {
			last = v
			var ok bool
			if number, ok = known[v]; !ok {
				number = uint32(len(c.Values))
				known[v] = number
				c.Values = append(c.Values, v)
			}
		}
		switch {
		case c.Numbers != nil:
			c.Numbers = append(c.Numbers, number)
		case number > 0: // all before are the first one
			c.Numbers = make([]uint32, i, to-from)
			c.Numbers = append(c.Numbers, number)
		}
	}
}

// Columns are reps on their way to bytes and back, with encoding/gob. Numbers
// with a fraction are kept as their bits, so that each comes back as it was; those
// that are missing are a NaN.
type Columns struct {
	Lifter, Lift, Variant, Bar, Tether, Device, Source, Sheet column[string]

	Date        column[rep.Day]
	PerformedAt column[rep.Instant]
	Row         []int32

	SetMark, RepRecorded column[int32]

	LoadKg, MeanVelocity, PeakVelocity, ROM, Concentric, RPE column[uint64]

	LoadStep, MeanStep, PeakStep, ROMStep           column[uint64]
	MeanPropulsive, Sticking, TimeToPeak, Eccentric column[uint64]

	RecordedLoad, RecordedMean, RecordedROM, RecordedConcentric column[uint64]

	RPEFrom column[rep.RPEFrom]
	Missed  column[bool]
	Flags   column[rep.Kinds]

	Session, Set, Number column[int32]
	Role                 column[rep.Role]
}

// Of returns rows from…to of a table.
func Of(t *rep.Table, from, to int) *Columns {
	var c Columns
	c.take(t, from, to)
	return &c
}

func (c *Columns) take(t *rep.Table, from, to int) {
	texts := func(c *column[string], of *rep.Texts) {
		var syms column[rep.Sym]
		syms.of(from, to, of.At)
		c.Numbers = syms.Numbers
		for _, s := range syms.Values {
			c.Values = append(c.Values, t.Text.Text(s))
		}
	}
	texts(&c.Lifter, &t.Lifter)
	texts(&c.Lift, &t.Lift)
	texts(&c.Variant, &t.Variant)
	texts(&c.Bar, &t.Bar)
	texts(&c.Tether, &t.Tether)
	texts(&c.Device, &t.Device)
	texts(&c.Source, &t.Source)
	texts(&c.Sheet, &t.Sheet)
	c.Date.of(from, to, t.Date.At)
	c.PerformedAt.of(from, to, t.PerformedAt.Get)
	c.Row = t.Row[from:to]
	c.SetMark.of(from, to, t.SetMark.Get)
	c.RepRecorded.of(from, to, t.RepRecorded.Get)
	floats := func(c *column[uint64], get func(i int32) float64) {
		c.of(from, to, func(i int32) uint64 { return math.Float64bits(get(i)) })
	}
	floats(&c.LoadKg, t.LoadKg.Get)
	floats(&c.MeanVelocity, t.MeanVelocity.Get)
	floats(&c.PeakVelocity, t.PeakVelocity.Get)
	floats(&c.ROM, t.ROM.Get)
	floats(&c.Concentric, t.Concentric.Get)
	floats(&c.RPE, t.RPE.Get)
	floats(&c.LoadStep, t.LoadStep)
	floats(&c.MeanStep, t.MeanStep)
	floats(&c.PeakStep, t.PeakStep)
	floats(&c.ROMStep, t.ROMStep)
	maybe := func(c *column[uint64], at func(i int32) rep.Null[float64]) {
		floats(c, func(i int32) float64 { return at(i).Or(math.NaN()) })
	}
	maybe(&c.MeanPropulsive, t.MeanPropulsive.At)
	maybe(&c.Sticking, t.Sticking.At)
	maybe(&c.TimeToPeak, t.TimeToPeak.At)
	maybe(&c.Eccentric, t.Eccentric.At)
	maybe(&c.RecordedLoad, func(i int32) rep.Null[float64] { return t.Recorded(i).LoadKg })
	maybe(&c.RecordedMean, func(i int32) rep.Null[float64] { return t.Recorded(i).MeanVelocity })
	maybe(&c.RecordedROM, func(i int32) rep.Null[float64] { return t.Recorded(i).ROM })
	maybe(&c.RecordedConcentric, func(i int32) rep.Null[float64] { return t.Recorded(i).Concentric })
	c.RPEFrom.of(from, to, t.RPEFrom)
	c.Missed.of(from, to, t.Missed)
	c.Flags.of(from, to, func(i int32) rep.Kinds { return t.Flags[i] })
	c.Session.of(from, to, t.Session.At)
	c.Set.of(from, to, t.Set.At)
	c.Number.of(from, to, t.Number.At)
	c.Role.of(from, to, t.Role)
}

// who returns whose reps of which source there are.
func (c *Columns) who() []Who {
	type pair struct{ lifter, source uint32 }
	at := map[pair]int{}
	var all []Who
	var last pair
	k := 0
	for i := range c.Row {
		if p := (pair{c.Lifter.number(i), c.Source.number(i)}); i == 0 || p != last {
			last = p
			known, ok := at[p]
			if k = known; !ok {
				k = len(all)
				at[p] = k
				all = append(all, Who{Lifter: c.Lifter.at(i), Source: c.Source.at(i)})
			}
		}
		all[k].Reps++
	}
	return all
}

// rep writes rep i.
func (c *Columns) rep(i int, r *rep.Rep) {
	float := func(c *column[uint64]) float64 { return math.Float64frombits(c.at(i)) }
	maybe := func(c *column[uint64]) rep.Null[float64] {
		if v := float(c); v == v {
			return rep.Some(v)
		}
		return rep.Null[float64]{}
	}
	whole := func(c *column[int32]) rep.Null[int32] {
		if v := c.at(i); v != rep.NoInt {
			return rep.Some(v)
		}
		return rep.Null[int32]{}
	}
	*r = rep.Rep{
		Lifter: c.Lifter.at(i), Date: c.Date.at(i), Lift: c.Lift.at(i), Variant: c.Variant.at(i), Bar: c.Bar.at(i),
		Tether: c.Tether.at(i), Device: c.Device.at(i), LoadKg: float(&c.LoadKg), SetMark: whole(&c.SetMark), RepRecorded: whole(&c.RepRecorded),
		MeanVelocity: float(&c.MeanVelocity), PeakVelocity: maybe(&c.PeakVelocity), ROM: maybe(&c.ROM), Concentric: maybe(&c.Concentric),
		Further: rep.Further{MeanPropulsive: maybe(&c.MeanPropulsive), Sticking: maybe(&c.Sticking),
			TimeToPeak: maybe(&c.TimeToPeak), Eccentric: maybe(&c.Eccentric)},
		RPE: maybe(&c.RPE), RPEFrom: c.RPEFrom.at(i), Missed: c.Missed.at(i),
		LoadStep: float(&c.LoadStep), MeanStep: float(&c.MeanStep), PeakStep: float(&c.PeakStep), ROMStep: float(&c.ROMStep),
		Recorded: rep.Recorded{LoadKg: maybe(&c.RecordedLoad), MeanVelocity: maybe(&c.RecordedMean),
			ROM: maybe(&c.RecordedROM), Concentric: maybe(&c.RecordedConcentric)},
		Source: c.Source.at(i), Sheet: c.Sheet.at(i), Row: c.Row[i],
		Session: c.Session.at(i), Set: c.Set.at(i), Rep: c.Number.at(i), Role: c.Role.at(i), Flags: c.Flags.at(i),
	}
	if at := c.PerformedAt.at(i); at != rep.NoInstant {
		r.PerformedAt = rep.Some(at)
	}
}

// AddTo adds the reps to a table, in their order, and returns how many there
// were. It adds none, and the error says why, where bytes that were damaged were
// read.
func (c *Columns) AddTo(t *rep.Table) (int, error) {
	if !c.sound() {
		return 0, errUnsound
	}
	var r rep.Rep
	for i := range c.Row {
		c.rep(i, &r)
		t.Append(&r)
	}
	return len(c.Row), nil
}

var errUnsound = errors.New("these are no reps")

// sound reports whether every rep has a value of each column, and those that
// name something name what there is.
func (c *Columns) sound() bool {
	rows := len(c.Row)
	for _, column := range []interface{ sound(rows int) bool }{
		&c.Lifter, &c.Lift, &c.Variant, &c.Bar, &c.Tether, &c.Device, &c.Source, &c.Sheet, &c.Date, &c.PerformedAt,
		&c.SetMark, &c.RepRecorded, &c.LoadKg, &c.MeanVelocity, &c.PeakVelocity, &c.ROM, &c.Concentric, &c.RPE,
		&c.LoadStep, &c.MeanStep, &c.PeakStep, &c.ROMStep, &c.MeanPropulsive, &c.Sticking, &c.TimeToPeak, &c.Eccentric,
		&c.RecordedLoad, &c.RecordedMean, &c.RecordedROM, &c.RecordedConcentric,
		&c.RPEFrom, &c.Missed, &c.Flags, &c.Session, &c.Set, &c.Number, &c.Role,
	} {
		if !column.sound(rows) {
			return false
		}
	}
	return !slices.ContainsFunc(c.RPEFrom.Values, func(f rep.RPEFrom) bool { return f > rep.RPEHandLog }) &&
		!slices.ContainsFunc(c.Role.Values, func(r rep.Role) bool { return r > rep.Work })
}

func (c *column[T]) sound(rows int) bool {
	if c.Numbers == nil {
		return rows == 0 || len(c.Values) > 0
	}
	return len(c.Numbers) == rows && (rows == 0 || int(slices.Max(c.Numbers)) < len(c.Values))
}
