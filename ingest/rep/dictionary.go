package rep

import (
	"math"
	"sync"
)

// floatDict numbers different values. Every NaN is the same one.
type floatDict struct {
	mu     sync.Mutex
	values []float64 // as long as it can get before it grows
	n      int       // of them in use
	slots  []uint16  // open addressing: one more than a code; 0: free

	last     float64
	lastCode uint16
}

// code returns the number of a value and adds it where it is new; false where
// numbers have run out.
func (d *floatDict) code(v float64) (uint16, bool) {
	if v == d.last && d.n > 0 && math.Float64bits(v) == math.Float64bits(d.last) {
		return d.lastCode, true
	}
	if d.n == len(d.values) && d.n < noCode {
		d.grow(max(256, 2*d.n))
	}
	code, ok := d.find(v)
	if ok {
		d.last, d.lastCode = v, code
	}
	return code, ok
}

// share is code beside goroutines that read values: it never moves them.
func (d *floatDict) share(v float64) (uint16, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.find(v)
}

// spare makes room for values that cleaning makes.
func (d *floatDict) spare() { d.grow(d.n + 1024) }

func (d *floatDict) find(v float64) (uint16, bool) {
	if v != v {
		v = math.NaN()
	}
	bits := math.Float64bits(v)
	mask := uint64(len(d.slots) - 1)
	for at := hash(bits) & mask; ; at = (at + 1) & mask {
		code := d.slots[at]
		if code == 0 {
			if d.n == len(d.values) {
				return 0, false
			}
			d.values[d.n] = v
			d.n++
			d.slots[at] = uint16(d.n)
			return uint16(d.n - 1), true
		}
		if math.Float64bits(d.values[code-1]) == bits {
			return code - 1, true
		}
	}
}

// grow makes room for so many values.
func (d *floatDict) grow(room int) {
	room = min(room, noCode)
	values := make([]float64, room)
	copy(values, d.values[:d.n])
	d.values = values
	size := 1024
	for size < 2*room {
		size *= 2
	}
	if size <= len(d.slots) {
		return
	}
	d.slots = make([]uint16, size)
	for code, v := range values[:d.n] {
		at := hash(math.Float64bits(v)) & uint64(size-1)
		for d.slots[at] != 0 {
			at = (at + 1) & uint64(size-1)
		}
		d.slots[at] = uint16(code + 1)
	}
}

func hash(bits uint64) uint64 {
	bits *= 0x9e3779b97f4a7c15
	return bits ^ bits>>32
}

// overflow holds the few values for which a column has no room.
type overflow[T any] struct {
	mu   sync.RWMutex
	rows map[int32]T
}

func (o *overflow[T]) at(i int32) T {
	o.mu.RLock()
	defer o.mu.RUnlock()
	return o.rows[i]
}

func (o *overflow[T]) put(i int32, v T) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.rows == nil {
		o.rows = make(map[int32]T)
	}
	o.rows[i] = v
}
