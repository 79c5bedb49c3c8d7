package bar_test

import (
	"math"
	"testing"

	"repsift/ingest/bar"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// held returns a bar of span 1.31 m (IPF: 1.31 to 1.32) held 0.60 m apart.
func held(diameter float64) bar.Bar {
	return bar.Bar{Diameter: diameter, Span: 1.31, Hands: 0.60, Modulus: 2.05e11}
}

// TestInertia: πd⁴/64; values of the table computed from it, as engineering
// tables print them.
func TestInertia(t *testing.T) {
	for mm, want := range map[float64]float64{25: 1.917476e-08, 27: 2.608705e-08, 28: 3.017186e-08, 29: 3.471857e-08} {
		near(t, "I", bar.Bar{Diameter: mm / 1000}.Inertia(), want, 1e-6)
	}
}

// TestMiddle: Mott, Machine Elements in Mechanical Design, table A14-1(b),
// worked for 200 kg on the sleeves of a 28 mm bar.
func TestMiddle(t *testing.T) {
	const force = 980.665
	near(t, "middle, 28 mm", held(0.028).Middle(force), 0.010891628405797, 1e-12)
	near(t, "hands, 28 mm", held(0.028).AtHands(force), 0.008358800646816, 1e-12)
	near(t, "slope, 28 mm", held(0.028).Slope(force), 0.0269, 2e-3)
	near(t, "middle, 27 mm", held(0.027).Middle(force), 0.0126, 5e-3)
	near(t, "middle, 29 mm", held(0.029).Middle(force), 0.0095, 5e-3)
}

// TestPlainNumbers: the same formula at P = 1000 N, a = 0.25 m, L = 1 m,
// EI = 2000 N·m².
func TestPlainNumbers(t *testing.T) {
	b := bar.Bar{Span: 1, Hands: 0.5, Modulus: 2e11, Diameter: math.Pow(64e-8/math.Pi, 0.25)}
	near(t, "middle", b.Middle(1000), 0.014322916666667, 1e-12)
	near(t, "hands", b.AtHands(1000), 0.010416666666667, 1e-12)
}

// TestLimits: hands together give the single central load 2P·L³/(48EI);
// deflection doubles with force and goes with d⁻⁴.
func TestLimits(t *testing.T) {
	b := held(0.028)
	b.Hands = 0
	near(t, "hands together", b.Middle(500), 2*500*math.Pow(1.31, 3)/(48*b.Modulus*b.Inertia()), 1e-12)
	near(t, "double force", b.Middle(1000), 2*b.Middle(500), 1e-12)
	near(t, "27 against 29 mm", held(0.027).Middle(1)/held(0.029).Middle(1), math.Pow(29.0/27, 4), 1e-12)
}

// TestMeasuredStiffness: Chiu LZF (2010) J Strength Cond Res 24(9):2390–2399:
// bars of the kind used at world championships, stands 0.662 m apart, bending
// moment per deformation 299, 347 and 350 N·m/cm; tolerance 20 %.
func TestMeasuredStiffness(t *testing.T) {
	b := held(0.028)
	b.Hands = 0.662
	moment := 1000 * (b.Span - b.Hands) / 2
	near(t, "stiffness, N·m/cm", moment/(100*b.Middle(1000)), (299+347+350)/3.0, 0.2)
}

// TestForce: the ends of the shaft carry all but the shaft, whose mass is that of
// a steel cylinder.
func TestForce(t *testing.T) {
	near(t, "shaft of 28 mm and 1.31 m", bar.Bar{Diameter: 0.028, Span: 1.31, Density: 7850}.Shaft(), math.Pi*0.014*0.014*1.31*7850, 1e-12)
	shaft := bar.Deadlift.Shaft()
	near(t, "shaft of a deadlift bar", shaft, 6.337, 1e-3)
	near(t, "force of 200 kg at the ends", bar.Deadlift.Force(200+shaft), 980.665, 1e-12)
	if f := bar.Deadlift.Force(5); f != 0 {
		t.Errorf("a lone shaft bends by %v N", f)
	}
}

// TestLoads: the second worked row with half the load and half as much again.
func TestLoads(t *testing.T) {
	near(t, "middle, 100 kg", held(0.028).Middle(980.665/2), 0.0054, 1e-2)
	near(t, "middle, 300 kg", held(0.028).Middle(980.665*1.5), 0.0163, 1e-2)
	near(t, "end of a sleeve of 0.415 m", 0.415*held(0.028).Slope(980.665), 0.011, 2e-2)
}
