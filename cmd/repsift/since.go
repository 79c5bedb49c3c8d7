package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

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
	Taken      int       `json:"sources_taken"` // as they were read last time
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

// lastRun is what stands in the folder that a run is about to replace.
type lastRun struct {
	run     *pack.Run
	lifters []profile.Lifter // in brief
}

// lastOf reads the last run of a folder beside whatever is done until it is asked
// for: at a federation's size that takes a tenth as long as the run itself. It
// gives nil where there is none, and when leave was called before it was done.
func lastOf(ctx context.Context, out string) (last func() *lastRun, leave func()) {
	ctx, stop := context.WithCancel(ctx)
	var found *lastRun
	var wg sync.WaitGroup
	wg.Go(func() { found = readLast(ctx, out) })
	return func() *lastRun { wg.Wait(); return found }, func() { stop(); wg.Wait() }
}

// readLast reads the last run of a folder; nil where there is none, and when ctx
// ends.
func readLast(ctx context.Context, out string) *lastRun {
	run, err := pack.ReadRun(os.DirFS(out))
	if err != nil {
		return nil
	}
	last := &lastRun{run: run}
	f, err := os.Open(filepath.Join(out, profilesFile))
	if err != nil {
		return nil
	}
	defer f.Close()
	// Lifter by lifter: there may be thousands.
	d := json.NewDecoder(f)
	for _, want := range []json.Token{json.Delim('{'), "lifters", json.Delim('[')} {
		if got, err := d.Token(); err != nil || got != want {
			return nil
		}
	}
	for d.More() {
		var l struct {
			Name  string `json:"lifter"`
			Lifts []struct {
				Lift          string                 `json:"lift"`
				E1RMNow       profile.Estimate       `json:"e1rm_now_kg"`
				PersonalBests []profile.PersonalBest `json:"personal_bests"`
			} `json:"lifts"`
		}
		if err := cmp.Or(d.Decode(&l), ctx.Err()); err != nil {
			return nil
		}
		brief := profile.Lifter{Name: l.Name}
		for _, lift := range l.Lifts {
			brief.Lifts = append(brief.Lifts, profile.Lift{Lift: lift.Lift, E1RMNow: lift.E1RMNow, PersonalBests: lift.PersonalBests})
		}
		last.lifters = append(last.lifters, brief)
	}
	return last
}

// since compares a run with the last one; nil where there is none of the same
// season.
func (last *lastRun) since(run *report.Run) *sinceLast {
	if last == nil {
		return nil
	}
	before := last.run
	s := &sinceLast{New: []string{}, Changed: []string{}, Gone: []string{}, Lifters: []string{}, Bests: []newBest{}, Maxima: []newE1RM{},
		KeptBefore: before.Totals.Kept, KeptNow: screen.Total(run.Result.Ledger).Kept}
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
	s.numbers(last.lifters, run.Profiles.Lifters)
	return s
}

func (s *sinceLast) numbers(before, now []profile.Lifter) {
	known := make(map[string]*profile.Lifter, len(before))
	for i := range before {
		known[before[i].Name] = &before[i]
	}
	for i := range now {
		l := &now[i]
		was := known[l.Name]
		if was == nil {
			s.Lifters = append(s.Lifters, l.Name)
			continue
		}
		for j := range l.Lifts {
			lift := &l.Lifts[j]
			if k := slices.IndexFunc(was.Lifts, func(b profile.Lift) bool { return b.Lift == lift.Lift }); k >= 0 {
				s.lift(l.Name, &was.Lifts[k], lift)
			}
		}
	}
	slices.SortStableFunc(s.Bests, func(a, b newBest) int { return int(b.Date - a.Date) })
}

func (s *sinceLast) lift(lifter string, before, now *profile.Lift) {
	for _, b := range now.PersonalBests {
		stood := slices.ContainsFunc(before.PersonalBests, func(c profile.PersonalBest) bool {
			return c.LoadKg.Same(b.LoadKg) && c.Date == b.Date && c.Speed.Same(b.Speed)
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
	if s.Taken > 0 {
		to.Item("·", screen.Of(s.Taken, "source", "sources")+" taken as read last time")
	}
	for i, b := range s.Bests {
		if i == shown {
			to.Item("·", fmt.Sprintf("and %d more loads moved faster than before", len(s.Bests)-shown))
			break
		}
		to.Item("·", fmt.Sprintf("%s, %s: %g kg at %.2f m/s on %s, fastest so far (before %.2f)", b.Lifter, b.Lift, math.Round(100*float64(b.LoadKg))/100, float64(b.Speed), b.Date, float64(b.Before)))
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
