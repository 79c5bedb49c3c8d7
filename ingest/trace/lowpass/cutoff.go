package lowpass

import "math"

// Limits of the cut-off that residual analysis may choose, Hz. The floor is for
// a known fault of the method: its choice is lower than the best one, the more
// so at high sampling rates (Yu, Gabriel, Noble & An 1999, J Appl Biomech
// 15:318–329). 6 Hz passes the peak of a minimum-jerk lift of half a second
// within 0.3 %. The ceiling lies above anything a lifter does; what is left
// there is the sensor. No cut-off goes above HighShare of the sampling rate.
const (
	lowestCutoff  = 6.0
	highestCutoff = 20.0
	HighShare     = 0.4
	residualSteps = 48
)

// residuals returns R(f) = sqrt(mean((x − x̂)²)) at residualSteps cut-offs evenly
// spaced up to 0.45 of the rate, x̂ being x smoothed both ways at that cut-off.
func residuals(x []float64, rate float64) (cutoffs, r []float64) {
	var buf []float64
	y := make([]float64, len(x))
	for k := 1; k <= residualSteps; k++ {
		fc := 0.45 * rate * float64(k) / residualSteps
		var err error
		if buf, err = Butterworth(rate, fc, TwoPass).BothWays(y, x, buf); err != nil {
			return nil, nil
		}
		sum := 0.0
		for i := range x {
			d := x[i] - y[i]
			sum += d * d
		}
		cutoffs, r = append(cutoffs, fc), append(r, math.Sqrt(sum/float64(len(x))))
	}
	return cutoffs, r
}

// Cutoff chooses a cut-off by residual analysis: the straight tail of
// R(f) at high cut-offs, extended to 0 Hz, estimates the noise; the choice is
// where R(f) falls to it. It returns the choice before limits, Hz, and the RMS of
// the noise in the unit of x; a series too short gives 0, 0.
//
// Source: Winter 2009, section "Choice of cutoff frequency: residual analysis".
// The tail is the upper half of the frequencies.
func Cutoff(x []float64, rate float64) (cutoff, noise float64) {
	f, r := residuals(x, rate)
	if f == nil {
		return 0, 0
	}
	from := len(f) / 2
	n := float64(len(f) - from)
	var sf, sr, sff, sfr float64
	for i := from; i < len(f); i++ {
		sf, sr, sff, sfr = sf+f[i], sr+r[i], sff+f[i]*f[i], sfr+f[i]*r[i]
	}
	slope := (n*sfr - sf*sr) / (n*sff - sf*sf)
	noise = (sr - slope*sf) / n
	for i := range f {
		if r[i] > noise {
			continue
		}
		if i == 0 {
			return f[0], noise
		}
		share := (r[i-1] - noise) / (r[i-1] - r[i])
		return f[i-1] + share*(f[i]-f[i-1]), noise
	}
	return f[len(f)-1], noise
}

// Limit keeps a cut-off within what a lift needs and the rate allows.
func Limit(cutoff, rate float64) float64 {
	return min(max(cutoff, lowestCutoff), highestCutoff, HighShare*rate)
}
