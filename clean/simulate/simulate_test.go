package simulate_test

import (
	"reflect"
	"testing"

	"repsift/clean"
	"repsift/clean/simulate"
	"repsift/clean/simulate/elsewhere"
)

// worlds are the two ways to make seasons.
var worlds = map[string]func(uint64) *simulate.Season{"simulate": simulate.New, "elsewhere": elsewhere.New}

// TestDeterministic: one seed, one season.
func TestDeterministic(t *testing.T) {
	for name, world := range worlds {
		a, b := world(20_000), world(20_000)
		if !reflect.DeepEqual(a.Rows, b.Rows) || !reflect.DeepEqual(a.Notes, b.Notes) || a.Batch.Reps.Len() != b.Batch.Reps.Len() {
			t.Fatalf("%s: two seasons of one seed differ", name)
		}
		for i := range a.Rows {
			if a.Batch.Reps.Rep(int32(i)) != b.Batch.Reps.Rep(int32(i)) {
				t.Fatalf("%s: row %d differs", name, i)
			}
		}
		if c := world(20_001); c.Batch.Reps.Len() == a.Batch.Reps.Len() && reflect.DeepEqual(a.Rows, c.Rows) {
			t.Errorf("%s: two seeds give one season", name)
		}
	}
}

// TestTruthComplete: every row and note has its truth, and every kind occurs.
func TestTruthComplete(t *testing.T) {
	for name, world := range worlds {
		var seen [simulate.Whats]int
		for seed := range uint64(12) {
			s := world(20_000 + seed)
			if len(s.Rows) != s.Batch.Reps.Len() || len(s.Notes) != len(s.Batch.Notes) {
				t.Fatalf("%s %d: %d truths of %d rows, %d of %d notes", name, seed, len(s.Rows), s.Batch.Reps.Len(), len(s.Notes), len(s.Batch.Notes))
			}
			for _, r := range s.Rows {
				seen[r.What]++
			}
		}
		for w, n := range seen {
			if n == 0 {
				t.Errorf("%s: no %s in twelve seasons", name, simulate.What(w))
			}
		}
	}
}

// TestCleaningHolds guards what measure.go measures at length: on a few seasons
// of either world that no limit was chosen on, few false rows stay and hardly a
// rep is lost.
func TestCleaningHolds(t *testing.T) {
	for name, world := range worlds {
		var all simulate.Tally
		for seed := range uint64(16) {
			s := world(20_000 + seed)
			res, err := clean.Run(s.Batch, nil)
			if err != nil {
				t.Fatal(err)
			}
			aside := make([]bool, len(s.Rows))
			for _, a := range res.Aside {
				aside[a.Row] = true
			}
			all.Add(s, aside, res)
		}
		found, evident := 0, 0
		for w := range simulate.Whats {
			if !w.Real() {
				found += all.EvidentAside[w]
				evident += all.EvidentAside[w] + all.EvidentKept[w]
			}
		}
		if float64(found) < 0.97*float64(evident) {
			t.Errorf("%s: %d of %d false rows found", name, found, evident)
		}
		if float64(all.Lost) > 0.002*float64(all.Reps) || float64(all.CopiesLeft) > 0.002*float64(all.Copied) ||
			float64(all.SeenLeft) > 0.01*float64(all.Seen) || float64(all.Wrong) > 0.005*float64(all.Logged) {
			t.Errorf("%s: of %d reps %d lost, %d copies left, %d counted twice; of %d logged sets %d joined wrong",
				name, all.Reps, all.Lost, all.CopiesLeft, all.SeenLeft, all.Logged, all.Wrong)
		}
	}
}
