package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// score gathers errors of many reps.
type score struct {
	sets, exact, reps                                   int
	sum, sq, worst, rom, worst2, absV, absR, start, end float64
	over                                                int
}

func (s *score) add(want trueRep, got Found) {
	d, r := got.MeanVelocity-want.mean, got.ROM-want.rom
	s.reps++
	s.sum += d
	s.sq += d * d
	s.rom += r
	s.absV += math.Abs(d)
	s.absR += math.Abs(r)
	if math.Abs(d) > 0.01 {
		s.over++
	}
	s.worst = max(s.worst, math.Abs(d))
	s.worst2 = max(s.worst2, math.Abs(r))
	s.start += got.At - want.start
	s.end += got.At + got.Concentric - want.end
}

func TestTwoMassPulls(t *testing.T) {
	for _, tether := range []string{rep.TetherCentre, rep.TetherSleeveEnd} {
		for _, keep := range []bool{true, false} {
			var s score
			for seed := range uint64(150) {
				rng := rand.New(rand.NewPCG(seed, 1))
				r := newRig(rng, rep.Deadlift, rep.DeadliftBar, tether)
				x, want := r.run(rng, pulls(rng, r), true)
				found, _ := r.find(x, Options{KeepFlex: keep})
				var got []Found
				for _, f := range found {
					if f.Kind == Rep {
						got = append(got, f)
					}
				}
				s.sets++
				if len(got) != len(want) {
					if !keep {
						t.Logf("seed %d: %d reps, want %d; %+v", seed, len(got), len(want), r)
						for _, f := range found {
							t.Logf("   %v %.2f %.3f %.2f %s", f.Kind, f.At, f.ROM, f.Concentric, f.Why)
						}
					}
					continue
				}
				s.exact++
				for i := range got {
					s.add(want[i], got[i])
				}
			}
			n := float64(s.reps)
			t.Logf("%-12s keep %-5v sets %d exact %d reps %d | v: bias %+.4f mean|e| %.4f sd %.4f worst %.4f over %.1f%% | rom: bias %+.4f |e| %.4f worst %.4f | start %+.3f end %+.3f",
				tether, keep, s.sets, s.exact, s.reps, s.sum/n, s.absV/n, math.Sqrt(s.sq/n), s.worst, 100*float64(s.over)/n, s.rom/n, s.absR/n, s.worst2, s.start/n, s.end/n)
		}
	}
}
