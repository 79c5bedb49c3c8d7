package season

import (
	"slices"

	"repsift/ingest/unit"
)

// Field is something a column of a source can hold, as columns, units and
// name_parts call it.
type Field struct {
	Name     string
	Quantity unit.Quantity // of fields that have a unit
}

// fields are all fields, in the order of the reference.
var fields = []Field{
	{Name: "lifter"}, {Name: "date"}, {Name: "time"}, {Name: "lift"}, {Name: "variant"}, {Name: "bar"}, {Name: "tether"}, {Name: "device"},
	{"load", unit.Load}, {Name: "set"}, {Name: "rep"},
	{"mean_velocity", unit.Velocity}, {"peak_velocity", unit.Velocity}, {"rom", unit.Length}, {"concentric", unit.Time},
	{Name: "rpe"}, {Name: "rir"}, {Name: "missed"}, {Name: "success"}, {Name: "sets"}, {Name: "reps"},
	{"first_velocity", unit.Velocity}, {"fastest_velocity", unit.Velocity}, {"last_velocity", unit.Velocity}, {"slowest_velocity", unit.Velocity},
	{"speeds", unit.Velocity}, {Name: "work"}, {Name: "note"},
	{"sample_time", unit.Time}, {"position", unit.Length},
	{"mean_propulsive_velocity", unit.Velocity}, {"sticking_velocity", unit.Velocity}, {"time_to_peak", unit.Time}, {"eccentric", unit.Time},
}

// Fields returns the fields that columns and units can name, in the order of
// the reference.
func Fields() []Field { return slices.Clone(fields) }

func fieldOf(name string) (Field, bool) {
	i := slices.IndexFunc(fields, func(f Field) bool { return f.Name == name })
	if i < 0 {
		return Field{}, false
	}
	return fields[i], true
}

func fieldNames() []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.Name
	}
	return names
}

func unitFieldNames() []string {
	var names []string
	for _, f := range fields {
		if f.Quantity != unit.Any {
			names = append(names, f.Name)
		}
	}
	return names
}

// What a key can be set to where only some words are possible.
var (
	dateOrders    = []string{"day month year", "month day year", "year month day"} // in the order of DateOrder
	shapeNames    = []string{"rep rows", "reps across", "reps in a cell", "set rows", "samples"}
	shorthands    = []string{"sets x reps", "reps x sets"}
	encodingNames = []string{"utf-8", "utf-16le", "utf-16be", "windows-1252", "windows-1250", "windows-1251", "windows-1253", "windows-1254", "windows-1257",
		"iso-8859-1", "iso-8859-2", "iso-8859-15", "koi8-r", "macintosh", "mac-cyrillic", "dos-437", "dos-850", "dos-852", "dos-866"}
	delimiters = []string{",", ";", "\t", "|", ":", " "}
	decimals   = []string{".", ","}
	directions = []string{"positive", "negative"}
	actions    = []string{"set aside", "flag", "off"}
)

// Shapes returns the names that shape can be set to.
func Shapes() []string { return slices.Clone(shapeNames) }

// Encodings returns the names that encoding can be set to.
func Encodings() []string { return slices.Clone(encodingNames) }

// Correctable reports whether a [[correction]] can change a field.
func Correctable(field string) bool { return slices.Contains(correctable, field) }

// correctable are the fields that a [[correction]] can change.
var correctable = []string{"lifter", "date", "lift", "variant", "bar", "tether", "device", "load", "set",
	"mean_velocity", "peak_velocity", "rom", "concentric", "rpe", "missed"}
