// Package fit fits what a bar does at the ends of a lift to its positions: where a
// movement begins or ends ([Edge]), and how a bar rings ([Swing]).
//
// It knows nothing of reps or windows: its input is times in s and positions in m.
package fit

import "math"

// terms is the most terms a fit here has.
const terms = 4

// normal gathers the normal equations of a least-squares fit of up to [terms]
// terms.
type normal struct {
	k   int
	a   [terms][terms + 1]float64
	syy float64
}

// add takes a point: its terms and its value.
func (n *normal) add(x *[terms]float64, y float64) {
	for p := 0; p < n.k; p++ {
		for q := p; q < n.k; q++ {
			n.a[p][q] += x[p] * x[q]
		}
		n.a[p][terms] += x[p] * y
	}
	n.syy += y * y
}

// solve returns the coefficients and the sum of squares that is left. A term
// that the others already make counts as 0.
func (n *normal) solve() (c [terms]float64, sse float64) {
	a := n.a
	var right [terms]float64
	for p := 0; p < n.k; p++ {
		right[p] = a[p][terms]
		for q := 0; q < p; q++ {
			a[p][q] = a[q][p]
		}
	}
	// The matrix is positive semidefinite: Gauss–Jordan needs no pivots.
	for p := 0; p < n.k; p++ {
		if a[p][p] <= 1e-10*n.a[p][p] || a[p][p] == 0 {
			a[p] = [terms + 1]float64{}
			a[p][p] = 1
			for r := range a {
				if r != p {
					a[r][p] = 0
				}
			}
			continue
		}
		for r := 0; r < n.k; r++ {
			f := a[r][p] / a[p][p]
			if r == p || f == 0 {
				continue
			}
			for q := p; q < n.k; q++ {
				a[r][q] -= f * a[p][q]
			}
			a[r][terms] -= f * a[p][terms]
		}
	}
	sse = n.syy
	for p := 0; p < n.k; p++ {
		c[p] = a[p][terms] / a[p][p]
		sse -= c[p] * right[p]
	}
	return c, math.Max(sse, 0)
}
