// Package usual says, from bare numbers, what is usual: the travel of reps, and the
// speed at a load. Package history decides which reps are asked.
package usual

import (
	"math"
	"slices"

	"repsift/clean/robust"
)

// Band is the usual travel of one rig.
type Band struct {
	Median, Deviation float64 // m; the deviation scaled to a standard deviation
	N                 int     // reps it was learnt from; 0: no band
}

// Limits returns the travel a rep may have. The band is never narrower than
// 5 cm below and 12 cm above: with a travel of 15 cm, a share is within the
// error of a unit that is clipped a little off the middle.
func (b Band) Limits(deviations, low, high float64) (lo, hi float64) {
	lo = min(b.Median-deviations*b.Deviation, low*b.Median, b.Median-0.05)
	hi = max(b.Median+deviations*b.Deviation, high*b.Median, b.Median+0.12)
	return lo, hi
}

// BandOf returns the band of travels. It reorders them.
func BandOf(roms []float64) Band {
	b := Band{N: len(roms)}
	b.Median, b.Deviation, _ = spread(roms)
	return b
}

// spread returns the median of x and the scaled median absolute deviation. It
// reorders x.
func spread(x []float64) (median, deviation float64, ok bool) {
	median, ok = robust.MedianInPlace(x)
	if !ok {
		return 0, 0, false
	}
	for i := range x {
		x[i] = math.Abs(x[i] - median)
	}
	deviation, _ = robust.MedianInPlace(x)
	return median, robust.NormalScale * deviation, true
}

// Longer returns the median of the movements that travel at least 60 % of the
// second longest: where reps are few, movements in the rack may outnumber them,
// but are shorter. 0 for fewer than three. It sorts roms.
func Longer(roms []float64) float64 {
	if len(roms) < 3 {
		return 0
	}
	slices.Sort(roms)
	from, _ := slices.BinarySearch(roms, 0.6*roms[len(roms)-2])
	m, _ := robust.MedianInPlace(roms[from:])
	return m
}

// What makes a travel that is not the usual one the lifter's own, on a day or
// in a set: so many reps within so wide a band, more than a third of the usual,
// which hardly a movement in the rack has, and for each rep of the usual travel
// there three of them. A partial lift under the name of the full one, another
// stance, higher blocks: common practice, no source.
const (
	localReps  = 3
	localWidth = 1.3  // longest over shortest
	localOff   = 1.2  // from the usual, as a quotient, that makes a travel another one
	localMore  = 3    // for each rep of the usual travel
	localLeast = 0.35 // of the usual
	localShare = 0.6  // of the reps longer than that
)

// Tally counts the reps that travel far enough to say something of the usual
// travel, and those of them that have it.
type Tally struct{ counted, normal int32 }

// Add counts the reps of another tally.
func (n *Tally) Add(m Tally) { n.counted, n.normal = n.counted+m.counted, n.normal+m.normal }

// MayDiffer reports whether the reps may have a travel of their own.
func (n Tally) MayDiffer() bool { return n.counted >= localReps && n.counted >= localMore*n.normal }

// Around is a usual travel for a tally: what counts beside it, and what is the
// same.
type Around struct{ least, lo, hi float64 }

// AroundOf returns what is around a usual travel.
func AroundOf(usual float64) Around {
	return Around{localLeast * usual, usual / localOff, usual * localOff}
}

// Count counts a rep in a tally.
func (a Around) Count(n *Tally, rom float64) {
	if rom < a.least {
		return
	}
	n.counted++
	if rom > a.lo && rom < a.hi {
		n.normal++
	}
}

// OwnTravel returns the travel that reps share where it is another than the
// usual; else 0. It sorts roms.
func OwnTravel(roms []float64, usual float64) float64 {
	var all Tally
	around := AroundOf(usual)
	for _, rom := range roms {
		around.Count(&all, rom)
	}
	if !all.MayDiffer() {
		return 0
	}
	slices.Sort(roms)
	at, n, hi := 0, 0, 0
	for lo, rom := range roms {
		if rom < localLeast*usual {
			continue
		}
		for hi < len(roms) && roms[hi] <= localWidth*rom {
			hi++
		}
		if hi-lo > n {
			at, n = lo, hi-lo
		}
	}
	if n < localReps || n < localMore*int(all.normal) || float64(n) < localShare*float64(all.counted) {
		return 0
	}
	own := roms[at+n/2]
	if own > usual/localOff && own < usual*localOff {
		return 0
	}
	return own
}
