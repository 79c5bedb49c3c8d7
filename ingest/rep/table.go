package rep

import (
	"encoding/binary"
	"math"
)

// Table holds reps column by column in the order they were read; row i of
// every column is rep i. Rows are never moved: an order is a list of row
// numbers. See [Rep] for what each column means. Hot loops read the columns,
// the rest may ask for a whole rep with [Table.Rep].
type Table struct {
	Text Dict // the texts of every column of symbols

	Lifter, Lift, Variant, Bar, Tether, Device, Source, Sheet Texts

	Date        Days
	PerformedAt Instants
	Row         []int32

	SetMark, RepRecorded Ints

	LoadKg, MeanVelocity               Floats // never missing
	PeakVelocity, ROM, Concentric, RPE Floats

	MeanPropulsive, Sticking, TimeToPeak, Eccentric Rare

	Flags []Kinds

	// Numbering, by cleaning; 0 until then and for reps set aside.
	Session, Set, Number Counts

	marks  []marks
	steps  Texts      // which of kinds
	kinds  [][4]uint8 // steps of load, mean, peak and travel, each one of sizes
	kindOf map[[4]uint8]Sym
	sizes  []float64 // the few distinct step sizes

	room     int         // rows there will be, as far as is known
	like     int         // rows at the end whose texts are those of the row before, not yet there
	last     [8]lastText // of each column of symbols: rows of a set have the same texts
	step     [4]lastStep
	lastKind Sym
	lastSteps

	recorded map[int32]Recorded
	content  map[Sym]uint64 // source → first bytes of its content's SHA-256
	given    []uint64       // ids of a table that was read back; else nil
}

// marks is what a rep says in a bit or two: from the lowest, whether it was
// missed, where its RPE is from, its role.
type marks uint8

// Len returns the number of reps.
func (t *Table) Len() int { return len(t.Row) }

func marksOf(r *Rep) marks {
	m := marks(r.RPEFrom)<<1 | marks(r.Role)<<3
	if r.Missed {
		m |= 1
	}
	return m
}

// Missed reports whether the rep of row i failed.
func (t *Table) Missed(i int32) bool { return t.marks[i]&1 != 0 }

// SetMissed sets it.
func (t *Table) SetMissed(i int32, missed bool) {
	t.marks[i] &^= 1
	if missed {
		t.marks[i] |= 1
	}
}

// RPEFrom returns where the RPE of row i was written.
func (t *Table) RPEFrom(i int32) RPEFrom { return RPEFrom(t.marks[i] >> 1 & 3) }

// SetRPEFrom sets it.
func (t *Table) SetRPEFrom(i int32, from RPEFrom) {
	t.marks[i] = t.marks[i]&^(3<<1) | marks(from)<<1
}

// Role returns what the set of row i was for.
func (t *Table) Role(i int32) Role { return Role(t.marks[i] >> 3) }

// SetRole sets it.
func (t *Table) SetRole(i int32, role Role) { t.marks[i] = t.marks[i]&7 | marks(role)<<3 }

// Open makes the columns ready that cleaning fills or corrects; rpe says whether
// RPE may be among them. The table is whole by then.
func (t *Table) Open(rpe bool) {
	for _, c := range []*Counts{&t.Session, &t.Set, &t.Number} {
		c.fill(t.Len())
	}
	for _, c := range []*Floats{&t.LoadKg, &t.MeanVelocity, &t.PeakVelocity, &t.ROM, &t.Concentric} {
		c.open()
	}
	if rpe {
		t.RPE.open()
	}
}

// lastText is the text a column had in the row before.
type lastText struct {
	text string
	sym  Sym
}

// in returns the symbol of a text in the nth column of symbols.
func (t *Table) in(nth int, text string) Sym {
	l := &t.last[nth]
	if text != l.text {
		l.sym = t.Text.Intern(text)
		l.text = t.Text.Text(l.sym)
	}
	return l.sym
}

// Coders are those of LoadKg, MeanVelocity, PeakVelocity, ROM and Concentric;
// Codes are numbers by them.
type (
	Coders [5]Coder
	Codes  [5]Code
)

// Code makes the columns of an empty table those of a reader's codes, until it
// is reset. Before another goroutine reads it, it has to be sealed.
func (t *Table) Code(c *Coders) {
	floats := t.floats()
	for i := range c {
		floats[i].code(&c[i])
	}
}

// Seal makes the table readable while its reader goes on.
func (t *Table) Seal() {
	t.repeat()
	for _, c := range t.floats() {
		c.seal()
	}
}

// Append adds a rep and returns its row.
func (t *Table) Append(r *Rep) int32 { return t.AppendCoded(r, &noCoders, &noCodes, false) }

var (
	noCoders Coders
	noCodes  Codes
)

// AppendCoded is [Table.Append] for a reader that knows codes of its Coders, or
// that a rep is like the one before in all that is a text: such a table has to
// be sealed before it is read.
func (t *Table) AppendCoded(r *Rep, by *Coders, codes *Codes, like bool) int32 {
	row := int32(len(t.Row))
	room := t.room
	if like {
		t.like++
	} else {
		t.appendTexts(r)
	}
	t.Date.append(r.Date)
	t.PerformedAt.append(r.PerformedAt.Or(NoInstant))
	t.Row = append(t.Row, r.Row)
	t.SetMark.append(r.SetMark.Or(NoInt))
	t.RepRecorded.append(r.RepRecorded.Or(NoInt))
	nan := math.NaN()
	t.LoadKg.appendCode(&by[0], codes[0], r.LoadKg, room)
	t.MeanVelocity.appendCode(&by[1], codes[1], r.MeanVelocity, room)
	t.PeakVelocity.appendCode(&by[2], codes[2], r.PeakVelocity.Or(nan), room)
	t.ROM.appendCode(&by[3], codes[3], r.ROM.Or(nan), room)
	t.Concentric.appendCode(&by[4], codes[4], r.Concentric.Or(nan), room)
	t.RPE.append(r.RPE.Or(nan), room)
	if f := &r.Further; f.MeanPropulsive.OK || f.Sticking.OK || f.TimeToPeak.OK || f.Eccentric.OK {
		t.MeanPropulsive.put(int(row), f.MeanPropulsive)
		t.Sticking.put(int(row), f.Sticking)
		t.TimeToPeak.put(int(row), f.TimeToPeak)
		t.Eccentric.put(int(row), f.Eccentric)
	}
	t.Flags = append(t.Flags, r.Flags)
	t.marks = append(t.marks, marksOf(r))
	if r.Session|r.Set|r.Rep != 0 || t.numbered() {
		t.Session.append(int(row), r.Session)
		t.Set.append(int(row), r.Set)
		t.Number.append(int(row), r.Rep)
	}
	t.steps.append(t.stepsOf(r), room)
	if !r.Recorded.empty() {
		t.SetRecorded(row, r.Recorded)
	}
	return row
}

// appendTexts adds the texts of a rep.
func (t *Table) appendTexts(r *Rep) {
	t.repeat()
	room := t.room
	t.Lifter.append(t.in(0, r.Lifter), room)
	t.Lift.append(t.in(1, r.Lift), room)
	t.Variant.append(t.in(2, r.Variant), room)
	t.Bar.append(t.in(3, r.Bar), room)
	t.Tether.append(t.in(4, r.Tether), room)
	t.Device.append(t.in(5, r.Device), room)
	t.Source.append(t.in(6, r.Source), room)
	t.Sheet.append(t.in(7, r.Sheet), room)
}

// repeat gives the last rows, which are like the one before them, its texts.
func (t *Table) repeat() {
	if t.like > 0 {
		for _, c := range t.texts() {
			c.repeat(t.like)
		}
		t.like = 0
	}
}

// Rep returns row i as a record.
func (t *Table) Rep(i int32) Rep {
	text := t.Text.Text
	return Rep{
		Lifter: text(t.Lifter.At(i)), Date: t.Date.At(i), PerformedAt: t.PerformedAt.At(i),
		Lift: text(t.Lift.At(i)), Variant: text(t.Variant.At(i)), Bar: text(t.Bar.At(i)), Tether: text(t.Tether.At(i)),
		Device: text(t.Device.At(i)), LoadKg: t.LoadKg.Get(i), SetMark: t.SetMark.At(i), RepRecorded: t.RepRecorded.At(i),
		MeanVelocity: t.MeanVelocity.Get(i), PeakVelocity: t.PeakVelocity.At(i), ROM: t.ROM.At(i),
		Concentric: t.Concentric.At(i), RPE: t.RPE.At(i), RPEFrom: t.RPEFrom(i), Missed: t.Missed(i),
		Further: Further{MeanPropulsive: t.MeanPropulsive.At(i), Sticking: t.Sticking.At(i),
			TimeToPeak: t.TimeToPeak.At(i), Eccentric: t.Eccentric.At(i)},
		LoadStep: t.LoadStep(i), MeanStep: t.MeanStep(i), PeakStep: t.PeakStep(i), ROMStep: t.ROMStep(i),
		Recorded: t.recorded[i], Source: text(t.Source.At(i)), Sheet: text(t.Sheet.At(i)), Row: t.Row[i],
		Session: t.Session.At(i), Set: t.Set.At(i), Rep: t.Number.At(i), Role: t.Role(i), Flags: t.Flags[i],
	}
}

// texts returns the columns of symbols of texts.
func (t *Table) texts() [8]*Texts {
	return [...]*Texts{&t.Lifter, &t.Lift, &t.Variant, &t.Bar, &t.Tether, &t.Device, &t.Source, &t.Sheet}
}

// floats returns the columns of numbers with a fraction.
func (t *Table) floats() [6]*Floats {
	return [...]*Floats{&t.LoadKg, &t.MeanVelocity, &t.PeakVelocity, &t.ROM, &t.Concentric, &t.RPE}
}

// Grow makes room for n more reps, so that columns are not copied as they fill.
func (t *Table) Grow(n int) {
	t.room = t.Len() + n
	for _, c := range t.texts() {
		c.reserve(t.room)
	}
	for _, c := range t.floats() {
		c.reserve(t.room)
	}
	t.steps.reserve(t.room)
	t.Date.reserve(t.room)
	t.PerformedAt.reserve(t.room)
	t.SetMark.reserve(t.room)
	t.RepRecorded.reserve(t.room)
	t.Row, t.Flags, t.marks = reserve(t.Row, t.room), reserve(t.Flags, t.room), reserve(t.marks, t.room)
}

// Reset empties the table and keeps its room.
func (t *Table) Reset() {
	for _, c := range t.texts() {
		c.reset()
	}
	for _, c := range t.floats() {
		c.reset()
	}
	t.steps.reset()
	t.Date.reset()
	t.PerformedAt.reset()
	t.SetMark.reset()
	t.RepRecorded.reset()
	*t = Table{
		Lifter: t.Lifter, Lift: t.Lift, Variant: t.Variant, Bar: t.Bar, Tether: t.Tether, Device: t.Device, Source: t.Source, Sheet: t.Sheet,
		Date: t.Date, PerformedAt: t.PerformedAt, Row: t.Row[:0], SetMark: t.SetMark, RepRecorded: t.RepRecorded,
		LoadKg: t.LoadKg, MeanVelocity: t.MeanVelocity, PeakVelocity: t.PeakVelocity, ROM: t.ROM, Concentric: t.Concentric, RPE: t.RPE,
		MeanPropulsive: t.MeanPropulsive[:0], Sticking: t.Sticking[:0], TimeToPeak: t.TimeToPeak[:0], Eccentric: t.Eccentric[:0],
		Flags: t.Flags[:0], marks: t.marks[:0], steps: t.steps,
	}
}

// Extend adds all reps of u behind those of t. u may be dropped afterwards.
func (t *Table) Extend(u *Table) {
	syms := make([]Sym, u.Text.Len())
	for s := range syms {
		syms[s] = t.Text.Intern(u.Text.Text(Sym(s)))
	}
	at, room := t.Len(), max(t.room, t.Len()+u.Len())
	from := u.texts()
	for i, c := range t.texts() {
		c.extend(from[i], syms, room)
	}
	numbers := u.floats()
	for i, c := range t.floats() {
		c.extend(numbers[i], room)
	}
	steps := make([]Sym, len(u.kinds))
	for i, k := range u.kinds {
		for n := range k {
			k[n] = t.size(n, u.sizes[k[n]])
		}
		steps[i] = t.stepped(k)
	}
	t.steps.extend(&u.steps, steps, room)
	t.Date.extend(&u.Date)
	t.PerformedAt.extend(&u.PerformedAt)
	t.Row = append(t.Row, u.Row...)
	t.SetMark.extend(&u.SetMark)
	t.RepRecorded.extend(&u.RepRecorded)
	t.MeanPropulsive.extend(at, u.MeanPropulsive)
	t.Sticking.extend(at, u.Sticking)
	t.TimeToPeak.extend(at, u.TimeToPeak)
	t.Eccentric.extend(at, u.Eccentric)
	t.Flags = append(t.Flags, u.Flags...)
	t.marks = append(t.marks, u.marks...)
	t.Session.extend(at, &u.Session, u.Len())
	t.Set.extend(at, &u.Set, u.Len())
	t.Number.extend(at, &u.Number, u.Len())
	for i, r := range u.recorded {
		t.SetRecorded(int32(at)+i, r)
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
