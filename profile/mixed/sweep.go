package mixed

import "math"

// sweep solves a symmetric n×n matrix, kept row by row, for its column k. With
// all columns of [A c; cᵀ q] but the last swept, A has become its inverse, c
// the solution of A·x = c, and q what that leaves of it, q − cᵀA⁻¹c; with some
// of them swept, the others stand as least squares leaves them (Goodnight 1979,
// The American Statistician 33:149–158). The product of the pivots a[k,k], each
// taken before its sweep, is the determinant.
//
// Matrices are at most a few columns wide and swept thousands of times a
// lifter, which is why no library is called.
func sweep(a []float64, n, k int) {
	pivot := a[k*n : k*n+n]
	over := 1 / pivot[k]
	for j := range pivot {
		pivot[j] *= over
	}
	for i := range n {
		if i == k {
			continue
		}
		row := a[i*n : i*n+n]
		b := row[k]
		for j, x := range pivot {
			row[j] -= b * x
		}
		row[k] = -b * over
	}
	pivot[k] = over
}

// product is a product of many factors, kept so that it neither over- nor
// underflows.
type product struct{ log, rest float64 }

func (p *product) times(x float64, n int) {
	if n > 1 {
		p.log += float64(n) * math.Log(x)
		return
	}
	p.rest *= x
	if p.rest > 1e200 || p.rest < 1e-200 {
		p.log += math.Log(p.rest)
		p.rest = 1
	}
}

func (p *product) ln() float64 { return p.log + math.Log(p.rest) }
