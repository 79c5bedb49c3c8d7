package judge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/rep"
)

// Filter is one declared or default filter, compiled and ready to run. It
// keeps no state: what it finds goes to looks.
type Filter struct {
	*kind
	flag     bool
	declared bool
	line     int // in the season file
	where    where
	except   []where            // of a default: where declared filters of its kind take its place
	limits   map[string]float64 // declared ones
	prefer   []string           // second device: units in order of trust
}

// kind is what all filters of a kind share. One file a kind holds its look
// and its sentence; kinds.go lists them.
type kind struct {
	rep.Kind
	what   string // what it does to a rep, for the codebook
	flags  bool   // marks, and never sets aside
	limits []limit
	step   step

	// look examines every rep of a history within scope. l holds the limits
	// in the order of the list. Nil where the kind acts at another step.
	look func(h *History, l []float64, out *looks)

	// say is the reason, in one sentence, given what look measured.
	say func(h *History, i int, f finding) string

	// unit writes a measured value or a limit, where the two are of one
	// quantity; nil where they are not, or where a sentence says no more.
	unit func(x float64) string
}

// step orders kinds by what they build on; kinds of one step see the same reps.
type step uint8

const (
	alone  step = iota // a rep, its set, what is usual
	paired             // the sets of two units, without the reps set aside so far
	logged             // the hand log's account of a set, likewise
	steps
)

// limit is one limit of a kind: its default for all lifts, and for some.
type limit struct {
	name        string
	value       float64
	lifts       []liftValue
	source      string  // of the default
	least, most float64 // what may be declared
}

type liftValue struct {
	lift  string
	value float64
}

// of returns the default for a lift.
func (l *limit) of(lift string) float64 {
	for _, v := range l.lifts {
		if v.lift == lift {
			return v.value
		}
	}
	return l.value
}

// values returns the limits that hold for a lift, in the order of the kind.
func (f *Filter) values(lift string) []float64 {
	out := make([]float64, len(f.kind.limits))
	for i := range f.kind.limits {
		l := &f.kind.limits[i]
		out[i] = l.of(lift)
		if v, ok := f.limits[l.name]; ok {
			out[i] = v
		}
	}
	return out
}

// where is the scope of a filter. Empty conditions hold for all.
type where struct {
	lifts, lifters, devices, bars, tethers []string
}

// covers reports whether the scope holds row r. Each condition is compared by
// the texts of the table, which ingest has put into the season's spelling.
func (w *where) covers(t *rep.Table, r int32) bool {
	in := func(list []string, s rep.Sym) bool {
		return len(list) == 0 || slices.Contains(list, t.Text.Text(s))
	}
	return in(w.lifts, t.Lift.At(r)) && in(w.lifters, t.Lifter.At(r)) && in(w.devices, t.Device.At(r)) &&
		in(w.bars, t.Bar.At(r)) && in(w.tethers, t.Tether.At(r))
}

// wide reports whether the scope is decided by lifter and lift alone.
func (w *where) wide() bool { return len(w.devices)+len(w.bars)+len(w.tethers) == 0 }

// String returns the scope in words.
func (w *where) String() string {
	var parts []string
	for _, p := range []struct {
		word string
		list []string
	}{{"", w.lifts}, {"bar ", w.bars}, {"tether ", w.tethers}, {"device ", w.devices}, {"lifter ", w.lifters}} {
		if len(p.list) > 0 {
			parts = append(parts, p.word+strings.Join(p.list, ", "))
		}
	}
	if parts == nil {
		return "everywhere"
	}
	return strings.Join(parts, "; ")
}

// scope returns which rows of h the filter looks at: none, all (a nil mask),
// or those of the mask.
func (f *Filter) scope(h *History) (mask []bool, any bool) {
	if len(h.Rows) == 0 {
		return nil, false
	}
	wide := f.where.wide()
	for i := range f.except {
		wide = wide && f.except[i].wide()
	}
	if wide {
		return nil, f.covers(h.Table, h.Rows[0])
	}
	mask = make([]bool, len(h.Rows))
	for i, r := range h.Rows {
		mask[i] = f.covers(h.Table, r)
		any = any || mask[i]
	}
	return mask, any
}

func (f *Filter) covers(t *rep.Table, r int32) bool {
	if !f.where.covers(t, r) {
		return false
	}
	for i := range f.except {
		if f.except[i].covers(t, r) {
			return false
		}
	}
	return true
}

// finding is what one filter measured on one rep.
type finding struct {
	i      int32 // position in the history's rows
	filter uint8 // position in the list of filters
	failed bool
	// measured and limit are in the unit the filter's sentence names; NaN
	// where there is no such number.
	measured, limit float64
}

// looks collects the findings of one filter.
type looks struct {
	mask   []bool // nil: all rows
	filter uint8
	every  bool // keep what passed too: for the story of a row
	found  []finding
}

// in reports whether row i is within the filter's scope.
func (o *looks) in(i int) bool { return o.mask == nil || o.mask[i] }

// at reports what was measured on row i.
func (o *looks) at(i int, failed bool, measured, limit float64) {
	if failed || o.every {
		o.found = append(o.found, finding{int32(i), o.filter, failed, measured, limit})
	}
}

// known is x as a value that may be missing.
func known(x float64) rep.Null[float64] {
	if math.IsNaN(x) {
		return rep.Null[float64]{}
	}
	return rep.Some(x)
}

// Units as sentences write them. Speeds with two digits, travel in cm: what a
// coach reads on a unit.
func speedText(v float64) string    { return fmt.Sprintf("%.2f m/s", v) }
func travelText(m float64) string   { return fmt.Sprintf("%.1f cm", 100*m) }
func durationText(s float64) string { return fmt.Sprintf("%.2f s", s) }
func loadText(kg float64) string    { return trimZero(fmt.Sprintf("%.2f", kg)) + " kg" }

func trimZero(s string) string {
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
