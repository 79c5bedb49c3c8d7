// Package unit knows the units in which loads, speeds, lengths and times are
// written, and what each is in SI units.
//
// Units are settled once, at the door: [Parse] reads a unit by itself (a cell's
// "225 lb", a row of units under the headings, a season file), [FromHeading]
// finds the unit inside a heading: "Load (lb)", "ROM [cm]", "mean_velocity_m_s",
// "v, m·s⁻¹", "Zeit/ms". [Unit.SI] converts.
//
// "ms" is milliseconds to a clock and often "m/s" to a typist. Read by itself it
// is milliseconds; a caller who knows what the column holds asks with
// [ParseFor] or [FromHeadingFor], which look only among units of that quantity.
//
// The package does not know what a column is: that "Gewicht" is a load is
// the business of whoever reads headings.
package unit

import "math"

// Quantity is what a unit measures.
type Quantity uint8

// The quantities. Those below Time are known so that a column of watts is not
// taken for one of speeds; nothing past reading uses them.
const (
	Any      Quantity = iota // not known, or not asked for
	Load                     // SI: kg, as the sport has it
	Velocity                 // SI: m/s
	Length                   // SI: m
	Time                     // SI: s
	Acceleration
	Power
	Force
	Frequency
	Percent // a hundredth: factor 0.01
	Count   // reps, sets: factor 1; never found in a heading
)

var quantityNames = [...]string{"any", "load", "velocity", "length", "time",
	"acceleration", "power", "force", "frequency", "percent", "count"}

// String returns the quantity in lower case.
func (q Quantity) String() string { return quantityNames[q] }

// Unit is a unit of measurement. Units are comparable with ==; the zero Unit
// is no unit.
type Unit struct {
	Name     string   // usual symbol: "kg", "lb", "m/s", "cm/s", "in", "ms"
	Quantity Quantity //
	Factor   float64  // SI value of one unit

	// The factor as mul/div, both whole, so that 35 cm/s becomes the double
	// nearest to 0.35 where 35 × 0.01 misses it.
	mul, div float64
}

// SI returns v of the unit in the SI unit of its quantity, rounded once where v
// is whole. The zero Unit returns v.
func (u Unit) SI(v float64) float64 {
	if u.div == 0 {
		return v
	}
	return v * u.mul / u.div
}

// Convert returns a value as written and the size of its last written digit
// (0: unknown) in SI units. Where the unit is a power of ten, the value is the
// double nearest to the decimal that was written: 41.3 cm/s is 0.413 m/s and
// not 0.41300000000000003.
func (u Unit) Convert(v, step float64) (si, siStep float64) {
	si, siStep = u.SI(v), u.SI(step)
	if u.mul != 1 || step <= 0 {
		return si, siStep
	}
	scale := math.Round(u.div / step) // whole for step = 1, 0.1, 0.01, …
	digits := math.Round(v / step)
	if scale <= 1e15 && math.Abs(digits) <= 1e15 && math.Abs(scale*step-u.div) <= 1e-9*u.div {
		si, siStep = digits/scale, 1/scale
	}
	return si, siStep
}

// The units. Names are those of [Unit.Name]; the words met for each are in
// words.go.
//
// Sources of the factors: the international yard and pound agreement of 1959
// makes 1 yd 0.9144 m (so 1 ft 0.3048 m and 1 in 0.0254 m) and 1 lb
// 0.45359237 kg, all exact; printed in NIST SP 811 (2008), Appendix B. SI
// prefixes, minute and hour: BIPM, The International System of Units, 9th
// edition (2019), tables 7 and 8. Kilogram-force of a load cell that shows
// kilograms is not among them: a load is a mass here.
var (
	kg = make1("kg", Load, 1, 1)
	lb = make1("lb", Load, 45359237, 1e8)
	st = make1("st", Load, 14*45359237, 1e8) // 14 lb

	metrePerSecond      = make1("m/s", Velocity, 1, 1)
	centimetrePerSecond = make1("cm/s", Velocity, 1, 100)
	millimetrePerSecond = make1("mm/s", Velocity, 1, 1000)
	footPerSecond       = make1("ft/s", Velocity, 3048, 1e4)
	inchPerSecond       = make1("in/s", Velocity, 254, 1e4)
	kilometrePerHour    = make1("km/h", Velocity, 10, 36)

	metre      = make1("m", Length, 1, 1)
	centimetre = make1("cm", Length, 1, 100)
	millimetre = make1("mm", Length, 1, 1000)
	inch       = make1("in", Length, 254, 1e4)
	foot       = make1("ft", Length, 3048, 1e4)

	second      = make1("s", Time, 1, 1)
	millisecond = make1("ms", Time, 1, 1000)
	microsecond = make1("µs", Time, 1, 1e6)
	minute      = make1("min", Time, 60, 1)
	hour        = make1("h", Time, 3600, 1)

	metrePerSecond2 = make1("m/s²", Acceleration, 1, 1)
	watt            = make1("W", Power, 1, 1)
	kilowatt        = make1("kW", Power, 1000, 1)
	newton          = make1("N", Force, 1, 1)
	kilonewton      = make1("kN", Force, 1000, 1)
	hertz           = make1("Hz", Frequency, 1, 1)
	percent         = make1("%", Percent, 1, 100)
	rep             = make1("rep", Count, 1, 1)
	set             = make1("set", Count, 1, 1)
)

func make1(name string, q Quantity, mul, div float64) Unit {
	return Unit{Name: name, Quantity: q, Factor: mul / div, mul: mul, div: div}
}

// SIOf returns the SI unit of a quantity in which this project stores it; the
// zero Unit for quantities it does not store.
func SIOf(q Quantity) Unit {
	switch q {
	case Load:
		return kg
	case Velocity:
		return metrePerSecond
	case Length:
		return metre
	case Time:
		return second
	}
	return Unit{}
}

// Names returns the symbols of the units of a quantity that a season file may
// name, the SI unit first.
func Names(q Quantity) []string {
	switch q {
	case Load:
		return []string{"kg", "lb"}
	case Velocity:
		return []string{"m/s", "cm/s", "mm/s", "ft/s"}
	case Length:
		return []string{"m", "cm", "mm", "in", "ft"}
	case Time:
		return []string{"s", "ms", "min"}
	}
	return nil
}
