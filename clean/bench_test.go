package clean_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"repsift/clean"
	"repsift/clean/simulate"
	"repsift/clean/simulate/elsewhere"
	"repsift/ingest/rep"
)

// federation makes about n reps of many lifters, three lifts each: sets of
// five, one unit, ROM and peak, one rep in twelve of them false.
func federation(n int) *rep.Table {
	r := rand.New(rand.NewPCG(7, 7))
	t := new(rep.Table)
	for lifter := 0; t.Len() < n; lifter++ {
		name := fmt.Sprintf("lifter %d", lifter)
		for day := range 36 {
			for _, lift := range []string{rep.Squat, rep.BenchPress, rep.Deadlift} {
				for set, load := range []float64{60, 90, 110, 120, 120, 120} {
					for k := range 5 {
						v := 1.1 - 0.006*load - 0.02*float64(k) + 0.02*r.NormFloat64()
						rom := 0.5 + 0.01*r.NormFloat64()
						if r.IntN(12) == 0 {
							rom = 0.05
						}
						t.Append(&rep.Rep{Lifter: name, Date: day0 + rep.Day(2*day), Lift: lift, Device: "north", LoadKg: load,
							SetMark: rep.Some(int32(set + 1)), RepRecorded: rep.Some(int32(k + 1)), MeanVelocity: math.Round(1000*v) / 1000,
							PeakVelocity: rep.Some(math.Round(1600*v) / 1000), ROM: rep.Some(math.Round(1000*rom) / 1000),
							MeanStep: 0.001, PeakStep: 0.001, ROMStep: 0.001, LoadStep: 0.5, Source: "unit.csv", Row: int32(t.Len() + 2)})
					}
				}
			}
		}
	}
	return t
}

func BenchmarkRun(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprintf("reps=%d", n), func(b *testing.B) {
			t := federation(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := clean.Run(&rep.Batch{Reps: t}, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(t.Len())*float64(b.N)/b.Elapsed().Seconds(), "reps/s")
		})
	}
}

// BenchmarkSeasons cleans simulated seasons, which have all that makes cleaning
// dear: second units, hand logs, overlapping exports, speeds alone.
func BenchmarkSeasons(b *testing.B) {
	for _, world := range []struct {
		name string
		make func(seed uint64) *simulate.Season
	}{{"simulated", simulate.New}, {"elsewhere", elsewhere.New}} {
		b.Run("world="+world.name, func(b *testing.B) {
			var seasons []*simulate.Season
			reps := 0
			for seed := range uint64(20) {
				s := world.make(3_100_000 + seed)
				seasons, reps = append(seasons, s), reps+s.Batch.Reps.Len()
			}
			b.ReportAllocs()
			for b.Loop() {
				for _, s := range seasons {
					if _, err := clean.Run(s.Batch, nil); err != nil {
						b.Fatal(err)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(reps*b.N), "ns/rep")
		})
	}
}
