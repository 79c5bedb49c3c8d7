package clean

import (
	"sort"

	"repsift/ingest/rep"
)

// Of returns what the result says of one lifter: a view of the same lists, so
// that a page for each of thousands does not look at all of them. Unread,
// Ledger and Filters are those of the season.
func (r *Result) Of(lifter string) *Result {
	own := *r
	name := func(row int32) string { return r.Reps.Text.Text(r.Reps.Lifter[row]) }
	own.Kept = within(r.Kept, lifter, name)
	own.Aside = within(r.Aside, lifter, func(a Aside) string { return name(a.Row) })
	own.Sets = within(r.Sets, lifter, func(s rep.Set) string { return s.Lifter })
	own.Twins = within(r.Twins, lifter, func(t Twin) string { return name(t.Kept[0]) })
	own.Taken = within(r.Taken, lifter, func(t Taken) string { return t.Lifter })
	own.Doubts = within(r.Doubts, lifter, func(d Doubt) string { return d.Lifter })
	return &own
}

// within returns the part of a list sorted by lifter that is of one.
func within[T any](list []T, lifter string, of func(T) string) []T {
	lo := sort.Search(len(list), func(i int) bool { return of(list[i]) >= lifter })
	hi := lo + sort.Search(len(list)-lo, func(i int) bool { return of(list[lo+i]) > lifter })
	return list[lo:hi:hi]
}
