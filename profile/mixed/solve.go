package mixed

import "math"

// Small dense algebra on p×p matrices kept row by row; p is 1 to 5 here, and
// these run thousands of times a lifter, which is why no library is called.

// cholesky overwrites the lower triangle of a by its factor and returns the
// log of the determinant; false where a is not safely positive definite.
func cholesky(a []float64, p int) (logDet float64, ok bool) {
	det := 1.0
	for j := range p {
		d0 := a[j*p+j]
		d := d0
		for k := range j {
			d -= a[j*p+k] * a[j*p+k]
		}
		if !(d > 1e-11*d0) {
			return 0, false
		}
		r := math.Sqrt(d)
		a[j*p+j] = r
		det *= d
		for i := j + 1; i < p; i++ {
			v := a[i*p+j]
			for k := range j {
				v -= a[i*p+k] * a[j*p+k]
			}
			a[i*p+j] = v / r
		}
	}
	return math.Log(det), true
}

// forward overwrites b by the solution of L·x = b.
func forward(l, b []float64, p int) {
	for i := range p {
		for k := range i {
			b[i] -= l[i*p+k] * b[k]
		}
		b[i] /= l[i*p+i]
	}
}

// backward overwrites b by the solution of Lᵀ·x = b.
func backward(l, b []float64, p int) {
	for i := p - 1; i >= 0; i-- {
		for k := i + 1; k < p; k++ {
			b[i] -= l[k*p+i] * b[k]
		}
		b[i] /= l[i*p+i]
	}
}

// inverse writes (L·Lᵀ)⁻¹ to inv.
func inverse(l, inv []float64, p int) {
	var e [8]float64
	for j := range p {
		col := e[:p]
		for i := range col {
			col[i] = 0
		}
		col[j] = 1
		forward(l, col, p)
		backward(l, col, p)
		for i := range p {
			inv[i*p+j] = col[i]
		}
	}
}
