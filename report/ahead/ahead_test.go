package ahead

import (
	"runtime"
	"sync/atomic"
	"testing"
	"time"
)

func TestAhead(t *testing.T) {
	var most, now atomic.Int32
	next := 0
	for i, square := range Of(50, func(i int) int {
		most.Store(max(most.Load(), now.Add(1)))
		time.Sleep(time.Duration(50-i) * 10 * time.Microsecond) // later ones are done earlier
		now.Add(-1)
		return i * i
	}) {
		if i != next || square != i*i {
			t.Fatalf("%d, %d; want %d, %d", i, square, next, next*next)
		}
		next++
	}
	if next != 50 || int(most.Load()) > runtime.GOMAXPROCS(0) {
		t.Errorf("%d results, %d at a time", next, most.Load())
	}
	for i := range Of(5, func(i int) int { return i }) {
		if i == 2 {
			break // the rest is not waited for
		}
	}
}
