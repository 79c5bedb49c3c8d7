package trace

import (
	"math"

	"repsift/ingest/rep"
)

const gravity = 9.80665 // m/s², standard gravity (NIST SP 811)

const (
	turnNear  = 0.001 // m: a bar that is no longer than …
	turnFor   = 0.16  // s: … this so near to where it turns makes no pause
	strayFor  = 0.4   // s: a pause this long parts a small rise at either end from the rep …
	strayPart = 0.08  // of the rep: … if it is no more than this
	putPart   = 0.15  // of the rep: a rise no larger, with no lowering behind it, …
	putFor    = 0.12  // s: … and a pause this long before it puts the bar back into the rack
	slackMost = 0.03  // m: a rise as small as slack is parted …
	slackFor  = 0.15  // s: … by a pause this long
	leastDrop = 0.02  // m: what counts as a lowering
	lowerFor  = 15.0  // s before a movement in which it is looked for
	lowerPart = 0.05  // of it: less is swaying
	passes    = 2     // over the edges: how long the movement takes helps to find them
	fineRise  = 0.04  // m: a smaller movement is no rep: the edges of its speed will do
)

// stroke is an upward movement as it was measured, with what classing it needs.
type stroke struct {
	Found
	start, end    float64 // s
	bottom, level float64 // m: where it starts, where the bar settles
	drop          float64 // m the bar came down since the movement before, to this one's start
	dropped       float64 // s when that lowering ended
	fall          float64 // m it comes down within fallFor after its end
	down          float64 // s until it is down again by fellShare of its way; at most fallFor
}

const fallFor = 3.0 // s

func (k *stroke) span() float64 { return k.end - k.start }

// measure measures a movement; the one before ended in sample prior.
func (s *Segmenter) measure(m move, prior int) stroke {
	w := &s.win
	m = w.trim(m)
	k := stroke{start: w.t[m.from], end: w.t[m.to], bottom: w.y[m.from], level: w.y[m.to]}
	turned := false
	if w.y[m.to]-w.y[m.from] >= fineRise {
		whole := k.span()
		for range passes {
			start, bottom, turn := s.onset(m, whole)
			if end, level := s.offset(m, whole); end-start > 2*s.clock.dt {
				k.start, k.end, turned = start, end, turn
				k.bottom, k.level = bottom, level
			}
			whole = k.span()
		}
	}
	if !s.opt.KeepFlex && w.y[m.to]-w.y[m.from] >= fineRise {
		s.flex(&k, m)
	}
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
	w.lowering(&k, m, prior, turned, s.blur())
	k.down = fallFor
	for i := m.to; i < len(w.t) && w.t[i] < k.end+fallFor; i++ {
		if k.fall < fellShare*k.ROM && k.level-w.y[i] >= fellShare*k.ROM {
			k.down = w.t[i] - k.end
		}
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
		pause := strayFor
		if part < slackMost {
			pause = slackFor
		}
		if w.t[next]-w.t[m.first.to-1] > pause {
			m.from = next
			m.first = span{next, w.runEnd(next, m.to)}
		}
	}
	if part := w.y[m.last.to-1] - w.y[m.last.from]; part < strayPart*whole || part < putPart*whole && !w.lowered(m.last.to-1, whole/2) {
		prior := m.last.from - 1
		for prior > m.from && !(w.v[prior] > leastSpeed) {
			prior--
		}
		pause := strayFor
		if !w.lowered(m.last.to-1, whole/2) {
			pause = putFor
		}
		if w.t[m.last.from]-w.t[prior] > pause {
			m.to = prior
			m.last = span{w.runStart(prior, m.from), prior + 1}
		}
	}
	return m
}

// lowered reports whether the bar comes down by so much within fallFor of a sample.
func (w *window) lowered(i int, way float64) bool {
	for top, from := w.y[i], w.t[i]; i < len(w.y) && w.t[i]-from < fallFor; i++ {
		if top-w.y[i] > way {
			return true
		}
	}
	return false
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

// onset returns when and where a movement began: where the speed was zero
// between a lowering and the rise (turned); or, from a pause, where the bar left
// its rest. The movement takes as long as whole, about.
func (s *Segmenter) onset(m move, whole float64) (t, bottom float64, turned bool) {
	w, sigma := &s.win, s.blur()
	zero := m.first.from
	for zero > 0 && w.v[zero] > 0 {
		zero--
	}
	turned = w.turns(zero, sigma)
	level, last := w.rest(zero, -1)
	last = w.before(last, 2*restFor)
	t, bottom = edge{way: -1, level: level, travel: w.y[m.to] - level, sigma: sigma, pull: s.pull(), whole: whole}.around(w, last, m.to+1, w.well(zero, 1, level, w.y[m.to]))
	return t, bottom, turned
}

// offset returns when and where a movement ended, alike.
func (s *Segmenter) offset(m move, whole float64) (t, top float64) {
	w := &s.win
	zero, n := m.to, len(w.v)
	for zero < n-1 && w.v[zero] > 0 {
		zero++
	}
	level, last := w.rest(zero, 1)
	last = w.after(last, 2*restFor)
	return edge{way: 1, level: level, travel: level - w.y[m.from], sigma: s.blur(), whole: whole}.around(w, m.from, last+1, w.well(zero, -1, level, w.y[m.from]))
}

// turns reports whether the bar, at zero speed in a sample, comes from below or
// above and goes back there without a pause.
func (w *window) turns(zero int, sigma float64) bool {
	near := turnNear + 2*sigma
	leaves := func(way int) (int, bool) {
		i := zero
		for i+way >= 0 && i+way < len(w.y) && math.Abs(w.y[i]-w.y[zero]) < near {
			i += way
		}
		return i, math.Abs(w.y[i]-w.y[zero]) >= near
	}
	from, came := leaves(-1)
	to, went := leaves(1)
	return came && went && w.t[to]-w.t[from] < turnFor && (w.y[from] > w.y[zero]) == (w.y[to] > w.y[zero])
}

// rest returns the mean position while the bar rests, from a sample on by way,
// at most restSpan, and the last sample of that.
func (w *window) rest(i, way int) (level float64, last int) {
	const restSpan = 0.3
	from, sum, n := i, 0.0, 0
	for i >= 0 && i < len(w.y) && math.Abs(w.t[i]-w.t[from]) < restSpan && (math.Abs(w.v[i]) < leastSpeed || n == 0) {
		sum += w.y[i]
		n++
		i += way
	}
	return sum / float64(n), i - way
}

// before returns the first sample that lies at most so long before another.
func (w *window) before(i int, s float64) int {
	for from := w.t[i] - s; i > 0 && w.t[i-1] >= from; {
		i--
	}
	return i
}

// after returns the last sample that lies at most so long after another.
func (w *window) after(i int, s float64) int {
	for to := w.t[i] + s; i < len(w.t)-1 && w.t[i+1] <= to; {
		i++
	}
	return i
}

// well returns the first sample by way where four tenths of the travel are done.
func (w *window) well(i, way int, level, other float64) int {
	for i+way >= 0 && i+way < len(w.y) && math.Abs(w.y[i]-level) < 0.4*math.Abs(other-level) {
		i += way
	}
	return i
}

// moments fills in what rests on single moments of the concentric phase.
func (w *window) moments(k *stroke, from, to int) {
	last := to
	if k.RingHz > 0 { // the swing that begins at lockout is no part of the lift
		last = max(from+1, w.index(k.end-0.5/k.RingHz))
	}
	peak := from
	for i := from; i < last; i++ {
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
// lower of them by a tenth of the highest and by 0.02 m/s or more. In the first
// and the last part of the way it is none: a bar rings as it stops.
func (w *window) sticking(from, to int) rep.Null[float64] {
	const ends = 0.08
	best := rep.Null[float64]{}
	if to > from {
		low, way := w.y[from], w.y[to-1]-w.y[from]
		for from < to && w.y[from] < low+ends*way {
			from++
		}
		for to > from && w.y[to-1] > low+(1-ends)*way {
			to--
		}
	}
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

// lowering finds how far and how long the bar came down before a movement, since
// the one that ended in sample prior. The lowering lasts from where the bar leaves
// its level to where it rests or turns.
func (w *window) lowering(k *stroke, m move, prior int, turned bool, sigma float64) {
	top := m.from
	for i := m.from; i >= prior && w.t[m.from]-w.t[i] < lowerFor; i-- {
		if w.y[i] > w.y[top] {
			top = i
		}
	}
	k.drop, k.dropped = w.y[top]-k.bottom, w.t[m.from]
	if k.drop < leastDrop {
		k.drop = max(0, k.drop)
		return
	}
	near := max(0.003, k.drop/100)
	from := m.from
	for from > top && w.y[from] < w.y[top]-lowerPart*k.drop {
		from--
	}
	to := from
	for to < m.from && w.y[to] > k.bottom+near {
		to++
	}
	k.dropped = w.t[to]
	begin := w.t[from]
	e := edge{way: -1, level: w.at(begin - 0.3), travel: k.drop, sigma: sigma, whole: w.t[to] - begin}
	if lo := max(prior, w.index(begin-1)); from-lo > 3 {
		if t, _ := e.find(w, lo, to); t > begin-1 && t < begin+0.1 {
			begin = t
		}
	}
	if turned {
		k.dropped = k.start
	} else {
		e.way, e.level = 1, k.bottom
		if t, _ := e.around(w, from, w.after(to, 2*restFor)+1, w.well(to, -1, k.bottom, w.y[top])); math.Abs(t-k.dropped) < restFor {
			k.dropped = min(t, k.start)
		}
	}
	if k.dropped > begin {
		k.Eccentric = rep.Some(k.dropped - begin)
	}
}
