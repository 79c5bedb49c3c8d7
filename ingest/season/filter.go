package season

import (
	"slices"
	"strconv"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"

	"repsift/ingest/rep"
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

func readKind(d *reader, v *node, f *Filter) {
	if w, ok := d.word(v, rep.KindNames()); ok {
		f.Kind, _ = rep.KindOf(w)
	}
}

func readAction(d *reader, v *node, f *Filter) {
	w, ok := d.word(v, actions)
	if !ok {
		return
	}
	if w == "set aside" && f.Kind != rep.Correction && OnlyFlags(f.Kind) {
		d.at(v, `%s never sets a rep aside; "flag" or "off"`, f.Kind)
		return
	}
	f.Flag, f.Off = w == "flag", w == "off"
}

// readLimit takes a key of a filter that is one of its kind's limits. Kind is
// Correction where it could not be read: then any kind's limit will do.
func readLimit(d *reader, _ *node, e *entry, f *Filter) bool {
	var of []string
	for _, k := range kinds {
		i := slices.IndexFunc(k.limits, func(l Limit) bool { return l.Name == e.key })
		if i < 0 {
			continue
		}
		of = append(of, strconv.Quote(k.kind.String()))
		if k.kind != f.Kind {
			continue
		}
		l := k.limits[i]
		v, ok := d.number(e.val, l.Lo, l.Hi)
		if ok && l.Whole && v != float64(int64(v)) {
			d.at(e.val, "must be a whole number")
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
	case spelling.Nearest(e.key, append(limitNames(f.Kind), filterKeys()...)) != "":
		d.fault(e.off, e.end, "%q is no limit of %q; %s", e.key, f.Kind, meant(e.key, append(limitNames(f.Kind), filterKeys()...)))
	case of != nil:
		d.fault(e.off, e.end, "%q is a limit of %s, not of %q; %s", e.key, list(of), f.Kind, has(f.Kind))
	default:
		d.fault(e.off, e.end, "%q is no limit of %q; %s", e.key, f.Kind, has(f.Kind))
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

func checkFilter(d *reader, t *node, f *Filter) {
	if e := t.get("prefer"); e != nil && f.Kind != rep.SecondDevice && f.Kind != rep.Correction {
		d.fault(e.off, e.end, `prefer belongs to kind = "second device"`)
	}
	if e := t.get("action"); e != nil && f.Off && len(f.Limits) > 0 {
		d.at(e.val, "a filter that is off has no limits; leave one of the two out")
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
				d.at(t.get(name).val, "%s is below %s = %s", short(hi), below, short(lo))
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
		{name: "source", form: `"exports/north/may.csv"`, meaning: "The file, as unread.csv and the source column name it.", needed: true, read: func(d *reader, v *node, c *Correction) {
			if _, ok := d.text(v); ok {
				c.Source = v.text
			}
		}},
		{name: "sheet", form: `"May"`, meaning: "The sheet, of a workbook.", read: func(d *reader, v *node, c *Correction) {
			if _, ok := d.text(v); ok {
				c.Sheet = v.text
			}
		}},
		{name: "row", form: "214", meaning: "Line or row, from 1.", needed: true, read: func(d *reader, v *node, c *Correction) { c.Row, _ = d.whole(v, 1, 1<<31-1) }},
		{name: "rep", form: "3", meaning: "Which rep, where a row holds several.", read: func(d *reader, v *node, c *Correction) {
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
func readCorrection(d *reader, v *node, c *Correction) {
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
			d.at(v, "must be a whole number")
		}
		c.Value = short(f)
	case c.Field == "date":
		if day, ok := d.day(v); ok {
			c.Value = day.Time().Format(time.DateOnly)
		}
	case c.Field == "missed":
		if _, ok := d.bool(v); ok {
			c.Value = v.text
		}
	default:
		if s, ok := d.text(v); ok {
			c.Value = s
		}
	}
}

// unquoted returns a value in quotes as the number, day or yes or no that it
// holds, where the field wants one.
func unquoted(v *node, isNumber bool, field string) *node {
	if v.kind != unstable.String {
		return v
	}
	u := *v
	u.text = spelling.Tidy(v.text)
	var day rep.Day
	switch _, err := strconv.ParseFloat(u.text, 64); {
	case isNumber && err == nil:
		u.kind = unstable.Float
	case field == "date" && day.UnmarshalText([]byte(u.text)) == nil:
		u.kind = unstable.LocalDate
	case field == "missed" && (u.text == "true" || u.text == "false"):
		u.kind = unstable.Bool
	default:
		return v
	}
	return &u
}
