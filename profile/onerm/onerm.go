// Package onerm turns sets into claims about the one-repetition maximum and
// many claims into one number with an interval.
//
// A claim is what one set says by itself: load divided by the share of the 1RM
// that the handbook table gives for the most reps the lifter could have done,
// reps + reps in reserve. [Combine] weighs claims by how far each may be off:
// by the lifter's call, by the form of the day, by the table's fit to this
// lifter (which no number of sets averages out), and by how long ago it was.
package onerm

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// MostReps is the longest set the table is read for: its rows for 11 and more
// differ between printings.
const MostReps = 10

// percent is the share of the 1RM that can be lifted 1, 2, … 10 times: Haff
// GG, Triplett NT (eds) 2016, Essentials of Strength Training and
// Conditioning, 4th ed., table "percent of 1RM and repetitions allowed".
var percent = [MostReps]float64{1, 0.95, 0.93, 0.90, 0.87, 0.85, 0.83, 0.80, 0.77, 0.75}

// Share returns the share of the 1RM for a most of reps, 1 to [MostReps];
// between whole reps by a straight line, which no source prescribes.
func Share(reps float64) (float64, bool) {
	if !(reps >= 1 && reps <= MostReps) {
		return 0, false
	}
	i := int(reps)
	if i == MostReps {
		return percent[i-1], true
	}
	return percent[i-1] + (reps-float64(i))*(percent[i]-percent[i-1]), true
}

// InReserve returns the reps left in reserve at an RPE from 5 to 10: Zourdos
// MC et al. 2016, J Strength Cond Res 30:267–275: 10 is none, 9 one, and so
// forth. Half points are put half way ("1–2 repetitions remaining" at 8.5;
// "could increase load" at 9.5), which the scale does not prescribe.
func InReserve(rpe float64) (float64, bool) {
	if !(rpe >= 5 && rpe <= 10) {
		return 0, false
	}
	return 10 - rpe, true
}

// How far a claim may be off, as shares of the 1RM.
const (
	// dayForm is how much the 1RM differs from day to day: CV 1.9 % (Ruf et
	// al. 2018, J Strength Cond Res 32:681–689, deadlift), 2.1 % (Banyard et
	// al. 2017, J Strength Cond Res 31:1897–1904, squat).
	dayForm = 0.02
	// callSD is how far a call is off, in RPE points, near a maximum: the RPE
	// of a 1RM was called 9.6 ± 0.5 (Helms et al. 2017, J Strength Cond Res
	// 31:292–297); further away it is taken as a quarter more for each rep in
	// reserve (common practice, no source).
	callSD, callSDPerRep = 0.5, 0.25
	// growth is how much a 1RM wanders in a week: common practice, no source.
	growth = 0.01
	// Declared is the CV of a declared maximum: plates come in steps.
	Declared = 0.01
)

// FromSet returns what a set says of the 1RM of its day, and its own CV: the
// call and the day's form. It returns false where the set says nothing: an
// RPE under 7, no rep, or more than [MostReps] to failure.
func FromSet(kg float64, reps int, rpe float64) (oneRM, cv float64, ok bool) {
	rir, ok := InReserve(rpe)
	if !ok || rpe < 7 || reps < 1 || !(kg > 0) {
		return 0, 0, false
	}
	most := float64(reps) + rir
	s, ok := Share(most)
	if !ok {
		return 0, 0, false
	}
	// The slope of the table around the call, no finer than a rep.
	lo, _ := Share(math.Max(most-0.5, 1))
	hi, _ := Share(math.Min(most+0.5, MostReps))
	perRep := math.Abs(hi-lo) / (math.Min(most+0.5, MostReps) - math.Max(most-0.5, 1)) / s
	call := perRep * callSD * (1 + callSDPerRep*rir)
	return kg / s, math.Hypot(dayForm, call), true
}

// Source is a kind of evidence; what is wrong with one claim of it is in part
// wrong with all.
type Source int

// The sources.
const (
	Single Source = iota
	RepSet
	Line
	Maximum
	Sources
)

// Shared is the CV that all claims of a source have in common for one lifter:
// singles and sets because the table is an average of people and a lifter
// calls high or low as a habit; the longer the set the more (Nuzzo et al.
// 2024, Sports Med 54:303–321, on the spread); the line because it bends
// (it overestimated in squat and deadlift studies, standard error of one lab's
// own threshold method 3.6 to 5.0 %, Hughes et al. 2019, J Strength Cond Res
// 33:2409–2419, most of which is the velocity at 1RM, counted apart). The
// figures themselves: common practice, no source.
var Shared = [Sources]float64{Single: 0.015, RepSet: 0.035, Line: 0.02, Maximum: 0}

// shared is the covariance of what claims of two sources have in common: a
// habit of calling and the fit of the table touch singles and sets alike.
func shared(a, b Source) float64 {
	if a == b || a <= RepSet && b <= RepSet {
		return math.Min(Shared[a], Shared[b]) * math.Min(Shared[a], Shared[b])
	}
	return 0
}

// Claim is one claim about the 1RM.
type Claim struct {
	Source   Source
	WeeksAgo float64 // 0 is now
	Kg       float64
	CV       float64 // its own, what it shares left out
}

// Interval returns where the 1RM of the claim's day lies by this claim alone.
func (c Claim) Interval(level float64) (lo, hi float64) {
	d := distuv.UnitNormal.Quantile(0.5+level/2) * math.Hypot(c.CV, Shared[c.Source])
	return c.Kg * math.Exp(-d), c.Kg * math.Exp(d)
}

// ErrNoClaims says that there is nothing to combine.
var ErrNoClaims = errors.New("no claims")

// Combined is the 1RM now.
type Combined struct {
	Kg     float64
	Weight [Sources]float64 // of each source; they add up to 1

	sd, df float64 // of ln kg
}

// priorDF is how many claims the stated CVs are worth against the scatter of
// the lifter's own.
const priorDF = 10

// Combine returns the 1RM now by generalised least squares on logarithms: the
// best linear unbiased weights when the 1RM wanders like a random walk with
// [growth], claims of a source share an error, and each has its own. The
// stated errors, but for the shared ones, are then scaled by how much the claims
// scatter in fact, the prior being worth priorDF claims. Order does not matter.
func Combine(claims []Claim) (Combined, error) {
	n := len(claims)
	if n == 0 {
		return Combined{}, ErrNoClaims
	}
	cov := mat.NewSymDense(n, nil)
	y := mat.NewVecDense(n, nil)
	one := mat.NewVecDense(n, nil)
	for i, a := range claims {
		y.SetVec(i, math.Log(a.Kg))
		one.SetVec(i, 1)
		for j := range i + 1 {
			b := claims[j]
			c := growth * growth * math.Min(a.WeeksAgo, b.WeeksAgo)
			c += shared(a.Source, b.Source)
			if i == j {
				c += a.CV * a.CV
			}
			cov.SetSym(i, j, c)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		return Combined{}, errors.New("claims without any error of their own")
	}
	var w, r, z mat.VecDense
	if err := chol.SolveVecTo(&w, one); err != nil {
		return Combined{}, err
	}
	total := mat.Sum(&w)
	w.ScaleVec(1/total, &w)
	mean := mat.Dot(&w, y)
	r.AddScaledVec(y, -mean, one)
	if err := chol.SolveVecTo(&z, &r); err != nil {
		return Combined{}, err
	}
	chi2 := mat.Dot(&r, &z)
	c := Combined{Kg: math.Exp(mean), df: priorDF + float64(n-1)}
	// What claims share does not show in their scatter: it is not scaled.
	var common float64
	for i, a := range claims {
		c.Weight[a.Source] += w.AtVec(i)
		for j, b := range claims {
			common += w.AtVec(i) * w.AtVec(j) * shared(a.Source, b.Source)
		}
	}
	c.sd = math.Sqrt((priorDF+chi2)/c.df*(1/total-common) + common)
	return c, nil
}

// Interval returns the value and the interval of the level, given loads that
// were lifted of late (0: none). declared was lifted at a meet or a test: the
// 1RM is no lower. lifted was lifted in training: the 1RM of an average day is
// hardly lower, but may be by a day's form, and the heaviest load of some weeks
// was lifted on a good day. Either also moves the value where the claims alone
// would have it lower.
func (c Combined) Interval(level, declared, lifted float64) (v, lo, hi float64) {
	t := distuv.StudentsT{Mu: math.Log(c.Kg), Sigma: c.sd, Nu: c.df}
	if declared <= 0 && lifted <= 0 {
		far := t.Quantile(0.5+level/2) - t.Mu
		return c.Kg, math.Exp(t.Mu - far), math.Exp(t.Mu + far)
	}
	// The distribution times the chance of lifting what was lifted, on a grid.
	const steps = 240
	from, to := t.Mu-8*c.sd, t.Mu+8*c.sd
	if declared > 0 {
		from = math.Max(from, math.Log(declared))
		to = math.Max(to, from+4*c.sd)
	}
	logLifted := math.Log(lifted)
	var cum [steps + 1]float64
	step := (to - from) / steps
	for i := range steps {
		x := from + (float64(i)+0.5)*step
		z := (x - t.Mu) / c.sd
		p := math.Exp(-(c.df + 1) / 2 * math.Log(1+z*z/c.df)) // Student's t, its factor left out
		if form := (x - logLifted) / dayForm; lifted > 0 && form < 6 {
			p *= distuv.UnitNormal.CDF(form)
		}
		cum[i+1] = cum[i] + p
	}
	at := func(p float64) float64 {
		k, _ := slices.BinarySearch(cum[:], p*cum[steps])
		k = min(max(k, 1), steps)
		within := (p*cum[steps] - cum[k-1]) / (cum[k] - cum[k-1])
		return math.Exp(from + (float64(k-1)+within)*step)
	}
	if !(cum[steps] > 0) { // lifted far above all that the claims say
		return lifted, lifted * math.Exp(-2*dayForm), lifted * math.Exp(2*dayForm)
	}
	return at(0.5), at(0.5 - level/2), at(0.5 + level/2)
}

// CV returns the standard deviation of the combined 1RM, as a share of it.
func (c Combined) CV() float64 { return c.sd * math.Sqrt(c.df/(c.df-2)) }

// Latest returns at most n claims, the most recent ones, maxima first among
// equals; it keeps the matrix of Combine small.
func Latest(claims []Claim, n int) []Claim {
	s := slices.Clone(claims)
	slices.SortStableFunc(s, func(a, b Claim) int {
		if a.WeeksAgo != b.WeeksAgo {
			if a.WeeksAgo < b.WeeksAgo {
				return -1
			}
			return 1
		}
		return int(b.Source) - int(a.Source)
	})
	return s[:min(n, len(s))]
}
