package simulate

import (
	"fmt"

	"repsift/ingest/rep"
)

// log draws the hand log and notes which sets it counts.
func (w *world) log(l *lifter, sets []doneSet, keeps bool, logged map[int32]bool) (notes []rep.SetNote, truth [][]Note) {
	if !keeps {
		return nil, nil
	}
	workOnly := w.chance(0.5)
	grouped := w.chance(0.4) // equal sets as "3x5"
	slips := w.between(0, 0.03)
	row := int32(1)
	for i := 0; i < len(sets); i++ {
		set := &sets[i]
		if workOnly && !set.working {
			continue
		}
		if w.chance(0.02) {
			continue // forgotten
		}
		n := 1
		for grouped && i+n < len(sets) && alike(set, &sets[i+n]) {
			n++
		}
		last := &sets[i+n-1]
		missed := int32(0)
		if last.reps[len(last.reps)-1].what == Missed {
			missed = 1
		}
		reps := int32(len(set.reps))
		note := rep.SetNote{Lifter: l.name, Date: set.day, Lift: set.skill.lift, LoadKg: rep.Some(set.load), LoadStep: 0.5,
			Sets: int32(n), Source: "log.xlsx", Sheet: l.name, Row: row + 1, Part: 1}
		if missed == 1 && w.chance(0.5) {
			reps-- // only what was lifted is logged
			missed = 0
		}
		note.Reps, note.MissedReps = rep.Some(reps), missed
		if set.working && w.chance(0.9) {
			note.RPE = rep.Some(last.rpe)
		}
		if w.chance(0.15) {
			note.Last = rep.Some(digits(last.reps[len(last.reps)-1].speed, 0.01))
		}
		if w.chance(slips) {
			note.LoadKg = rep.Some(w.mistype(set.load))
		}
		if w.chance(slips / 3) {
			note.Reps = rep.Some(reps + 1)
		}
		note.Text = fmt.Sprintf("%gx%d", note.LoadKg.V, note.Reps.V)
		row++
		notes = append(notes, note)
		var of []Note
		for k := range n {
			of = append(of, Note{Set: sets[i+k].id})
			logged[sets[i+k].id] = true
		}
		truth = append(truth, of)
		i += n - 1
	}
	return notes, truth
}

// alike reports whether two sets would be logged as one line.
func alike(a, b *doneSet) bool {
	return a.reps[len(a.reps)-1].what != Missed && b.reps[len(b.reps)-1].what != Missed && a.day == b.day && a.skill == b.skill && a.load == b.load && len(a.reps) == len(b.reps)
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
