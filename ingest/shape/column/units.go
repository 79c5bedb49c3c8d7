package column

import (
	"fmt"
	"math"
	"slices"

	"repsift/ingest/unit"
)

// Units of numbers without one are told by what no barbell lift can be, and by
// nothing else: what leaves two readings is asked about. All limits here are
// common practice, no source.

// Inferred is a unit told from values.
type Inferred struct {
	Unit unit.Unit
	Why  string
}

// InferUnit returns the unit that the values of a column leave, for every
// measure but loads; false where they leave several.
func InferUnit(f Field, s *Stats) (Inferred, bool) {
	q := fields[f].quantity
	mid, low, high := s.Quantile(0.5), s.Quantile(0.1), s.Quantile(0.9)
	if math.IsNaN(mid) {
		return Inferred{unit.SIOf(q), "no values"}, true
	}
	lo, hi := middle(f)
	var fit []Inferred
	for _, name := range inferable[q] {
		u, _ := unit.ParseFor(q, name)
		if m := u.SI(mid); m < lo || m > hi || u.SI(low) < lo/4 || u.SI(high) > hi*2 {
			continue
		}
		fit = append(fit, Inferred{u, fmt.Sprintf("half of the values lie below %.4g: %s", mid, name)})
	}
	if q == unit.Length && mid > 12 && mid < 33 {
		return Inferred{}, false
	}
	if len(fit) == 1 {
		return fit[0], true
	}
	return Inferred{}, false
}

// Plausible returns the units that a column without one can be in: those that
// put the middle of its values where the measure lies, else all usual ones.
func Plausible(f Field, s *Stats) []unit.Unit {
	q := fields[f].quantity
	all := slices.Clone(inferable[q])
	if q == unit.Length {
		all = append(all, "in")
	}
	var fit, usual []unit.Unit
	mid := s.Quantile(0.5)
	lo, hi := middle(f)
	for _, name := range all {
		u := mustUnit(name)
		usual = append(usual, u)
		if v := u.SI(mid); v >= lo && v <= hi {
			fit = append(fit, u)
		}
	}
	if len(fit) < 2 || f == Position || f == SampleTime {
		return usual
	}
	return fit
}

// middle returns the band in which the middle of a column lies: narrower than
// that of its values.
func middle(f Field) (lo, hi float64) {
	switch fields[f].quantity {
	case unit.Velocity:
		if f == PeakVelocity {
			return 0.25, 2.6
		}
		return 0.15, 1.6
	case unit.Length:
		return 0.1, 1.1
	case unit.Time:
		return 0.25, 8
	}
	return fields[f].lo, fields[f].hi
}

// inferable lists the units that are told from values: those that exports are
// written in. Inches are only read where they are named; where numbers may be
// inches as well as cm (a bench press of 28 cm, a deadlift of 19 in) the coach is
// asked.
var inferable = map[unit.Quantity][]string{
	unit.Load:     {"kg", "lb"},
	unit.Velocity: {"m/s", "cm/s", "mm/s"},
	unit.Length:   {"m", "cm", "mm"},
	unit.Time:     {"s", "ms"},
}

// InferLoad tells kg from lb by plate arithmetic over the distinct loads of a
// source, sorted; false where both are possible.
//
// In kg a bar of 20 (15) takes pairs of plates down to 1.25: loads are multiples
// of 2.5, and of 0.5 with small plates. In lb a bar of 45 (35) takes pairs down
// to 2.5: multiples of 5, the usual plates of 45 making 135, 225, 315, 405. Loads
// converted from the other unit are multiples of nothing, but come out even
// when converted back.
func InferLoad(loads []float64) (Inferred, bool) {
	kg, lb := mustUnit("kg"), mustUnit("lb")
	if len(loads) == 0 {
		return Inferred{kg, "no loads"}, true
	}
	const heaviestKg = 501 // no barbell lift in competition or record books is above
	if top := loads[len(loads)-1]; top > heaviestKg {
		return Inferred{lb, fmt.Sprintf("loads up to %g, more than anyone lifts in kg", top)}, true
	}
	fives, halves, fromLb, fromKg, ladder, odd := 0, 0, 0, 0, 0, 0
	for _, v := range loads {
		switch {
		case multiple(v, 5, 1e-6):
			fives++
		case multiple(v, 2.5, 1e-6):
			halves++
		case multiple(v/0.45359237, 5, 0.12):
			fromLb++
		case multiple(v*0.45359237, 2.5, 0.06):
			fromKg++
		}
		if multiple(v-5, 10, 1e-6) {
			odd++
		}
		if slices.Contains([]float64{45, 95, 135, 185, 225, 275, 315, 365, 405, 455, 495}, v) {
			ladder++
		}
	}
	n := len(loads)
	share := func(k int) float64 { return float64(k) / float64(n) }
	low := loads[0]
	switch {
	case halves >= 2 && share(halves) >= 0.15:
		return Inferred{kg, fmt.Sprintf("%d of %d loads are 2.5 off a multiple of 5: plates of 1.25 kg", halves, n)}, true
	case fromLb >= 2 && share(fromLb) >= 0.5 && fromLb > 2*fromKg:
		return Inferred{kg, fmt.Sprintf("%d of %d loads are multiples of 5 lb written in kg", fromLb, n)}, true
	case fromKg >= 2 && share(fromKg) >= 0.5 && fromKg > 2*fromLb:
		return Inferred{lb, fmt.Sprintf("%d of %d loads are multiples of 2.5 kg written in lb", fromKg, n)}, true
	case (low == 15 || low == 20 || low == 25 || low == 30) && share(fives+halves) >= 0.9:
		return Inferred{kg, fmt.Sprintf("the lightest load is %g: a bar weighs 45 lb but 20 kg", low)}, true
	case low >= 45 && share(fives) >= 0.95 && ladder >= 4 && share(ladder) >= 0.4:
		return Inferred{lb, fmt.Sprintf("%d of %d loads are a 45 lb bar with plates of 45 and 25", ladder, n)}, true
	case low >= 45 && odd == n && n >= 12 && loads[n-1] >= 200:
		return Inferred{lb, fmt.Sprintf("all %d loads are 5 off a multiple of 10: a 45 lb bar with pairs of plates of 5 and more", n)}, true
	}
	return Inferred{}, false
}

func multiple(v, of, tolerance float64) bool {
	return math.Abs(v-of*math.Round(v/of)) <= tolerance
}

func mustUnit(name string) unit.Unit {
	u, ok := unit.Parse(name)
	if !ok {
		panic("shape: unit " + name + " is not known")
	}
	return u
}
