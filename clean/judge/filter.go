package judge

import (
	"math"
	"slices"
	"strings"

	"repsift/clean/kinds"
	"repsift/ingest/rep"
)

// Filter is one declared or default filter, compiled and ready to run. It
// keeps no state: what it finds goes to looks.
type Filter struct {
	*kinds.Spec
	flag     bool
	declared bool
	line     int // in the season file
	where    where
	except   []where            // of a default: where declared filters of its kind take its place
	limits   map[string]float64 // declared ones
	prefer   []string           // second device: units in order of trust
}

// values returns the limits that hold for a lift, in the order of the kind.
func (f *Filter) values(lift string) []float64 {
	out := make([]float64, len(f.Limits))
	for i := range f.Limits {
		l := &f.Limits[i]
		out[i] = l.Of(lift)
		if v, ok := f.limits[l.Name]; ok {
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

// known is x as a value that may be missing.
func known(x float64) rep.Null[float64] {
	if math.IsNaN(x) {
		return rep.Null[float64]{}
	}
	return rep.Some(x)
}
