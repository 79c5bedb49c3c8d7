package season

import (
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
	"repsift/ingest/unit"
)

var sourceSection = section[Source]{
	name:    "source",
	meaning: "What some files do not say of themselves. All tables that match a file hold, the later over the earlier.",
	first:   func(s *Source, line int) { s.Line = line },
	keys: []key[Source]{
		{name: "files", form: `["exports/north/*.csv"]`, meaning: "Files below the input folder: * and ? within a name, ** for any folders.", needed: true, read: readPatterns},
		{name: "device", form: `"north unit"`, meaning: "Your nickname for the unit that measured.", read: textKey(func(s *Source) *string { return &s.Device })},
		{name: "bar", form: `"deadlift"`, meaning: "Bar used, for rows that do not say: stiff, deadlift, or another name.", read: rigKey(bars, func(s *Source) *string { return &s.Bar })},
		{name: "tether", form: `"centre"`, meaning: "Where the line was clipped, for rows that do not say: centre, inside sleeve, sleeve end, or another name.", read: rigKey(tethers, func(s *Source) *string { return &s.Tether })},
		{name: "lifter", form: `"Ines Duarte"`, meaning: "Lifter, for rows that do not say.", read: lifterKey(func(s *Source) *string { return &s.Lifter })},
		{name: "lift", form: `"squat"`, meaning: "Lift, for rows that do not say.", read: func(d *reader, v *located.Node, s *Source) {
			if text, ok := d.text(v); ok {
				s.Lift, s.Variant = d.lift(v, text)
			}
		}},
		{name: "variant", form: `"low bar"`, meaning: "Variant, for rows that do not say.", read: variantKey(func(s *Source) *string { return &s.Variant })},
		{name: "date", form: "2026-03-01", meaning: "Day, for rows that do not say.", read: dayKey(func(s *Source) *rep.Null[rep.Day] { return &s.Date })},
		{name: "set", form: "1", meaning: "Set number, for rows that do not say.", read: func(d *reader, v *located.Node, s *Source) {
			if n, ok := d.whole(v, 1, 200); ok {
				s.Set = rep.Some(n)
			}
		}},
		{name: "date_order", form: `"day month year"`, meaning: "Order in the dates of the files.", read: func(d *reader, v *located.Node, s *Source) {
			if w, ok := d.word(v, dateOrders); ok {
				s.DateOrder = DayMonthYear + DateOrder(slices.Index(dateOrders, w))
			}
		}},
		{name: "shape", form: `"rep rows"`, meaning: "What a line is, to overrule what was recognised: " + list(shapeNames) + ".", read: wordKey(shapeNames, func(s *Source) *string { return &s.Shape })},
		{name: "shorthand", form: `"sets x reps"`, meaning: "What 5x3 means in a hand log: sets x reps or reps x sets.", read: wordKey(shorthands, func(s *Source) *string { return &s.Shorthand })},
		{name: "encoding", form: `"windows-1252"`, meaning: "Encoding of the text, to overrule: " + list(encodingNames) + ".", read: wordKey(encodingNames, func(s *Source) *string { return &s.Encoding })},
		{name: "delimiter", form: `";"`, meaning: `Sign between the columns, to overrule; "\t" is a tab, " " runs of blanks.`, read: readDelimiter},
		{name: "decimal", form: `","`, meaning: "Decimal mark, to overrule: a point or a comma.", read: wordKey(decimals, func(s *Source) *string { return &s.Decimal })},
		{name: "units", form: `{ load = "lb", mean_velocity = "cm/s" }`, meaning: "Units of fields whose headings do not say.", read: readUnits},
		{name: "columns", form: `{ mean_velocity = "Tempo", load = "Gewicht" }`, meaning: "Field = heading in the file, where the heading was not recognised.", read: readColumns},
		{name: "load", form: "140", meaning: "Load, for rows that do not say, in the unit that units has for load, else kg.", read: readLoad},
		{name: "name_parts", form: `"{date}_{lifter}_{lift}_{load}kg_set{set}"`, meaning: "Fields that the name of the file or sheet carries: " + list(namePartFields) + " (any: to be passed over).", read: readNameParts},
		{name: "skip", form: "true", meaning: "Leave the files out: they hold no training.", read: func(d *reader, v *located.Node, s *Source) { s.Skip, _ = d.bool(v) }},
		{name: "samples", form: `{ time = "t", position = "p", up = "positive" }`, meaning: "What a raw trace leaves unclear: headings of time, position, velocity; metres_per_count; up; cutoff_hz; hz of samples without times.", read: readSamples},
	},
}

func readPatterns(d *reader, v *located.Node, s *Source) {
	if v.Kind != located.Array || len(v.Items) == 0 {
		d.texts(v) // says what is wrong
		return
	}
	for _, item := range v.Items {
		if item.Kind != located.String || item.Text == "" {
			d.text(item)
			continue
		}
		if p := patternProblem(item.Text); p != "" {
			d.At(item, "%s", p)
			continue
		}
		s.Files = append(s.Files, item.Text)
	}
}

func readDelimiter(d *reader, v *located.Node, s *Source) {
	switch {
	case v.Kind != located.String:
		d.text(v)
	case slices.Contains(delimiters, v.Text):
		s.Delimiter = v.Text
	case spelling.Fold(v.Text) == "tab":
		s.Delimiter = "\t"
	default:
		d.At(v, `%q is no delimiter; known are ",", ";", "\t" (a tab), "|", ":" and " " (runs of blanks)`, v.Text)
	}
}

func readUnits(d *reader, v *located.Node, s *Source) {
	for _, e := range d.table(v, `units = { load = "lb" }`) {
		f, ok := fieldOf(e.Key)
		if !ok || f.Quantity == unit.Any {
			d.Fault(e.Off, e.End, "%q is no field with a unit; %s", e.Key, meant(e.Key, unitFieldNames()))
			continue
		}
		text, ok := d.text(e.Val)
		if !ok {
			continue
		}
		u, ok := unit.ParseFor(f.Quantity, text)
		if !ok {
			d.At(e.Val, "%q is no unit of %s; known are %s", text, f.Quantity, list(unit.Names(f.Quantity)))
			continue
		}
		if s.Units == nil {
			s.Units = make(map[string]string)
		}
		s.Units[f.Name] = u.Name
	}
}

func readColumns(d *reader, v *located.Node, s *Source) {
	taken := make(map[string]*located.Entry)
	for _, e := range d.table(v, `columns = { load = "Gewicht" }`) {
		if _, ok := fieldOf(e.Key); !ok {
			d.Fault(e.Off, e.End, "%q is no field; %s", e.Key, meant(e.Key, fieldNames()))
			continue
		}
		text, ok := d.text(e.Val)
		if !ok {
			continue
		}
		if other := taken[spelling.Fold(text)]; other != nil {
			d.At(e.Val, "%q is the heading of %s already", text, other.Key)
			continue
		}
		taken[spelling.Fold(text)] = e
		if s.Columns == nil {
			s.Columns = make(map[string]string)
		}
		s.Columns[e.Key] = text
	}
}

// readLoad stands behind units in the list of keys, so their unit is known.
func readLoad(d *reader, v *located.Node, s *Source) {
	u := unit.SIOf(unit.Load)
	if declared, ok := unit.Parse(s.Units["load"]); ok {
		u = declared
	}
	if f, ok := d.number(v, 0, mostKg/u.Factor); ok {
		s.LoadKg = rep.Some(u.SI(f))
	}
}

func readNameParts(d *reader, v *located.Node, s *Source) {
	text, ok := d.text(v)
	if !ok {
		return
	}
	if _, err := ParseNameParts(text); err != nil {
		d.At(v, "%s", err)
		return
	}
	s.NameParts = text
}

var samplesSection = section[Samples]{
	name: "samples",
	keys: []key[Samples]{
		{name: "time", read: textKey(func(s *Samples) *string { return &s.Time })},
		{name: "position", read: textKey(func(s *Samples) *string { return &s.Position })},
		{name: "velocity", read: textKey(func(s *Samples) *string { return &s.Velocity })},
		{name: "metres_per_count", read: func(d *reader, v *located.Node, s *Samples) { s.MetresPerCount, _ = d.number(v, 1e-9, 1) }},
		{name: "up", read: wordKey(directions, func(s *Samples) *string { return &s.Up })},
		{name: "cutoff_hz", read: func(d *reader, v *located.Node, s *Samples) { s.CutoffHz, _ = d.number(v, 0.1, 1000) }},
		{name: "hz", read: func(d *reader, v *located.Node, s *Samples) { s.Hz, _ = d.number(v, 1, 10000) }},
	},
}

func readSamples(d *reader, v *located.Node, s *Source) {
	if v.Kind != located.Table {
		d.table(v, `samples = { time = "t", position = "p" }`) // says what is wrong
		return
	}
	s.Samples = new(Samples)
	samplesSection.fill(d, v, s.Samples)
}

// variantKey reads the name of a variant, in its usual writing.
func variantKey[T any](field func(*T) *string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		s, ok := d.text(v)
		if !ok {
			return
		}
		if known, ok := spelling.KnownVariant(s); ok {
			*field(to) = known
			return
		}
		*field(to) = strings.ToLower(s)
	}
}

// devicesKey reads nicknames of units. Units need no [[source]] table, so any
// name stands, but one slip away from a declared one.
func devicesKey[T any](field func(*T) *[]string) func(*reader, *located.Node, *T) {
	return func(d *reader, v *located.Node, to *T) {
		names, at := d.texts(v)
		for i, s := range names {
			names[i] = d.device(at[i], s)
		}
		*field(to) = names
	}
}

func (d *reader) device(v *located.Node, s string) string {
	near := ""
	for _, src := range d.s.Sources[:min(len(d.s.Sources), mostNear)] {
		switch {
		case spelling.Fold(src.Device) == spelling.Fold(s):
			return src.Device
		case len(s) >= 5 && spelling.Slips(spelling.Fold(src.Device), spelling.Fold(s)) == 1 && !spelling.HasDigit(s):
			near = src.Device
		}
	}
	if spelling.Fold(s) == rep.HandLog {
		return rep.HandLog
	}
	if near != "" {
		d.At(v, "did you mean %q? If %q is another unit, declare it as the device of a [[source]]", near, s)
	}
	return s
}
