package mixed

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// simulated returns values of one of the kinds that lifters have, with what is
// asked of them.
func simulated(kind string, n int, r *rand.Rand) (d Data, cs [][]float64) {
	const scatter = 0.03
	daySD := []float64{0, 0.3, 1, 3}[r.IntN(4)] * scatter
	one, x, weeks := Column{}, Column{}, Column{}
	day, effect := -1, 0.0
	add := func(newDay bool, at, week, line, weight float64) {
		if newDay {
			day, effect = day+1, daySD*r.NormFloat64()
		}
		one.X, x.X, weeks.X = append(one.X, 1), append(x.X, at), append(weeks.X, week)
		d.Y = append(d.Y, line+effect+scatter/math.Sqrt(weight)*r.NormFloat64())
		d.Day, d.Weight = append(d.Day, day), append(d.Weight, weight)
	}
	switch kind {
	case "loads": // n days of five loads: three columns, weights
		for i := range n {
			for k, kg := range []float64{-27, -12, 3, 13, 20 + 10*r.Float64()} {
				add(k == 0, kg, float64(i-n+1)/2, 0.6-0.012*kg, 1-kg/60)
			}
		}
		weeks.SD = 0.005
		d.PriorDF, d.PriorSD, d.DayRatio = 1, 0.035, 1.3
		return d.with(one, x, weeks), [][]float64{{1, -67, 0}, {1, 0, 0}, {1, 30, 0}, {0, 1, 0}, {0, 0, 1}}
	case "calls": // n sets on about n/2 days, two coefficients with a prior
		for i := range n {
			rpe := float64(r.IntN(9))/2 - 2
			add(i == 0 || r.IntN(2) == 0, rpe, float64(i-n)/3, 0.3-0.05*rpe, 1)
		}
		x.Mean, x.SD, weeks.SD = -0.04, 0.025, 0.001
		d.PriorDF, d.PriorSD, d.DayRatio, d.Weight = 2, 0.032, 0.3, nil
		return d.with(one, x, weeks), [][]float64{{1, 0, 0}, {1, 2, 0}, {0, 1, 0}}
	case "blocks": // two blocks of n/2 days: no prior but of the scatter
		for i := range n {
			for k := range 1 + r.IntN(3) {
				add(k == 0, float64(2*i/n), 0, 0.5, 1)
			}
		}
		d.PriorDF, d.PriorSD, d.Weight = 1, 0.035, nil
		return d.with(one, x), [][]float64{{1, 0}, {0, 1}}
	}
	for i := range n { // warm-ups: no days
		add(true, float64(i-n), 0, 0.6, 1)
	}
	x.SD = 0.005
	d.PriorDF, d.PriorSD, d.Day, d.Weight = 0.1, 0.01, nil, nil
	return d.with(one, x), [][]float64{{1, 0}, {0, 1}}
}

func (d Data) with(cols ...Column) Data {
	d.Columns = cols
	return d
}

// finely is New with 150 ratios from end to end and a sixth of the step.
func finely(t *testing.T, d Data) *Fit {
	t.Helper()
	s, err := collect(d, new(room))
	if err != nil {
		t.Fatal(err)
	}
	f := &Fit{p: s.p, free: s.free, order: s.order}
	w := newWork(s)
	w.step, w.fall = w.step/6, 24
	if !s.repeated() {
		w.addTo(f, slice{}, 1)
	} else {
		x := s.scale()
		var at, weight [150]float64
		quad.Legendre{}.FixedLocations(at[:], weight[:], 0, x.end())
		for i := range at {
			if !w.addTo(f, slice{rho: x.rho(at[i]), logDensity: x.logPrior(at[i])}, weight[i]) {
				t.Fatal("the model does not hold")
			}
		}
	}
	f.normalise(18)
	return f
}

// exactly is the quantile by nothing but halving.
func exactly(m Mixture, p, from, to float64) float64 {
	for range 34 {
		x, below := (from+to)/2, 0.0
		for _, n := range m {
			below += n.Weight * math.Erfc((n.Mean-x)/n.SD/math.Sqrt2) / 2
		}
		if below < p {
			from = x
		} else {
			to = x
		}
	}
	return (from + to) / 2
}

// TestQuadrature holds New and Interval against the same posterior integrated
// finely, relative to the width of the interval; -v prints the figures.
func TestQuadrature(t *testing.T) {
	for _, c := range []struct {
		kind  string
		n     []int
		worst float64
	}{{"loads", []int{3, 6, 12, 28}, 1e-3}, {"calls", []int{4, 8, 20, 60}, 5e-3}, {"blocks", []int{4, 10, 30}, 1e-3}, {"warm-ups", []int{4, 8, 20}, 1e-3}} {
		for _, n := range c.n {
			var off []float64
			r := rand.New(rand.NewPCG(3, uint64(n)))
			for range 3 {
				d, cs := simulated(c.kind, n, r)
				f, err := New(d)
				if err != nil {
					t.Fatal(err)
				}
				g := finely(t, d)
				for _, at := range cs {
					for _, scope := range []Scope{OfLine, OfValue} {
						v, lo, hi := f.At(at, scope).Interval(0.95)
						m := g.At(at, scope)
						width := hi - lo
						from, to := exactly(m, 0.025, lo-width, hi+width), exactly(m, 0.975, lo-width, hi+width)
						off = append(off, math.Max(math.Abs(v-m.Mean()), math.Max(math.Abs(lo-from), math.Abs(hi-to)))/(to-from))
					}
				}
			}
			slices.Sort(off)
			worst := off[len(off)-1]
			t.Logf("%-8s %2d: off by %.0e of the width, at worst %.0e", c.kind, n, off[len(off)/2], worst)
			if worst > c.worst {
				t.Errorf("%s %d: off by %.1e of the width", c.kind, n, worst)
			}
		}
	}
}

// TestDensity holds the work at one ρ and σ against the same in full matrices,
// by a library: y ~ N(X·b, V + X₁·P⁻¹·X₁ᵀ), where X₁ has a prior of precision P,
// and b is integrated out (Harville 1974, eq. 2).
func TestDensity(t *testing.T) {
	d, cs := simulated("loads", 4, rand.New(rand.NewPCG(5, 6)))
	d.Columns[2].Mean = 0.01
	s, err := collect(d, new(room))
	if err != nil {
		t.Fatal(err)
	}
	n, w := len(d.Y), newWork(s)
	full := func(rho, sigma float64) (logDensity float64, mean mat.VecDense, cov mat.Dense) {
		v, marginal, x := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil), mat.NewDense(n, 3, nil)
		y := mat.NewVecDense(n, nil)
		prior := d.Columns[2]
		for i := range n {
			for j := range n {
				if d.Day[i] == d.Day[j] {
					v.SetSym(i, j, rho*sigma*sigma)
				}
			}
			v.SetSym(i, i, v.At(i, i)+(1-rho)*sigma*sigma/d.Weight[i])
			for k := range d.Columns {
				x.Set(i, k, d.Columns[k].X[i])
			}
			y.SetVec(i, d.Y[i]-prior.Mean*prior.X[i])
		}
		marginal.SymRankOne(v, prior.SD*prior.SD, mat.NewVecDense(n, prior.X))
		solve := func(v *mat.SymDense, x mat.Matrix, precision float64) (logDet, ss float64) {
			var chol mat.Cholesky
			chol.Factorize(v)
			var vx, xvx mat.Dense
			var vy, xvy mat.VecDense
			chol.SolveTo(&vx, x)
			chol.SolveVecTo(&vy, y)
			xvx.Mul(x.T(), &vx)
			xvy.MulVec(x.T(), &vy)
			k, _ := xvx.Dims()
			xvx.Set(k-1, k-1, xvx.At(k-1, k-1)+precision)
			cov.Reset()
			mean.Reset()
			cov.Inverse(&xvx)
			mean.MulVec(&cov, &xvy)
			logDetX, _ := mat.LogDet(&xvx)
			return chol.LogDet() + logDetX, mat.Dot(y, &vy) - mat.Dot(&mean, &xvy)
		}
		logDet, ss := solve(marginal, x.Slice(0, n, 0, 2), 0)
		solve(v, x, 1/(prior.SD*prior.SD))
		mean.SetVec(2, mean.AtVec(2)+prior.Mean)
		return -(logDet+ss)/2 - d.PriorDF*(math.Log(sigma)+d.PriorSD*d.PriorSD/(2*sigma*sigma)), mean, cov
	}
	first := math.NaN()
	for _, at := range []struct{ rho, sigma float64 }{{0, 0.03}, {0.3, 0.05}, {0.9, 0.02}} {
		want, mean, cov := full(at.rho, at.sigma)
		if !w.settle(at.rho) {
			t.Fatal("not settled")
		}
		if off := w.density(math.Log(at.sigma), 1/(at.sigma*at.sigma)) - want; math.IsNaN(first) {
			first = off // a constant
		} else {
			near(t, "log density", off, first, 1e-7)
		}
		f := &Fit{p: 3, free: 2, order: s.order, parts: []part{{1, at.sigma * at.sigma}}, solved: w.moments[:8], coef: []float64{w.both[1], w.both[0]}}
		for _, c := range cs {
			var on projection
			on.project(f, 0, c)
			m, v := on.at(f, 0)
			x := mat.NewVecDense(3, c)
			near(t, "mean", m, mat.Dot(x, &mean), 1e-10)
			near(t, "variance over its own", v/mat.Inner(x, &cov, x), 1, 1e-7)
		}
	}
}

// TestSpread holds the distributions of the SDs against those of the finely
// integrated posterior.
func TestSpread(t *testing.T) {
	for _, c := range []struct {
		kind        string
		n           int
		middle, end float64
	}{{"loads", 3, 0.01, 0.02}, {"loads", 12, 0.01, 0.02}, {"calls", 4, 0.01, 0.12}, {"calls", 20, 0.01, 0.03}, {"blocks", 10, 0.01, 0.05}} {
		r := rand.New(rand.NewPCG(4, uint64(c.n)))
		for range 3 {
			d, _ := simulated(c.kind, c.n, r)
			f, err := New(d)
			if err != nil {
				t.Fatal(err)
			}
			g := finely(t, d)
			of := func(got Spread, name string, share func(rho float64) float64) {
				var all []Normal // a mean and no SD
				for _, s := range g.slices {
					for _, p := range g.parts[s.from:s.to] {
						all = append(all, Normal{Weight: p.weight, Mean: math.Sqrt(share(s.rho) * p.s2)})
					}
				}
				slices.SortFunc(all, func(a, b Normal) int { return cmp.Compare(a.Mean, b.Mean) })
				// The trapezoid rule has steps: halfway up each, read between.
				var want [3]float64
				var below, before, last float64
				for _, a := range all {
					middle := below + a.Weight/2
					for i, p := range [3]float64{0.025, 0.5, 0.975} {
						if before < p && p <= middle {
							want[i] = last + (a.Mean-last)*(p-before)/(middle-before)
						}
					}
					below, before, last = below+a.Weight, middle, a.Mean
				}
				width := want[2] - want[0]
				name = fmt.Sprintf("%s %d: %s", c.kind, c.n, name)
				near(t, name+", low", (got.Quantile(0.025)-want[0])/width, 0, c.end)
				near(t, name+", middle", (got.Quantile(0.5)-want[1])/width, 0, c.middle)
				near(t, name+", high", (got.Quantile(0.975)-want[2])/width, 0, c.end)
			}
			of(f.DaySD(), "days", func(rho float64) float64 { return rho })
			of(f.Scatter(), "scatter", func(rho float64) float64 { return 1 - rho })
		}
	}
}

// TestBand holds intervals read between a few places against those worked out at
// each.
func TestBand(t *testing.T) {
	for _, days := range []int{3, 6, 12, 28} {
		r := rand.New(rand.NewPCG(8, uint64(days)))
		for range 5 {
			d, _ := simulated("loads", days, r)
			f, err := New(d)
			if err != nil {
				t.Fatal(err)
			}
			even := d
			even.Weight = nil
			g, err := New(even)
			if err != nil {
				t.Fatal(err)
			}
			a := Average(f, g).Along([]float64{1, 0, 0}, []float64{0, 1, 0})
			weight := func(x float64) []float64 { return []float64{1 - x/60, 1} }
			for _, scope := range []Scope{OfLine, OfValue} {
				b := a.Band(-30, 40, 0.95, scope, weight)
				var worst float64
				for x := -30.0; x <= 40; x += 3.5 {
					v, lo, hi := b.At(x)
					wantV, wantLo, wantHi := a.At(nil, x, scope, weight(x)...).Interval(0.95)
					off := math.Max(math.Abs(v-wantV), math.Max(math.Abs(lo-wantLo), math.Abs(hi-wantHi)))
					worst = math.Max(worst, off/(wantHi-wantLo))
				}
				least := 5e-4
				if days < 6 {
					least = 1e-3
				}
				near(t, fmt.Sprintf("%d days, off by", days), worst, 0, least)
			}
		}
	}
}
