package profile_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"repsift/clean"
	simulateclean "repsift/clean/simulate"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/simulate"
)

// TestRandomSeasons: seasons with false reps, copies, two units and hand logs,
// cleaned and profiled: every number is sound and one that a lifter can have.
func TestRandomSeasons(t *testing.T) {
	for seed := range uint64(25) {
		s := simulateclean.New(4000 + seed)
		res, err := clean.Run(s.Batch, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := profile.All(res, nil)
		name := fmt.Sprintf("season %d", seed)
		sound(t, name, reflect.ValueOf(p))
		possible(t, name, p)
		numbered(t, name, res, p)
	}
}

// numbered fails the test where a session of a profile has another number than in
// the tables of reps and sets.
func numbered(t *testing.T, name string, res *clean.Result, p *profile.Profiles) {
	t.Helper()
	days := map[string][]rep.Day{}
	for i := range p.Lifters {
		days[p.Lifters[i].Name] = p.Lifters[i].SessionDates
	}
	for i := range res.Sets.Len() {
		set := res.Sets.At(i)
		if own := days[set.Lifter]; own != nil && (int(set.Session) > len(own) || own[set.Session-1] != set.Date) {
			t.Fatalf("%s: session %d of %s is on %s, in the profile on others: %v", name, set.Session, set.Lifter, set.Date, own)
		}
	}
}

// possible fails the test on a number that no lifter can have.
func possible(t *testing.T, name string, p *profile.Profiles) {
	t.Helper()
	readBack(t, name, p)
	within := func(what string, lo, hi float64, xs ...float64) {
		for _, x := range xs {
			if !math.IsNaN(x) && !(lo <= x && x <= hi) {
				t.Errorf("%s: %s = %v", name, what, x)
			}
		}
	}
	estimate := func(what string, lo, hi float64, e profile.Estimate) {
		if e.Known {
			within(what, lo, hi, e.Value, e.Lo, e.Hi)
		}
	}
	const kg, speed = 2000, 5
	for i := range p.Lifters {
		for k := range p.Lifters[i].Lifts {
			l := &p.Lifters[i].Lifts[k]
			estimate("e1RM", 0, kg, l.E1RMNow)
			for _, e := range l.E1RM {
				estimate("e1RM of a day", 0, kg, e.Kg)
			}
			for _, e := range l.E1RMFrom {
				within("weight", -1e-9, 1+1e-9, float64(e.Weight))
			}
			for _, line := range []profile.EffortLine{l.Effort.EffortLine, l.Effort.LastRep} {
				estimate("at RPE 8", 0, speed, line.AtRPE8)
				within("scatter", 0, speed, float64(line.Scatter), float64(line.DaySD))
				for _, x := range line.ByRPE {
					estimate("speed at an RPE", 0, speed, x.Speed)
					within("mean at an RPE", 0, speed, float64(x.MeanLo), float64(x.MeanHi))
				}
				for _, x := range line.BySpeed {
					estimate("RPE of a speed", 4.75, 10, x.RPE)
				}
			}
			for _, x := range l.LoadVelocity.Table {
				within("load of the table", 0, kg, float64(x.LoadLo), float64(x.LoadKg), float64(x.LoadHi))
				within("speed of the table", 0, speed, float64(x.Lo), float64(x.Fastest), float64(x.Hi))
			}
			for _, x := range l.LoadVelocity.Curve {
				within("curve", 0, speed, float64(x.Speed), float64(x.MeanLo), float64(x.MeanHi), float64(x.NextLo), float64(x.NextHi))
			}
			estimate("velocity at 1RM", 0, speed, l.LoadVelocity.V1RM)
			for _, r := range l.Readiness {
				within("share of usual days", 0, 1, float64(r.AsSlow))
				within("typical error", 0, speed, float64(r.TypicalError), float64(r.MDC), float64(r.SWC))
				estimate("usual", 0, speed, r.Usual)
			}
			for _, b := range l.Blocks {
				estimate("RPE of a block", 0, 10, b.MeanRPE)
				estimate("calls kept", 0, 1, b.Calls.Within)
				estimate("loss", -1, 1, b.Loss)
				estimate("e1RM of a block", 0, kg, b.E1RM)
				if b.HardSets > b.Sets || b.Calls.Called > b.Sets || b.Sessions > b.Days || b.Tonnage < 0 {
					t.Errorf("%s: block %+v", name, b)
				}
			}
			for _, s := range l.VelocityLoss.Stop {
				estimate("end of a set", 0, speed, s.Speed)
			}
		}
	}
}

// TestOddLifters: what lifters do that no method was made for. Numbers stay
// sound, and those that the data cannot tell say what they wait for.
func TestOddLifters(t *testing.T) {
	trained := func(seed uint64, weeks int) *simulate.Log {
		r := rand.New(rand.NewPCG(21, seed))
		l := simulate.Draw(r)
		log := simulate.NewLog("A", rep.Squat)
		l.Train(log, weeks, true, r)
		return log
	}
	only := func(log *simulate.Log, keep func(s *rep.Set) bool) *simulate.Log {
		var sets rep.Sets
		for _, s := range log.Result.Sets.All() {
			if keep(&s) {
				sets.Add(s)
			}
		}
		log.Result.Sets = sets
		return log
	}
	for name, c := range map[string]struct {
		log   *simulate.Log
		waits func(l *profile.Lift) []profile.Estimate // what cannot be told
	}{
		"two days": {trained(1, 1), func(l *profile.Lift) []profile.Estimate {
			return []profile.Estimate{l.LoadVelocity.Slope, l.ReadinessNow.Usual, l.E1RMTrend.PerWeek, l.Effort.DriftPerWeek}
		}},
		"one load": {func() *simulate.Log {
			log := simulate.NewLog("A", rep.Squat)
			r := rand.New(rand.NewPCG(21, 2))
			for i := range 28 {
				log.Set(simulate.FirstDay+rep.Day(i*7/2), 60, rep.WarmUp, simulate.Uncalled, 0.9+0.03*r.NormFloat64(), 0.9)
			}
			return log
		}(), func(l *profile.Lift) []profile.Estimate {
			return []profile.Estimate{l.LoadVelocity.Slope, l.LoadVelocity.Curvature, l.E1RMNow, l.Effort.AtRPE8}
		}},
		"always 8 or 9": {only(trained(3, 14), func(s *rep.Set) bool { return !s.RPE.OK || s.RPE.V == 8 || s.RPE.V == 9 }), nil},
		"no calls": {func() *simulate.Log {
			log := trained(4, 14)
			for i := range log.Result.Sets.Len() {
				log.Result.Sets.Whole(i).RPE = rep.Null[float64]{}
			}
			return log
		}(), func(l *profile.Lift) []profile.Estimate {
			return []profile.Estimate{l.Effort.AtRPE8, l.Effort.PerRPE, l.Effort.CallBias, l.VelocityLoss.PerRepLeft, l.Blocks[0].MeanRPE}
		}},
		"every tenth speed wild": {func() *simulate.Log {
			log := trained(5, 14)
			for i := range int32(log.Result.Reps.Len()) {
				if i%10 == 0 {
					log.Result.Reps.MeanVelocity.Set(i, 2.5)
				}
			}
			return log
		}(), nil},
		"all speeds one": {func() *simulate.Log {
			log := trained(6, 14)
			for i := range int32(log.Result.Reps.Len()) {
				log.Result.Reps.MeanVelocity.Set(i, 0.5)
			}
			return log
		}(), nil},
		"four years": {trained(7, 208), nil},
	} {
		p := profile.All(&c.log.Result, nil)
		sound(t, name, reflect.ValueOf(p))
		possible(t, name, p)
		if c.waits == nil {
			continue
		}
		if len(p.Lifters) != 1 || len(p.Lifters[0].Lifts) != 1 {
			t.Fatalf("%s: %d lifters", name, len(p.Lifters))
		}
		for i, e := range c.waits(&p.Lifters[0].Lifts[0]) {
			if e.Known || e.Have >= e.Need || e.Of == "" {
				t.Errorf("%s: number %d = %+v, want what it waits for", name, i, e)
			}
		}
	}
}
