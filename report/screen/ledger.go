package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"repsift/clean"
	"repsift/ingest/rep"
)

// mostRows is how long a table on the screen may be: a federation's would push
// everything else out of sight.
const mostRows = 40

// Ledger shows what became of every row of every source, with a total. Of more
// than forty sources those are shown of which most is unread, and where the
// others are told.
func (s *Screen) Ledger(ledger []rep.Ledger) {
	t := Table{Head: []string{"source", "rows", "rep rows", "notes", "unread", "other", "reps", "kept", "aside"}}
	sum := Total(ledger)
	shown := ledger
	if len(ledger) > mostRows {
		shown = slices.Clone(ledger)
		slices.SortStableFunc(shown, func(a, b rep.Ledger) int { return cmp.Compare(b.Unread, a.Unread) })
		shown = shown[:mostRows]
	}
	for _, l := range shown {
		t.Rows = append(t.Rows, ledgerRow(Clean(l.Source), l))
	}
	if len(ledger) != 1 {
		t.Foot = ledgerRow(Of(len(ledger), "source", "sources"), sum)
	}
	s.Table(t)
	if more := len(ledger) - len(shown); more > 0 {
		s.Line("Shown are those with most unread; run.json tells of the %s.", Of(more, "other", "others"))
	}
	s.Line("%s", "rows = rep rows + notes + unread + other (headings, blanks, totals, trace samples)")
	s.Line("%s", "reps = kept + set aside")
	if sum.SetNotes > 0 {
		s.Line("%s of the hand log: %s joined to a unit's set, %s alone",
			Of(sum.SetNotes, "set note", "set notes"), Count(sum.Joined), Count(sum.Alone))
	}
}

// Total adds up the ledgers of all sources.
func Total(ledger []rep.Ledger) rep.Ledger {
	var sum rep.Ledger
	for _, l := range ledger {
		sum = add(sum, l)
	}
	return sum
}

func ledgerRow(name string, l rep.Ledger) []string {
	row := []string{name}
	for _, n := range []int{l.Rows, l.RepRows, l.SetNotes, l.Unread, l.NotData, l.Reps, l.Kept, l.SetAside} {
		row = append(row, Count(n))
	}
	return row
}

func add(a, b rep.Ledger) rep.Ledger {
	a.Rows += b.Rows
	a.RepRows += b.RepRows
	a.SetNotes += b.SetNotes
	a.Unread += b.Unread
	a.NotData += b.NotData
	a.Reps += b.Reps
	a.Kept += b.Kept
	a.SetAside += b.SetAside
	a.Joined += b.Joined
	a.Alone += b.Alone
	return a
}

// tally is how many reps of one lifter's one lift were kept and set aside.
type tally struct {
	lifter, lift string
	kept, aside  int
	by           [32]int // by filter
}

func (t *tally) share() float64 { return float64(t.aside) / float64(t.kept+t.aside) }

// Kept shows, lifter by lifter and lift by lift, how many reps were kept and
// set aside, and by which filters. Where that is more than forty lines it shows
// each lift of all lifters together, and those of which most was set aside.
func (s *Screen) Kept(res *clean.Result) {
	all := tallies(res)
	if len(all) <= mostRows {
		s.lifters(all)
		return
	}
	lifts := map[string]*tally{}
	var order []*tally
	for _, n := range all {
		sum := lifts[n.lift]
		if sum == nil {
			sum = &tally{lift: n.lift}
			lifts[n.lift] = sum
			order = append(order, sum)
		}
		sum.kept, sum.aside = sum.kept+n.kept, sum.aside+n.aside
		for k := range n.by {
			sum.by[k] += n.by[k]
		}
	}
	slices.SortStableFunc(order, func(a, b *tally) int {
		return cmp.Or(cmp.Compare(b.kept, a.kept), cmp.Compare(a.lift, b.lift))
	})
	t := Table{Head: []string{"lift", "kept", "aside", "why"}, Left: map[int]bool{3: true}}
	for _, n := range order[:min(mostRows, len(order))] {
		t.Rows = append(t.Rows, []string{Clean(n.lift), Count(n.kept), Count(n.aside), n.why()})
	}
	s.Table(t)
	const most = 10
	slices.SortStableFunc(all, func(a, b *tally) int { return cmp.Compare(b.share(), a.share()) })
	s.Line("\nThe largest shares set aside, of %s; the table of sets tells of all:", Of(len(all), "lift of a lifter", "lifts of lifters"))
	s.lifters(all[:most])
}

// lifters shows tallies, a name once where it stands in several lines.
func (s *Screen) lifters(all []*tally) {
	t := Table{Head: []string{"lifter", "lift", "kept", "aside", "why"}, Left: map[int]bool{1: true, 4: true}}
	for i, n := range all {
		name := Clean(n.lifter)
		if i > 0 && all[i-1].lifter == n.lifter {
			name = ""
		}
		t.Rows = append(t.Rows, []string{name, Cut(Clean(n.lift), 20), Count(n.kept), Count(n.aside), n.why()})
	}
	s.Table(t)
}

// tallies counts every lift of every lifter, by their names. Cleaning has done
// so; of tables that were read back it is done here.
func tallies(res *clean.Result) []*tally {
	var all []*tally
	for i := range res.Taken {
		taken := &res.Taken[i]
		t := &tally{lifter: taken.Lifter, lift: taken.Lift, kept: taken.Kept, aside: taken.Reps - taken.Kept}
		for _, by := range taken.By {
			t.by[by.Filter] = by.Reps
		}
		all = append(all, t)
	}
	if all != nil {
		return all
	}
	type key struct{ lifter, lift rep.Sym }
	known := map[key]*tally{}
	var last key // rows come in order
	var at *tally
	of := func(row int32) *tally {
		k := key{res.Reps.Lifter.At(row), res.Reps.Lift.At(row)}
		if at != nil && last == k {
			return at
		}
		if last, at = k, known[k]; at == nil {
			at = &tally{lifter: res.Reps.Text.Text(k.lifter), lift: res.Reps.Text.Text(k.lift)}
			known[k] = at
			all = append(all, at)
		}
		return at
	}
	for _, row := range res.Kept {
		of(row).kept++
	}
	for i := range res.Aside {
		t := of(res.Aside[i].Row)
		t.aside++
		t.by[res.Aside[i].Filter]++
	}
	slices.SortFunc(all, func(a, b *tally) int {
		return cmp.Or(cmp.Compare(a.lifter, b.lifter), cmp.Compare(a.lift, b.lift))
	})
	return all
}

// why lists filters with their counts, most first.
func (t *tally) why() string {
	var kinds []rep.Kind
	for k, n := range t.by {
		if n > 0 {
			kinds = append(kinds, rep.Kind(k))
		}
	}
	slices.SortStableFunc(kinds, func(a, b rep.Kind) int { return cmp.Compare(t.by[b], t.by[a]) })
	var parts []string
	for _, k := range kinds {
		parts = append(parts, fmt.Sprintf("%s %d", k, t.by[k]))
	}
	return strings.Join(parts, ", ")
}

// Unread shows the first of what could not be read and where the rest stands.
func (s *Screen) Unread(unread []rep.Unread) {
	const shown = 6
	for i, u := range unread {
		if i == shown {
			s.Item("·", fmt.Sprintf("and %s more", Count(len(unread)-shown)))
			break
		}
		s.Item("·", fmt.Sprintf("%s (%s)", u, u.Lost))
	}
}

// Doubts shows what the coach should look at: each topic with its count and
// first cases.
func (s *Screen) Doubts(doubts []clean.Doubt) {
	const shown = 2
	byTopic := map[clean.Topic][]clean.Doubt{}
	var topics []clean.Topic
	for _, d := range doubts {
		if byTopic[d.Topic] == nil {
			topics = append(topics, d.Topic)
		}
		byTopic[d.Topic] = append(byTopic[d.Topic], d)
	}
	slices.Sort(topics)
	for _, topic := range topics {
		all := byTopic[topic]
		s.Item("·", fmt.Sprintf("%s: %s", topic, Of(len(all), "case", "cases")))
		for _, d := range all[:min(shown, len(all))] {
			s.Item("   ", doubt(d))
		}
	}
}

// doubt says whom and which day a doubt is about, and where to look.
func doubt(d clean.Doubt) string {
	parts := []string{d.Lifter}
	if d.Date != 0 {
		parts = append(parts, d.Date.String())
	}
	parts = append(parts, d.Lift)
	text := strings.Join(parts, ", ") + ": " + d.Text
	var places []string
	for _, p := range d.Places {
		places = append(places, p.String())
	}
	if places != nil {
		text += " (" + strings.Join(places, "; ") + ")"
	}
	return text
}
