package robust

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Line is a straight line fitted by least squares, with what is needed to say
// how sure it is.
type Line struct {
	Intercept, Slope     float64
	InterceptSE, SlopeSE float64 // standard errors
	ResidualSD           float64 // √(Σ w·residual²/(n − 2))
	R2                   float64 // share of the variance explained
	N                    int

	MeanX float64 // weighted mean of x
	SumW  float64
	SumXX float64 // Σ w·(x − MeanX)²
}

// LeastSquares fits y = intercept + slope·x to pairs of values, len(x) ==
// len(y). w holds a weight a pair, in proportion to 1/variance; nil weighs all
// alike. It needs three pairs and two different x; else the error is
// [ErrTooFew].
func LeastSquares(x, y, w []float64) (Line, error) {
	if len(x) != len(y) || w != nil && len(w) != len(x) {
		return Line{}, fmt.Errorf("least squares of %d x, %d y and %d weights", len(x), len(y), len(w))
	}
	if len(x) < 3 {
		return Line{}, fmt.Errorf("least squares of %d pairs: %w", len(x), ErrTooFew)
	}
	l := Line{N: len(x), SumW: float64(len(x)), MeanX: stat.Mean(x, w)}
	if w != nil {
		l.SumW = floats.Sum(w)
	}
	weight := func(i int) float64 {
		if w == nil {
			return 1
		}
		return w[i]
	}
	meanY := stat.Mean(y, w)
	var sxy, syy float64
	for i := range x {
		dx, dy := x[i]-l.MeanX, y[i]-meanY
		l.SumXX += weight(i) * dx * dx
		sxy += weight(i) * dx * dy
		syy += weight(i) * dy * dy
	}
	if !(l.SumXX > 0) {
		return Line{}, fmt.Errorf("least squares: all x equal: %w", ErrTooFew)
	}
	l.Slope = sxy / l.SumXX
	l.Intercept = meanY - l.Slope*l.MeanX
	var rss float64
	for i := range x {
		// Around the means: no large intercept to cancel.
		r := (y[i] - meanY) - l.Slope*(x[i]-l.MeanX)
		rss += weight(i) * r * r
	}
	l.ResidualSD = math.Sqrt(rss / float64(l.N-2))
	l.SlopeSE = l.ResidualSD / math.Sqrt(l.SumXX)
	l.InterceptSE = l.ResidualSD * math.Sqrt(1/l.SumW+l.MeanX*l.MeanX/l.SumXX)
	l.R2 = 1
	if syy > 0 {
		l.R2 = 1 - rss/syy
	}
	return l, nil
}

// At returns the height of the line at x.
func (l Line) At(x float64) float64 { return l.Intercept + l.Slope*x }

// MeanSE returns the standard error of the line's height at x.
func (l Line) MeanSE(x float64) float64 {
	d := x - l.MeanX
	return l.ResidualSD * math.Sqrt(1/l.SumW+d*d/l.SumXX)
}

// Predict returns the line's height at x and the interval in which one new y
// of weight 1 falls with probability level, 0 < level < 1 (Student's t with
// n − 2 degrees of freedom; Kutner et al., Applied Linear Statistical Models,
// 5th ed., eq. 2.36).
func (l Line) Predict(x, level float64) (v, lo, hi float64) {
	se := math.Hypot(l.ResidualSD, l.MeanSE(x))
	return l.interval(x, se, level)
}

// Confidence returns the line's height at x and the interval that holds the
// true mean there with probability level (ibid., eq. 2.33).
func (l Line) Confidence(x, level float64) (v, lo, hi float64) {
	return l.interval(x, l.MeanSE(x), level)
}

func (l Line) interval(x, se, level float64) (v, lo, hi float64) {
	v = l.At(x)
	d := StudentT(level, l.N-2) * se
	return v, v - d, v + d
}

// StudentT returns the half width, in standard errors, of a two-sided interval
// of the level with df degrees of freedom, df ≥ 1.
func StudentT(level float64, df int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(df)}.Quantile(0.5 + level/2)
}
