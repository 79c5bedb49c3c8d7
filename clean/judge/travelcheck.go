package judge

import (
	"fmt"

	"repsift/clean/robust"
	"repsift/ingest/rep"
)

var travelCheck = &kind{
	Kind: rep.TravelCheck,
	what: "Sets aside a rep whose mean speed × duration is not its travel, after allowing for rounding and for how the unit " +
		"itself times a rep, learnt from its other reps.",
	limits: []limit{
		{name: "ratio", value: 1.5, source: unsourced, least: 1, most: 10},
	},
	look: func(h *History, l []float64, out *looks) {
		ratio := l[0]
		t := h.t
		for i, r := range h.Rows {
			rom, dur := h.rom[i], h.dur[i]
			if !out.in(i) || h.Missed[i] || h.mark[i] != whole || !h.bothGiven(i) {
				continue
			}
			// What half a digit of each value can do to the quotient.
			slack := (1 + t.MeanStep(r)/h.v[i]/2) * (1 + t.ROMStep(r)/rom/2) * (1 + 0.05/dur)
			q := h.v[i] * dur / rom / h.learnt.timing(h, i)
			out.at(i, q > ratio*slack || q < 1/(ratio*slack), h.v[i]*dur, rom)
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("mean speed × duration gives %s, but the travel is %s", travelText(f.measured), travelText(f.limit))
	},
}

// bothGiven reports whether the source gives travel and time of row i, as
// values that can be compared.
func (h *History) bothGiven(i int) bool {
	return h.given[i]&travelGiven != 0 && h.given[i]&timeGiven != 0 && h.rom[i] > 0 && h.dur[i] > 0 && h.v[i] > 0
}

// timing returns the usual quotient of speed × duration and travel of the unit
// that recorded row i: 1 unless the unit times or averages a rep otherwise.
func (l *learnt) timing(h *History, i int) float64 {
	if q, ok := l.timings[h.t.Device[h.Rows[i]]]; ok {
		return q
	}
	return 1
}

// timings learns the quotient per unit from reps that stand; with fewer than
// the given number it is 1.
func (h *History) timings(least int) map[rep.Sym]float64 {
	byUnit := make(map[rep.Sym][]float64)
	for i, r := range h.Rows {
		if h.standing(int32(i)) && h.bothGiven(i) {
			byUnit[h.t.Device[r]] = append(byUnit[h.t.Device[r]], h.v[i]*h.dur[i]/h.rom[i])
		}
	}
	out := make(map[rep.Sym]float64)
	for unit, q := range byUnit {
		if len(q) >= least {
			out[unit], _ = robust.MedianInPlace(q)
		}
	}
	return out
}
