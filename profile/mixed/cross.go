package mixed

import (
	"math"
	"slices"
)

// point is a place and the share that lies below there.
type point struct{ x, share float64 }

// probit returns how many SDs from its middle a normal distribution has this
// share below; ends too far out to tell apart count alike.
func probit(share float64) float64 {
	const far = 8
	return math.Max(-far, math.Min(far, math.Sqrt2*math.Erfinv(2*share-1)))
}

// crossing returns where a rising share comes to prob, on the grid that halving
// the way between the first and the last of seen leaves once its steps are
// smaller than step. seen are points in rising order, below prob at the first
// and above it at the last; what is looked at is added to them. guess is where
// to look first.
//
// Heights of a line are nearly normal, so probits are nearly a straight line
// and the secant through them soon meets prob: Illinois' rule keeps both ends
// moving (Dowell and Jarratt 1971, BIT 11:168–174).
func crossing(below func(float64) float64, seen *[]point, prob, guess, step float64) float64 {
	s := *seen
	from, to := s[0].x, s[len(s)-1].x
	k := 1
	for k < len(s)-1 && s[k].share < prob {
		k++
	}
	a, b := s[k-1], s[k]
	want := probit(prob)
	za, zb := probit(a.share)-want, probit(b.share)-want
	exact := 1e-4 * step
	x := guess
	for last, steps := 0, 0; b.x-a.x > exact; steps++ {
		if !(x > a.x && x < b.x) || steps > 40 {
			x = a.x + (b.x-a.x)/2
		}
		p := point{x, below(x)}
		s = slices.Insert(s, k, p)
		z := probit(p.share) - want
		if p.share < prob {
			a, za = p, z
			k++
			if last < 0 {
				zb /= 2
			}
			last = -1
		} else {
			b, zb = p, z
			if last > 0 {
				za /= 2
			}
			last = 1
		}
		next := a.x - za*(b.x-a.x)/(zb-za)
		if math.Abs(next-x) < exact {
			x = next
			break
		}
		x = next
	}
	*seen = s
	root := x
	a.x, b.x = from, to
	for b.x-a.x >= step {
		m := (a.x + b.x) / 2
		short := m < root
		if math.Abs(m-root) < 10*exact {
			short = below(m) < prob
		}
		if short {
			a.x = m
		} else {
			b.x = m
		}
	}
	return (a.x + b.x) / 2
}
