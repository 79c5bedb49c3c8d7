package rep

import (
	"math"
	"slices"
)

// Counts is a column of numbers that cleaning gives: 0 until then.
type Counts struct {
	small []uint16 // nil: all 0
	over  *overflow[int32]
}

// At returns the number of row i.
func (c *Counts) At(i int32) int32 {
	if c.small == nil {
		return 0
	}
	if n := c.small[i]; n < math.MaxUint16 {
		return int32(n)
	}
	return c.over.at(i)
}

// Put sets the number of a row, which is at least 0.
func (c *Counts) Put(i, n int32) {
	if n < math.MaxUint16 {
		c.small[i] = uint16(n)
		return
	}
	c.over.put(i, n)
	c.small[i] = math.MaxUint16
}

// fill gives each of n rows a place of its own, which [Counts.Put] needs.
func (c *Counts) fill(n int) {
	if c.small == nil {
		c.small, c.over = make([]uint16, n), &overflow[int32]{}
	}
	for len(c.small) < n {
		c.small = append(c.small, 0)
	}
}

// numbered reports whether cleaning gave numbers to rows.
func (t *Table) numbered() bool {
	return t.Session.small != nil || t.Set.small != nil || t.Number.small != nil
}

// append adds the number of row i behind all others.
func (c *Counts) append(i int, n int32) {
	if n != 0 || c.small != nil {
		c.fill(i + 1)
		c.Put(int32(i), n)
	}
}

func (c *Counts) extend(at int, u *Counts, more int) {
	if u.small == nil && c.small == nil {
		return
	}
	c.fill(at + more)
	for i := range int32(len(u.small)) {
		c.Put(int32(at)+i, u.At(i))
	}
}

// Rare is a column of numbers that few rows have: it ends with its last value,
// so that it costs nothing where no row has one.
type Rare []float64

// At returns the value of row i.
func (c Rare) At(i int32) Null[float64] {
	if int(i) >= len(c) {
		return Null[float64]{}
	}
	return nullIf(math.IsNaN(c[i]), c[i])
}

// put sets the value of a row behind all others.
func (c *Rare) put(row int, v Null[float64]) {
	if !v.OK {
		return
	}
	*c = slices.Grow(*c, row+1-len(*c))
	for len(*c) < row {
		*c = append(*c, math.NaN())
	}
	*c = append(*c, v.V)
}

// extend adds those of a table whose first row is to be row at.
func (c *Rare) extend(at int, more Rare) {
	for i, v := range more {
		c.put(at+i, nullIf(math.IsNaN(v), v))
	}
}

// nullIf hides the inner mark of a missing value, so that nulls compare equal.
func nullIf[T any](missing bool, v T) Null[T] {
	if missing {
		return Null[T]{}
	}
	return Some(v)
}
