package trace

import (
	"math"
	"slices"

	"repsift/ingest/trace/clock"
	"repsift/ingest/trace/lowpass"
)

const (
	windowFor = 60.0 // s of samples that are looked at together
	settleFor = 8.0  // s at the end of a window that wait for the next one
	contextOf = 20.0 // s at most that stay behind for the next window
	runIn     = 2.0  // s before the first movement of a window: lets the filter settle
	setRest   = 30.0 // s between movements that part two sets; common practice, no source
)

// window is the stretch of evenly spaced samples that is in memory.
type window struct {
	t, x []float64 // s; m, not yet turned upwards
	line []int32
	hole []bool

	raw, y, v []float64 // upwards: positions as measured and smoothed, m; speed, m/s
	buf       []float64
	least     float64 // m, RMS error of a position at least: its steps
	done      float64 // time up to which movements were handed on
	goesOn    bool    // samples were there before the first
}

func (w *window) drop(n int) {
	keep := func(f []float64) []float64 { return append(f[:0], f[n:]...) }
	w.t, w.x = keep(w.t), keep(w.x)
	w.line = append(w.line[:0], w.line[n:]...)
	w.hole = append(w.hole[:0], w.hole[n:]...)
}

// grid takes even samples for a Segmenter.
type grid Segmenter

// Push takes an even sample.
func (g *grid) Push(r clock.Sample, hole bool) {
	s := (*Segmenter)(g)
	w := &s.win
	w.t, w.x = append(w.t, r.T), append(w.x, r.X)
	w.line, w.hole = append(w.line, r.Line), append(w.hole, hole)
	if r.T-w.t[0] >= windowFor {
		s.look(false)
	}
}

// Break looks at what is there: nothing follows without a gap.
func (g *grid) Break(anew bool) {
	s := (*Segmenter)(g)
	s.flush()
	if anew {
		s.set.close(s)
	}
}

// flush looks at what is left: nothing follows without a break.
func (s *Segmenter) flush() {
	if len(s.win.t) > 0 {
		s.look(true)
	}
}

// look finds the movements in the window and hands on those that are over.
func (s *Segmenter) look(all bool) {
	w := &s.win
	s.clock = pace{s.laid.DT, s.laid.Step, s.laid.ByVelocity}
	if !s.begun {
		s.begin(all)
	}
	s.smooth()
	until := w.t[len(w.t)-1] - settleFor
	if all {
		until = math.Inf(1)
	}
	last, prior := w.done, 0
	for _, m := range s.movements() {
		if w.t[m.from] < w.done {
			prior = w.prior(m, prior)
			continue
		}
		if w.t[m.to] > until {
			break
		}
		k := s.measure(m, prior)
		k.Cut, k.Slipped = w.cut(m, all), s.laid.SlippedBy(k.start, k.end)
		s.set.add(s, k)
		prior = w.prior(m, prior)
		last = max(last, w.t[m.to])
	}
	w.done = last
	s.keepSeries(all)
	w.goesOn = !all
	if all {
		w.drop(len(w.t))
		return
	}
	from := max(last, w.t[len(w.t)-1]-contextOf) - runIn
	n, _ := slices.BinarySearch(w.t, from)
	w.drop(min(n, len(w.t)-1))
}

// cut reports whether a movement has no beginning or no end in the samples: it is
// on its way where they begin or end, or where some are missing.
func (w *window) cut(m move, all bool) bool {
	const (
		part    = 0.25 // of its top speed
		least   = 0.08 // m/s
		turnsIn = 0.3  // s: in less a bar turns, at most
	)
	top := 0.0
	for i := m.from; i <= m.to; i++ {
		top = max(top, w.v[i])
	}
	onWay := func(i int) bool { return w.v[i] > max(part*top, least) && !w.hole[i] }
	before, behind := m.from-1, m.to+1
	for before >= 0 && w.hole[before] {
		before--
	}
	for behind < len(w.v) && w.hole[behind] {
		behind++
	}
	missing := func(i, k int) bool { return float64(k-i)*(w.t[1]-w.t[0]) > turnsIn }
	begins := before < 0 && !w.goesOn || missing(before, m.from)
	ends := behind == len(w.v) && all || missing(m.to, behind)
	return begins && onWay(m.from) || ends && onWay(m.to)
}

// prior returns the last sample of the movement before the next: bounces count
// as part of a lowering.
func (w *window) prior(m move, before int) int {
	if w.y[m.to]-w.y[m.from] < fineRise {
		return before
	}
	return m.to
}

// begin settles cut-off and direction on the first window; when nothing moves
// in it, on the next.
func (s *Segmenter) begin(all bool) {
	w := &s.win
	s.sum.Cutoff = s.opt.CutoffHz
	rate := 1 / s.clock.dt
	if lo, hi := slices.Min(w.x), slices.Max(w.x); hi-lo < 0.1 && !all {
		if s.sum.Cutoff == 0 {
			s.sum.Cutoff = lowpass.Limit(0, rate)
		}
		s.sum.Up = cmpUp(s.opt.Up)
		return
	}
	cutoff, noise := lowpass.Cutoff(w.longest(), rate)
	s.sum.Noise = noise
	if s.opt.CutoffHz == 0 {
		s.sum.Cutoff = lowpass.Limit(cutoff, rate)
	}
	s.sum.Cutoff = min(s.sum.Cutoff, 0.45*rate)
	s.sum.Up = cmpUp(s.opt.Up)
	if s.opt.Up == 0 {
		sure := false
		if s.sum.Up, sure = s.direction(); !sure && !all {
			return
		}
	}
	s.sum.Flex = s.flexOf()
	s.begun = true
}

func cmpUp(up int) int {
	if up < 0 {
		return -1
	}
	return 1
}

// longest returns the longest stretch without a hole.
func (w *window) longest() []float64 {
	var best []float64
	for lo := range w.pieces() {
		if p := w.x[lo.from:lo.to]; len(p) > len(best) {
			best = p
		}
	}
	return best
}

// span is a stretch of samples, to excluded.
type span struct{ from, to int }

// pieces yields the stretches without a hole.
func (w *window) pieces() func(yield func(span) bool) {
	return func(yield func(span) bool) {
		for i := 0; i < len(w.hole); {
			j := i
			for j < len(w.hole) && w.hole[j] == w.hole[i] {
				j++
			}
			if !w.hole[i] && !yield(span{i, j}) {
				return
			}
			i = j
		}
	}
}

// smooth fills y and v: position and velocity, upwards. A hole is never
// smoothed over: both sides end there, and it is crossed by a straight line.
func (s *Segmenter) smooth() {
	w := &s.win
	w.least = min(s.steps(), s.sum.Noise)
	up := float64(s.sum.Up)
	n := len(w.x)
	w.raw = append(w.raw[:0], w.x...)
	w.v = append(w.v[:0], make([]float64, n)...)
	for i := range w.raw {
		w.raw[i] *= up
	}
	w.y = append(w.y[:0], w.raw...)
	f := lowpass.Butterworth(1/s.clock.dt, s.sum.Cutoff, lowpass.TwoPass)
	for p := range w.pieces() {
		y := w.y[p.from:p.to]
		w.buf, _ = f.BothWays(y, y, w.buf) // too short a piece stays as it is
		lowpass.Slopes(w.v[p.from:p.to], y, s.clock.dt)
	}
	for i := 0; i < n; i++ {
		if !w.hole[i] {
			continue
		}
		a := max(i-1, 0)
		for i < n && w.hole[i] {
			i++
		}
		b := min(i, n-1)
		rise := (w.y[b] - w.y[a]) / float64(max(b-a, 1))
		for k := a + 1; k < b; k++ {
			w.y[k] = w.y[a] + rise*float64(k-a)
			w.v[k] = rise / s.clock.dt
		}
	}
	for i := 1; i < n-1; i++ {
		if !w.hole[i] && w.hole[i-1] && w.hole[i+1] { // alone: it has no slope of its own
			w.v[i] = (w.v[i-1] + w.v[i+1]) / 2
		}
	}
	if s.clock.speeds {
		s.level()
	}
}

// level takes out what a sensor of speed says at rest: its zero drifts, and an
// integrated zero runs away. The zero is the median of speeds under restSpeed
// where they make up a fifth of the window.
func (s *Segmenter) level() {
	const restSpeed = 0.03
	w := &s.win
	var rest []float64
	for _, v := range w.v {
		if math.Abs(v) < restSpeed {
			rest = append(rest, v)
		}
	}
	if len(rest)*5 < len(w.v) {
		return
	}
	slices.Sort(rest)
	zero := rest[len(rest)/2]
	for i := range w.v {
		w.v[i] -= zero
		w.y[i] -= zero * (w.t[i] - w.t[0])
		w.raw[i] -= zero * (w.t[i] - w.t[0])
	}
}

// keepSeries appends what leaves the window to the series.
func (s *Segmenter) keepSeries(all bool) {
	if !s.opt.KeepSeries {
		return
	}
	w := &s.win
	from := math.Inf(-1)
	if n := len(s.series); n > 0 {
		from = s.series[n-1].T
		if !w.goesOn {
			s.series = append(s.series, Sample{T: w.t[0], Gap: true})
		}
	}
	until := w.t[len(w.t)-1] - runIn
	for i, t := range w.t {
		if t > from && (all || t < until) {
			s.series = append(s.series, Sample{T: t, Position: w.y[i], Velocity: w.v[i], Gap: w.hole[i]})
		}
	}
}
