package ingest

import (
	"context"
	"os"
	"testing"
)

// BenchmarkRead reads the file that REPSIFT_BENCH names.
func BenchmarkRead(b *testing.B) {
	name := os.Getenv("REPSIFT_BENCH")
	if name == "" {
		b.Skip("REPSIFT_BENCH names no file")
	}
	data := os.DirFS(name)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		r, err := Read(context.Background(), data, []string{"two.csv"}, nil, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if r.Sources[0].Err != nil {
			b.Fatal(r.Sources[0].Err)
		}
		n += r.Reps.Len()
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "rows/s")
}
