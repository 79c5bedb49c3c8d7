package trace

import (
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// BenchmarkHour reads an hour at 500 Hz, a set of five squats every three
// minutes, as a stream. Allocations tell that memory does not follow the trace.
func BenchmarkHour(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	_, xs := sensor{hz: 500, noise: 0.0002, step: 0.0005}.sample(r, append(squats(5), still(180-28.9))...)
	const samples = 3600 * 500
	b.ReportAllocs()
	for b.Loop() {
		n := 0
		s := New(Options{Lift: rep.Squat, Up: 1}, func(f Found) {
			if f.Kind == Rep {
				n++
			}
		})
		for i := range samples {
			if err := s.Add(int32(i), rep.Some(float64(i)/500), rep.Some(xs[i%len(xs)]), rep.Null[float64]{}); err != nil {
				b.Fatal(err)
			}
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
		if n < 95 {
			b.Fatalf("%d reps", n)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/60, "ms/minute")
}
