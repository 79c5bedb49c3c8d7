package mixed

import "sync"

// room is the memory a fit is worked out in, used again from fit to fit: a
// lifter has hundreds. Nothing of it is left in a [Fit].
type room struct {
	sums   sums
	work   work
	floats []float64
	used   int
	days   []dayTerm
	dayN   []int
	order  []int
	parts  []part
	coef   []float64
	roots  []float64
	fit    Fit     // of which one answer is wanted
	all    Mixture // likewise
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// take returns room from the store, empty.
func take() *room {
	r := rooms.Get().(*room)
	r.used = 0
	return r
}

// some returns n zeros.
func (r *room) some(n int) []float64 {
	if r.used+n > len(r.floats) {
		r.floats, r.used = make([]float64, max(2*len(r.floats), n, 512)), 0
	}
	r.used += n
	piece := r.floats[r.used-n : r.used : r.used]
	clear(piece)
	return piece
}
