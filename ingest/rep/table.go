package rep

import (
	"encoding/binary"
	"math"
	"slices"
)

// Floats is a column of numbers that may be missing. Missing is NaN inside,
// which no reader ever lets in as a value.
type Floats []float64

// At returns the value of row i.
func (f Floats) At(i int32) Null[float64] { return nullIf(math.IsNaN(f[i]), f[i]) }

// Put sets the value of row i.
func (f Floats) Put(i int32, v Null[float64]) { f[i] = v.Or(math.NaN()) }

// Rare is a column of numbers that few rows have: it ends with its last value,
// so that it costs nothing where no row has one.
type Rare []float64

// At returns the value of row i.
func (c Rare) At(i int32) Null[float64] {
	if int(i) >= len(c) {
		return Null[float64]{}
	}
	return Floats(c).At(i)
}

// put sets the value of a row behind all others.
func (c *Rare) put(row int, v Null[float64]) {
	if !v.OK {
		return
	}
	for len(*c) < row {
		*c = append(*c, math.NaN())
	}
	*c = append(*c, v.V)
}

// extend adds those of a table whose first row is to be row at.
func (c *Rare) extend(at int, more Rare) {
	for i, v := range more {
		c.put(at+i, nullIf(math.IsNaN(v), v))
	}
}

// Ints is a column of small whole numbers that may be missing.
type Ints []int32

const noInt = math.MinInt32

// At returns the value of row i.
func (n Ints) At(i int32) Null[int32] { return nullIf(n[i] == noInt, n[i]) }

// Put sets the value of row i.
func (n Ints) Put(i int32, v Null[int32]) { n[i] = v.Or(noInt) }

// Instants is a column of moments that may be missing.
type Instants []Instant

const noInstant = math.MinInt64

// At returns the value of row i.
func (t Instants) At(i int32) Null[Instant] { return nullIf(t[i] == noInstant, t[i]) }

// Put sets the value of row i.
func (t Instants) Put(i int32, v Null[Instant]) { t[i] = v.Or(noInstant) }

// nullIf hides the inner mark of a missing value, so that nulls compare equal.
func nullIf[T any](missing bool, v T) Null[T] {
	if missing {
		return Null[T]{}
	}
	return Some(v)
}

// Table holds reps column by column in the order they were read; row i of
// every column is rep i. Rows are never moved: an order is a list of row
// numbers. See [Rep] for what each column means. Hot loops read the columns,
// the rest may ask for a whole rep with [Table.Rep].
type Table struct {
	Text Dict // the texts of every Sym column

	Lifter, Lift, Variant, Bar, Tether, Device, Source, Sheet []Sym

	Date        []Day
	PerformedAt Instants
	LoadKg      []float64

	MeanVelocity []float64

	SetMark, RepRecorded Ints

	PeakVelocity, ROM, Concentric, RPE Floats

	MeanPropulsive, Sticking, TimeToPeak, Eccentric Rare

	RPEFrom []RPEFrom
	Missed  []bool
	Row     []int32

	// Numbering, by cleaning; 0 until then and for reps set aside.
	Session, Set, Number []int32
	Role                 []Role
	Flags                []Kinds

	loadStep, meanStep, peakStep, romStep []uint8
	steps                                 []float64 // the few distinct step sizes

	last [8]lastText // of each Sym column: rows of a set have the same texts

	recorded map[int32]Recorded
	content  map[Sym]uint64 // source → first bytes of its content's SHA-256
	given    []uint64       // ids of a table that was read back; else nil
}

// Len returns the number of reps.
func (t *Table) Len() int { return len(t.Date) }

// lastText is the text a column had in the row before.
type lastText struct {
	text string
	sym  Sym
}

// in returns the symbol of a text in the nth Sym column.
func (t *Table) in(nth int, text string) Sym {
	l := &t.last[nth]
	if text != l.text {
		l.sym = t.Text.Intern(text)
		l.text = t.Text.Text(l.sym)
	}
	return l.sym
}

// Append adds a rep and returns its row.
func (t *Table) Append(r *Rep) int32 {
	row := int32(len(t.Date))
	t.Lifter = append(t.Lifter, t.in(0, r.Lifter))
	t.Lift = append(t.Lift, t.in(1, r.Lift))
	t.Variant = append(t.Variant, t.in(2, r.Variant))
	t.Bar = append(t.Bar, t.in(3, r.Bar))
	t.Tether = append(t.Tether, t.in(4, r.Tether))
	t.Device = append(t.Device, t.in(5, r.Device))
	t.Source = append(t.Source, t.in(6, r.Source))
	t.Sheet = append(t.Sheet, t.in(7, r.Sheet))
	t.Date = append(t.Date, r.Date)
	t.PerformedAt = append(t.PerformedAt, r.PerformedAt.Or(noInstant))
	t.LoadKg = append(t.LoadKg, r.LoadKg)
	t.MeanVelocity = append(t.MeanVelocity, r.MeanVelocity)
	t.SetMark = append(t.SetMark, r.SetMark.Or(noInt))
	t.RepRecorded = append(t.RepRecorded, r.RepRecorded.Or(noInt))
	nan := math.NaN()
	t.PeakVelocity = append(t.PeakVelocity, r.PeakVelocity.Or(nan))
	t.ROM = append(t.ROM, r.ROM.Or(nan))
	t.Concentric = append(t.Concentric, r.Concentric.Or(nan))
	t.RPE = append(t.RPE, r.RPE.Or(nan))
	if r.Further != (Further{}) {
		f := &r.Further
		t.MeanPropulsive.put(int(row), f.MeanPropulsive)
		t.Sticking.put(int(row), f.Sticking)
		t.TimeToPeak.put(int(row), f.TimeToPeak)
		t.Eccentric.put(int(row), f.Eccentric)
	}
	t.RPEFrom = append(t.RPEFrom, r.RPEFrom)
	t.Missed = append(t.Missed, r.Missed)
	t.Row = append(t.Row, r.Row)
	t.Session = append(t.Session, r.Session)
	t.Set = append(t.Set, r.Set)
	t.Number = append(t.Number, r.Rep)
	t.Role = append(t.Role, r.Role)
	t.Flags = append(t.Flags, r.Flags)
	t.loadStep = append(t.loadStep, t.step(r.LoadStep))
	t.meanStep = append(t.meanStep, t.step(r.MeanStep))
	t.peakStep = append(t.peakStep, t.step(r.PeakStep))
	t.romStep = append(t.romStep, t.step(r.ROMStep))
	if !r.Recorded.empty() {
		t.SetRecorded(row, r.Recorded)
	}
	return row
}

// Rep returns row i as a record.
func (t *Table) Rep(i int32) Rep {
	text := t.Text.Text
	return Rep{
		Lifter: text(t.Lifter[i]), Date: t.Date[i], PerformedAt: t.PerformedAt.At(i),
		Lift: text(t.Lift[i]), Variant: text(t.Variant[i]), Bar: text(t.Bar[i]), Tether: text(t.Tether[i]),
		Device: text(t.Device[i]), LoadKg: t.LoadKg[i], SetMark: t.SetMark.At(i), RepRecorded: t.RepRecorded.At(i),
		MeanVelocity: t.MeanVelocity[i], PeakVelocity: t.PeakVelocity.At(i), ROM: t.ROM.At(i),
		Concentric: t.Concentric.At(i), RPE: t.RPE.At(i), RPEFrom: t.RPEFrom[i], Missed: t.Missed[i],
		Further: Further{MeanPropulsive: t.MeanPropulsive.At(i), Sticking: t.Sticking.At(i),
			TimeToPeak: t.TimeToPeak.At(i), Eccentric: t.Eccentric.At(i)},
		LoadStep: t.LoadStep(i), MeanStep: t.MeanStep(i), PeakStep: t.PeakStep(i), ROMStep: t.ROMStep(i),
		Recorded: t.recorded[i], Source: text(t.Source[i]), Sheet: text(t.Sheet[i]), Row: t.Row[i],
		Session: t.Session[i], Set: t.Set[i], Rep: t.Number[i], Role: t.Role[i], Flags: t.Flags[i],
	}
}

// Grow makes room for n more reps, so that columns are not copied as they fill.
func (t *Table) Grow(n int) {
	for _, c := range []*[]Sym{&t.Lifter, &t.Lift, &t.Variant, &t.Bar, &t.Tether, &t.Device, &t.Source, &t.Sheet} {
		*c = slices.Grow(*c, n)
	}
	for _, c := range []*Floats{&t.PeakVelocity, &t.ROM, &t.Concentric, &t.RPE} {
		*c = slices.Grow(*c, n)
	}
	for _, c := range []*[]int32{&t.Row, &t.Session, &t.Set, &t.Number, (*[]int32)(&t.SetMark), (*[]int32)(&t.RepRecorded)} {
		*c = slices.Grow(*c, n)
	}
	for _, c := range []*[]uint8{&t.loadStep, &t.meanStep, &t.peakStep, &t.romStep} {
		*c = slices.Grow(*c, n)
	}
	t.Date = slices.Grow(t.Date, n)
	t.PerformedAt = slices.Grow(t.PerformedAt, n)
	t.LoadKg = slices.Grow(t.LoadKg, n)
	t.MeanVelocity = slices.Grow(t.MeanVelocity, n)
	t.RPEFrom = slices.Grow(t.RPEFrom, n)
	t.Missed = slices.Grow(t.Missed, n)
	t.Role = slices.Grow(t.Role, n)
	t.Flags = slices.Grow(t.Flags, n)
}

// Reset empties the table and keeps its room.
func (t *Table) Reset() {
	u := Table{
		Lifter: t.Lifter[:0], Lift: t.Lift[:0], Variant: t.Variant[:0], Bar: t.Bar[:0], Tether: t.Tether[:0], Device: t.Device[:0],
		Source: t.Source[:0], Sheet: t.Sheet[:0], Date: t.Date[:0], PerformedAt: t.PerformedAt[:0], LoadKg: t.LoadKg[:0],
		MeanVelocity: t.MeanVelocity[:0], SetMark: t.SetMark[:0], RepRecorded: t.RepRecorded[:0], PeakVelocity: t.PeakVelocity[:0],
		ROM: t.ROM[:0], Concentric: t.Concentric[:0], RPE: t.RPE[:0], RPEFrom: t.RPEFrom[:0], Missed: t.Missed[:0], Row: t.Row[:0],
		Session: t.Session[:0], Set: t.Set[:0], Number: t.Number[:0], Role: t.Role[:0], Flags: t.Flags[:0],
		MeanPropulsive: t.MeanPropulsive[:0], Sticking: t.Sticking[:0], TimeToPeak: t.TimeToPeak[:0], Eccentric: t.Eccentric[:0],
		loadStep: t.loadStep[:0], meanStep: t.meanStep[:0], peakStep: t.peakStep[:0], romStep: t.romStep[:0],
	}
	*t = u
}

// Extend adds all reps of u behind those of t. u may be dropped afterwards.
func (t *Table) Extend(u *Table) {
	syms := make([]Sym, u.Text.Len())
	for s := range syms {
		syms[s] = t.Text.Intern(u.Text.Text(Sym(s)))
	}
	at := int32(t.Len())
	for _, c := range []struct {
		to   *[]Sym
		from []Sym
	}{{&t.Lifter, u.Lifter}, {&t.Lift, u.Lift}, {&t.Variant, u.Variant}, {&t.Bar, u.Bar}, {&t.Tether, u.Tether},
		{&t.Device, u.Device}, {&t.Source, u.Source}, {&t.Sheet, u.Sheet}} {
		for _, s := range c.from {
			*c.to = append(*c.to, syms[s])
		}
	}
	t.Date = append(t.Date, u.Date...)
	t.PerformedAt = append(t.PerformedAt, u.PerformedAt...)
	t.LoadKg = append(t.LoadKg, u.LoadKg...)
	t.MeanVelocity = append(t.MeanVelocity, u.MeanVelocity...)
	t.SetMark = append(t.SetMark, u.SetMark...)
	t.RepRecorded = append(t.RepRecorded, u.RepRecorded...)
	t.PeakVelocity = append(t.PeakVelocity, u.PeakVelocity...)
	t.ROM = append(t.ROM, u.ROM...)
	t.Concentric = append(t.Concentric, u.Concentric...)
	t.RPE = append(t.RPE, u.RPE...)
	t.MeanPropulsive.extend(int(at), u.MeanPropulsive)
	t.Sticking.extend(int(at), u.Sticking)
	t.TimeToPeak.extend(int(at), u.TimeToPeak)
	t.Eccentric.extend(int(at), u.Eccentric)
	t.RPEFrom = append(t.RPEFrom, u.RPEFrom...)
	t.Missed = append(t.Missed, u.Missed...)
	t.Row = append(t.Row, u.Row...)
	t.Session = append(t.Session, u.Session...)
	t.Set = append(t.Set, u.Set...)
	t.Number = append(t.Number, u.Number...)
	t.Role = append(t.Role, u.Role...)
	t.Flags = append(t.Flags, u.Flags...)
	for _, c := range []struct {
		to   *[]uint8
		from []uint8
	}{{&t.loadStep, u.loadStep}, {&t.meanStep, u.meanStep}, {&t.peakStep, u.peakStep}, {&t.romStep, u.romStep}} {
		for _, s := range c.from {
			*c.to = append(*c.to, t.step(u.steps[s]))
		}
	}
	for i, r := range u.recorded {
		t.SetRecorded(at+i, r)
	}
	for s, sum := range u.content {
		t.putContent(syms[s], sum)
	}
}

// Recorded returns what the source said of row i where that was changed.
func (t *Table) Recorded(i int32) Recorded { return t.recorded[i] }

// SetRecorded keeps what the source said of row i.
func (t *Table) SetRecorded(i int32, r Recorded) {
	if t.recorded == nil {
		t.recorded = make(map[int32]Recorded)
	}
	t.recorded[i] = r
}

// LoadStep returns the size of the last written digit of row i's load, in kg;
// 0 is unknown.
func (t *Table) LoadStep(i int32) float64 { return t.steps[t.loadStep[i]] }

// MeanStep returns the step of the mean velocity of row i, in m/s.
func (t *Table) MeanStep(i int32) float64 { return t.steps[t.meanStep[i]] }

// PeakStep returns the step of the peak velocity of row i, in m/s.
func (t *Table) PeakStep(i int32) float64 { return t.steps[t.peakStep[i]] }

// ROMStep returns the step of the range of motion of row i, in m.
func (t *Table) ROMStep(i int32) float64 { return t.steps[t.romStep[i]] }

// step returns the index of a step size. Exports have a handful; past 255 a
// step counts as unknown, which only makes duplicates compare exactly.
func (t *Table) step(size float64) uint8 {
	for i, s := range t.steps {
		if s == size {
			return uint8(i)
		}
	}
	if len(t.steps) == 0 {
		t.steps = append(t.steps, 0)
		return t.step(size)
	}
	if len(t.steps) == 256 {
		return 0
	}
	t.steps = append(t.steps, size)
	return uint8(len(t.steps) - 1)
}

// SetContent tells the SHA-256 of a source's content, which rep ids rest on.
func (t *Table) SetContent(source string, sum [32]byte) {
	t.putContent(t.Text.Intern(source), binary.BigEndian.Uint64(sum[:8]))
}

// GiveIDs gives every row the id it had when it was written: of reps that are
// read back the sources are not at hand. The table is complete by then.
func (t *Table) GiveIDs(ids []uint64) { t.given = ids }

func (t *Table) putContent(s Sym, sum uint64) {
	if t.content == nil {
		t.content = make(map[Sym]uint64)
	}
	t.content[s] = sum
}

// ID returns the rep_id of row i: a 64-bit hash (FNV-1a with a finishing mix)
// of the source's content, sheet, row and rep position. The name of the file
// is no part of it, so a renamed export keeps its ids. Among ten million reps
// two share an id with a chance of 3 in a million (birthday bound n²/2⁶⁵).
func (t *Table) ID(i int32) uint64 {
	if t.given != nil {
		return t.given[i]
	}
	const prime = 1099511628211
	h := uint64(14695981039346656037)
	put := func(v uint64, bytes int) {
		for ; bytes > 0; bytes-- {
			h = (h ^ v&0xff) * prime
			v >>= 8
		}
	}
	put(t.content[t.Source[i]], 8)
	for _, c := range []byte(t.Text.Text(t.Sheet[i])) {
		h = (h ^ uint64(c)) * prime
	}
	put(uint64(uint32(t.Row[i])), 4)
	put(uint64(uint32(t.RepRecorded[i])), 4)
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}
