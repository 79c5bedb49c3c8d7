package season

import (
	"slices"
	"strconv"
	"time"

	"repsift/ingest/rep"
	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

var filterSection = section[Filter]{
	name:    "filter",
	meaning: "One filter of cleaning: kind, where it applies, its limits, what it does. It takes the place of the default of its kind where it applies.",
	first:   func(f *Filter, line int) { f.Line = line },
	keys: []key[Filter]{
		{name: "kind", form: `"short travel"`, meaning: "Which filter: " + list(rep.KindNames()) + ".", needed: true, read: readKind},
		{name: "lifts", form: `["deadlift"]`, meaning: "Only these lifts.", read: liftsKey(func(f *Filter) *[]string { return &f.Lifts })},
		{name: "lifters", form: `["Ines Duarte"]`, meaning: "Only these lifters.", read: liftersKey(func(f *Filter) *[]string { return &f.Lifters })},
		{name: "devices", form: `["north unit"]`, meaning: "Only these units.", read: devicesKey(func(f *Filter) *[]string { return &f.Devices })},
		{name: "bars", form: `["deadlift"]`, meaning: "Only these bars.", read: rigsKey(bars, func(f *Filter) *[]string { return &f.Bars })},
		{name: "tethers", form: `["centre"]`, meaning: "Only these tethers.", read: rigsKey(tethers, func(f *Filter) *[]string { return &f.Tethers })},
		{name: "action", form: `"set aside"`, meaning: "What it does to a rep: set aside (the default), flag, or off: the default of its kind is not run there.", read: readAction},
		{name: "prefer", form: `["north unit", "south unit"]`, meaning: "Of second device: units in order of trust.", read: devicesKey(func(f *Filter) *[]string { return &f.Prefer })},
	},
	other: readLimit,
	done:  checkFilter,
}

func readKind(d *reader, v *located.Node, f *Filter) {
	if w, ok := d.word(v, rep.KindNames()); ok {
		f.Kind, _ = rep.KindOf(w)
	}
}

func readAction(d *reader, v *located.Node, f *Filter) {
	w, ok := d.word(v, actions)
	if !ok {
		return
	}
	if w == "set aside" && f.Kind != rep.Correction && OnlyFlags(f.Kind) {
		d.At(v, `%s never sets a rep aside; "flag" or "off"`, f.Kind)
		return
	}
	f.Flag, f.Off = w == "flag", w == "off"
}

// readLimit takes a key of a filter that is one of its kind's limits. Kind is
// Correction where it could not be read: then any kind's limit will do.
func readLimit(d *reader, _ *located.Node, e *located.Entry, f *Filter) bool {
	var of []string
	for _, k := range kinds {
		i := slices.IndexFunc(k.limits, func(l Limit) bool { return l.Name == e.Key })
		if i < 0 {
			continue
		}
		of = append(of, strconv.Quote(k.kind.String()))
		if k.kind != f.Kind {
			continue
		}
		l := k.limits[i]
		v, ok := d.number(e.Val, l.Lo, l.Hi)
		if ok && l.Whole && v != float64(int64(v)) {
			d.At(e.Val, "must be a whole number")
		}
		if f.Limits == nil {
			f.Limits = make(map[string]float64)
		}
		f.Limits[l.Name] = v
		return true
	}
	switch {
	case f.Kind == rep.Correction:
		return of != nil
	case spelling.Nearest(e.Key, append(limitNames(f.Kind), filterKeys()...)) != "":
		d.Fault(e.Off, e.End, "%q is no limit of %q; %s", e.Key, f.Kind, meant(e.Key, append(limitNames(f.Kind), filterKeys()...)))
	case of != nil:
		d.Fault(e.Off, e.End, "%q is a limit of %s, not of %q; %s", e.Key, list(of), f.Kind, has(f.Kind))
	default:
		d.Fault(e.Off, e.End, "%q is no limit of %q; %s", e.Key, f.Kind, has(f.Kind))
	}
	return true
}

func limitNames(k rep.Kind) []string {
	var names []string
	for _, l := range Limits(k) {
		names = append(names, l.Name)
	}
	return names
}

func filterKeys() []string {
	var names []string
	for _, k := range sectionDocs[slices.IndexFunc(sectionDocs, func(s SectionDoc) bool { return s.Name == "filter" })].Keys {
		names = append(names, k.Name)
	}
	return names
}

// has says which limits a kind has.
func has(k rep.Kind) string {
	names := limitNames(k)
	if names == nil {
		return "it has no limits"
	}
	return "it has " + list(names)
}

func checkFilter(d *reader, t *located.Node, f *Filter) {
	if e := t.Get("prefer"); e != nil && f.Kind != rep.SecondDevice && f.Kind != rep.Correction {
		d.Fault(e.Off, e.End, `prefer belongs to kind = "second device"`)
	}
	if e := t.Get("action"); e != nil && f.Off && len(f.Limits) > 0 {
		d.At(e.Val, "a filter that is off has no limits; leave one of the two out")
	}
	if OnlyFlags(f.Kind) && !f.Off {
		f.Flag = true
	}
	// In rising order: no rep has its peak below its mean.
	rising := []string{"mean_min_m_s", "mean_max_m_s", "peak_max_m_s"}
	for i, name := range rising {
		for _, below := range rising[:i] {
			lo, ok1 := f.Limits[below]
			hi, ok2 := f.Limits[name]
			if ok1 && ok2 && hi < lo {
				d.At(t.Get(name).Val, "%s is below %s = %s", short(hi), below, short(lo))
				break
			}
		}
	}
}

var correctionSection = section[Correction]{
	name:    "correction",
	meaning: "Changes one value of one row, and keeps what was read beside it.",
	first:   func(c *Correction, line int) { c.Line = line },
	keys: []key[Correction]{
		{name: "source", form: `"exports/north/may.csv"`, meaning: "The file, as unread.csv and the source column name it.", needed: true, read: func(d *reader, v *located.Node, c *Correction) {
			if _, ok := d.text(v); ok {
				c.Source = v.Text
			}
		}},
		{name: "sheet", form: `"May"`, meaning: "The sheet, of a workbook.", read: func(d *reader, v *located.Node, c *Correction) {
			if _, ok := d.text(v); ok {
				c.Sheet = v.Text
			}
		}},
		{name: "row", form: "214", meaning: "Line or row, from 1.", needed: true, read: func(d *reader, v *located.Node, c *Correction) { c.Row, _ = d.whole(v, 1, 1<<31-1) }},
		{name: "rep", form: "3", meaning: "Which rep, where a row holds several.", read: func(d *reader, v *located.Node, c *Correction) {
			if n, ok := d.whole(v, 1, 1000); ok {
				c.Rep = rep.Some(n)
			}
		}},
		{name: "field", form: `"load"`, meaning: "What to change: " + list(correctable) + ".", needed: true, read: wordKey(correctable, func(c *Correction) *string { return &c.Field })},
		{name: "value", form: "120", meaning: "What it should have been: kg, m/s, m, s.", needed: true, read: readCorrection},
		{name: "why", form: `"120 on the sheet, 12O typed"`, meaning: "How you know.", needed: true, read: textKey(func(c *Correction) *string { return &c.Why })},
	},
}

// mostOf bounds the numbers a correction can put in place.
var mostOf = map[string]float64{"load": mostKg, "mean_velocity": 20, "peak_velocity": 40, "rom": 3, "concentric": 120, "rpe": 10, "set": 200}

// readCorrection stands behind field in the list of keys, so it is known. The
// value stands for what a cell should have held, so quotes are right around
// any.
func readCorrection(d *reader, v *located.Node, c *Correction) {
	hi, isNumber := mostOf[c.Field]
	v = unquoted(v, isNumber, c.Field)
	switch {
	case c.Field == "":
		return // told already
	case isNumber:
		lo := 0.0
		if c.Field == "rpe" || c.Field == "set" {
			lo = 1
		}
		f, ok := d.number(v, lo, hi)
		if ok && c.Field == "set" && f != float64(int64(f)) {
			d.At(v, "must be a whole number")
		}
		c.Value = short(f)
	case c.Field == "date":
		if day, ok := d.day(v); ok {
			c.Value = day.Time().Format(time.DateOnly)
		}
	case c.Field == "missed":
		if _, ok := d.bool(v); ok {
			c.Value = v.Text
		}
	default:
		if s, ok := d.text(v); ok {
			c.Value = s
		}
	}
}

// unquoted returns a value in quotes as the number, day or yes or no that it
// holds, where the field wants one.
func unquoted(v *located.Node, isNumber bool, field string) *located.Node {
	if v.Kind != located.String {
		return v
	}
	u := *v
	u.Text = spelling.Tidy(v.Text)
	var day rep.Day
	switch _, err := strconv.ParseFloat(u.Text, 64); {
	case isNumber && err == nil:
		u.Kind = located.Float
	case field == "date" && day.UnmarshalText([]byte(u.Text)) == nil:
		u.Kind = located.LocalDate
	case field == "missed" && (u.Text == "true" || u.Text == "false"):
		u.Kind = located.Bool
	default:
		return v
	}
	return &u
}
