package mixed

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// maxGamma bounds day variance over scatter variance: day effects twenty times
// the scatter are not told apart from larger ones.
const maxGamma = 400

// scale is a variable x that stands for the ratio of day variance to scatter
// variance, γ, so that its density is a smooth hump.
//
// Without a declared prior x is ln(1 + k·γ), k values a day, and its prior is
// flat: then slopes within days get the degrees of freedom of a paired
// comparison and means of days those of the days (Box & Tiao 1973, sect. 5.2:
// flat in the logs of both mean squares). A prior flat in ρ makes slopes a fifth
// too unsure on Weir's data. With half a Cauchy distribution of √γ it is
// arsinh(√γ/its scale).
type scale struct{ k, cauchy float64 }

func (s *sums) scale() scale { return scale{float64(s.n) / float64(len(s.dayN)), s.dayRatio} }

// rho returns the share ρ of day variance in all variance.
func (s scale) rho(x float64) float64 {
	gamma := math.Expm1(x) / s.k
	if s.cauchy > 0 {
		gamma = s.cauchy * math.Sinh(x)
		gamma *= gamma
	}
	return gamma / (1 + gamma)
}

// logPrior returns the log of the prior density of x.
func (s scale) logPrior(x float64) float64 {
	if s.cauchy > 0 {
		return -math.Log(math.Cosh(x))
	}
	return 0
}

// end is where γ is maxGamma.
func (s scale) end() float64 {
	if s.cauchy > 0 {
		return math.Asinh(math.Sqrt(maxGamma) / s.cauchy)
	}
	return math.Log1p(s.k * maxGamma)
}

// repeated reports whether ρ can be told: there are days, and one of them holds
// two values or more.
func (s *sums) repeated() bool {
	for _, n := range s.dayN {
		if n > 1 {
			return len(s.dayN) > 1
		}
	}
	return false
}

const (
	// looks are how many ratios are tried at a time to find where they lie,
	// ratioNodes how many are then averaged over.
	looks, ratioNodes = 6, 11
	// ratioFall is how far, in logs, below the top a ratio no longer matters.
	ratioFall = 8
)

// gauss are nodes and weights of Gauss–Legendre quadrature on [−1, 1].
var gauss = func() (g struct{ x, weight [ratioNodes]float64 }) {
	quad.Legendre{}.FixedLocations(g.x[:], g.weight[:], -1, 1)
	return g
}()

// stretch returns the stretch of x that matters; false where the model does not
// hold everywhere.
func (w *work) stretch(s scale) (from, to float64, ok bool) {
	to = s.end()
	for round := 1; ; round++ {
		var log [looks]float64
		top, step := 0, (to-from)/looks
		for i := range log {
			x := from + (float64(i)+0.5)*step
			height, ok := w.height(s.rho(x))
			if !ok {
				return 0, 0, false
			}
			log[i] = height + s.logPrior(x)
			if log[i] > log[top] {
				top = i
			}
		}
		lo, hi := top, top
		for lo > 0 && log[lo-1] > log[top]-ratioFall {
			lo--
		}
		for hi < looks-1 && log[hi+1] > log[top]-ratioFall {
			hi++
		}
		if hi-lo < 2 && round < 5 { // too few of them matter: look closer
			from, to = from+step*math.Max(float64(lo)-0.5, 0), from+step*math.Min(float64(hi)+1.5, looks)
			continue
		}
		// A hump is nearly a parabola: the root of what it falls is a straight
		// line.
		end := math.Sqrt(ratioFall)
		root := func(i int) float64 { return math.Sqrt(log[top] - log[i]) }
		a, b := from, to
		if lo > 0 {
			a += step * (float64(lo) + 0.5 - (end-root(lo))/(root(lo-1)-root(lo)))
		}
		if hi < looks-1 {
			b = from + step*(float64(hi)+0.5+(end-root(hi))/(root(hi+1)-root(hi)))
		}
		return a, b, true
	}
}
