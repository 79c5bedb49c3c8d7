// Package mixed fits a straight line, or any sum of a few columns, to values
// that come in days: each day stands a little above or below the line as a
// whole, and each value scatters around its day.
//
//	y = Σ coefficient·column + day effect + scatter
//	day effect ~ N(0, ρ·σ²), scatter ~ N(0, (1−ρ)·σ²/w)
//
// Too few days or sets make textbook intervals wrong: plugging an estimated
// day variance into least squares forgets that it is estimated. [New] instead
// averages over σ and ρ, each pair weighted by how well it explains the data
// (the restricted likelihood) and by a prior that is flat in ln σ and, for ρ,
// as told at scale. Without day effects and priors the result is the textbook
// one: Student's t with n − p degrees of freedom, and Fieller's interval for
// reading a line backwards (Box & Tiao 1973, Bayesian Inference in Statistical
// Analysis, ch. 2; Harville 1974, Biometrika 61:383–385, for the restricted
// likelihood as a marginal one). Coefficients may have a normal prior: that is
// how a few sets lean on what is known of other lifters.
//
// It knows nothing of lifting. Columns should be centred near the values of
// interest, so that the sums below cancel little.
package mixed

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// ErrTooFew says that the data do not settle the coefficients, or that values
// without any scatter do not tell how sure they are.
var ErrTooFew = errors.New("too few different values")

// Column is one term: its values and, where SD > 0, a normal prior of its
// coefficient. SD 0 is a flat prior.
type Column struct {
	X        []float64
	Mean, SD float64
}

// Shifts returns a column for each source of values that may be off together by
// an error of its own, known as an SD; of returns the source of value i, 0 where
// it has none. Columns come in the order of their first values.
func Shifts(n int, of func(i int) (source string, sd float64)) []Column {
	var cols []Column
	at := map[string]int{}
	for i := range n {
		source, sd := of(i)
		if sd == 0 {
			continue
		}
		k, seen := at[source]
		if !seen {
			k = len(cols)
			at[source] = k
			cols = append(cols, Column{X: make([]float64, n), SD: sd})
		}
		cols[k].X[i] = 1
	}
	return cols
}

// Data is what a line is fitted to.
type Data struct {
	Y       []float64
	Columns []Column  // at least one
	Day     []int     // number of the day of each value, 0, 1, …; nil: no day effects
	Weight  []float64 // in proportion to 1/variance of the scatter; nil weighs all alike

	// A prior of σ: worth PriorDF values with a scatter of PriorSD. PriorDF 0
	// is none. It also keeps σ off zero where rounded values agree exactly.
	PriorDF, PriorSD float64

	// DayRatio is a prior of the SD of day effects over that of the scatter:
	// half a Cauchy distribution with this scale, whose long tail gives way
	// to data that say otherwise (Gelman 2006, Bayesian Analysis 1:515–534).
	// It matters where there are few days. 0 is the neutral prior told at scale.
	DayRatio float64
}

// New fits the model. The error is [ErrTooFew] where the columns without a
// prior cannot be told apart, no value is left to judge the scatter by, or all
// lie on the line exactly and no prior of the scatter is given.
//
// Beside the same posterior integrated finely, 95 % intervals are off by 1e-5 to
// 2e-4 of their width, at worst by 4e-4: go test ./profile/mixed -run Quadrature -v.
func New(d Data) (*Fit, error) {
	f := new(Fit)
	if err := f.Refit(d); err != nil {
		return nil, err
	}
	return f, nil
}

// Refit is [New] in the room of a fit that is no longer needed.
func (f *Fit) Refit(d Data) error {
	room := take()
	defer rooms.Put(room)
	s, err := collect(d, room)
	if err != nil {
		return err
	}
	if s.n+int(s.priorDF) <= s.free {
		return fmt.Errorf("%d values for %d coefficients: %w", s.n, s.free, ErrTooFew)
	}
	w := newWork(s)
	ok, n := s.repeated(), 1
	if ok {
		n = ratioNodes
	}
	*f = Fit{N: s.n, Days: len(s.dayN), p: s.p, free: s.free, order: append(f.order[:0], s.order...),
		slices: slices.Grow(f.slices[:0], n), parts: f.parts[:0], coef: f.coef[:0], solved: slices.Grow(f.solved[:0], n*s.free*(s.p+1)), mean: f.mean[:0]}
	if ok {
		ok = w.average(f)
	}
	if !ok && !w.addTo(f, slice{}, 1) {
		return fmt.Errorf("columns too much alike, or no scatter: %w", ErrTooFew)
	}
	f.normalise(w.fall)
	return nil
}

// average adds the parts of all ratios that matter. It returns false, and adds
// nothing, where the model does not hold for all of them.
func (w *work) average(f *Fit) bool {
	x := w.scale()
	from, to, ok := w.stretch(x)
	if !ok {
		return false
	}
	mid, half := (from+to)/2, (to-from)/2
	for i, g := range gauss.x {
		at := mid + half*g
		if !w.addTo(f, slice{rho: x.rho(at), scale: &x, x: at, logDensity: x.logPrior(at)}, half*gauss.weight[i]) {
			f.slices, f.parts, f.coef, f.solved = f.slices[:0], f.parts[:0], f.coef[:0], f.solved[:0]
			return false
		}
	}
	return true
}

// Fit is a fitted model: a list of (σ, ρ) with their weights, and for each the
// normal distribution of the coefficients.
type Fit struct {
	N, Days int
	p, free int
	order   []int   // the column at each place: those without a prior first
	slices  []slice // one a model and ρ
	parts   []part  // of all slices
	// coef are mean and covariance of the r coefficients with a prior, r + r×r a
	// part; solved, free×(p+1) a slice, is where the others lie given those: see
	// projection.
	coef, solved []float64
	mean         []float64 // of all coefficients
	models       []float64 // probability of each of the models averaged; nil: one
	logEv        float64   // log of the data's marginal density
}

// slice is the model at one ρ.
type slice struct {
	model    int // which of the models averaged
	rho      float64
	from, to int     // its parts
	height   float64 // log of what their weights are still to be multiplied by

	// For [Fit.DaySD]: the scale of ρ (nil: ρ is not told), its place there with
	// the log of the density, and mean and SD of σ^(−2/3).
	scale         *scale
	x, logDensity float64
	root, rootSD  float64
}

// part is the model at one σ of a slice.
type part struct{ weight, s2 float64 } // s2: σ²

// addTo adds the parts of one ρ, which stands for a stretch of its scale; s has
// the log of its prior.
func (w *work) addTo(f *Fit, s slice, stretch float64) bool {
	if !w.integrate(s.rho) {
		return false
	}
	if s.from = len(f.parts); s.from == 0 {
		// Others are of about as many parts.
		n := len(w.parts) + 1
		if s.scale != nil {
			n *= ratioNodes
		}
		f.parts, f.coef = slices.Grow(f.parts, n), slices.Grow(f.coef, n*w.perPart())
	}
	f.parts, f.coef = append(f.parts, w.parts...), append(f.coef, w.coef...)
	f.solved = append(f.solved, w.moments[:w.free*(w.p+1)]...)
	s.to = len(f.parts)
	s.height = s.logDensity + w.top + math.Log(w.step*stretch)
	s.logDensity += w.top + math.Log(w.sum)
	s.root, s.rootSD = w.root, w.rootSD
	f.slices = append(f.slices, s)
	return true
}

// normalise makes weights add up to 1, and drops parts that are that far, in logs,
// below the largest.
func (f *Fit) normalise(fall float64) {
	top := math.Inf(-1)
	for i := range f.slices {
		top = max(top, f.slices[i].height)
	}
	var largest float64
	for i := range f.slices {
		s := &f.slices[i]
		times := math.Exp(s.height - top)
		for k := s.from; k < s.to; k++ {
			f.parts[k].weight *= times
			largest = max(largest, f.parts[k].weight)
		}
		s.height = 0
	}
	r := f.p - f.free
	per, least := r+r*r, largest*math.Exp(-fall)
	var sum float64
	parts, coef := f.parts[:0], f.coef[:0]
	for i := range f.slices {
		s := &f.slices[i]
		from, to := s.from, s.to
		s.from = len(parts)
		for k := from; k < to; k++ {
			if p := f.parts[k]; p.weight >= least {
				sum += p.weight
				parts, coef = append(parts, p), append(coef, f.coef[k*per:(k+1)*per]...)
			}
		}
		s.to = len(parts)
	}
	f.parts, f.coef = parts, coef
	for i := range parts {
		parts[i].weight /= sum
	}
	f.logEv = top + math.Log(sum)
	f.mean = slices.Grow(f.mean[:0], f.p)[:f.p]
	clear(f.mean)
	for i := range f.slices {
		f.addMean(i)
	}
}

// addMean adds to the means of the coefficients what slice i has of them.
func (f *Fit) addMean(i int) {
	s, q, r := &f.slices[i], f.p+1, f.p-f.free
	var few [8]float64
	prior := append(few[:0], make([]float64, r)...) // of those with a prior, times weight
	var weight float64
	for k := s.from; k < s.to; k++ {
		weight += f.parts[k].weight
		for j, mean := range f.coef[k*(r+r*r):][:r] {
			prior[j] += f.parts[k].weight * mean
		}
	}
	for j, mean := range prior {
		f.mean[f.order[f.free+j]] += mean
	}
	for j := range f.free {
		row := f.solved[(i*f.free+j)*q:][:q]
		mean := weight * row[f.p]
		for k, m := range prior {
			mean -= row[f.free+k] * m
		}
		f.mean[f.order[j]] += mean
	}
}

// Average returns models of the same values and columns, which differ in their
// weights, as one: each counts as far as it explains the values, all alike
// before (Hoeting et al. 1999, Statistical Science 14:382–417). Fits that are
// averages already cannot be averaged again.
func Average(fits ...*Fit) *Fit {
	top := math.Inf(-1)
	for _, f := range fits {
		top = math.Max(top, f.logEv)
	}
	one := fits[0]
	out := &Fit{N: one.N, Days: one.Days, p: one.p, free: one.free, order: slices.Clone(one.order), models: make([]float64, len(fits))}
	var sum float64
	ratios, parts := 0, 0
	for i, f := range fits {
		ratios, parts = ratios+len(f.slices), parts+len(f.parts)
		// What explains next to nothing would only cost time.
		if f.logEv > top-coarse.fall {
			out.models[i] = math.Exp(f.logEv - top)
		}
		sum += out.models[i]
	}
	r := one.p - one.free
	out.slices, out.parts = make([]slice, 0, ratios), make([]part, 0, parts)
	out.coef, out.solved = make([]float64, 0, parts*(r+r*r)), make([]float64, 0, ratios*one.free*(one.p+1))
	for i, f := range fits {
		out.models[i] /= sum
		if out.models[i] == 0 {
			continue
		}
		for _, s := range f.slices {
			s.model, s.height = i, math.Log(out.models[i])
			s.from, s.to = s.from+len(out.parts), s.to+len(out.parts)
			out.slices = append(out.slices, s)
		}
		out.parts = append(out.parts, f.parts...)
		out.coef, out.solved = append(out.coef, f.coef...), append(out.solved, f.solved...)
	}
	out.normalise(coarse.fall)
	out.logEv = top + math.Log(sum/float64(len(fits)))
	return out
}

// Probability returns the probability of one of the models averaged.
func (f *Fit) Probability(model int) float64 {
	if f.models == nil {
		return 1
	}
	return f.models[model]
}
