package trace

import (
	"math"
	"math/rand/v2"
	"slices"

	"repsift/ingest/rep"
)

// The third simulation shares nothing with the others but the words, so that
// what holds in all of them is likely to hold in a gym. The bar is an
// Euler–Bernoulli beam, symmetric about its middle, with the plates as masses near
// its ends and hands, or shoulders, that move it at two points:
//
//	w(x, t) = h(t) + Σ qᵢ(t)·φᵢ(x), φᵢ(x) = x^2i − a^2i, i = 1, 2, 3
//
// with a the hands' distance from the middle (Rayleigh–Ritz; Meirovitch 2001,
// Fundamentals of Vibrations, ch. 8). The three coordinates are stepped by
// Newmark's method of constant average acceleration; the floor is a stiff spring
// with a damper that only pushes, so that plates clank and bounce by themselves.
// Hands move by minimum jerk (Flash & Hogan 1985), by two overlapping efforts
// with a sticking region between them, or by a force that fades with speed until
// the lifter brakes.
//
// The truth of a rep: it begins when the hands begin to rise, of a pull when the
// plates leave the floor, and ends when the hands stop; its travel is the
// plates'; its peak is the highest speed of what the tether is clipped to.

// beam is a loaded bar.
type beam struct {
	m, k, c [3][3]float64
	base    [3]float64 // mass × shape: what hands that accelerate push with
	a       float64    // m from the middle to a hand
	plates  float64    // m from the middle to the plates
	q, v, u [3]float64 // coordinates, speeds, accelerations
}

const (
	beamStep   = 0.0005 // s
	floorStiff = 2e6    // N/m, rubber plates on a platform
	floorDamp  = 8000.0 // N·s/m
)

func shape(x, a float64) (s [3]float64) {
	for i := range s {
		s[i] = math.Pow(x, float64(2*i+2)) - math.Pow(a, float64(2*i+2))
	}
	return s
}

// newBeam returns a bar of a diameter, with a load (bar plus plates), for one
// half of it: everything is symmetric.
func newBeam(diameter, load, a, damping float64) *beam {
	const modulus, density, half = 2.05e11, 7850, 0.66
	area, inertia := math.Pi/4*diameter*diameter, math.Pi/64*math.Pow(diameter, 4)
	b := &beam{a: a, plates: half + 0.04}
	tip := (load - 20) / 2
	add := func(x, mass float64) {
		s := shape(x, a)
		for i := range 3 {
			b.base[i] += mass * s[i]
			for j := range 3 {
				b.m[i][j] += mass * s[i] * s[j]
			}
		}
	}
	const n = 200
	for k := range n {
		x := (float64(k) + 0.5) / n * half
		add(x, density*area*half/n)
		var bend [3]float64
		for i := range 3 {
			p := float64(2*i + 2)
			bend[i] = p * (p - 1) * math.Pow(x, p-2)
		}
		for i := range 3 {
			for j := range 3 {
				b.k[i][j] += modulus * inertia * bend[i] * bend[j] * half / n
			}
		}
	}
	add(b.plates, tip+3) // and the sleeve's own mass, about
	// Damping in proportion to stiffness, set at the first mode's frequency.
	omega := math.Sqrt(b.k[0][0] / b.m[0][0])
	for i := range 3 {
		for j := range 3 {
			b.c[i][j] = 2 * damping / omega * b.k[i][j]
		}
	}
	return b
}

// at returns the height of a point of the bar above the hands.
func (b *beam) at(x float64) float64 {
	s, w := shape(x, b.a), 0.0
	for i := range s {
		w += s[i] * b.q[i]
	}
	return w
}

// step moves the bar on, its hands at a height, with a speed and an acceleration.
func (b *beam) step(height, speed, acceleration float64, floor bool) {
	const dt, beta, gamma = beamStep, 0.25, 0.5
	s := shape(b.plates, b.a)
	k, c := b.k, b.c
	var f [3]float64
	down, sink := height, speed
	for i := range 3 {
		f[i] = -b.base[i] * (acceleration + gravity)
		down, sink = down+s[i]*b.q[i], sink+s[i]*b.v[i]
	}
	if floor && down < 0 && floorStiff*down+floorDamp*sink < 0 {
		for i := range 3 {
			f[i] -= s[i] * (floorStiff*height + floorDamp*speed) / 2
			for j := range 3 {
				k[i][j] += floorStiff / 2 * s[i] * s[j]
				c[i][j] += floorDamp / 2 * s[i] * s[j]
			}
		}
	}
	var a [3][4]float64
	var q, v [3]float64
	for i := range 3 {
		q[i] = b.q[i] + dt*b.v[i] + dt*dt*(0.5-beta)*b.u[i]
		v[i] = b.v[i] + dt*(1-gamma)*b.u[i]
	}
	for i := range 3 {
		a[i][3] = f[i]
		for j := range 3 {
			a[i][j] = b.m[i][j] + gamma*dt*c[i][j] + beta*dt*dt*k[i][j]
			a[i][3] -= c[i][j]*v[j] + k[i][j]*q[j]
		}
	}
	for p := range 3 {
		for r := p + 1; r < 3; r++ {
			g := a[r][p] / a[p][p]
			for j := p; j < 4; j++ {
				a[r][j] -= g * a[p][j]
			}
		}
	}
	for p := 2; p >= 0; p-- {
		sum := a[p][3]
		for j := p + 1; j < 3; j++ {
			sum -= a[p][j] * b.u[j]
		}
		b.u[p] = sum / a[p][p]
	}
	for i := range 3 {
		b.q[i], b.v[i] = q[i]+beta*dt*dt*b.u[i], v[i]+gamma*dt*b.u[i]
	}
}

// act is what hands do for a while: their way, every beamStep.
type act struct {
	way  []float64 // m, from 0
	name string    // "rep", "missed" or empty
	kind string    // of course
}

// gym draws everything in the third simulation.
type gym struct {
	*rand.Rand
	lift string
	acts []act
	at   float64 // m, the hands
}

func (g *gym) in(lo, hi float64) float64 { return lo + (hi-lo)*g.Float64() }

func (g *gym) do(way []float64, name, kind string) {
	g.acts = append(g.acts, act{way, name, kind})
	g.at += way[len(way)-1]
}

func (g *gym) stay(seconds float64) { g.do(make([]float64, max(1, int(seconds/beamStep))), "", "") }

// go moves by minimum jerk.
func (g *gym) move(way, seconds float64) { g.do(smooth(way, seconds), "", "") }

func smooth(way, seconds float64) []float64 {
	out := make([]float64, max(2, int(seconds/beamStep)))
	for i := range out {
		out[i] = way * minimumJerk(float64(i+1)/float64(len(out)))
	}
	return out
}

// efforts are two overlapping movements: the second takes over where the first
// fades, with a sticking region between them.
func efforts(way, seconds, share, apart float64) []float64 {
	n := max(4, int(seconds/beamStep))
	out := make([]float64, n)
	one, two := 1-apart, apart
	for i := range out {
		x := float64(i+1) / float64(n)
		out[i] = way * (share*minimumJerk(min(1, x/one)) + (1-share)*minimumJerk(max(0, (x-two)/(1-two))))
	}
	return out
}

// forced is a movement by a force that rises within 80 ms, fades with speed and
// gives way to a steady braking when what is left is just enough for it.
func forced(way, fast, push, brake float64) []float64 {
	var out []float64
	x, v := 0.0, 0.0
	for t := 0.0; len(out) < 40000; t += beamStep {
		a := push * min(1, t/0.08) * (1 - v/fast)
		if v*v/2/brake >= way-x {
			a = -v * v / 2 / max(way-x, 1e-6)
		}
		v += a * beamStep
		x += v * beamStep
		out = append(out, min(x, way))
		if way-x < 1e-5 || t > 0.1 && v < 1e-4 {
			break
		}
	}
	return append(out, way)
}

// rise draws the course of a rep of about a speed.
func (g *gym) rise(way, speed float64) (course []float64, kind string) {
	switch g.IntN(3) {
	case 0:
		return smooth(way, way/speed), "minimum jerk"
	case 1:
		return efforts(way, way/speed, g.in(0.4, 0.6), g.in(0.1, min(0.45, 0.3+0.05/speed))), "two efforts"
	}
	return forced(way, speed*g.in(1.15, 1.4), g.in(2, 6), g.in(1.5, 5)), "force"
}

// sets adds sets of reps with what lies around and between them.
func (g *gym) set() {
	way := map[string]float64{rep.Squat: g.in(0.42, 0.72), rep.BenchPress: g.in(0.16, 0.42), rep.Deadlift: g.in(0.4, 0.62)}[g.lift]
	speed := g.in(0.2, 0.75)
	if way < 0.25 {
		speed = min(speed, 0.5)
	}
	reps, fade := 1+g.IntN(6), g.in(0.01, 0.1)
	style := g.IntN(4) // how it turns: at once, hardly, a short rest, a long pause
	turn := func() {
		switch style {
		case 1:
			g.stay(g.in(0.05, 0.2))
		case 2:
			g.stay(g.in(0.4, 1))
		case 3:
			g.stay(g.in(1.2, 3))
		}
	}
	missed := reps > 1 && g.IntN(6) == 0
	lower := func(way float64) { g.move(-way, way/g.in(0.3, 0.7)) }
	if g.lift != rep.Deadlift {
		rack := g.in(0.02, 0.07)
		g.move(rack, g.in(0.5, 1))
		g.stay(g.in(0.4, 1.5))
		for range g.IntN(4) {
			step := g.in(0.004, 0.025)
			g.move(step, g.in(0.25, 0.4))
			g.move(-step, g.in(0.25, 0.4))
			g.stay(g.in(0.1, 0.5))
		}
		g.stay(g.in(1, 3))
		for i := range reps {
			w, v := way*g.in(0.97, 1.03), max(0.1, speed*(1-fade*float64(i)))
			lower(w)
			turn()
			if missed && i == reps-1 {
				part := w * g.in(0.3, 0.65)
				g.do(smooth(part, part/max(0.08, v/2)), "missed", "")
				g.stay(g.in(0.1, 0.6))
				g.move(-part*g.in(0.9, 1), g.in(0.6, 1.1))
				g.stay(g.in(3, 6))
				g.move(w-rack, g.in(3, 5))
				return
			}
			course, kind := g.rise(w, v)
			g.do(course, "rep", kind)
			g.stay(g.in(0.25, 2.5))
		}
		g.stay(g.in(0.3, 1))
		up := g.in(0.01, 0.03)
		g.move(up, 0.4)
		g.move(-rack-up, g.in(0.5, 0.9))
		return
	}
	for i := range reps {
		w, v := way*g.in(0.985, 1.015), max(0.1, speed*(1-fade*float64(i)))
		if missed && i == reps-1 {
			part := w * g.in(0.3, 0.65)
			g.do(smooth(part, part/max(0.08, v/2)), "missed", "")
			g.stay(g.in(0, 0.4))
			g.move(-part, g.in(0.5, 0.9))
			g.stay(2)
			return
		}
		if g.IntN(4) == 0 { // takes the slack out first
			s := g.in(0.003, 0.012)
			g.move(s, g.in(0.3, 0.6))
			g.stay(g.in(0.1, 0.6))
			course, kind := g.rise(w-s, v)
			g.do(course, "rep", kind)
		} else {
			course, kind := g.rise(w, v)
			g.do(course, "rep", kind)
		}
		g.stay(g.in(0.5, 1.6))
		if g.IntN(3) == 0 { // dropped
			g.move(-w, math.Sqrt(2*w/gravity)*1.6)
		} else {
			g.move(-w, w/g.in(0.4, 0.8))
		}
		g.stay(map[int]float64{0: 0.05, 1: 0.4}[style] + g.in(0, 0.3) + g.in(0, 1)*float64(style))
	}
}

// happened is a rep as it was.
type happened struct {
	trueRep
	peak float64
	kind string
}

// play runs the acts through a bar and returns what a tether sees every
// beamStep, and what happened.
func (g *gym) play(b *beam, tether string) (heights []float64, reps []happened) {
	floor := g.lift == rep.Deadlift
	where := 0.0
	switch tether {
	case rep.TetherInsideSleeve:
		where = 0.64
	case rep.TetherSleeveEnd:
		where = b.plates // the sleeve hardly bends: the plates' height, about
	}
	hand, speed := 0.0, 0.0
	var plates []float64
	// Settle first.
	for range int(3 / beamStep) {
		for i := range b.v {
			b.v[i] *= 0.995
		}
		b.step(0, 0, 0, floor)
	}
	base := 0.0
	sway, phase := g.in(0, 0.001), g.in(0, 6)
	now := 0.0
	for _, a := range g.acts {
		from := len(plates)
		for _, x := range a.way {
			at := base + x
			if !floor {
				at += sway * math.Sin(2*math.Pi*0.4*now+phase)
			}
			v := (at - hand) / beamStep
			b.step(at, v, (v-speed)/beamStep, floor)
			hand, speed = at, v
			plates = append(plates, at+b.at(b.plates))
			heights = append(heights, at+b.at(where))
			now += beamStep
		}
		base += a.way[len(a.way)-1]
		if a.name == "" {
			continue
		}
		start, end := from, len(plates)
		low := slices.Min(plates[max(0, from-400) : from+1])
		if floor {
			for start < end && plates[start] < 0 { // at rest they are sunk in a little
				start++
			}
			low = 0
		}
		q := happened{trueRep: trueRep{name: a.name, start: float64(start) * beamStep, end: float64(end) * beamStep}, kind: a.kind}
		q.rom = -low
		for i := start + 1; i < end; i++ {
			q.peak = max(q.peak, (heights[i]-heights[i-1])/beamStep)
		}
		reps = append(reps, q)
	}
	// Where the plates settle: the mean over the rest that follows, or what there is of it.
	for i := range reps {
		r := &reps[i]
		from := int(math.Round(r.end / beamStep))
		to := min(from+500, len(plates))
		sum := 0.0
		for _, p := range plates[from:to] {
			sum += p
		}
		r.rom += sum / float64(max(1, to-from))
		r.mean = r.rom / (r.end - r.start)
	}
	return heights, reps
}
