package judge

import (
	"fmt"
	"math"

	"repsift/ingest/rep"
)

var splitRep = &kind{
	Kind: rep.SplitRep,
	what: "Rejoins one rep that was counted as two: each half short of the usual travel, both together about the usual, one right " +
		"after the other. Travel and time add up, mean speed is travel / time; the values as read are kept beside. Where the " +
		"season file only flags here, both halves stay as read and out of profiles.",
	limits: []limit{
		{name: "gap_s", value: 2, source: unsourced, most: 10},
		{name: "share", value: 0.15, source: unsourced, most: 1},
	},
	look: func(h *History, l []float64, out *looks) {
		for _, r := range h.rejoined {
			if out.in(int(r.second)) {
				out.at(int(r.second), true, r.rom[1], r.usual)
			}
			if h.mark[r.first] == whole && out.in(int(r.first)) { // only flagged
				out.at(int(r.first), true, r.rom[0], r.usual)
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		return fmt.Sprintf("second half of the rep before it: %s more, which together make the usual %s",
			travelText(f.measured), travelText(f.limit))
	},
}

// rejoined is a rep put together from two halves, by position.
type rejoined struct {
	first, second int32
	usual         float64
	rom, dur      [2]float64 // of the halves as read
	v, peak       float64    // of the first half as read
}

// rejoin finds reps counted as two and puts the sum in the first half's place.
func (h *History) rejoin(l []float64) {
	gap, low, high := l[0], 1-l[1], 1+l[1]
	for s := range h.Sets {
		set := h.Sets[s]
		b := h.learnt.band(h, s, bandReps)
		if b.n == 0 || h.ownTravel(s, b.median) {
			continue // halves are told by what is whole
		}
		off := func(a int32) float64 { // how far two neighbours are from one rep, as a share
			z := a + 1
			if z >= set.Hi || !(h.rom[a] <= 0.85*b.median) {
				return inf
			}
			usual := h.travelBeside(s, b, a, z)
			sum := h.rom[a] + h.rom[z]
			if !(sum >= low*usual && sum <= high*usual) || !h.halves(a, z, usual) {
				return inf
			}
			if g, ok := h.leastGap(set, z); ok && g > gap {
				return inf
			}
			// Two movements in the rack can add up to a short bench press; but
			// they are over sooner than a rep at this load.
			if time := h.dur[a] + h.dur[z]; !(time >= 0.7*h.leastTime(s, usual, a, z)) {
				return inf
			}
			return math.Abs(sum/usual - 1)
		}
		for i := set.Lo; i+1 < set.Hi; i++ {
			if fit := off(i); fit < inf && fit <= off(i+1) {
				h.put(i, h.travelBeside(s, b, i, i+1))
				i++
			}
		}
	}
}

// put puts the rep that was counted as two at a and a + 1 together at a.
func (h *History) put(a int32, usual float64) {
	z := a + 1
	h.rejoined = append(h.rejoined, rejoined{first: a, second: z, usual: usual,
		rom: [2]float64{h.rom[a], h.rom[z]}, dur: [2]float64{h.dur[a], h.dur[z]}, v: h.v[a], peak: h.peak[a]})
	h.dur[a] += h.dur[z]
	h.rom[a] += h.rom[z]
	h.v[a] = h.rom[a] / h.dur[a]
	h.peak[a] = fmax(h.peak[a], h.peak[z])
	h.mark[a], h.mark[z] = firstHalf, secondHalf
}

// halves reports whether two neighbours can be the halves of one rep: both
// short of the usual, neither a mere twitch, their speeds not worlds apart.
func (h *History) halves(a, z int32, usual float64) bool {
	for _, i := range [2]int32{a, z} {
		if h.Missed[i] || h.rom[i] > 0.85*usual || h.rom[i] < 0.18*usual || math.IsNaN(h.dur[i]) {
			return false
		}
	}
	return h.v[a] < 3*h.v[z] && h.v[z] < 3*h.v[a]
}

// undo puts the halves back as they were read.
func (h *History) undo() {
	h.apart()
	h.rejoined = h.rejoined[:0]
}

// apart takes rejoined reps apart again, but remembers which they were.
func (h *History) apart() {
	for _, r := range h.rejoined {
		h.rom[r.first], h.dur[r.first], h.v[r.first], h.peak[r.first] = r.rom[0], r.dur[0], r.v, r.peak
	}
	clear(h.mark)
}

// fmax is the larger of two values of which either may be missing.
func fmax(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}
