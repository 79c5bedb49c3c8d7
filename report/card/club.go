package card

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
)

// IndexFile is the name of the club's page, which lies beside the lifters'.
const IndexFile = "index.html"

// Club is what the page of the club is made from.
type Club struct {
	Season   string // the season's own name; may be empty
	Profiles *profile.Profiles
	Result   *clean.Result
	Pages    []string // links to the lifters' pages, in the order of Profiles.Lifters
}

// clubView is what the template shows.
type clubView struct {
	Season      string
	From, To    rep.Day
	Kept, Aside int
	Lifts       []string // with a column of their own
	Others      bool     // some lifter has another lift
	Lifters     []clubRow
	Ledger      []rep.Ledger
	Total       rep.Ledger
	Agreement   []agreementView
	Cautions    []string
}

// clubRow is one lifter.
type clubRow struct {
	*profile.Lifter
	Page       string
	Sets, Reps int
	Now        []profile.Estimate // beside clubView.Lifts; neither Known nor Need: not lifted
	Others     string
	Ready      []readyWord
}

type readyWord struct {
	Lift string
	Word profile.Verdict
}

// WriteClub writes the page of the club. Equal input gives equal bytes.
func WriteClub(w io.Writer, c Club) error {
	if err := pages().ExecuteTemplate(w, "club.html", c.view()); err != nil {
		return fmt.Errorf("page of the club: %w", err)
	}
	return nil
}

func (c Club) view() clubView {
	v := clubView{Season: c.Season, Ledger: c.Result.Ledger,
		Lifts: columns(c.Profiles), Cautions: c.Profiles.Cautions}
	for _, l := range v.Ledger {
		v.Total.Rows += l.Rows
		v.Total.RepRows += l.RepRows
		v.Total.SetNotes += l.SetNotes
		v.Total.Unread += l.Unread
		v.Total.NotData += l.NotData
		v.Total.Reps += l.Reps
		v.Total.Kept += l.Kept
		v.Total.SetAside += l.SetAside
		v.Total.Joined += l.Joined
		v.Total.Alone += l.Alone
	}
	v.Kept, v.Aside = v.Total.Kept, v.Total.SetAside
	for i := range c.Profiles.Agreement {
		a := &c.Profiles.Agreement[i]
		v.Agreement = append(v.Agreement, agreementView{a, agreementChart(a)})
	}
	for i := range c.Profiles.Lifters {
		l := &c.Profiles.Lifters[i]
		row := clubRow{Lifter: l, Page: c.Pages[i], Now: make([]profile.Estimate, len(v.Lifts)), Ready: readiness(l)}
		var others []string
		for k := range l.Lifts {
			lift := &l.Lifts[k]
			row.Sets += lift.Sets
			row.Reps += lift.Reps
			if at := slices.Index(v.Lifts, lift.Lift); at >= 0 {
				row.Now[at] = lift.E1RMNow
			} else if lift.E1RMNow.Known {
				others = append(others, lift.Lift+" "+kgOf(lift.E1RMNow))
			} else {
				others = append(others, lift.Lift)
			}
		}
		row.Others = strings.Join(others, "; ")
		v.Others = v.Others || len(others) > 0
		v.Lifters = append(v.Lifters, row)
		if i == 0 || l.From < v.From {
			v.From = l.From
		}
		v.To = max(v.To, l.To)
	}
	return v
}

// columns returns the lifts with a column of their own: the three of the sport
// where anybody does them, else the three most lifters do, then by name.
func columns(p *profile.Profiles) []string {
	const most = 3
	lifters := map[string]int{}
	for i := range p.Lifters {
		for k := range p.Lifters[i].Lifts {
			lifters[p.Lifters[i].Lifts[k].Lift]++
		}
	}
	var of []string
	for _, lift := range []string{rep.Squat, rep.BenchPress, rep.Deadlift} {
		if lifters[lift] > 0 {
			of = append(of, lift)
		}
	}
	if len(of) > 0 {
		return of
	}
	for lift := range lifters {
		of = append(of, lift)
	}
	slices.SortFunc(of, func(a, b string) int { return cmp.Or(lifters[b]-lifters[a], cmp.Compare(a, b)) })
	return of[:min(most, len(of))]
}

// readiness returns the verdicts of the lifter's latest session.
func readiness(l *profile.Lifter) []readyWord {
	var out []readyWord
	for k := range l.Lifts {
		r := &l.Lifts[k].ReadinessNow
		if r.Date == l.To && r.Verdict != "" && r.Verdict != profile.NotEnough {
			out = append(out, readyWord{l.Lifts[k].Lift, r.Verdict})
		}
	}
	return out
}
