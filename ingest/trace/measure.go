package trace

import (
	"math"

	"repsift/ingest/rep"
)

const gravity = 9.80665 // m/s², standard gravity (NIST SP 811)

const (
	turnFor   = 0.25 // s: a bar that came down this shortly before turned without a pause
	strayFor  = 0.4  // s: a pause this long parts a small rise at either end from the rep …
	strayPart = 0.08 // of the rep: … if it is no more than this
	leastDrop = 0.02 // m: what counts as a lowering
)

// stroke is an upward movement as it was measured, with what classing it needs.
type stroke struct {
	Found
	start, end    float64 // s
	bottom, level float64 // m: where it starts, where the bar settles
	drop          float64 // m the bar came down since the movement before, to this one's start
	dropped       float64 // s when that lowering ended
	fall          float64 // m it comes down within fallFor after its end
}

const fallFor = 3.0 // s

// measure measures a movement.
func (s *Segmenter) measure(m move) stroke {
	w := &s.win
	m = w.trim(m)
	start, turned := w.onset(m.first)
	end := w.offset(m.last)
	k := stroke{start: start, end: end}
	k.bottom, k.level = w.at(start), w.at(end)
	s.flex(&k, m)
	k.At = k.start
	k.Concentric = k.end - k.start
	k.ROM = k.level - k.bottom
	k.MeanVelocity = k.ROM / k.Concentric
	from, to := w.index(k.start), min(w.index(k.end), len(w.t)-1)
	k.Row, k.LastRow = w.line[from], w.line[max(to-1, from)]
	for i := from; i < to; i++ {
		k.Gap = k.Gap || w.hole[i]
	}
	if !k.Gap {
		w.moments(&k, from, to)
	}
	w.lowering(&k, m, turned, s.restSpeed())
	for i := m.to; i < len(w.t) && w.t[i] < k.end+fallFor; i++ {
		k.fall = max(k.fall, k.level-w.y[i])
	}
	return k
}

// index returns the first sample at or after a time.
func (w *window) index(t float64) int {
	lo, hi := 0, len(w.t)-1
	for lo < hi {
		if mid := (lo + hi) / 2; w.t[mid] < t-1e-9 {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// at returns the position at a time.
func (w *window) at(t float64) float64 {
	i := w.index(t)
	if i == 0 || w.t[i] <= t {
		return w.y[i]
	}
	share := (t - w.t[i-1]) / (w.t[i] - w.t[i-1])
	return w.y[i-1] + share*(w.y[i]-w.y[i-1])
}

// trim parts small rises at either end from a movement where a pause lies
// between: slack pulled out, a shift before the lift or after lockout.
func (w *window) trim(m move) move {
	whole := w.y[m.to] - w.y[m.from]
	if m.first == m.last {
		return m
	}
	if part := w.y[m.first.to-1] - w.y[m.first.from]; part < strayPart*whole {
		next := m.first.to
		for next < m.to && !(w.y[next] > w.y[m.first.to-1] && w.v[next] > leastSpeed) {
			next++
		}
		if w.t[next]-w.t[m.first.to-1] > strayFor {
			m.from = next
			m.first = span{next, w.runEnd(next, m.to)}
		}
	}
	if part := w.y[m.last.to-1] - w.y[m.last.from]; part < strayPart*whole {
		prior := m.last.from - 1
		for prior > m.from && !(w.v[prior] > leastSpeed) {
			prior--
		}
		if w.t[m.last.from]-w.t[prior] > strayFor {
			m.to = prior
			m.last = span{w.runStart(prior, m.from), prior + 1}
		}
	}
	return m
}

func (w *window) runEnd(i, to int) int {
	for i <= to && w.v[i] > leastSpeed {
		i++
	}
	return i
}

func (w *window) runStart(i, from int) int {
	for i > from && w.v[i-1] > leastSpeed {
		i--
	}
	return i
}

// onset returns when the first rise of a movement began: where the speed was
// zero between the lowering and the rise; or, from a pause, where speed leaves
// zero, found by extending its course over three levels back to zero, because
// any single threshold starts the clock late. turned reports the former.
func (w *window) onset(r span) (t float64, turned bool) {
	peak := r.from
	for i := r.from; i < r.to; i++ {
		if w.v[i] > w.v[peak] {
			peak = i
		}
	}
	zero := r.from
	for zero > 0 && w.v[zero] > 0 {
		zero--
	}
	back := zero
	for back > 0 && w.t[zero]-w.t[back] < turnFor && w.v[back] > -leastSpeed {
		back--
	}
	if w.v[back] <= -leastSpeed && w.y[back] > w.y[zero]+breakDrop/4 {
		return w.crossing(zero, 0), true
	}
	return w.leaving(peak, r.from, -1), false
}

// offset returns when the last rise of a movement ended, alike.
func (w *window) offset(r span) float64 {
	peak := r.from
	for i := r.from; i < r.to; i++ {
		if w.v[i] > w.v[peak] {
			peak = i
		}
	}
	zero, n := r.to-1, len(w.v)
	for zero < n-1 && w.v[zero] > 0 {
		zero++
	}
	on := zero
	for on < n-1 && w.t[on]-w.t[zero] < turnFor && w.v[on] > -leastSpeed {
		on++
	}
	if zero > 0 && w.v[on] <= -leastSpeed {
		return w.crossing(zero-1, 0)
	}
	return w.leaving(peak, r.to-1, 1)
}

// crossing returns when the speed between samples i and i+1 has a value.
func (w *window) crossing(i int, v float64) float64 {
	if i+1 >= len(w.v) || w.v[i+1] == w.v[i] {
		return w.t[i]
	}
	share := min(1, max(0, (v-w.v[i])/(w.v[i+1]-w.v[i])))
	return w.t[i] + share*(w.t[i+1]-w.t[i])
}

// leaving returns when the speed left zero before its peak (way −1) or came to
// zero behind it (way +1). It takes the times at which the speed passes a level,
// twice and four times that level on the side of near, and extends their course,
// a power of time, to zero: with differences d1 (nearest zero) and d2, by
// d1²/(d2 − d1) beyond the first, exact for any power (Aitken's Δ² process). A
// bar that starts with a jerk-limited course has speed growing with the square
// of time, one with constant acceleration with time itself: the power is kept
// between 2/3 and 3.
func (w *window) leaving(peak, near, way int) float64 {
	low := max(leastSpeed/2, 0.05*w.v[peak])
	if 4*low > 0.7*w.v[peak] {
		low = 0.7 * w.v[peak] / 4
	}
	var at [3]float64
	for k := range at {
		level := low * float64(int(1)<<k)
		i := peak
		for i+way >= 0 && i+way < len(w.v) && w.v[i] > level {
			i += way
		}
		if way < 0 {
			at[k] = w.crossing(i, level)
		} else {
			at[k] = w.crossing(max(i-1, 0), level)
		}
	}
	d1, d2 := math.Abs(at[1]-at[0]), math.Abs(at[2]-at[1])
	// d1/d2 = 2^(−1/power).
	ratio := min(max(d1/max(d2, 1e-9), math.Pow(2, -1.5)), math.Pow(2, -1.0/3))
	t := at[0] + float64(way)*d1*ratio/(1-ratio)
	return min(max(t, w.t[0]), w.t[len(w.t)-1])
}

// moments fills in what rests on single moments of the concentric phase.
func (w *window) moments(k *stroke, from, to int) {
	peak := from
	for i := from; i < to; i++ {
		if w.v[i] > w.v[peak] {
			peak = i
		}
	}
	v, shift := w.v[peak], 0.0
	if peak > 0 && peak < len(w.v)-1 { // the peak lies between samples
		a, b, c := w.v[peak-1], w.v[peak], w.v[peak+1]
		if curve := a - 2*b + c; curve < 0 {
			shift = 0.5 * (a - c) / curve
			v = b - 0.25*(a-c)*shift
		}
	}
	k.PeakVelocity = rep.Some(v)
	k.TimeToPeak = rep.Some(min(k.Concentric, max(0, w.t[peak]+shift*(w.t[1]-w.t[0])-k.start)))
	k.MeanPropulsive = rep.Some(w.propulsive(k, peak, to))
	k.StickingMin = w.sticking(from, to)
}

// propulsive returns the mean velocity up to the moment when the bar first
// decelerates faster than gravity would: from there on the lifter brakes it.
func (w *window) propulsive(k *stroke, peak, to int) float64 {
	for i := max(peak, 1); i < to && i+1 < len(w.v); i++ {
		if (w.v[i+1]-w.v[i-1])/(w.t[i+1]-w.t[i-1]) <= -gravity && w.t[i] > k.start {
			return (w.y[i] - k.bottom) / (w.t[i] - k.start)
		}
	}
	return k.MeanVelocity
}

// sticking returns the slowest speed between two peaks, where it lies under the
// lower of them by a tenth of the highest and by 0.02 m/s or more.
func (w *window) sticking(from, to int) rep.Null[float64] {
	best := rep.Null[float64]{}
	depth, top := 0.0, 0.0
	for i := from; i < to; i++ {
		top = max(top, w.v[i])
	}
	// behind[i]: the highest speed from i on.
	behind := make([]float64, to-from+1)
	for i := to - 1; i >= from; i-- {
		behind[i-from] = max(behind[i-from+1], w.v[i])
	}
	before := 0.0
	for i := from; i < to; i++ {
		before = max(before, w.v[i])
		d := min(before, behind[i-from]) - w.v[i]
		if d > depth && d >= max(0.1*top, 0.02) {
			depth, best = d, rep.Some(w.v[i])
		}
	}
	return best
}

// lowering finds how far and how long the bar came down before a movement.
func (w *window) lowering(k *stroke, m move, turned bool, rest float64) {
	end := m.from
	for end > 0 && w.v[end] > -rest && w.t[m.from]-w.t[end] < stallFor {
		end--
	}
	high := k.bottom
	slow := end
	for i := end; i >= 0 && w.t[end]-w.t[i] < 10; i-- {
		if w.v[i] <= -rest {
			slow = i
		}
		if w.t[slow]-w.t[i] > breakFor || w.v[i] > rest && w.y[i] < high-stallDropAt {
			break
		}
		high = max(high, w.y[i])
	}
	k.drop, k.dropped = high-k.bottom, w.t[end]
	if w.v[end] > -rest || k.drop < leastDrop {
		return
	}
	stop := w.t[end]
	if turned {
		stop = k.start
	}
	if d := stop - w.t[slow]; d > 0 {
		k.Eccentric = rep.Some(d)
	}
}
