package beside

import (
	"fmt"
	"math"
	"slices"

	"repsift/clean/history"
)

// relation is how a hand log writes the loads of a lift, all season long: a
// unit may be told what is on the bar, a log what is on one side of it.
type relation struct {
	text string // what the log's load is, of the unit's
	of   func(unit float64) float64
}

// relations are the habits met (common practice, no source). Bars weigh 15 or 20
// kg, some for squats 25 kg.
func relations() []relation {
	const pound = 0.45359237
	out := []relation{
		{"the unit's in lb", func(x float64) float64 { return x / pound }},
		{"the unit's from lb to kg", func(x float64) float64 { return x * pound }},
	}
	for _, bar := range [...]float64{20, 15, 25} {
		out = append(out,
			relation{fmt.Sprintf("the unit's and the bar's %g kg", bar), func(x float64) float64 { return x + bar }},
			relation{fmt.Sprintf("the unit's without the bar's %g kg", bar), func(x float64) float64 { return x - bar }},
			relation{fmt.Sprintf("what is on one side of a bar of %g kg", bar), func(x float64) float64 { return (x - bar) / 2 }},
			relation{fmt.Sprintf("both sides of the unit's and the bar's %g kg", bar), func(x float64) float64 { return 2*x + bar }})
	}
	return out
}

// What makes a relation the log's habit: so many logged sets, of which so many
// have a recorded set of the day with that load and those reps, and at least
// twice as many as have one with the load as it is.
const (
	habitSets = 6
	habitFits = 0.7
)

// findRelation learns how the log writes loads; nil where it writes them as the
// unit does, or where nothing is clear.
func (h *History) findRelation() *relation {
	type line struct {
		load, step float64
		units      history.Span // loads of the day's sets of as many reps
	}
	var lines []line
	loads := h.room.speeds[:0]
	h.eachLogDay(func(day int, in history.Span) {
		for i := range h.Logs[day].Said {
			n := h.Logs[day].Said[i].Note
			if !n.LoadKg.OK || !n.Reps.OK {
				continue
			}
			lo := int32(len(loads))
			for _, s := range h.Order[in.Lo:in.Hi] {
				if d := &h.accounts[s]; d.Reps.OK && d.Has(n.Reps.V) {
					loads = append(loads, d.Load.V)
				}
			}
			lines = append(lines, line{n.LoadKg.V, n.LoadStep, history.Span{Lo: lo, Hi: int32(len(loads))}})
		}
	})
	h.room.speeds = loads
	if len(lines) < habitSets {
		return nil
	}
	fit := func(of func(unit float64) float64) (n int) {
		for _, x := range lines {
			if slices.ContainsFunc(loads[x.units.Lo:x.units.Hi], func(unit float64) bool { return math.Abs(of(unit)-x.load) <= x.step/2+0.6 }) {
				n++
			}
		}
		return n
	}
	var best *relation
	most := max(int(math.Ceil(habitFits*float64(len(lines)))), 2*fit(func(unit float64) float64 { return unit })) - 1
	if most >= len(lines) {
		return nil // as it is fits so many that nothing fits twice as many
	}
	for _, r := range relations() {
		if n := fit(r.of); n > most {
			most, best = n, &r
		}
	}
	return best
}

// eachLogDay calls do for every day of the log on which there are sets.
func (h *History) eachLogDay(do func(day int, in history.Span)) {
	d := 0
	for i := range h.Logs {
		for d < len(h.Days) && h.Sets[h.Days[d].Lo].Date < h.Logs[i].Date {
			d++
		}
		if d < len(h.Days) && h.Sets[h.Days[d].Lo].Date == h.Logs[i].Date {
			do(i, h.Days[d])
		}
	}
}

// LogLoads says how the hand log writes the loads, where it is not as the unit
// does; else "".
func (h *History) LogLoads() string {
	if h.relation == nil {
		return ""
	}
	return h.relation.text
}
