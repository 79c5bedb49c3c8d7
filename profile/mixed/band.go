package mixed

import "math"

// Band is the middle and the interval of a level all along a line. Mean and SD
// are those of each place; how many SDs the ends lie away hardly changes from
// place to place, so that it is worked out at a few, with parts that are nearly
// alike together, and read between them: off by less than 5e-4 of the width, 1e-3
// where there are three days (TestBand).
type Band struct {
	along  *Along
	scope  Scope
	weight func(x float64) []float64

	mid, half float64
	// The ends in SDs from the mean, at each of places.
	lo, hi [bandPlaces]float64
}

// bandPlaces is how many places are worked out: Chebyshev's, by which the
// polynomial through them errs alike everywhere (Berrut & Trefethen 2004, SIAM
// Review 46:501–517, with the weights of its barycentric formula).
const bandPlaces = 6

var places = func() (p struct{ x, weight [bandPlaces]float64 }) {
	for i := range p.x {
		angle := math.Pi * (float64(i) + 0.5) / bandPlaces
		p.x[i], p.weight[i] = math.Cos(angle), math.Sin(angle)*float64(1-2*(i%2))
	}
	return p
}()

// Band returns the intervals of a level between from and to. weight returns the
// weight of a value at x in each of the models averaged, until it is called
// again; nil weighs all alike.
func (a *Along) Band(from, to, level float64, scope Scope, weight func(x float64) []float64) *Band {
	if weight == nil {
		weight = func(float64) []float64 { return nil }
	}
	b := &Band{along: a, scope: scope, weight: weight, mid: (from + to) / 2, half: (to - from) / 2}
	lower, upper := tails(level)
	room := take()
	defer rooms.Put(room)
	var few [2 * mostAlike]Normal
	for i, place := range places.x {
		x := b.mid + b.half*place
		room.all = a.At(room.all, x, scope, weight(x)...)
		m := room.all.alike(few[:0])
		if i == 0 {
			s := m.shape()
			b.lo[0], b.hi[0] = (s.guess(lower.z)-s.mean)/s.sd, (s.guess(upper.z)-s.mean)/s.sd
		}
		mean, sd := a.MeanSD(x, scope, weight(x)...)
		end := func(want share, guess float64) float64 {
			return (solve(m.around, want, everywhere, mean+guess*sd, sd) - mean) / sd
		}
		before := max(i-1, 0)
		b.lo[i], b.hi[i] = end(lower, b.lo[before]), end(upper, b.hi[before])
	}
	return b
}

// At returns the middle and the interval at x, which is one of those between.
func (b *Band) At(x float64) (v, lo, hi float64) {
	v, sd := b.along.MeanSD(x, b.scope, b.weight(x)...)
	place := (x - b.mid) / b.half
	var sum, below, above float64
	for i, at := range places.x {
		if place == at || b.half == 0 {
			return v, v + sd*b.lo[i], v + sd*b.hi[i]
		}
		w := places.weight[i] / (place - at)
		sum += w
		below += w * b.lo[i]
		above += w * b.hi[i]
	}
	return v, v + sd*below/sum, v + sd*above/sum
}

// MeanSD returns mean and SD of [Along.At], for next to nothing.
func (a *Along) MeanSD(x float64, scope Scope, weight ...float64) (mean, sd float64) {
	v := a.v[0] + x*(a.v[1]+x*a.v[2])
	for model, s := range a.extra {
		w := weightOf(weight, model)
		v += s.day*scope.extra(1, w) + s.scatter*scope.extra(0, w)
	}
	return a.mean[0] + x*a.mean[1], math.Sqrt(math.Max(v, 0))
}
