package rep

import "math"

// Columns hold what a column of [Table] says in as few bytes a row as it takes:
// nothing where all rows say the same, else two bytes where that is enough for
// every row, else all of it. What is read back is always what was put in.
//
// Columns are filled by one goroutine. Once the table is whole, Put of one row
// may go on beside any use of other rows; that is what cleaning does.

// Days is a column of days.
type Days struct {
	near []int16 // from the year 2000 on, while all are within 89 years of it
	far  []Day
}

const year2000 Day = 10957

// At returns the day of row i.
func (c *Days) At(i int32) Day {
	if c.far != nil {
		return c.far[i]
	}
	return year2000 + Day(c.near[i])
}

// Put sets the day of a row. Nothing else may use the column meanwhile.
func (c *Days) Put(i int32, d Day) {
	if c.fit(d); c.far != nil {
		c.far[i] = d
	} else {
		c.near[i] = int16(d - year2000)
	}
}

func (c *Days) fit(d Day) {
	if c.far == nil && Day(int16(d-year2000)) != d-year2000 {
		c.far = make([]Day, len(c.near), max(64, cap(c.near)))
		for i := range c.near {
			c.far[i] = year2000 + Day(c.near[i])
		}
		c.near = nil
	}
}

func (c *Days) append(d Day) {
	if c.fit(d); c.far != nil {
		c.far = append(c.far, d)
	} else {
		c.near = append(c.near, int16(d-year2000))
	}
}

func (c *Days) extend(u *Days) {
	if c.far == nil && u.far == nil {
		c.near = append(c.near, u.near...)
		return
	}
	for i := range int32(u.len()) {
		c.append(u.At(i))
	}
}

func (c *Days) len() int { return len(c.near) + len(c.far) }

func (c *Days) reserve(room int) {
	if c.far != nil {
		c.far = reserve(c.far, room)
	} else {
		c.near = reserve(c.near, room)
	}
}

func (c *Days) reset() { *c = Days{near: c.near[:0]} }

// Instants is a column of moments that may be missing.
type Instants struct {
	seconds []uint32 // since 1970 and one more, while all are whole; 0: missing
	exact   []Instant
}

// NoInstant is what [Instants.Get] gives for a missing moment: it is before
// all others.
const NoInstant Instant = math.MinInt64

// At returns the moment of row i.
func (c *Instants) At(i int32) Null[Instant] {
	v := c.Get(i)
	return nullIf(v == NoInstant, v)
}

// Get returns the moment of row i, [NoInstant] where it is missing.
func (c *Instants) Get(i int32) Instant {
	switch {
	case c.exact != nil:
		return c.exact[i]
	case c.seconds[i] == 0:
		return NoInstant
	}
	return Instant(c.seconds[i]-1) * 1000
}

// Put sets the moment of a row. Nothing else may use the column meanwhile.
func (c *Instants) Put(i int32, at Null[Instant]) {
	v := at.Or(NoInstant)
	if c.fit(v); c.exact != nil {
		c.exact[i] = v
	} else {
		c.seconds[i] = secondsOf(v)
	}
}

// secondsOf returns a moment as whole seconds, which has to fit.
func secondsOf(v Instant) uint32 {
	if v == NoInstant {
		return 0
	}
	return uint32(v/1000) + 1
}

func (c *Instants) fit(v Instant) {
	if c.exact != nil || v == NoInstant || v >= 0 && v%1000 == 0 && v/1000 < math.MaxUint32 {
		return
	}
	c.exact = make([]Instant, len(c.seconds), max(64, cap(c.seconds)))
	for i := range c.exact {
		c.exact[i] = NoInstant
		if s := c.seconds[i]; s > 0 {
			c.exact[i] = Instant(s-1) * 1000
		}
	}
	c.seconds = nil
}

func (c *Instants) append(v Instant) {
	if s := v / 1000; c.exact == nil && v >= 0 && s < math.MaxUint32 && s*1000 == v { // as nearly all are
		c.seconds = append(c.seconds, uint32(s)+1)
		return
	}
	if c.fit(v); c.exact != nil {
		c.exact = append(c.exact, v)
	} else {
		c.seconds = append(c.seconds, secondsOf(v))
	}
}

func (c *Instants) extend(u *Instants) {
	if c.exact == nil && u.exact == nil {
		c.seconds = append(c.seconds, u.seconds...)
		return
	}
	for i := range int32(len(u.seconds) + len(u.exact)) {
		c.append(u.Get(i))
	}
}

func (c *Instants) reserve(room int) {
	if c.exact != nil {
		c.exact = reserve(c.exact, room)
	} else {
		c.seconds = reserve(c.seconds, room)
	}
}

func (c *Instants) reset() { *c = Instants{seconds: c.seconds[:0]} }

// Ints is a column of whole numbers that may be missing.
type Ints struct {
	small []uint16 // one more than the number, while all fit; 0: missing
	large []int32
}

// NoInt is what [Ints.Get] gives for a missing number: it is below all others.
const NoInt int32 = math.MinInt32

// At returns the number of row i.
func (c *Ints) At(i int32) Null[int32] {
	v := c.Get(i)
	return nullIf(v == NoInt, v)
}

// Get returns the number of row i, [NoInt] where it is missing.
func (c *Ints) Get(i int32) int32 {
	switch {
	case c.large != nil:
		return c.large[i]
	case c.small[i] == 0:
		return NoInt
	}
	return int32(c.small[i]) - 1
}

// Put sets the number of a row. Nothing else may use the column meanwhile.
func (c *Ints) Put(i int32, n Null[int32]) {
	switch v := n.Or(NoInt); {
	case c.fit(v):
		c.large[i] = v
	case v == NoInt:
		c.small[i] = 0
	default:
		c.small[i] = uint16(v + 1)
	}
}

// fit reports whether numbers are large ones, as v may make them.
func (c *Ints) fit(v int32) bool {
	if c.large == nil && v != NoInt && (v < 0 || v >= math.MaxUint16) {
		c.large = make([]int32, len(c.small), max(64, cap(c.small)))
		for i := range c.large {
			c.large[i] = NoInt
			if s := c.small[i]; s > 0 {
				c.large[i] = int32(s) - 1
			}
		}
		c.small = nil
	}
	return c.large != nil
}

func (c *Ints) append(v int32) {
	switch {
	case c.fit(v):
		c.large = append(c.large, v)
	case v == NoInt:
		c.small = append(c.small, 0)
	default:
		c.small = append(c.small, uint16(v+1))
	}
}

func (c *Ints) extend(u *Ints) {
	if c.large == nil && u.large == nil {
		c.small = append(c.small, u.small...)
		return
	}
	for i := range int32(len(u.small) + len(u.large)) {
		c.append(u.Get(i))
	}
}

func (c *Ints) reserve(room int) {
	if c.large != nil {
		c.large = reserve(c.large, room)
	} else {
		c.small = reserve(c.small, room)
	}
}

func (c *Ints) reset() { *c = Ints{small: c.small[:0]} }
