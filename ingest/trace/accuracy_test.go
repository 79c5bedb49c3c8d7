package trace

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

var setsFlag = flag.Int("sets", 30, "simulated sets of each kind in TestTwoMass")

// score gathers the errors of many reps.
type score struct {
	sets, exact, reps int
	bias, abs, worst  float64 // of mean velocity, m/s: sums, largest
	rom, absROM, far  float64 // of travel, m
}

func (s *score) add(want trueRep, got Found) {
	v, r := got.MeanVelocity-want.mean, got.ROM-want.rom
	s.reps++
	s.bias += v
	s.abs += math.Abs(v)
	s.worst = max(s.worst, math.Abs(v))
	s.rom += r
	s.absROM += math.Abs(r)
	s.far = max(s.far, math.Abs(r))
}

// line returns the score as a line of the table in the package comment.
func (s *score) line() string {
	n := float64(max(s.reps, 1))
	return fmt.Sprintf("%3d of %3d   %+.4f  %.4f  %.3f   %+.4f  %.4f  %.3f",
		s.exact, s.sets, s.bias/n, s.abs/n, s.worst, s.rom/n, s.absROM/n, s.far)
}

// simulated runs simulated sets through the Segmenter.
func simulated(t *testing.T, lift, bar, tether string, sets int, keepFlex bool) *score {
	s := new(score)
	for seed := range uint64(sets) {
		rng := rand.New(rand.NewPCG(seed, 1))
		r := newRig(rng, lift, bar, tether)
		legs, floor := pulls, true
		if lift != rep.Deadlift {
			legs, floor = racked, false
		}
		x, want := r.run(rng, legs(rng, r), floor)
		found, _ := r.find(x, Options{KeepFlex: keepFlex})
		var got []Found
		for _, f := range found {
			if f.Kind <= Missed {
				got = append(got, f)
			}
		}
		s.sets++
		wrong := len(got) != len(want)
		for i := 0; i < len(got) && !wrong; i++ {
			wrong = (got[i].Kind == Missed) != (want[i].name == "missed")
		}
		if wrong {
			t.Logf("%s, %s: seed %d: %d reps, want %d", lift, tether, seed, len(got), len(want))
			continue
		}
		s.exact++
		for i := range got {
			if want[i].name == "rep" {
				s.add(want[i], got[i])
			}
		}
	}
	return s
}

// TestTwoMass measures reps against the plates' true motion in the two-mass
// simulation. With flex left in, pulls must come out worse.
func TestTwoMass(t *testing.T) {
	sets := *setsFlag
	t.Log("                                             sets exact   mean velocity: bias, |error|, worst; travel: bias, |error|, worst")
	for _, c := range []struct {
		lift, bar, tether string
		bias, abs         float64 // m/s
	}{
		{rep.Deadlift, rep.DeadliftBar, rep.TetherCentre, 0.003, 0.010},
		{rep.Deadlift, rep.DeadliftBar, rep.TetherSleeveEnd, 0.003, 0.010},
		{rep.Squat, rep.StiffBar, rep.TetherCentre, 0.003, 0.010},
		{rep.Squat, rep.StiffBar, rep.TetherInsideSleeve, 0.003, 0.010},
		{rep.BenchPress, rep.StiffBar, rep.TetherCentre, 0.003, 0.010},
		{rep.BenchPress, rep.StiffBar, rep.TetherInsideSleeve, 0.003, 0.010},
	} {
		s := simulated(t, c.lift, c.bar, c.tether, sets, false)
		t.Logf("%-11s %-8s %-13s flex out   %s", c.lift, c.bar, c.tether, s.line())
		n := float64(s.reps)
		slack := 1 + 4/math.Sqrt(float64(sets)) // limits are of many sets
		if d := s.bias / n; math.Abs(d) > c.bias*slack {
			t.Errorf("%s, %s: mean velocity is biased by %+.4f m/s", c.lift, c.tether, d)
		}
		if d := s.abs / n; d > c.abs*slack {
			t.Errorf("%s, %s: mean velocity is off by %.4f m/s", c.lift, c.tether, d)
		}
		if d := s.absROM / n; d > 0.01 {
			t.Errorf("%s, %s: travel is off by %.4f m", c.lift, c.tether, d)
		}
		if float64(s.exact) < 0.995*float64(s.sets) {
			t.Errorf("%s, %s: reps counted exactly in %d of %d sets", c.lift, c.tether, s.exact, s.sets)
		}
		kept := simulated(t, c.lift, c.bar, c.tether, sets/2, true)
		t.Logf("%-11s %-8s %-13s flex in    %s", c.lift, c.bar, c.tether, kept.line())
		if c.lift == rep.Deadlift && kept.abs/float64(kept.reps) < 1.5*s.abs/n {
			t.Errorf("%s, %s: taking flex out gains nothing", c.lift, c.tether)
		}
	}
}
