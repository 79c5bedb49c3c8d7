package judge

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
)

var usualTravel = &kind{
	Kind: rep.UsualTravel,
	what: "Sets aside a rep whose travel is outside the lifter's own band for the lift, learnt as median and median absolute " +
		"deviation per variant, bar, tether and unit. With too few reps there is no band and only the floor holds. Missed reps are " +
		"exempt, and so is a set whose reps all share another travel: that is another variant, not a false rep.",
	limits: []limit{
		// 3.5 scaled deviations mark an outlier (Iglewicz & Hoaglin 1993); the
		// shares keep the band wide for a lifter who never varies.
		{name: "deviations", value: 5, source: "wider than the 3.5 of Iglewicz & Hoaglin 1993: " + unsourced, least: 1, most: 100},
		{name: "low_share", value: 0.6, source: unsourced, most: 1},
		{name: "high_share", value: 1.5, source: unsourced, least: 1, most: 10},
		{name: "learn_reps", value: 10, source: unsourced, least: 3, most: 1000},
	},
	look: func(h *History, l []float64, out *looks) {
		deviations, low, high, least := l[0], l[1], l[2], l[3]
		for s := range h.Sets {
			b := h.learnt.band(h, s, int(least))
			if b.n == 0 {
				continue
			}
			lo, hi := b.limits(deviations, low, high)
			own := h.ownTravel(s, b.median)
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				rom := h.rom[i]
				if !out.in(int(i)) || h.Missed[i] || h.mark[i] != whole || math.IsNaN(rom) {
					continue
				}
				if rom > hi {
					out.at(int(i), !own, rom, hi)
				} else {
					out.at(int(i), rom < lo && !own, rom, lo)
				}
			}
		}
	},
	unit: travelText,
	say: func(h *History, i int, f finding) string {
		b := h.learnt.band(h, h.setAt(int32(i)), 1)
		side := "below"
		if f.measured > f.limit {
			side = "above"
		}
		return fmt.Sprintf("travel %s is %s %s: the lifter's own is %s, learnt from %d reps",
			travelText(f.measured), side, travelText(f.limit), travelText(b.median), b.n)
	},
}

// band is the usual travel of one rig.
type band struct {
	median, deviation float64 // m; the deviation scaled to a standard deviation
	n                 int     // reps it was learnt from; 0: no band
}

// limits returns the travel a rep may have. The band is never narrower than
// 5 cm below and 12 cm above: with a travel of 15 cm, a share is within the
// error of a unit that is clipped a little off the middle.
func (b band) limits(deviations, low, high float64) (lo, hi float64) {
	lo = min(b.median-deviations*b.deviation, low*b.median, b.median-0.05)
	hi = max(b.median+deviations*b.deviation, high*b.median, b.median+0.12)
	return lo, hi
}

// rig is how a set was done and measured. A history has a handful.
type rig struct{ variant, device, bar, tether rep.Sym }

// findRigs numbers the rigs of the history and of its variants, and notes each
// set's.
func (h *History) findRigs() {
	t := h.t
	for s := range h.Sets {
		set := &h.Sets[s]
		r := h.Rows[set.Lo]
		set.rig = number(&h.rigs, rig{t.Variant[r], t.Device[r], t.Bar[r], t.Tether[r]})
		set.variant = number(&h.variants, t.Variant[r])
	}
}

// number returns the place of x in list and adds it where it is new.
func number[T comparable](list *[]T, x T) int32 {
	for i, y := range *list {
		if x == y {
			return int32(i)
		}
	}
	*list = append(*list, x)
	return int32(len(*list) - 1)
}

// learnBands learns the usual travel of every rig and, for those with few
// reps, of every variant.
func (h *History) learnBands() {
	own, pooled := make([][]float64, len(h.rigs)), make([][]float64, len(h.variants))
	for s := range h.Sets {
		set := &h.Sets[s]
		for i := set.Lo; i < set.Hi; i++ {
			if rom := h.rom[i]; h.standing(i) && !h.Missed[i] && rom > 0 {
				own[set.rig] = append(own[set.rig], rom)
				if set.Twin == 0 {
					pooled[set.variant] = append(pooled[set.variant], rom)
				}
			}
		}
	}
	learn := func(samples [][]float64) []band {
		out := make([]band, len(samples))
		for i, roms := range samples {
			out[i].n = len(roms)
			out[i].median, out[i].deviation, _ = spread(roms)
		}
		return out
	}
	h.learnt.own, h.learnt.pooled = learn(own), learn(pooled)
}

// band returns the band for set s: of its rig, else of its variant, where
// learnt from at least so many reps; else none.
func (l *learnt) band(h *History, s, least int) band {
	set := &h.Sets[s]
	if b := l.own[set.rig]; b.n >= least {
		return b
	}
	if b := l.pooled[set.variant]; b.n >= least {
		return b
	}
	return band{}
}

// ownTravel reports whether the reps of set s share a travel of their own:
// three or more, within 15 % of each other, and more than a third of the
// usual, which no movement in the rack has.
func (h *History) ownTravel(s int, usual float64) bool {
	lo, hi, n := inf, 0.0, 0
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if rom := h.rom[i]; !math.IsNaN(rom) && !h.Missed[i] {
			lo, hi = min(lo, rom), max(hi, rom)
			n++
		}
	}
	return n >= 3 && hi <= 1.15*lo && lo > usual/3
}
