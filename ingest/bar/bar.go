// Package bar says how far a loaded barbell bends.
//
// A bar pulled from the floor is held at two points and loaded at its ends:
// turned over, it is a beam on two supports (the plates) with two equal loads
// (the hands) at the same distance from either. Its middle and the hands rise
// before the plates leave the floor; an encoder clipped to the middle sees that
// rise as travel. Loaded bars bend elastically and in proportion to the load
// (Chiu 2010), so the beam formula is enough; sleeves are taken as rigid.
//
// It knows nothing of reps or lifters.
package bar

import "math"

// Gravity is the standard acceleration of free fall, m/s² (NIST SP 811).
const Gravity = 9.80665

// Bar is the shaft of a barbell and how it is held. Lengths in m, Young's
// modulus in Pa.
type Bar struct {
	Diameter float64 // of the shaft
	Span     float64 // between the sleeves, where the plates begin
	Hands    float64 // between the hands
	Modulus  float64 // of the steel
	Density  float64 // of the steel, kg/m³
}

// Deadlift is the usual bar for pulls, held at shoulder width: 27 mm, about
// 1.41 m between the sleeves (common practice; no single rule). Modulus: 200–205
// GPa is the usual figure for carbon and alloy steels; density: 7850 kg/m³ likewise
// (engineering tables).
var Deadlift = Bar{Diameter: 0.027, Span: 1.41, Hands: 0.55, Modulus: 2.05e11, Density: 7850}

// Stiff is the usual bar for everything else, held at shoulder width: 29 mm, 1.31 m
// between the sleeves (common practice; no single rule for the diameter, 28 to
// 29 mm in the rules of federations).
var Stiff = Bar{Diameter: 0.029, Span: 1.31, Hands: 0.55, Modulus: 2.05e11, Density: 7850}

// Shaft returns the mass of the bar between its sleeves, kg.
func (b Bar) Shaft() float64 {
	return b.Density * math.Pi / 4 * b.Diameter * b.Diameter * b.Span
}

// Inertia returns the second moment of area of the round shaft, πd⁴/64, m⁴.
func (b Bar) Inertia() float64 { return math.Pi * math.Pow(b.Diameter, 4) / 64 }

// arm is the distance from the plates to the nearer hand.
func (b Bar) arm() float64 { return (b.Span - b.Hands) / 2 }

// Force returns the force at each hand that just carries the plates of a load
// (bar plus plates), N. The sleeves hang on the ends of the shaft like the plates.
// The shaft itself, whose mass lies along it, is left out: the parts of it outside
// the hands bend a bar by about a hundredth of what 180 kg do.
func (b Bar) Force(load float64) float64 {
	return max(0, load-b.Shaft()) / 2 * Gravity
}

// Middle returns how far the middle of the bar stands above the plates once
// they hang free, m: P·a·(3L² − 4a²)/(24EI).
//
// Source: Roark's Formulas for Stress and Strain; Mott, Machine Elements in
// Mechanical Design, table A14-1(b).
func (b Bar) Middle(force float64) float64 {
	a, l := b.arm(), b.Span
	return force * a * (3*l*l - 4*a*a) / (24 * b.Modulus * b.Inertia())
}

// AtHands returns how far the hands stand above the plates, m:
// P·a²·(3L − 4a)/(6EI) (same sources).
func (b Bar) AtHands(force float64) float64 {
	a := b.arm()
	return force * a * a * (3*b.Span - 4*a) / (6 * b.Modulus * b.Inertia())
}

// Slope returns the angle of the bar at the plates, rad: P·a·(L − a)/(2EI)
// (same sources). The end of a rigid sleeve drops by slope × its length.
func (b Bar) Slope(force float64) float64 {
	a := b.arm()
	return force * a * (b.Span - a) / (2 * b.Modulus * b.Inertia())
}
