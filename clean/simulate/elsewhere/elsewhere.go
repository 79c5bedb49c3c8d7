// Package elsewhere invents seasons in another world than package simulate:
// other lifters and lifts, other habits of what a unit takes for a rep, other
// exports, other ways to keep a log. What holds in both is likely to hold in a
// gym; a limit that was only fitted to one shows here.
//
//   - Lifters: beginners, very strong ones, light loads; six lifts, among them
//     fast ones and partial ones under the name of the full one; a change of
//     groove or of variant in mid-season; a comeback from injury with light fast
//     reps; tempo, paused, touch-and-go and cluster sets (lifter.go).
//   - Units: unracks of a rep's travel but over at once, several steps of a
//     walkout, a re-rack lowered to the pins, touches and loading between sets,
//     two rebounds of one lockout, the drop of a deadlift, a count that begins
//     anew within a set, lost reps (unit.go).
//   - Exports: no travel, no duration, no peak, a date only, clocks of two
//     seconds, no set numbers, set numbers that begin anew at every load or run
//     through the day, rep numbers from 0 or through the day, speeds to
//     0.05 m/s, pounds, lines backwards or shuffled (export.go).
//   - Logs: one line for several sets, loads rounded to plates or typed in the
//     other unit, lines forgotten or out of order (log.go).
//
// All distributions: common practice, no source. The truth is told in the terms
// of package simulate.
package elsewhere

import (
	"math"
	"math/rand/v2"

	"repsift/clean/simulate"
	"repsift/ingest/rep"
)

// world draws a season.
type world struct {
	*rand.Rand
	out    simulate.Season
	table  *rep.Table
	events int32
	sets   int32
	marks  map[string]int32 // last set number of a source and whatever it counts by
	lines  map[string]int32 // last line of a source
}

// New returns the season of a seed.
func New(seed uint64) *simulate.Season {
	w := &world{Rand: rand.New(rand.NewPCG(seed, 0xe15e)), table: new(rep.Table), marks: map[string]int32{}, lines: map[string]int32{}}
	l := w.lifter()
	sets := w.train(&l)
	notes := w.export(&l, sets)
	w.out.Batch = &rep.Batch{Reps: w.table, Notes: notes}
	w.there()
	w.out.Count()
	return &w.out
}

func (w *world) between(lo, hi float64) float64 { return lo + (hi-lo)*w.Float64() }
func (w *world) normal(mean, sd float64) float64 {
	return mean + sd*max(-3.5, min(3.5, w.NormFloat64()))
}
func (w *world) chance(p float64) bool { return w.Float64() < p }
func (w *world) whole(lo, hi int) int  { return lo + w.IntN(hi-lo+1) }

// skewed draws from lo to hi, the lower half more often.
func (w *world) skewed(lo, hi float64) float64 { return lo + (hi-lo)*w.Float64()*w.Float64() }

func pick[T any](w *world, of ...T) T { return of[w.IntN(len(of))] }

// digits rounds x to steps; 0 leaves it.
func digits(x, step float64) float64 {
	if step == 0 || math.IsNaN(x) {
		return x
	}
	return math.Round(x/step) * step
}
