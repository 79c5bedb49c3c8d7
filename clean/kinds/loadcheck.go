package kinds

import (
	"fmt"
	"math"

	"repsift/clean/robust"
	"repsift/ingest/rep"
)

// leastOff is how far a speed must be off whatever the scatter, m/s: three
// times the change that counts between two reps, 0.08 m/s (2.77 typical errors
// of 0.03 m/s, derived from Grgic 2020).
const leastOff = 0.25

var loadCheck = &Spec{
	Kind: rep.LoadCheck,
	What: "Marks the reps of a set whose fastest speed does not fit the entered load, by the lifter's own line of load and speed: " +
		"a typing slip. Suggests the load that fits. Kept out of profiles.",
	Flags: true,
	Limits: []Limit{
		{Name: "deviations", Value: 6, Source: unsourced, Least: 2, Most: 50},
		{Name: "learn_reps", Value: 24, Source: unsourced, Least: 3, Most: 1000},
	},
	Look: func(h *History, l []float64, out *Looks) {
		line := h.Learnt.Line
		if line.Sets == 0 || float64(line.Reps) < l[1] {
			return
		}
		allowed, slowest := max(l[0]*line.Deviation, leastOff), h.VelocityAt1RM()
		type check struct {
			set              int
			fastest, usual   float64
			tooSlow, tooFast bool
		}
		var checks []check // of those that are off
		for _, d := range h.Days {
			n := 0
			checks = checks[:0]
			for s := int(d.Lo); s < int(d.Hi); s++ {
				fastest, ok := h.Fastest(s)
				if !ok {
					continue
				}
				c := check{set: s, fastest: h.Speed[fastest], usual: line.At(h.Load[h.Sets[s].Lo], slowest)}
				// Too slow is a set whose fastest rep is; too fast, one whose middle rep
				// is, as one bounce must not speak for a whole set.
				c.tooSlow = c.fastest < c.usual-allowed
				c.tooFast = c.fastest > c.usual+allowed && h.middleSpeed(s) > c.usual+allowed
				n++
				if !out.Skip(!c.tooSlow && !c.tooFast) {
					checks = append(checks, c)
				}
			}
			// A day on which most sets are slow is one on which the lifter lifted
			// slowly, on purpose or hurt; unless pounds explain it.
			slow := 0
			for _, c := range checks {
				if c.tooSlow && !h.fitsPounds(h.Load[h.Sets[c.set].Lo], c.fastest) {
					slow++
				}
			}
			spared := slow >= slowSets && float64(slow) >= slowShare*float64(n)
			for _, c := range checks {
				off := c.tooFast || c.tooSlow && !spared
				for i := h.Sets[c.set].Lo; i < h.Sets[c.set].Hi; i++ {
					if out.In(i) {
						out.At(i, off, c.fastest, c.usual)
					}
				}
			}
		}
	},
	Unit: SpeedText,
	Say: func(h *History, i int, f Finding) string {
		text := fmt.Sprintf("fastest rep of the set %s, but %s is usually lifted at %s", SpeedText(f.Measured), LoadText(h.Load[i]), SpeedText(f.Limit))
		if likely, ok := h.likelyLoad(h.SetAt(int32(i)), f.Measured); ok {
			text += fmt.Sprintf("; %s would fit", LoadText(likely))
		}
		return text
	},
}

// How many sets of a day, and which share of them, make a slow day: common
// practice, no source.
const (
	slowSets  = 2
	slowShare = 0.4
)

// fitsPounds reports whether speed v is usual at a load that was entered in kg
// and meant in lb, or the reverse.
func (h *History) fitsPounds(load, v float64) bool {
	l := h.Learnt.Line
	for _, c := range [...]float64{load * pound, load / pound} {
		if math.Abs(l.At(c, h.VelocityAt1RM())-v) < 1.5*l.Deviation {
			return true
		}
	}
	return false
}

const pound = 0.45359237 // kg: exact, NIST SP 811

// middleSpeed returns the median speed of the reps of set s that stand.
func (h *History) middleSpeed(s int) float64 {
	var vs []float64
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Standing(i) && !h.Missed[i] {
			vs = append(vs, h.Speed[i])
		}
	}
	v, _ := robust.MedianInPlace(vs)
	return v
}

// likelyLoad returns the load that was probably meant where set s was done at
// speed v: of the usual slips (decimal mark, kg for lb and lb for kg, a pair of
// plates or the bar forgotten), the one whose usual speed is nearest, if it fits.
func (h *History) likelyLoad(s int, v float64) (kg float64, ok bool) {
	line := h.Learnt.Line
	load := h.Load[h.Sets[s].Lo]
	best := 2 * line.Deviation
	for _, c := range [...]float64{load * 10, load / 10, load * pound, load / pound,
		load + 20, load + 40, load + 50, load - 20, load - 40, load - 50} {
		if c < 15 || c > 500 {
			continue
		}
		if d := math.Abs(line.At(c, h.VelocityAt1RM()) - v); d < best {
			best, kg, ok = d, math.Round(2*c)/2, true
		}
	}
	return kg, ok
}
