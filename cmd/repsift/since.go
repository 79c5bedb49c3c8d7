package main

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"

	"repsift/profile"
	"repsift/report"
	"repsift/report/pack"
	"repsift/report/screen"
)

// sinceLast is what a run brought that the run before it, in the same folder,
// did not have.
type sinceLast struct {
	New        []string  `json:"sources_new"`
	Changed    []string  `json:"sources_changed"` // same name, other content
	Gone       []string  `json:"sources_gone"`
	KeptBefore int       `json:"kept_before"`
	KeptNow    int       `json:"kept_now"`
	Lifters    []string  `json:"lifters_new"`
	Bests      []newBest `json:"fastest_at_load"` // latest first
	Maxima     []newE1RM `json:"e1rm"`
}

// newBest is a load that a lifter moved faster than ever before.
type newBest struct {
	Lifter string `json:"lifter"`
	Lift   string `json:"lift"`
	profile.PersonalBest
}

// newE1RM is a 1RM that is now estimated otherwise.
type newE1RM struct {
	Lifter string           `json:"lifter"`
	Lift   string           `json:"lift"`
	Before profile.Estimate `json:"before_kg"`
	Now    profile.Estimate `json:"now_kg"`
}

// since compares a run with what stands in the folder it is about to replace;
// nil where there is nothing of the same season.
func since(out string, run *report.Run) *sinceLast {
	before, err := pack.ReadRun(os.DirFS(out))
	if err != nil {
		return nil
	}
	numbers, err := readProfiles(out)
	if err != nil {
		return nil
	}
	s := &sinceLast{New: []string{}, Changed: []string{}, Gone: []string{}, Lifters: []string{}, Bests: []newBest{}, Maxima: []newE1RM{},
		KeptBefore: before.Totals.Kept, KeptNow: len(run.Result.Kept)}
	had := map[string]string{}
	for _, l := range before.Sources {
		had[l.Source] = l.SHA256
	}
	shared := false
	for _, l := range run.Result.Ledger {
		sum, ok := had[l.Source]
		switch {
		case !ok:
			s.New = append(s.New, l.Source)
		case sum != l.SHA256:
			s.Changed = append(s.Changed, l.Source)
		}
		shared = shared || ok
		delete(had, l.Source)
	}
	if !shared {
		return nil
	}
	for name := range had {
		s.Gone = append(s.Gone, name)
	}
	slices.Sort(s.Gone)
	s.numbers(numbers, run.Profiles)
	return s
}

func (s *sinceLast) numbers(before, now *profile.Profiles) {
	for i := range now.Lifters {
		l := &now.Lifters[i]
		k := slices.IndexFunc(before.Lifters, func(b profile.Lifter) bool { return b.Name == l.Name })
		if k < 0 {
			s.Lifters = append(s.Lifters, l.Name)
			continue
		}
		for j := range l.Lifts {
			lift := &l.Lifts[j]
			k := slices.IndexFunc(before.Lifters[k].Lifts, func(b profile.Lift) bool { return b.Lift == lift.Lift })
			if k < 0 {
				continue
			}
			s.lift(l.Name, &before.Lifters[slices.IndexFunc(before.Lifters, func(b profile.Lifter) bool { return b.Name == l.Name })].Lifts[k], lift)
		}
	}
	slices.SortStableFunc(s.Bests, func(a, b newBest) int { return int(b.Date - a.Date) })
}

func (s *sinceLast) lift(lifter string, before, now *profile.Lift) {
	for _, b := range now.PersonalBests {
		stood := slices.ContainsFunc(before.PersonalBests, func(c profile.PersonalBest) bool {
			return c.LoadKg == b.LoadKg && c.Date == b.Date && c.Speed == b.Speed
		})
		if !stood && b.Before.OK() {
			s.Bests = append(s.Bests, newBest{lifter, now.Lift, b})
		}
	}
	a, b := before.E1RMNow, now.E1RMNow
	if a.Known != b.Known || a.Known && math.Abs(a.Value-b.Value) >= 0.25 {
		s.Maxima = append(s.Maxima, newE1RM{lifter, now.Lift, a, b})
	}
}

// tell shows what is new, in a few lines.
func (s *sinceLast) tell(to *screen.Screen) {
	const shown = 6
	to.Heading("New since the last run")
	list := func(what string, names []string) {
		if len(names) == 0 {
			return
		}
		text := strings.Join(names[:min(shown, len(names))], ", ")
		if len(names) > shown {
			text += fmt.Sprintf(" and %d more", len(names)-shown)
		}
		to.Item("·", what+": "+screen.Clean(text))
	}
	list("new sources", s.New)
	list("changed sources", s.Changed)
	list("sources no longer there", s.Gone)
	list("new lifters", s.Lifters)
	if d := s.KeptNow - s.KeptBefore; d != 0 {
		to.Item("·", fmt.Sprintf("%+d kept reps, %s now", d, screen.Count(s.KeptNow)))
	} else if len(s.New)+len(s.Changed)+len(s.Gone) == 0 {
		to.Item("·", "nothing: the same sources, the same reps")
	}
	for i, b := range s.Bests {
		if i == shown {
			to.Item("·", fmt.Sprintf("and %d more loads moved faster than before", len(s.Bests)-shown))
			break
		}
		to.Item("·", fmt.Sprintf("%s, %s: %g kg at %.2f m/s on %s, fastest so far (before %.2f)", b.Lifter, b.Lift, float64(b.LoadKg), float64(b.Speed), b.Date, float64(b.Before)))
	}
	for _, m := range s.Maxima {
		to.Item("·", fmt.Sprintf("%s, %s: 1RM now %s, was %s", m.Lifter, m.Lift, ranged(m.Now), ranged(m.Before)))
	}
}

// ranged is an e1RM with its range.
func ranged(e profile.Estimate) string {
	if !e.Known {
		return fmt.Sprintf("not enough yet: %d of %d %s", e.Have, e.Need, e.Of)
	}
	return fmt.Sprintf("%.1f kg (%.1f to %.1f)", e.Value, e.Lo, e.Hi)
}
