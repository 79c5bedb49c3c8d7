package rep

import (
	"math"
	"slices"
)

// Floats is a column of numbers that may be missing. Units write few digits, so
// a long column has few different numbers: it is kept as codes of two bytes. Too
// many different ones are kept as they are.
type Floats struct {
	n   int       // rows; all are missing while neither of the two below is there
	raw []float64 // NaN: missing

	codes []uint16
	dict  *floatDict
	over  *overflow[float64] // of rows that were put later, where codes had run out

	known []float64               // of a sealed column: what its codes stand for
	from  map[*floatDict][]uint16 // codes of columns that were added: one more than the own, 0: not met
	room  []uint16                // of codes, to be used again
}

const (
	packFrom = 1 << 16 // rows from which codes are worth it
	noCode   = math.MaxUint16
)

// At returns the value of row i.
func (f *Floats) At(i int32) Null[float64] {
	v := f.Get(i)
	return nullIf(v != v, v)
}

// Get returns the value of row i, NaN where it is missing.
func (f *Floats) Get(i int32) float64 {
	if f.codes != nil {
		if code := f.codes[i]; code < noCode {
			return f.dict.values[code]
		}
	}
	return f.plain(i)
}

// plain is Get for what has no code.
func (f *Floats) plain(i int32) float64 {
	switch {
	case f.codes != nil:
		return f.over.at(i)
	case f.raw != nil:
		return f.raw[i]
	}
	return math.NaN()
}

// Put sets the value of row i. Beside other goroutines it may be used once
// [Table.Open] has been called.
func (f *Floats) Put(i int32, v Null[float64]) { f.Set(i, v.Or(math.NaN())) }

// Set is Put with NaN for a missing value.
func (f *Floats) Set(i int32, v float64) {
	if have := f.Get(i); have == v || have != have && v != v {
		return
	}
	if f.codes == nil {
		if f.raw == nil {
			f.open()
		}
		f.raw[i] = v
		return
	}
	if f.over == nil {
		f.open()
	}
	code, ok := f.dict.share(v)
	if !ok {
		f.over.put(i, v)
		code = noCode
	}
	f.codes[i] = code
}

// open makes the column ready for [Floats.Put].
func (f *Floats) open() {
	if f.codes == nil && f.raw == nil {
		f.fill(f.n)
	}
	if f.codes != nil && f.over == nil {
		f.over = &overflow[float64]{}
		f.dict.spare()
	}
}

// fill gives every row a place of its own.
func (f *Floats) fill(room int) {
	if room >= packFrom {
		f.dict = &floatDict{}
		f.codes = reserve(f.codes, room)
		f.missing(f.n)
		return
	}
	f.raw = reserve(f.raw, max(room, 64))
	for range f.n {
		f.raw = append(f.raw, math.NaN())
	}
}

// missing adds rows without a value to codes.
func (f *Floats) missing(n int) {
	if n == 0 {
		return
	}
	code, ok := f.dict.code(math.NaN())
	if !ok {
		f.unpack()
		for range n {
			f.raw = append(f.raw, math.NaN())
		}
		return
	}
	for range n {
		f.codes = append(f.codes, code)
	}
}

// append adds a row; room is how many there will be, as far as is known.
func (f *Floats) append(v float64, room int) {
	if f.codes == nil && f.raw == nil {
		if v != v {
			f.n++
			return
		}
		f.fill(max(f.n, room))
	}
	if f.codes != nil {
		if code, ok := f.dict.code(v); ok {
			f.codes = append(f.codes, code)
			f.n++
			return
		}
		f.unpack()
	}
	f.raw = append(f.raw, v)
	f.n++
	if f.n == packFrom {
		f.pack(room)
	}
}

// pack turns values into codes where there are few different ones.
func (f *Floats) pack(room int) {
	dict := &floatDict{}
	codes := make([]uint16, 0, max(room, 2*f.n))
	for _, v := range f.raw {
		code, ok := dict.code(v)
		if !ok {
			return
		}
		codes = append(codes, code)
	}
	f.raw, f.codes, f.dict = nil, codes, dict
}

// unpack turns codes back into values.
func (f *Floats) unpack() {
	f.raw = make([]float64, len(f.codes), max(64, cap(f.codes)))
	for i, code := range f.codes {
		f.raw[i] = f.dict.values[code]
	}
	f.codes, f.dict, f.from = nil, nil, nil
}

// extend adds the rows of u.
func (f *Floats) extend(u *Floats, room int) {
	switch {
	case u.n == 0: // its Coder may be at work for another table
	case u.codes != nil:
		f.extendCodes(u, room)
	case u.codes == nil && u.raw == nil && f.codes == nil && f.raw == nil:
		f.n += u.n
	case u.codes == nil && u.raw == nil && f.codes != nil:
		f.missing(u.n)
		f.n += u.n
	default:
		for i := range int32(u.n) {
			f.append(u.Get(i), room)
		}
	}
}

// extendCodes adds the rows of a column of codes.
func (f *Floats) extendCodes(u *Floats, room int) {
	known := u.known
	if known == nil {
		known = u.dict.values[:u.dict.n]
	}
	value := func(i int) float64 {
		if code := u.codes[i]; code < noCode {
			return known[code]
		}
		return u.over.at(int32(i))
	}
	if f.codes == nil && f.raw == nil && room >= packFrom {
		f.fill(room)
	}
	to := f.from[u.dict]
	i := 0
	if f.codes != nil {
		if more := len(known) - len(to); more > 0 {
			to = append(to, make([]uint16, more)...)
		}
		codes := slices.Grow(f.codes, len(u.codes))[:f.n+len(u.codes)]
		more := codes[f.n:]
		for ; i < len(u.codes); i++ {
			theirs := u.codes[i]
			if theirs == noCode {
				break
			}
			if to[theirs] == 0 {
				own, ok := f.dict.code(known[theirs])
				if !ok {
					break
				}
				to[theirs] = own + 1
			}
			more[i] = to[theirs] - 1
		}
		f.n += i
		f.codes = codes[:f.n]
		if f.from == nil {
			f.from = make(map[*floatDict][]uint16)
		}
		f.from[u.dict] = to
	}
	for ; i < u.n; i++ {
		f.append(value(i), room)
	}
}

func (f *Floats) reserve(room int) {
	switch {
	case f.codes != nil:
		f.codes = reserve(f.codes, room)
	case f.raw != nil && room < packFrom:
		f.raw = reserve(f.raw, room)
	}
}

func (f *Floats) reset() {
	if f.codes != nil {
		f.room = f.codes[:0]
	}
	*f = Floats{raw: f.raw[:0], room: f.room}
}

// Coder numbers the different values of one column for a reader that meets them
// again and again. One reader may fill table after table by it.
type Coder struct{ dict floatDict }

// Code is the number of a value; 0 for none.
type Code uint16

// mostCoded is how many different values a Coder numbers: where there are more,
// looking one up costs more than it saves.
const mostCoded = 1 << 14

// Code returns the number of a value, 0 where numbers have run out.
func (c *Coder) Code(v float64) Code {
	if c.dict.n >= mostCoded {
		return 0
	}
	code, _ := c.dict.code(v)
	return Code(code + 1)
}

// code makes an empty column one of a Coder's codes.
func (f *Floats) code(c *Coder) {
	if c.dict.n >= mostCoded {
		return
	}
	if f.room == nil {
		f.room = make([]uint16, 0, 1024)
	}
	*f = Floats{codes: f.room[:0], dict: &c.dict, room: f.room}
}

// seal makes the column's rows readable while its Coder goes on.
func (f *Floats) seal() {
	if f.codes != nil {
		f.known = f.dict.values[:f.dict.n]
	}
}

// appendCode adds a row of which the Coder's number is known.
func (f *Floats) appendCode(c *Coder, code Code, v float64, room int) {
	if code == 0 || f.dict != &c.dict {
		f.append(v, room)
		return
	}
	f.codes = append(f.codes, uint16(code-1))
	f.n++
}
