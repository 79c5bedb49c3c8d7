package clean_test

import (
	"slices"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// What the result says of each lifter is, put together, the result.
func TestOf(t *testing.T) {
	res, err := clean.Run(&rep.Batch{Reps: federation(30_000)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range res.Sets.All() {
		if !slices.Contains(names, s.Lifter) {
			names = append(names, s.Lifter)
		}
	}
	if len(names) < 3 {
		t.Fatalf("only %d lifters", len(names))
	}
	var kept []int32
	var aside, sets, taken int
	for _, name := range names {
		own := res.Of(name)
		for _, row := range own.Kept {
			if got := res.Reps.Text.Text(res.Reps.Lifter.At(row)); got != name {
				t.Fatalf("a kept rep of %s among those of %s", got, name)
			}
		}
		kept = append(kept, own.Kept...)
		aside, sets, taken = aside+len(own.Aside), sets+own.Sets.Len(), taken+len(own.Taken)
	}
	if !slices.Equal(kept, res.Kept) || aside != len(res.Aside) || sets != res.Sets.Len() || taken != len(res.Taken) {
		t.Errorf("%d kept, %d set aside, %d sets, %d taken; want %d, %d, %d, %d", len(kept), aside, sets, taken,
			len(res.Kept), len(res.Aside), res.Sets.Len(), len(res.Taken))
	}
	if own := res.Of("nobody"); len(own.Kept)+len(own.Aside)+own.Sets.Len() > 0 {
		t.Error("somebody's reps are nobody's")
	}
}
