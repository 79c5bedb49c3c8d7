package elsewhere

import (
	"fmt"
	"math"

	"repsift/clean/simulate"
	"repsift/ingest/rep"
)

// log draws the hand log. One line for several equal sets without their number
// speaks of the last of them.
func (w *world) log(l *lifter, sets []doneSet, logged map[int32]bool) []rep.SetNote {
	if w.chance(0.25) {
		return nil
	}
	var (
		workOnly = w.chance(0.4)
		grouped  = pick(w, 0, 1, 1, 2) // 0: a line a set; 1: "3x5"; 2: one line, sets not counted
		plates   = pick(w, 0.0, 0, 0, 2.5, 5)
		slips    = w.skewed(0, 0.04)
		forgets  = w.skewed(0, 0.05)
		swaps    = w.skewed(0, 0.03)
		clocked  = w.chance(0.2)
		speeds   = w.chance(0.25)
		lifted   = w.chance(0.5) // only what was lifted counts
		notes    []rep.SetNote
		truth    [][]simulate.Note
	)
	for i := 0; i < len(sets); i++ {
		set := &sets[i]
		if workOnly && set.warm || w.chance(forgets) {
			continue
		}
		n := 1
		for grouped > 0 && i+n < len(sets) && alike(set, &sets[i+n]) {
			n++
		}
		last := &sets[i+n-1]
		reps, missed := int32(len(last.reps)), int32(0)
		if last.reps[len(last.reps)-1].what == simulate.Missed {
			if missed = 1; lifted {
				reps, missed = reps-1, 0
			}
		}
		note := rep.SetNote{Lifter: l.name, Date: set.day, Lift: set.skill.lift, LoadKg: rep.Some(set.load), LoadStep: 0.5,
			Sets: int32(n), Reps: rep.Some(reps), MissedReps: missed, Source: "book.csv", Part: 1}
		if plates > 0 {
			note.LoadKg, note.LoadStep = rep.Some(plates*math.Round(set.load/plates)), plates
		}
		if w.chance(slips) {
			note.LoadKg = rep.Some(w.mistype(set.load))
		}
		if w.chance(slips / 2) {
			note.Reps = rep.Some(max(1, note.Reps.V+pick(w, int32(-1), 1)))
		}
		if !set.warm && w.chance(0.85) {
			note.RPE = rep.Some(last.rpe)
		}
		if speeds && w.chance(0.5) {
			note.Last = rep.Some(digits(last.reps[len(last.reps)-1].speed, 0.01))
		}
		if clocked {
			note.PerformedAt = rep.Some(rep.Instant(set.day.Time().UnixMilli() + int64(math.Floor(last.reps[0].start/60)*60_000)))
		}
		var of []simulate.Note
		for k := range n {
			if grouped == 2 && k < n-1 {
				continue
			}
			of = append(of, simulate.Note{Set: sets[i+k].id})
			logged[sets[i+k].id] = true
		}
		if grouped == 2 {
			note.Sets = 1
		}
		note.Text = fmt.Sprintf("%gx%dx%d", note.LoadKg.V, note.Sets, note.Reps.V)
		notes, truth = append(notes, note), append(truth, of)
		if k := len(notes) - 1; k > 0 && w.chance(swaps) && notes[k-1].Date == note.Date && notes[k-1].Lift == note.Lift {
			notes[k], notes[k-1] = notes[k-1], notes[k]
			truth[k], truth[k-1] = truth[k-1], truth[k]
		}
		i += n - 1
	}
	for i := range notes {
		notes[i].Row = int32(i + 2)
	}
	w.out.Notes = truth
	return notes
}

// alike reports whether two sets would be logged as one line.
func alike(a, b *doneSet) bool {
	failed := func(s *doneSet) bool { return s.reps[len(s.reps)-1].what == simulate.Missed }
	return !failed(a) && !failed(b) && a.day == b.day && a.skill == b.skill && a.load == b.load && len(a.reps) == len(b.reps) && a.warm == b.warm
}

// there notes which logged sets a unit recorded.
func (w *world) there() {
	have := map[int32]bool{}
	for _, r := range w.out.Rows {
		have[r.Set] = true
	}
	for i := range w.out.Notes {
		for k := range w.out.Notes[i] {
			w.out.Notes[i][k].There = have[w.out.Notes[i][k].Set]
		}
	}
}
