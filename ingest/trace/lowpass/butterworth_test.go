package lowpass

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Rows: scipy.signal.butter 1.10.1; the second is also printed, to five digits,
// by Winter 2009.
func TestButterworthCoefficients(t *testing.T) {
	for _, c := range []struct {
		rate, cutoff, c    float64
		a0, a1, a2, b1, b2 float64
	}{
		{100, 6, 1, 0.02785976611713602, 0.05571953223427205, 0.02785976611713602, 1.475480443592646, -0.5869195080611902},
		{60, 6, 1, 0.06745527388907192, 0.1349105477781438, 0.06745527388907192, 1.142980502539901, -0.4128015980961888},
		{200, 10, 1, 0.02008336556421124, 0.04016673112842247, 0.02008336556421124, 1.561018075800718, -0.6413515380575631},
		{100, 6, TwoPass, 0.04059468144744042, 0.08118936289488084, 0.04059468144744042, 1.354748815198826, -0.5171275409885876},
	} {
		f := Butterworth(c.rate, c.cutoff, c.c)
		for i, d := range []float64{f.a0 - c.a0, f.a1 - c.a1, f.a2 - c.a2, f.b1 - c.b1, f.b2 - c.b2} {
			if !(math.Abs(d) < 1e-14) {
				t.Errorf("%g Hz at %g Hz: coefficient %d is off by %g", c.cutoff, c.rate, i, d)
			}
		}
		if sum := f.a0 + f.a1 + f.a2 + f.b1 + f.b2; !(math.Abs(sum-1) < 1e-14) {
			t.Errorf("%g Hz at %g Hz: gain at 0 Hz is %v", c.cutoff, c.rate, sum)
		}
	}
	if math.Abs(TwoPass-0.8022432629231502) > 1e-15 {
		t.Errorf("C = %v", TwoPass)
	}
}

// The gain of two passes at 100 Hz, cut-off 6 Hz, by the closed form
// 1/(1 + (tan(πf/fs)/wc)⁴).
func TestGainOfTwoPasses(t *testing.T) {
	const rate = 100
	f := Butterworth(rate, 6, TwoPass)
	for _, c := range []struct{ hz, gain float64 }{
		{1, 0.999694991554}, {3, 0.975633196459}, {6, 0.707106781187}, {12, 0.115118939155}, {25, 0.003186695798},
	} {
		const n = 2000
		x := make([]float64, n)
		for i := range x {
			x[i] = math.Cos(2 * math.Pi * c.hz * float64(i) / rate)
		}
		if _, err := f.BothWays(x, x, nil); err != nil {
			t.Fatal(err)
		}
		// Correlate whole seconds far from the ends.
		sum := 0.0
		for i := 500; i < 1500; i++ {
			sum += x[i] * math.Cos(2*math.Pi*c.hz*float64(i)/rate)
		}
		if got := sum / 500; math.Abs(got-c.gain) > 1e-9 {
			t.Errorf("gain at %g Hz is %.12f, want %.12f", c.hz, got, c.gain)
		}
	}
}

// Expected: scipy.signal.filtfilt 1.10.1 with its defaults.
func TestBothWays(t *testing.T) {
	x := []float64{0, 0, 0, 0, 1, 4, 9, 16, 20, 22, 21, 18, 13, 9, 5, 2, 1, 0, 0, 0}
	plain := []float64{0.372535136757, 1.655891392563, 3.072652535496, 4.717223159351, 6.617905742560, 8.711060741510,
		10.831979358934, 12.737136514614, 14.161073675760, 14.888658572724, 14.811868265485, 13.952565318104,
		12.449344460032, 10.516060946627, 8.388061012624, 6.273317358932, 4.318553784977, 2.595573933966, 1.107479131337, -0.192099528005}
	corrected := []float64{0.116279406680, 0.847515379982, 1.856269983711, 3.342750646908, 5.403526669295, 7.975582809077,
		10.806146708890, 13.484139290889, 15.545334475981, 16.612146550094, 16.502110269138, 15.267366342311,
		13.163888960145, 10.567701536920, 7.871778978078, 5.398079578554, 3.341966162777, 1.756324509927, 0.572196343789, -0.360042398762}
	for _, c := range []struct {
		name string
		c    float64
		want []float64
	}{{"plain", 1, plain}, {"corrected", TwoPass, corrected}} {
		y := make([]float64, len(x))
		if _, err := Butterworth(100, 6, c.c).BothWays(y, x, nil); err != nil {
			t.Fatal(err)
		}
		for i := range y {
			if !(math.Abs(y[i]-c.want[i]) < 1e-9) {
				t.Errorf("%s: sample %d is %.12f, want %.12f", c.name, i, y[i], c.want[i])
			}
		}
	}
	if _, err := Butterworth(100, 6, 1).BothWays(x[:9], x[:9], nil); err == nil {
		t.Error("nine samples were smoothed")
	}
}

// The residual of white noise falls about linearly from its RMS at 0 Hz to 0 at
// half the rate (Winter 2009), so that its tail leads back to its RMS.
func TestResidualsOfWhiteNoise(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	x := make([]float64, 20000)
	sum := 0.0
	for i := range x {
		x[i] = 0.001 * rng.NormFloat64()
		sum += x[i] * x[i]
	}
	rms := math.Sqrt(sum / float64(len(x)))
	f, r := residuals(x, 100)
	for i := range f {
		if line := rms * (1 - f[i]/50); math.Abs(r[i]-line) > 0.18*rms {
			t.Errorf("R(%.1f Hz) = %.3f of the RMS, the line has %.3f", f[i], r[i]/rms, line/rms)
		}
	}
	if _, noise := Cutoff(x, 100); math.Abs(noise-rms) > 0.2*rms {
		t.Errorf("noise %.6f, want %.6f", noise, rms)
	}
}
