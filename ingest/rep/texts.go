package rep

import "math"

// Texts is a column of symbols.
type Texts struct {
	n      int
	one    Sym      // of all rows, while they are the same
	narrow []uint16 // while every symbol fits
	wide   []Sym
}

// At returns the symbol of row i.
func (c *Texts) At(i int32) Sym {
	switch {
	case c.narrow != nil:
		return Sym(c.narrow[i])
	case c.wide != nil:
		return c.wide[i]
	}
	return c.one
}

// Same returns the row behind those that have the symbol of row i, which they
// follow.
func (c *Texts) Same(i int32) int32 {
	switch {
	case c.narrow != nil:
		return i + same(c.narrow[i:])
	case c.wide != nil:
		return i + same(c.wide[i:])
	}
	return int32(c.n)
}

// same returns how many at the front are like the first.
func same[S comparable](all []S) int32 {
	for i := range all {
		if all[i] != all[0] {
			return int32(i)
		}
	}
	return int32(len(all))
}

// Put sets the symbol of a row. It may change how all are kept: nothing else
// may use the column meanwhile.
func (c *Texts) Put(i int32, s Sym) {
	if c.At(i) == s {
		return
	}
	c.make(s)
	if c.wide != nil {
		c.wide[i] = s
	} else {
		c.narrow[i] = uint16(s)
	}
}

// make gives every row a place of its own that s fits into.
func (c *Texts) make(s Sym) {
	if c.narrow == nil && c.wide == nil {
		c.narrow = make([]uint16, c.n, max(c.n, 64))
		for i := range c.narrow {
			c.narrow[i] = uint16(c.one)
		}
		if c.one > math.MaxUint16 {
			c.narrow, c.wide = nil, make([]Sym, c.n)
			for i := range c.wide {
				c.wide[i] = c.one
			}
		}
	}
	if c.narrow != nil && s > math.MaxUint16 {
		c.wide = make([]Sym, len(c.narrow), cap(c.narrow))
		for i, s := range c.narrow {
			c.wide[i] = Sym(s)
		}
		c.narrow = nil
	}
}

func (c *Texts) append(s Sym, room int) {
	switch {
	case c.narrow != nil && s <= math.MaxUint16:
		c.narrow = append(c.narrow, uint16(s))
	case c.wide != nil:
		c.wide = append(c.wide, s)
	case c.narrow == nil && (c.n == 0 || s == c.one):
		c.one = s
	default:
		c.make(s)
		c.reserve(room)
		c.append(s, room)
		return
	}
	c.n++
}

// repeat adds so many rows like the last.
func (c *Texts) repeat(rows int) {
	switch {
	case c.narrow != nil:
		for s := c.narrow[c.n-1]; len(c.narrow) < c.n+rows; {
			c.narrow = append(c.narrow, s)
		}
	case c.wide != nil:
		for s := c.wide[c.n-1]; len(c.wide) < c.n+rows; {
			c.wide = append(c.wide, s)
		}
	}
	c.n += rows
}

// extend adds the rows of u, whose symbols are to be those of to.
func (c *Texts) extend(u *Texts, to []Sym, room int) {
	if u.narrow == nil && u.wide == nil {
		for i := 0; i < u.n; i++ {
			if c.narrow == nil && c.wide == nil && (c.n == 0 || to[u.one] == c.one) {
				c.one = to[u.one]
				c.n += u.n - i
				return
			}
			c.append(to[u.one], room)
		}
		return
	}
	for i := int32(0); i < int32(u.n); {
		next := u.Same(i)
		c.append(to[u.At(i)], room)
		c.repeat(int(next-i) - 1)
		i = next
	}
}

// reserve makes room for so many rows in all, where rows take any.
func (c *Texts) reserve(room int) {
	if c.narrow != nil {
		c.narrow = reserve(c.narrow, room)
	}
	if c.wide != nil {
		c.wide = reserve(c.wide, room)
	}
}

func (c *Texts) reset() { *c = Texts{narrow: c.narrow[:0]} }

// reserve is slices.Grow without clearing what is not used yet.
func reserve[E any](s []E, room int) []E {
	if cap(s) >= room {
		return s
	}
	return append(make([]E, 0, room), s...)
}
