package simulate

import (
	"repsift/clean"
	"repsift/ingest/rep"
)

// Tally counts what cleaning did to simulated seasons.
type Tally struct {
	Kept, Aside [Whats]int // rows that are no copy, of the unit that stands
	// The same, of false rows for which the source holds evidence: travel,
	// time to the rep, or a count in the hand log.
	EvidentKept, EvidentAside [Whats]int

	Reps, Lost     int // reps done; of them, with no row left
	Slow, SlowLost int // grinders and paused reps among them
	Copied         int // reps that stand in two exports of one unit
	CopiesLeft     int // of them, with more than one row of the unit left
	Seen           int // reps that two units recorded
	SeenLeft       int // of them, with a row of both left
	MissesSeen     int // missed reps that are marked
	Misses         int
	FalseMisses    int // other rows marked as missed
	DoublesMarked  int
	Halves         int // first halves whose travel was put together again
	HalvesAll      int

	WrongLoads, WrongFlagged, RightFlagged int // sets by the load check

	Logged, Joined, Wrong, Apart int // logged sets whose set was recorded; joined right; joined wrong; left apart
	WrongAlone                   int // logged sets whose set was not recorded, joined all the same
}

// Add adds one season. aside tells which rows were set aside; res may be nil
// for a baseline that does nothing else.
func (t *Tally) Add(s *Season, aside []bool, res *clean.Result) {
	type state struct {
		what     What
		set      int32
		left     int
		rows     [2]int // by unit
		rowsLeft [2]int
	}
	events := map[int32]*state{}
	fused := map[int32]bool{} // sets of which one unit has two reps as one: it stands with a rep fewer
	for _, r := range s.Rows {
		fused[r.Set] = fused[r.Set] || r.What == Double
	}
	for i, r := range s.Rows {
		if r.What != HalfRep {
			e := events[r.Rep]
			if e == nil {
				e = &state{what: r.What, set: r.Set}
				events[r.Rep] = e
			}
			e.rows[r.Unit]++
			if !aside[i] {
				e.left++
				e.rowsLeft[r.Unit]++
			}
		}
		if r.Copy || r.Unit == 1 && r.Real() {
			continue // copies and second accounts count by the rep, below
		}
		if aside[i] {
			t.Aside[r.What]++
		} else {
			t.Kept[r.What]++
		}
		if r.Travel || r.Time || r.Count {
			if aside[i] {
				t.EvidentAside[r.What]++
			} else {
				t.EvidentKept[r.What]++
			}
		}
	}
	for _, e := range events {
		if !e.what.Real() {
			continue
		}
		t.Reps++
		slow := e.what == Grinder || e.what == Paused
		if slow {
			t.Slow++
		}
		if e.left == 0 && !fused[e.set] {
			t.Lost++
			if slow {
				t.SlowLost++
			}
		}
		if e.rows[0] > 1 {
			t.Copied++
			if e.rowsLeft[0] > 1 {
				t.CopiesLeft++
			}
		}
		if e.rows[0] > 0 && e.rows[1] > 0 {
			t.Seen++
			if e.rowsLeft[0] > 0 && e.rowsLeft[1] > 0 {
				t.SeenLeft++
			}
		}
	}
	if res != nil {
		t.details(s, aside, res)
	}
}

// details counts what only cleaning in full does.
func (t *Tally) details(s *Season, aside []bool, res *clean.Result) {
	type wrong struct {
		set  int32
		unit int
	}
	loads := map[wrong]bool{} // set → flagged
	slips := map[wrong]bool{}
	for i, r := range s.Rows {
		if aside[i] || r.Copy {
			continue
		}
		row := int32(i)
		switch {
		case r.What == Missed:
			t.Misses++
			if res.Reps.Missed(row) {
				t.MissesSeen++
			}
		case res.Reps.Missed(row):
			t.FalseMisses++
		}
		if r.What == Double && res.Reps.Flags[row].Has(rep.FusedRep) {
			t.DoublesMarked++
		}
		k := wrong{r.Set, r.Unit}
		loads[k] = loads[k] || res.Reps.Flags[row].Has(rep.LoadCheck)
		slips[k] = slips[k] || r.WrongLoad
	}
	for i, r := range s.Rows {
		if r.What == HalfRep && !r.Copy && i > 0 {
			t.HalvesAll++
			for j := max(0, i-1); j < i; j++ {
				if s.Rows[j].Rep == r.Rep && res.Reps.Recorded(int32(j)).MeanVelocity.OK {
					t.Halves++
				}
			}
		}
	}
	for k, flagged := range loads {
		switch {
		case slips[k]:
			t.WrongLoads++
			if flagged {
				t.WrongFlagged++
			}
		case flagged:
			t.RightFlagged++
		}
	}
	type line struct {
		source string
		row    int32
	}
	notes := map[line]int{}
	for i := range s.Batch.Notes {
		n := &s.Batch.Notes[i]
		notes[line{n.Source, n.Row}] = i
	}
	taken := map[int]map[int32]bool{} // note → true sets it was joined to
	for _, set := range res.Sets.All() {
		if set.Log == nil || len(set.Rows) == 0 {
			continue
		}
		i, ok := notes[line{set.Log.Source, set.Log.Row}]
		if !ok {
			continue
		}
		if taken[i] == nil {
			taken[i] = map[int32]bool{}
		}
		taken[i][s.Rows[set.Rows[0]].Set] = true
	}
	// Lines that say the same are one to the coach, whichever is joined to which.
	same := map[any][]int{}
	var order []any
	for i := range s.Batch.Notes {
		n := s.Batch.Notes[i]
		n.Row, n.PerformedAt = 0, rep.Null[rep.Instant]{}
		if same[n] == nil {
			order = append(order, n)
		}
		same[n] = append(same[n], i)
	}
	for _, k := range order {
		joined, of := map[int32]bool{}, map[int32]bool{}
		for _, i := range same[k] {
			for set := range taken[i] {
				joined[set] = true
			}
			for _, n := range s.Notes[i] {
				of[n.Set] = of[n.Set] || n.There
			}
		}
		right := 0
		for set, there := range of {
			if joined[set] {
				right++
			}
			if there {
				t.Logged++
				if joined[set] {
					t.Joined++
				}
			}
		}
		t.Wrong += len(joined) - right
	}
}
