package main

import (
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
	"repsift/profile/simulate"
)

// blocks measures what a block review says of two blocks of six weeks between
// which the 1RM grows by 3 %, and of two between which nothing changes.
func blocks(runs int, seed uint64) {
	for _, growth := range []float64{0, 0.03} {
		var t tally
		t.name("change of e1RM, kg", "change of speed at common loads", "change of speed at the same RPE", "trend of speed at a load, a week")
		each(runs, seed, func(_ int, r *rand.Rand) {
			w := simulate.Draw(r)
			w.Growth, w.Wander = 0, 0
			log := simulate.NewLog("A", rep.Squat)
			now := w.Max
			for block := range 2 {
				if block == 1 {
					now = w.Max * (1 + growth)
				}
				for i := range 12 {
					day := simulate.FirstDay + rep.Day(block*60+i*7/2)
					today := now * math.Exp(w.DayForm*r.NormFloat64())
					u := w.DaySD * r.NormFloat64()
					speed := func(kg float64) float64 {
						v := w.Speed(kg, now)
						return v + u + w.Noise(v, r)
					}
					for _, share := range []float64{0.3, 0.45, 0.6, 0.7, 0.8} {
						kg := simulate.Plates(share * w.Max) // the same loads in both
						log.Set(day, kg, rep.WarmUp, simulate.Uncalled, speed(kg))
					}
					kg := simulate.Plates(now * w.Share(2+1.5*r.Float64()))
					log.Set(day, kg, rep.Top, w.Call(10-w.Left(kg/today), r), speed(kg))
				}
			}
			p := profileOf(log)
			if len(p.Blocks) != 2 {
				panic("two blocks were trained")
			}
			b := p.Blocks[1]
			t.held("change of e1RM, kg", b.E1RMChange, w.Max*growth)
			mean := simulate.Plates(0.3*w.Max) + simulate.Plates(0.45*w.Max) + simulate.Plates(0.6*w.Max) + simulate.Plates(0.7*w.Max) + simulate.Plates(0.8*w.Max)
			t.held("change of speed at common loads", b.SpeedChange, w.PerMax*mean/5/w.Max*growth/(1+growth))
			t.held("change of speed at the same RPE", b.EffortChange, 0)
			if growth == 0 {
				for _, x := range p.Progress {
					t.held("trend of speed at a load, a week", x.PerWeek, 0)
				}
			}
		})
		t.print(map[float64]string{0: "Block review: nothing changes", 0.03: "Block review: 1RM + 3 %"}[growth])
	}
}
