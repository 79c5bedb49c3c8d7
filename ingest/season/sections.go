package season

import (
	"slices"

	"repsift/ingest/rep"
	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// KeyDoc describes one key of a season file for the reference.
type KeyDoc struct {
	Name    string
	Form    string // what stands behind =
	Meaning string
	Needed  bool
}

// SectionDoc describes one kind of table of a season file.
type SectionDoc struct {
	Name    string // as in [[source]]; empty for the keys at the top
	Meaning string
	Keys    []KeyDoc
}

// Sections returns every table and key of a season file, in the order of the
// reference, from the tables that reading itself goes by. The limits of
// [[filter]] come from [Limits].
func Sections() []SectionDoc { return slices.Clone(sectionDocs) }

// Filled by init: reading consults it for keys that stand in the wrong table.
var sectionDocs []SectionDoc

func init() {
	sectionDocs = []SectionDoc{topSection.doc(), sourceSection.doc(), setupSection.doc(), lifterSection.doc(), liftSection.doc(),
		filterSection.doc(), blockSection.doc(), maximumSection.doc(), correctionSection.doc(), deviceSection.doc()}
}

func (sec *section[T]) doc() SectionDoc {
	out := SectionDoc{Name: sec.name, Meaning: sec.meaning}
	for _, k := range sec.keys {
		out.Keys = append(out.Keys, KeyDoc{k.name, k.form, k.meaning, k.needed})
	}
	return out
}

// root reads the whole file: names first, so that what refers to lifters and
// lifts finds them wherever they stand.
func (d *reader) root(root *located.Node) {
	known := make([]string, 0, len(sectionDocs))
	for _, s := range sectionDocs[1:] {
		known = append(known, s.Name)
	}
	top := &located.Node{Broken: true}
	for _, e := range root.Entries {
		switch {
		case slices.Contains(known, e.Key):
		case e.Val.Kind == located.ArrayTable || e.Val.Headed():
			d.Fault(e.Off, e.End, "[[%s]] is no table of a season file; %s", e.Key, meant(e.Key, known))
		case e.Val.Kind == located.Table && spelling.Nearest(e.Key, known) != "":
			d.Fault(e.Off, e.End, "declare this below a heading [[%s]]", spelling.Nearest(e.Key, known))
		default:
			top.Add(e)
		}
	}
	topSection.fill(d, top, d.s)
	d.s.Lifts = liftSection.read(d, root)
	d.oneMeaning(root)
	d.s.Lifters = lifterSection.read(d, root)
	d.onePerson(root)
	d.s.spellings = d.s.declared()
	d.s.Sources = sourceSection.read(d, root)
	d.s.Setups = setupSection.read(d, root)
	d.s.Filters = filterSection.read(d, root)
	d.s.Blocks = blockSection.read(d, root)
	d.oneBlock(root)
	d.s.Maxima = maximumSection.read(d, root)
	d.s.Corrections = correctionSection.read(d, root)
	d.s.Devices = deviceSection.read(d, root)
	d.onePerDevice(root)
}

var topSection = section[Season]{
	meaning: "At the top of the file, before the first table.",
	keys: []key[Season]{
		{name: "season", form: `"Winter block"`, meaning: "Name of the season, for titles.", read: textKey(func(s *Season) *string { return &s.Name })},
		{name: "timezone", form: `"Europe/Lisbon"`, meaning: "Zone of local times; UTC where none is declared.", read: (*reader).zone},
	},
}

var setupSection = section[Setup]{
	name:    "setup",
	meaning: "How the bar was rigged, for rows that do not say. The table with most conditions that fits wins; of these the one with fewest days, then the later.",
	first:   func(s *Setup, line int) { s.Line = line },
	keys: []key[Setup]{
		{name: "lifts", form: `["deadlift"]`, meaning: "Only these lifts.", read: liftsKey(func(s *Setup) *[]string { return &s.Lifts })},
		{name: "lifters", form: `["Ines Duarte"]`, meaning: "Only these lifters.", read: liftersKey(func(s *Setup) *[]string { return &s.Lifters })},
		{name: "devices", form: `["north unit"]`, meaning: "Only these units.", read: devicesKey(func(s *Setup) *[]string { return &s.Devices })},
		{name: "from", form: "2026-01-05", meaning: "From this day on.", read: dayKey(func(s *Setup) *rep.Null[rep.Day] { return &s.From })},
		{name: "to", form: "2026-02-15", meaning: "Up to this day, included.", read: dayKey(func(s *Setup) *rep.Null[rep.Day] { return &s.To })},
		{name: "bar", form: `"deadlift"`, meaning: "Bar used: stiff, deadlift, or another name.", read: rigKey(bars, func(s *Setup) *string { return &s.Bar })},
		{name: "tether", form: `"sleeve end"`, meaning: "Where the line was clipped: centre, inside sleeve, sleeve end, or another name.", read: rigKey(tethers, func(s *Setup) *string { return &s.Tether })},
	},
	done: func(d *reader, t *located.Node, s *Setup) {
		if t.Get("bar") == nil && t.Get("tether") == nil && !t.Broken {
			d.At(t, "declares nothing: add bar = \"deadlift\" or tether = \"sleeve end\"")
		}
		d.inOrder(t, s.From, s.To)
	},
}

var lifterSection = section[Lifter]{
	name:    "lifter",
	meaning: "A lifter's name and the other spellings of it. Case, blanks and Unicode form need no spelling.",
	first:   func(l *Lifter, line int) { l.Line = line },
	keys: []key[Lifter]{
		{name: "name", form: `"Ines Duarte"`, meaning: "Name in all outputs.", needed: true, read: textKey(func(l *Lifter) *string { return &l.Name })},
		{name: "spelled", form: `["I. Duarte", "ines d"]`, meaning: "How exports write it.", read: textsKey(func(l *Lifter) *[]string { return &l.Spelled })},
	},
}

var liftSection = section[Lift]{
	name:    "lift",
	meaning: "Other spellings of a lift and the variant they mean. The usual words for the three lifts are known.",
	first:   func(l *Lift, line int) { l.Line = line },
	keys: []key[Lift]{
		{name: "name", form: `"squat"`, meaning: "squat, bench press, deadlift, or another lift's own name.", needed: true, read: textKey(func(l *Lift) *string { return &l.Name })},
		{name: "variant", form: `"low bar"`, meaning: "The variant that the spellings mean.", read: variantKey(func(l *Lift) *string { return &l.Variant })},
		{name: "spelled", form: `["comp squat", "LB squat"]`, meaning: "How exports write it.", read: textsKey(func(l *Lift) *[]string { return &l.Spelled })},
	},
	done: func(_ *reader, _ *located.Node, l *Lift) {
		if lift, variant, ok := spelling.KnownLift(l.Name); ok {
			l.Name = lift
			if l.Variant == "" {
				l.Variant = variant
			}
		}
	},
}

var blockSection = section[Block]{
	name:    "block",
	meaning: "A stretch of training to be held against others.",
	first:   func(b *Block, line int) { b.Line = line },
	keys: []key[Block]{
		{name: "name", form: `"volume"`, meaning: "Name of the block.", needed: true, read: textKey(func(b *Block) *string { return &b.Name })},
		{name: "from", form: "2026-01-05", meaning: "First day.", needed: true, read: func(d *reader, v *located.Node, b *Block) { b.From, _ = d.day(v) }},
		{name: "to", form: "2026-02-15", meaning: "Last day.", needed: true, read: func(d *reader, v *located.Node, b *Block) { b.To, _ = d.day(v) }},
	},
	done: func(d *reader, t *located.Node, b *Block) { d.inOrder(t, rep.Some(b.From), rep.Some(b.To)) },
}

var maximumSection = section[Maximum]{
	name:    "maximum",
	meaning: "A single that was done: at a meet, or tested.",
	first:   func(m *Maximum, line int) { m.Line = line },
	keys: []key[Maximum]{
		{name: "lifter", form: `"Ines Duarte"`, meaning: "Who.", needed: true, read: lifterKey(func(m *Maximum) *string { return &m.Lifter })},
		{name: "lift", form: `"squat"`, meaning: "What.", needed: true, read: func(d *reader, v *located.Node, m *Maximum) {
			if s, ok := d.text(v); ok {
				m.Lift, m.Variant = d.lift(v, s)
			}
		}},
		{name: "variant", form: `"low bar"`, meaning: "Variant of the lift.", read: variantKey(func(m *Maximum) *string { return &m.Variant })},
		{name: "load_kg", form: "142.5", meaning: "Bar plus plates, kg.", needed: true, read: func(d *reader, v *located.Node, m *Maximum) { m.LoadKg, _ = d.number(v, 1, mostKg) }},
		{name: "date", form: "2026-03-01", meaning: "When.", needed: true, read: func(d *reader, v *located.Node, m *Maximum) { m.Date, _ = d.day(v) }},
	},
}

// mostKg is more than anyone has lifted in one of the three lifts, with room
// to spare. Common practice, no source.
const mostKg = 600
