package clean_test

import (
	"context"
	"errors"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// ending is a context that ends when it has been asked so many times.
type ending struct {
	context.Context
	left int
}

func (e *ending) Err() error {
	if e.left--; e.left < 0 {
		return context.Canceled
	}
	return nil
}

// TestCalledOff: cleaning that is called off ends with the next lifter and says
// so.
func TestCalledOff(t *testing.T) {
	for left := range 6 {
		var reps rep.Table
		for lifter := range 20 {
			for i := range 5 {
				reps.Append(&rep.Rep{Lifter: string(rune('a' + lifter)), Lift: rep.Squat, LoadKg: 100, MeanVelocity: 0.5, Row: int32(5*lifter + i)})
			}
		}
		res, err := clean.RunContext(&ending{context.Background(), left}, &rep.Batch{Reps: &reps}, nil)
		if res != nil || !errors.Is(err, context.Canceled) {
			t.Fatalf("after %d lifters: %v, %v", left, res, err)
		}
		begun := 0
		for i := 0; i < reps.Len(); i += 5 {
			if reps.Session.At(int32(i)) > 0 {
				begun++
			}
		}
		if begun > left {
			t.Errorf("%d lifters were cleaned after %d", begun, left)
		}
	}
}
