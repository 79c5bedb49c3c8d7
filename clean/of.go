package clean

import "sort"

// Of returns what the result says of one lifter: a view of the same lists, so
// that a page for each of thousands does not look at all of them. Unread,
// Ledger and Filters are those of the season.
func (r *Result) Of(lifter string) *Result {
	own := *r
	name := func(row int32) string { return r.Reps.Text.Text(r.Reps.Lifter.At(row)) }
	own.Kept = within(r.Kept, lifter, name)
	own.Aside = within(r.Aside, lifter, func(a Aside) string { return name(a.Row) })
	own.Sets = r.Sets.Slice(stretch(r.Sets.Len(), lifter, r.Sets.Lifter))
	own.Twins = within(r.Twins, lifter, func(t Twin) string { return name(t.Kept[0]) })
	own.Taken = within(r.Taken, lifter, func(t Taken) string { return t.Lifter })
	own.Doubts = within(r.Doubts, lifter, func(d Doubt) string { return d.Lifter })
	return &own
}

// within returns the part of a list sorted by lifter that is of one.
func within[T any](list []T, lifter string, of func(T) string) []T {
	lo, hi := stretch(len(list), lifter, func(i int) string { return of(list[i]) })
	return list[lo:hi:hi]
}

// stretch returns where those of a lifter begin and end among n of which the
// lifters are in order.
func stretch(n int, lifter string, of func(i int) string) (lo, hi int) {
	lo = sort.Search(n, func(i int) bool { return of(i) >= lifter })
	return lo, lo + sort.Search(n-lo, func(i int) bool { return of(lo+i) > lifter })
}
