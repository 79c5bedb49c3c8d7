package profile_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/simulate"
)

// BenchmarkAll profiles one lift of one lifter after so many weeks of two
// sessions.
func BenchmarkAll(b *testing.B) {
	for _, weeks := range []int{2, 14, 50} {
		b.Run(fmt.Sprintf("weeks=%d", weeks), func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 2))
			l := simulate.Draw(r)
			log := simulate.NewLog("A", rep.Squat)
			l.Train(log, weeks, true, r)
			b.ReportAllocs()
			for b.Loop() {
				profile.All(&log.Result, nil)
			}
		})
	}
}
