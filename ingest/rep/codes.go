package rep

import (
	"math"
	"slices"
)

// Codes are what a writer of files reads a column by: of many rows at once, a
// number each that stands for what the row says. Rows of one code say the same,
// so that a file's dictionary is made without a look at every value. A column
// gives nil where it has no codes for its rows; its At then tells them one by
// one. Codes are below [MostCodes], those of texts below the number of symbols.

// MostCodes is more than any code but that of a text.
const MostCodes = 1 << 16

// Codes adds the symbols of rows to dst.
func (c *Texts) Codes(dst []uint32, rows []int32) []uint32 {
	switch {
	case c.narrow != nil:
		return gather(dst, c.narrow, rows)
	case c.wide != nil:
		return gather(dst, c.wide, rows)
	}
	dst, to := more(dst, len(rows))
	for i := range to {
		to[i] = uint32(c.one)
	}
	return dst
}

// Only returns the symbol of all rows where they have the same one.
func (c *Texts) Only() (Sym, bool) { return c.one, c.narrow == nil && c.wide == nil }

// Codes adds the codes of rows to dst.
func (f *Floats) Codes(dst []uint32, rows []int32) []uint32 {
	if f.codes == nil {
		return nil
	}
	dst = gather(dst, f.codes, rows)
	if !f.over.empty() && slices.Contains(dst[len(dst)-len(rows):], noCode) {
		return nil
	}
	return dst
}

// OfCode returns the value of a code, NaN for a missing one.
func (f *Floats) OfCode(code uint32) float64 { return f.dict.values[code] }

// Empty reports whether every value is missing.
func (f *Floats) Empty() bool { return f.codes == nil && f.raw == nil }

// Codes adds the codes of rows to dst.
func (c *Days) Codes(dst []uint32, rows []int32) []uint32 {
	if c.far != nil {
		return nil
	}
	dst, to := more(dst, len(rows))
	for i, r := range rows {
		to[i] = uint32(uint16(c.near[r]))
	}
	return dst
}

// OfCode returns the day of a code.
func (c *Days) OfCode(code uint32) Day { return year2000 + Day(int16(code)) }

// Milliseconds adds the moments of rows to dst, [NoInstant] for a missing one.
func (c *Instants) Milliseconds(dst []int64, rows []int32) []int64 {
	dst, to := more(dst, len(rows))
	if c.exact != nil {
		for i, r := range rows {
			to[i] = int64(c.exact[r])
		}
		return dst
	}
	for i, r := range rows {
		if to[i] = int64(NoInstant); c.seconds[r] > 0 {
			to[i] = int64(c.seconds[r]-1) * 1000
		}
	}
	return dst
}

// Codes adds the codes of rows to dst.
func (c *Ints) Codes(dst []uint32, rows []int32) []uint32 {
	if c.large != nil {
		return nil
	}
	return gather(dst, c.small, rows)
}

// OfCode returns the number of a code.
func (c *Ints) OfCode(code uint32) Null[int32] { return nullIf(code == 0, int32(code)-1) }

// RPEFroms adds to dst where the RPE of each row was written.
func (t *Table) RPEFroms(dst []uint32, rows []int32) []uint32 {
	dst, to := more(dst, len(rows))
	for i, r := range rows {
		to[i] = uint32(t.RPEFrom(r))
	}
	return dst
}

// Roles adds to dst what the set of each row was for.
func (t *Table) Roles(dst []uint32, rows []int32) []uint32 {
	dst, to := more(dst, len(rows))
	for i, r := range rows {
		to[i] = uint32(t.Role(r))
	}
	return dst
}

// Codes adds the numbers of rows to dst, which are their own codes.
func (c *Counts) Codes(dst []uint32, rows []int32) []uint32 {
	if c.small == nil {
		return append(dst, make([]uint32, len(rows))...)
	}
	dst = gather(dst, c.small, rows)
	if !c.over.empty() && slices.Contains(dst[len(dst)-len(rows):], math.MaxUint16) {
		return nil
	}
	return dst
}

func gather[T uint16 | Sym](dst []uint32, column []T, rows []int32) []uint32 {
	dst, to := more(dst, len(rows))
	for i, r := range rows {
		to[i] = uint32(column[r])
	}
	return dst
}

// more makes dst longer by n, and returns it and what was added.
func more[T any](dst []T, n int) (all, added []T) {
	dst = slices.Grow(dst, n)[:len(dst)+n]
	return dst, dst[len(dst)-n:]
}

func (o *overflow[T]) empty() bool {
	if o == nil {
		return true
	}
	o.mu.RLock()
	defer o.mu.RUnlock()
	return len(o.rows) == 0
}
