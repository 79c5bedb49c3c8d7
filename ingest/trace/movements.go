package trace

import "math"

// Limits of segmentation. All: common practice, no source, but where noted.
const (
	leastSpeed  = 0.02  // m/s: slower is standing still; a grinder's sticking point lies above
	leastRun    = 0.006 // m: smaller rises are sway
	stallDrop   = 0.12  // of a rep: what it may sink back at its sticking point
	stallDropAt = 0.015 // m: and always this much
	stallPart   = 0.15  // of a rep: what each part around a stall has to have …
	stallLong   = 0.8   // s: … and around a longer one
	stallShare  = 0.3   // of a rep: this much; else a lockout and what follows it
	stallFor    = 4.0   // s: the longest stall or pause in mid-air
	breakFor    = 0.4   // s: a shorter break between two rises is none
	breakDrop   = 0.004 // m: if the bar does not sink further
)

// move is an upward movement: the samples from its first rise to its last, and
// the first and the last of its rises.
type move struct {
	from, to    int
	first, last span
}

// restSpeed is the speed under which the bar counts as still: leastSpeed, or
// what noise makes of a bar at rest. The noise of a derivative behind a low pass
// is that of the position × 2π·fc·sqrt(2fc/3fs), for white noise.
func (s *Segmenter) restSpeed() float64 {
	fc, fs := s.sum.Cutoff, 1/s.clock.dt
	step := s.clock.step / math.Sqrt(12)
	noise := max(s.sum.Noise, min(step, 0.003))
	return min(max(leastSpeed, 3*noise*2*math.Pi*fc*math.Sqrt(2*fc/(3*fs))), 0.06)
}

// leastRise is the smallest rise that is looked at, m.
func (s *Segmenter) leastRise() float64 {
	return min(max(leastRun, 5*s.sum.Noise, 2*s.clock.step), 0.03)
}

// movements returns the upward movements in the window, in order.
func (s *Segmenter) movements() []move {
	w := &s.win
	runs := w.rises(s.restSpeed(), s.leastRise())
	var out []move
	for i := 0; i < len(runs); {
		m := move{runs[i].from, runs[i].to - 1, runs[i], runs[i]}
		next := i + 1
		for j := i + 1; j < len(runs) && w.t[runs[j].from]-w.t[m.to] < stallFor; j++ {
			if w.oneRep(m, runs[j]) {
				m.to, m.last = runs[j].to-1, runs[j]
				next = j + 1
			}
		}
		i = next
		out = append(out, m)
	}
	return out
}

// rises returns the stretches of upward speed that rise by least or more.
func (w *window) rises(speed, least float64) []span {
	var runs []span
	for i := 0; i < len(w.v); i++ {
		if w.v[i] < speed {
			continue
		}
		j := i
		for j < len(w.v) && w.v[j] >= speed {
			j++
		}
		if w.y[j-1]-w.y[i] >= least {
			runs = append(runs, span{i, j})
		}
		i = j
	}
	return runs
}

// oneRep reports whether a rise goes on with a movement: a break too short to
// be one, or a stall on the way up, which a rep may have near its sticking
// point or as a declared pause.
func (w *window) oneRep(m move, r span) bool {
	top, low, end := w.y[m.to], math.Inf(1), w.y[r.to-1]
	for i := m.to; i <= r.from; i++ {
		top, low = max(top, w.y[i]), min(low, w.y[i])
	}
	start := w.y[m.from]
	whole := end - start
	if top-low <= breakDrop && w.t[r.from]-w.t[m.to] <= breakFor {
		return true
	}
	part := stallPart
	if w.t[r.from]-w.t[m.to] > stallLong {
		part = stallShare
	}
	return top-low <= max(stallDropAt, stallDrop*whole) && top-start >= part*whole && end-top >= part*whole
}
