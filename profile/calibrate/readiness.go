package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/simulate"
)

// readiness measures how often a day without any change is called faster or
// slower, and how often a day that is truly slower by two typical errors is.
func readiness(runs int, seed uint64) {
	for _, c := range []struct {
		title  string
		daySD  float64
		growth float64 // of the speed at a load in a week
		moving bool    // the warm-up's load follows the lifter's strength
	}{
		{"days alike but for 0.03 m/s", 0.03, 0, false},
		{"days alike but for 0.02 m/s", 0.02, 0, false},
		{"days alike but for 0.05 m/s", 0.05, 0, false},
		{"growing 0.004 m/s a week", 0.03, 0.004, false},
		{"growing, warm-up load with it", 0.03, 0.004, true},
	} {
		fmt.Printf("\nReadiness: %s\n%-24s %8s %8s %8s %22s\n", c.title, "", "known", "faster", "slower", "slower day called so")
		for _, n := range []int{4, 8, 20} {
			var mu sync.Mutex
			known, faster, slower, caught, asked := 0, 0, 0, 0, 0
			each(runs, seed, func(_ int, r *rand.Rand) {
				a := readinessRun(n, c.daySD, c.growth, c.moving, 0, r)
				b := readinessRun(n, c.daySD, c.growth, c.moving, -2*c.daySD, r)
				mu.Lock()
				defer mu.Unlock()
				if a.Verdict != profile.NotEnough {
					known++
				}
				switch a.Verdict {
				case profile.Faster:
					faster++
				case profile.Slower:
					slower++
				}
				asked++
				if b.Verdict == profile.Slower {
					caught++
				}
			})
			of := 100 / math.Max(float64(known), 1)
			fmt.Printf("%2d earlier days %14.0f %% %6.1f %% %6.1f %% %20.0f %%\n", n, 100*float64(known)/float64(asked),
				of*float64(faster), of*float64(slower), 100*float64(caught)/float64(asked))
		}
	}
}

func readinessRun(n int, daySD, growth float64, moving bool, shift float64, r *rand.Rand) profile.Readiness {
	log := simulate.NewLog("A", rep.Squat)
	const perKg = -0.008
	base := 120.0
	for i := range n + 1 {
		day := simulate.FirstDay + rep.Day(i*7/2)
		u := daySD * r.NormFloat64()
		if i == n {
			u += shift
		}
		kg := base
		if moving {
			kg += 2.5 * math.Round(growth*float64(i)/2/-perKg/2.5)
		}
		for _, x := range []float64{0.5, 0.75, 1} {
			load := simulate.Plates(kg * x)
			v := 0.55 + perKg*(load-base) + growth*float64(i)/2 + u
			if x < 1 {
				v += 0.02 * r.NormFloat64()
			}
			log.Set(day, load, rep.WarmUp, nan, v)
		}
		log.Set(day, 1.2*kg, rep.Top, 8, 0.3)
	}
	return profileOf(log).ReadinessNow
}
