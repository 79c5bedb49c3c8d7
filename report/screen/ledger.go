package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"repsift/clean"
	"repsift/ingest/rep"
)

// Ledger shows what became of every row of every source, with a total.
func (s *Screen) Ledger(ledger []rep.Ledger) {
	t := Table{Head: []string{"source", "rows", "rep rows", "notes", "unread", "other", "reps", "kept", "aside"}}
	var sum rep.Ledger
	for _, l := range ledger {
		t.Rows = append(t.Rows, ledgerRow(Clean(l.Source), l))
		sum = add(sum, l)
	}
	if len(ledger) != 1 {
		t.Foot = ledgerRow(Of(len(ledger), "source", "sources"), sum)
	}
	s.Table(t)
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

// Kept shows, lifter by lifter and lift by lift, how many reps were kept and
// set aside, and by which filters.
func (s *Screen) Kept(res *clean.Result) {
	type key struct{ lifter, lift rep.Sym }
	type tally struct {
		kept, aside int
		by          map[rep.Kind]int
	}
	tallies := map[key]*tally{}
	of := func(row int32) *tally {
		k := key{res.Reps.Lifter[row], res.Reps.Lift[row]}
		if tallies[k] == nil {
			tallies[k] = &tally{by: map[rep.Kind]int{}}
		}
		return tallies[k]
	}
	for _, row := range res.Kept {
		of(row).kept++
	}
	for _, a := range res.Aside {
		t := of(a.Row)
		t.aside++
		t.by[a.Filter]++
	}
	keys := make([]key, 0, len(tallies))
	for k := range tallies {
		keys = append(keys, k)
	}
	text := res.Reps.Text.Text
	slices.SortFunc(keys, func(a, b key) int {
		return cmp.Or(cmp.Compare(text(a.lifter), text(b.lifter)), cmp.Compare(text(a.lift), text(b.lift)))
	})
	t := Table{Head: []string{"lifter", "lift", "kept", "aside", "why"}, Left: map[int]bool{1: true, 4: true}}
	for i, k := range keys {
		name := Clean(text(k.lifter))
		if i > 0 && keys[i-1].lifter == k.lifter {
			name = ""
		}
		n := tallies[k]
		t.Rows = append(t.Rows, []string{name, Cut(Clean(text(k.lift)), 20), Count(n.kept), Count(n.aside), why(n.by)})
	}
	s.Table(t)
}

// why lists filters with their counts, most first.
func why(by map[rep.Kind]int) string {
	kinds := make([]rep.Kind, 0, len(by))
	for k := range by {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, b rep.Kind) int { return cmp.Or(cmp.Compare(by[b], by[a]), cmp.Compare(a, b)) })
	var parts []string
	for _, k := range kinds {
		parts = append(parts, fmt.Sprintf("%s %d", k, by[k]))
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
