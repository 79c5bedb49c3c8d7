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
// as told at ratios. Without day effects and priors the result is the textbook
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
	// It matters where there are few days. 0 is the neutral prior told at
	// ratios.
	DayRatio float64
}

// Fit is a fitted model: a list of (σ, ρ) with their weights, and for each the
// normal distribution of the coefficients.
type Fit struct {
	N, Days int
	p       int
	parts   []part
	models  []float64 // probability of each of the models averaged; nil: one
	logEv   float64   // log of the data's marginal density
}

// part is the model at one σ and ρ.
type part struct {
	weight             float64
	model              int     // which of the models averaged
	dayVar, scatterVar float64 // of the day effect, of the scatter at weight 1
	mean               []float64
	cov                []float64 // p×p, row by row
}

// sums are the sufficient statistics of the data; those of a day are taken
// off in proportion to the day variance.
type sums struct {
	n, p, free int // free: coefficients without a prior
	a, c       []float64
	q, logW    float64
	days       []daySum
	prior      []float64 // precision of each coefficient's prior
	priorMean  []float64
	priorDF    float64
	priorSS    float64
	dayRatio   float64

	room []float64 // of the work at hand
}

type daySum struct {
	n    int
	m, y float64 // sums of the weights, of weight·y and, below, of weight·x
	x    []float64
}

// New fits the model. The error is [ErrTooFew] where the columns without a
// prior cannot be told apart, no value is left to judge the scatter by, or all
// lie on the line exactly and no prior of the scatter is given.
func New(d Data) (*Fit, error) {
	s, err := collect(d)
	if err != nil {
		return nil, err
	}
	if s.n+int(s.priorDF) <= s.free {
		return nil, fmt.Errorf("%d values for %d coefficients: %w", s.n, s.free, ErrTooFew)
	}
	f := &Fit{N: s.n, Days: len(s.days), p: s.p}
	rs := ratios(s)
	f.parts = make([]part, 0, s.nodes()*len(rs))
	for _, r := range rs {
		w := located(s, r.rho)
		if !w.ok {
			return nil, fmt.Errorf("columns too much alike, or no scatter: %w", ErrTooFew)
		}
		f.parts = w.parts(f.parts, r.weight)
	}
	f.normalise()
	return f, nil
}

// collect checks the data and sums them up.
func collect(d Data) (*sums, error) {
	n, p := len(d.Y), len(d.Columns)
	if d.Day != nil && len(d.Day) != n || d.Weight != nil && len(d.Weight) != n {
		return nil, fmt.Errorf("mixed: %d values, %d days, %d weights", n, len(d.Day), len(d.Weight))
	}
	room := make([]float64, 3*(p*p+p)+2*p)
	some := func(n int) (piece []float64) {
		piece, room = room[:n:n], room[n:]
		return piece
	}
	s := &sums{n: n, p: p, a: some(p * p), c: some(p), prior: some(p), priorMean: some(p), room: some(2 * (p*p + p)),
		priorDF: d.PriorDF, priorSS: d.PriorDF * d.PriorSD * d.PriorSD, dayRatio: d.DayRatio}
	for k, col := range d.Columns {
		if len(col.X) != n {
			return nil, fmt.Errorf("mixed: column %d has %d values of %d", k, len(col.X), n)
		}
		s.priorMean[k] = col.Mean
		if col.SD > 0 {
			s.prior[k] = 1 / (col.SD * col.SD)
		} else {
			s.free++
		}
	}
	for i, y := range d.Y {
		w := 1.0
		if d.Weight != nil {
			w = d.Weight[i]
			s.logW += math.Log(w)
		}
		s.q += w * y * y
		for j := range p {
			xj := w * d.Columns[j].X[i]
			s.c[j] += xj * y
			for k := range p {
				s.a[j*p+k] += xj * d.Columns[k].X[i]
			}
		}
		if d.Day == nil {
			continue
		}
		for d.Day[i] >= len(s.days) {
			if len(s.days) == 0 {
				most := slices.Max(d.Day) + 1
				s.days, room = make([]daySum, 0, most), make([]float64, most*p)
			}
			s.days = append(s.days, daySum{x: some(p)})
		}
		t := &s.days[d.Day[i]]
		t.n++
		t.m += w
		t.y += w * y
		for j := range p {
			t.x[j] += w * d.Columns[j].X[i]
		}
	}
	return s, nil
}

// normalise turns log weights into weights that add up to 1 and drops parts
// that do not matter.
func (f *Fit) normalise() {
	top := math.Inf(-1)
	for _, p := range f.parts {
		top = math.Max(top, p.weight)
	}
	var sum float64
	kept := f.parts[:0]
	for _, p := range f.parts {
		if p.weight < top-nothing {
			continue
		}
		p.weight = math.Exp(p.weight - top)
		sum += p.weight
		kept = append(kept, p)
	}
	for i := range kept {
		kept[i].weight /= sum
	}
	f.parts = kept
	f.logEv = top + math.Log(sum)
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
	out := &Fit{N: fits[0].N, Days: fits[0].Days, p: fits[0].p, models: make([]float64, len(fits))}
	var sum float64
	for i, f := range fits {
		// What explains next to nothing would only cost time.
		if f.logEv > top-10 {
			out.models[i] = math.Exp(f.logEv - top)
		}
		sum += out.models[i]
	}
	for i, f := range fits {
		out.models[i] /= sum
		if out.models[i] == 0 {
			continue
		}
		for _, p := range f.parts {
			p.model = i
			p.weight *= out.models[i]
			out.parts = append(out.parts, p)
		}
	}
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
