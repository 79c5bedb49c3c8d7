// Package lowpass smooths evenly spaced samples without lag, chooses how much by
// residual analysis, and takes their derivative.
//
// It knows nothing of bars: a series is numbers and a rate in Hz.
package lowpass

import (
	"errors"
	"math"
)

// TwoPass is C of two passes of a second-order filter, (2^(1/2) − 1)^(1/4): it
// divides the warped frequency, not the cut-off itself, so that the two passes
// together have their −3 dB point at the cut-off.
//
// Source: Winter 2009, Biomechanics and Motor Control of Human Movement, 4th
// ed., p. 69; Robertson et al. 2014, Research Methods in Biomechanics, p. 288.
var TwoPass = math.Pow(math.Sqrt2-1, 0.25)

// Filter is a second-order Butterworth low pass:
// y[i] = a0·x[i] + a1·x[i−1] + a2·x[i−2] + b1·y[i−1] + b2·y[i−2].
type Filter struct{ a0, a1, a2, b1, b2 float64 }

// Butterworth returns the filter of a cut-off at a sampling rate, both in Hz;
// c is 1 for a single pass and TwoPass for one of two passes. The cut-off lies
// between 0 and half the rate.
//
// Source: Winter 2009, section on digital filtering.
func Butterworth(rate, cutoff, c float64) Filter {
	wc := math.Tan(math.Pi*cutoff/rate) / c
	k1, k2 := math.Sqrt2*wc, wc*wc
	a0 := k2 / (1 + k1 + k2)
	k3 := 2 * a0 / k2
	return Filter{a0: a0, a1: 2 * a0, a2: a0, b1: k3 - 2*a0, b2: 1 - 2*a0 - k3}
}

// Padding is how many samples each end is extended by: odd extension by three
// times the length of the filter, the default of scipy.signal.filtfilt.
const Padding = 9

// ErrShort is of a series too short to be filtered forwards and backwards.
var ErrShort = errors.New("series too short to smooth")

// BothWays writes x smoothed forwards and backwards into y, which has the
// length of x and may be x: no lag. Each end is extended by its own point
// reflection ([Padding] samples) and each pass starts in the steady state of its
// first sample, as scipy.signal.filtfilt does by default, so that a bar at rest
// or in steady motion at an end stays so. buf is scratch space that is grown and
// returned. Series of up to [Padding] samples are an error.
func (f Filter) BothWays(y, x, buf []float64) ([]float64, error) {
	n := len(x)
	if n <= Padding {
		return buf, ErrShort
	}
	buf = append(buf[:0], make([]float64, max(0, n+2*Padding-cap(buf)))...)[:0]
	for i := Padding; i > 0; i-- {
		buf = append(buf, 2*x[0]-x[i])
	}
	buf = append(buf, x...)
	for i := 1; i <= Padding; i++ {
		buf = append(buf, 2*x[n-1]-x[n-1-i])
	}
	f.pass(buf, 0, len(buf), 1)
	f.pass(buf, len(buf)-1, -1, -1)
	copy(y, buf[Padding:])
	return buf, nil
}

// pass filters x in place from index i to before end, by step, starting in the
// steady state (transposed direct form II).
func (f Filter) pass(x []float64, i, end, step int) {
	// In the steady state of input 1 the output is 1, the gain at 0 Hz.
	z1, z2 := (1-f.a0)*x[i], (f.a2+f.b2)*x[i]
	for ; i != end; i += step {
		in := x[i]
		out := f.a0*in + z1
		z1 = f.a1*in + f.b1*out + z2
		z2 = f.a2*in + f.b2*out
		x[i] = out
	}
}
