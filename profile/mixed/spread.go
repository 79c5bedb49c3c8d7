package mixed

import "math"

// Spread is the distribution of a standard deviation.
//
// Beside the same posterior integrated finely its middle is off by .01 of the width
// of the 95 % interval at most, the ends of that by .03 and, where no
// prior of the ratio is declared, .05; with four values .12 (TestSpread).
type Spread []ratioSpread

// ratioSpread is an SD at one ρ: c·SD^(−2/3) is normal with mean root and SD
// rootSD (Wilson & Hilferty 1931, PNAS 17:684–688).
type ratioSpread struct{ weight, c, root, rootSD float64 }

// DaySD returns the distribution of the SD of day effects.
func (f *Fit) DaySD() Spread {
	return f.spread(func(rho float64) float64 { return rho })
}

// Scatter returns the distribution of the SD of values of weight 1 around their
// day.
func (f *Fit) Scatter() Spread {
	return f.spread(func(rho float64) float64 { return 1 - rho })
}

// spread returns the distribution of √share(ρ)·σ.
func (f *Fit) spread(share func(rho float64) float64) Spread {
	out := make(Spread, 0, max(len(f.slices)/ratioNodes*ratiosBetween, 1))
	for i := 0; i < len(f.slices); {
		s := &f.slices[i]
		if s.scale == nil { // ρ is not told
			out = append(out, ratioSpread{f.Probability(s.model), math.Cbrt(share(s.rho)), s.root, s.rootSD})
			i++
			continue
		}
		out = between(out, f.slices[i:i+ratioNodes], f.Probability(s.model), share)
		i += ratioNodes
	}
	return out
}

// Quantile returns the SD that a share p of the distribution lies below,
// 0 < p < 1.
func (at Spread) Quantile(p float64) float64 {
	want := shareOf(p)
	if len(at) == 1 {
		s := &at[0]
		return ofRoot(s.c / (s.root - want.z*s.rootSD))
	}
	// About the same, in normal distributions of the SD itself.
	about := make(Mixture, len(at))
	for i, s := range at {
		x := ofRoot(s.c / s.root)
		about[i] = Normal{s.weight, x, 1.5 * x * s.rootSD / s.root}
	}
	s := about.shape()
	if s.mean == 0 {
		return 0
	}
	return solve(func(x float64) (below, density float64) {
		root := 1 / math.Cbrt(x*x)
		for i := range at {
			s := &at[i]
			b, d := bell((s.root - s.c*root) / s.rootSD)
			below += s.weight * b
			density += s.weight * d * s.c / s.rootSD
		}
		return below, density * root / x * 2 / 3
	}, want, bracket{0, math.Inf(1)}, max(s.guess(want.z), s.mean/20), s.sd)
}

// ofRoot returns the SD of an inverse root: x^(3/2).
func ofRoot(x float64) float64 { return x * math.Sqrt(x) }

// ratiosBetween is how many ρ stand for all where an SD is asked for: it goes
// with ρ more than anything else does, so that the nodes of the quadrature,
// which are enough for the rest, are too few.
const ratiosBetween = 40

// lagrange has, for each of ratiosBetween places on [−1, 1], what the value at
// each node of the quadrature counts there: the polynomial through the nodes, by
// the barycentric formula (Wang & Xiang 2012, Math Comp 81:861–877, for its
// weights).
var lagrange = func() (l [ratiosBetween][ratioNodes]float64) {
	for i := range l {
		x := placeBetween(i)
		var sum float64
		for j, g := range gauss.x {
			l[i][j] = math.Sqrt((1-g*g)*gauss.weight[j]) / (x - g)
			if j%2 == 1 {
				l[i][j] = -l[i][j]
			}
			sum += l[i][j]
		}
		for j := range l[i] {
			l[i][j] /= sum
		}
	}
	return l
}()

func placeBetween(i int) float64 { return (2*float64(i)+1)/ratiosBetween - 1 }

// between appends the SDs at many ρ between the slices of one model, whose log
// density, mean and SD are smooth.
func between(to Spread, nodes []slice, weight float64, share func(rho float64) float64) Spread {
	first, last := nodes[0].x, nodes[ratioNodes-1].x
	mid, half := (first+last)/2, (last-first)/(gauss.x[ratioNodes-1]-gauss.x[0])
	top := math.Inf(-1)
	var all [ratiosBetween]ratioSpread
	for i := range all {
		s := &all[i]
		s.c = math.Cbrt(share(nodes[0].scale.rho(mid + half*placeBetween(i))))
		for j, l := range lagrange[i] {
			s.weight += l * nodes[j].logDensity
			s.root += l * nodes[j].root
			s.rootSD += l * nodes[j].rootSD
		}
		top = math.Max(top, s.weight)
	}
	var sum float64
	for i := range all {
		all[i].weight = math.Exp(all[i].weight - top)
		sum += all[i].weight
	}
	for _, s := range all {
		if s.weight *= weight / sum; s.weight > 1e-5 {
			to = append(to, s)
		}
	}
	return to
}
