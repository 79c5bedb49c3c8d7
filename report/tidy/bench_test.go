package tidy

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"

	"github.com/gocarina/gocsv"
	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress/zstd"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// season returns n reps as a federation has them: many lifters, each row near
// its neighbours, three digits.
func season(n int) *rep.Table {
	r := rand.New(rand.NewPCG(1, 2))
	t := new(rep.Table)
	for i := range n {
		set := i / 5
		q := rep.Rep{
			Lifter: fmt.Sprintf("lifter %04d", set/400), Date: rep.Day(20000 + set/10%40*7), Lift: "squat", Bar: "stiff", Device: "north unit",
			PerformedAt: rep.Some(rep.Instant(1_760_000_000_000 + int64(i)*3_210)), LoadKg: 60 + float64(set%10)*10,
			RepRecorded: rep.Some(int32(i%5 + 1)), MeanVelocity: float64(200+r.IntN(700)) / 1000, PeakVelocity: rep.Some(float64(400+r.IntN(900)) / 1000),
			ROM: rep.Some(float64(400+r.IntN(300)) / 1000), Concentric: rep.Some(float64(500+r.IntN(2000)) / 1000),
			Source: fmt.Sprintf("club %d/export.csv", set/4000), Row: int32(i%20000 + 2), Session: int32(set/10%40 + 1), Set: int32(set%10 + 1),
			Rep: int32(i%5 + 1), Role: rep.Role(1 + set%4),
		}
		if set%3 == 0 {
			q.RPE, q.RPEFrom = rep.Some(6+float64(r.IntN(9))/2), rep.RPEExport
		}
		if i%50 == 0 {
			q.Flags = q.Flags.With(rep.LoadCheck)
		}
		t.Append(&q)
	}
	return t
}

// BenchmarkReps holds what writes rows against the plain way to write them:
//
//	go test ./report/tidy -run XXX -bench Reps -cpu 1
func BenchmarkReps(b *testing.B) {
	const n = 4 * columnar.RowGroup
	t := season(n)
	rows := make([]int32, n)
	for i := range rows {
		rows[i] = int32(i)
	}
	for _, f := range []struct {
		name  string
		write func(io.Writer, *rep.Table, []int32) error
	}{{"parquet", RepsParquet}, {"parquet by row", repsByRow}, {"csv", RepsCSV}, {"csv by row", csvByRow}} {
		b.Run(f.name, func(b *testing.B) {
			for b.Loop() {
				var size counter
				if err := f.write(&size, t, rows); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(size)/n, "bytes/row")
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/row")
		})
	}
}

// csvByRow is the plain way: the library's writer of row structs.
func csvByRow(w io.Writer, t *rep.Table, rows []int32) error {
	for at := 0; at < len(rows); at += batch {
		var some []Rep
		for _, row := range rows[at:min(at+batch, len(rows))] {
			some = append(some, repOf(t, row))
		}
		var text bytes.Buffer
		if err := gocsv.MarshalCSVWithoutHeaders(some, &lines{&text}); err != nil {
			return err
		}
		if _, err := text.WriteTo(w); err != nil {
			return err
		}
	}
	return nil
}

// repsByRow is the plain way: the library's writer of row structs.
func repsByRow(w io.Writer, t *rep.Table, rows []int32) error {
	out := parquet.NewGenericWriter[Rep](w, parquet.Compression(&zstd.Codec{Level: zstd.SpeedFastest}), parquet.MaxRowsPerRowGroup(columnar.RowGroup))
	for at := 0; at < len(rows); at += batch {
		var some []Rep
		for _, row := range rows[at:min(at+batch, len(rows))] {
			some = append(some, repOf(t, row))
		}
		if _, err := out.Write(some); err != nil {
			return err
		}
	}
	return out.Close()
}

type counter int

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }
