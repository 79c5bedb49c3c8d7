package join

import (
	"math"
	"math/bits"

	"repsift/ingest/rep"
)

// Load says how two loads relate.
type Load uint8

// Relations of loads, from the most to the least telling.
const (
	SameLoad    Load = iota // equal as written
	NearLoad                // within what plates or rounding differ by
	PoundsSlip              // one in lb, the other in kg
	TenfoldSlip             // the decimal mark
	DigitSlip               // a digit, or the bar's own weight: alone this says little
	NoLoad                  // one of them does not say
	OtherLoad               // different
)

// scoreLoad compares loads.
func scoreLoad(l, d *Set) (float64, Load) {
	switch load := CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep); load {
	case SameLoad:
		return 3, load
	case NearLoad:
		return 2 - math.Abs(l.Load.V-d.Load.V)/nearLoad, load
	case PoundsSlip:
		return 1.5, load
	case TenfoldSlip:
		return 2, load // ten times to the digit is no chance
	case DigitSlip:
		return -0.5, load
	case NoLoad:
		return 0, load
	default:
		return math.Inf(-1), load
	}
}

// Loads that differ by no more than a pair of the smallest common plates are
// near: a log is often rounded to what was meant.
const nearLoad = 2.6 // kg

// CompareLoads says how a logged and a recorded load relate. Steps are the
// sizes of the last written digits; 0 is unknown.
func CompareLoads(l rep.Null[float64], lStep float64, d rep.Null[float64], dStep float64) Load {
	if !l.OK || !d.OK {
		return NoLoad
	}
	const pound = 0.45359237
	a, b := l.V, d.V
	apart := math.Abs(a - b)
	within := func(x, y float64) bool { return math.Abs(x-y) <= 0.006*math.Max(x, y)+0.26 }
	tenfold := func(x, y float64) bool { return math.Abs(10*x-y) <= 0.005*y+0.26 }
	switch {
	case apart <= min(0.3, max((lStep+dStep)/2*1.001, 0.01)):
		return SameLoad
	case apart <= nearLoad:
		return NearLoad
	case within(a*pound, b) || within(a, b*pound):
		return PoundsSlip
	case tenfold(a, b) || tenfold(b, a):
		return TenfoldSlip
	case forgotten(apart) || oneDigit(a, b):
		return DigitSlip
	}
	return OtherLoad
}

// forgotten reports whether two loads differ by a pair of plates, or by a bar.
func forgotten(apart float64) bool {
	switch apart {
	case 10, 15, 20, 25, 30, 40, 50:
		return true
	}
	return false
}

// oneDigit reports whether two loads, in tenths of a kilogram, differ by one
// digit or by two neighbours that changed places.
func oneDigit(a, b float64) bool {
	x, y := int64(math.Round(a*10)), int64(math.Round(b*10))
	differ := uint(0) // digits that differ, from the last
	var of [2]uint64  // what they are, each by four bits
	for k := 0; x > 0 || y > 0; k++ {
		if (x > 0) != (y > 0) {
			return false // not as many digits
		}
		if p, q := x%10, y%10; p != q {
			differ |= 1 << k
			of[0], of[1] = of[0]<<4|uint64(p), of[1]<<4|uint64(q)
		}
		x, y = x/10, y/10
	}
	switch bits.OnesCount(differ) {
	case 1:
		return true
	case 2:
		return differ>>bits.TrailingZeros(differ) == 0b11 && of[0]&15 == of[1]>>4 && of[0]>>4 == of[1]&15
	}
	return false
}
