package trace

import (
	"math"
	"math/rand/v2"
	"slices"

	"repsift/ingest/rep"
)

// The simulation. A lifter's hands, or back, follow a path; the middle of the
// bar hangs on them by the give of the body, and the plates hang on the middle
// by the bar's spring:
//
//	m1·x1″ = kl·(h − x1) + cl·(h′ − x1′) − k·(x1 − x2) − c·(x1′ − x2′)
//	m2·x2″ = k·(x1 − x2) + c·(x1′ − x2′) − m2·g + floor
//
// with x1 the middle, x2 the plates, h the path, and a floor that holds the
// plates at 0 and lets them bounce a little. The stiffness k is that of a beam
// on two supports with two equal loads; bar and grip vary from set to set by
// what bars and hands vary. The tether sees x1 at the centre and x2 at the
// sleeve, with noise, drift and quantisation. Everything is drawn from a seed.
//
// What counts as the truth of a rep needs no threshold: it starts when the
// plates leave the floor (or, with no floor, when the path begins to rise) and ends
// when the path ends; its travel is the plates' from there to where they settle.
// What hangs on a spring and damper swings about the path that moves it, but does
// not lag behind it: moved at a steady speed it goes along. The plates' own lowest
// and highest moments are no truth, since plates that swing by a few mm at the
// bottom have several. The body gives by 1 to 10 mm under the load.

// leg is one part of a path: a way in a time, with a course of speed
// τ^in·(1−τ)^out, slowed at the sticking point.
type leg struct {
	way, seconds float64
	in, out      float64
	dip          float64 // 0: none; 1: stops at the sticking point
	name         string  // "rep", "missed", or empty
}

// course returns the share of the way done at each of n+1 even shares of time.
func (l leg) course() []float64 {
	const n = 800
	out := make([]float64, n+1)
	for i := 1; i <= n; i++ {
		x := (float64(i) - 0.5) / n
		d := (x - 0.45) / 0.13
		out[i] = out[i-1] + math.Pow(x, l.in)*math.Pow(1-x, l.out)*(1-l.dip*math.Exp(-d*d))
	}
	for i := range out {
		out[i] /= out[n]
	}
	return out
}

// rig is how a simulated bar was built, held and measured.
type rig struct {
	lift, bar, tether string
	loadKg            float64
	k, c, m1, m2      float64
	kl, cl            float64
	hz                float64
	noise, step       float64 // m
	drift             float64 // m/s
}

// trueRep is what happened.
type trueRep struct {
	name       string
	start, end float64
	rom, mean  float64
}

// newRig draws a rig. Bar and grip: 27 mm shaft, 1.41 m between the sleeves
// for a deadlift bar, 29 mm and 1.31 m for a stiff one, diameters within 1 %,
// hands 0.45–0.65 m apart, Young's modulus 200–210 GPa, the plates' line within
// 1.5 cm of the sleeves' inner ends. The shaft counts to the middle, the sleeves
// to the plates.
func newRig(rng *rand.Rand, lift, bar, tether string) rig {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	r := rig{lift: lift, bar: bar, tether: tether, loadKg: 2.5 * math.Round(between(100, 280)/2.5)}
	d, span := 0.029, 1.31
	if bar == rep.DeadliftBar {
		d, span = 0.027, 1.41
	}
	d *= between(0.99, 1.01)
	span += between(-0.03, 0.03)
	a := (span - between(0.45, 0.65)) / 2
	ei := between(2.0e11, 2.1e11) * math.Pi * math.Pow(d, 4) / 64
	if lift == rep.BenchPress {
		r.loadKg /= 2
	}
	r.m1 = 8
	r.m2 = r.loadKg - r.m1
	// Two loads of half the force each: F/δ of the middle.
	r.k = 2 * 24 * ei / (a * (3*span*span - 4*a*a))
	r.c = 2 * between(0.005, 0.02) * math.Sqrt(r.k*r.m2)
	r.kl = math.Exp(between(math.Log(2e5), math.Log(2e6)))
	r.cl = 2 * between(0.1, 0.4) * math.Sqrt(r.kl*(r.m1+r.m2))
	r.hz = []float64{50, 100, 200, 500}[rng.IntN(4)]
	r.noise = between(0.0001, 0.0005)
	r.step = []float64{0.00005, 0.0002, 0.0005, 0.001}[rng.IntN(4)]
	r.drift = between(-0.0005, 0.0005)
	return r
}

// run simulates a path and returns the trace and the true reps.
func (r rig) run(rng *rand.Rand, legs []leg, floor bool) (samples []float64, reps []trueRep) {
	const dt = 2e-4
	var begin []float64
	t := 0.0
	courses := make([][]float64, len(legs))
	for i, l := range legs {
		begin = append(begin, t)
		t += l.seconds
		courses[i] = l.course()
	}
	total := t
	steps := int(total / dt)
	plates := make([]float64, 0, steps/5+1) // every ms
	sway := [3]float64{rng.Float64() * 6.28, rng.Float64() * 6.28, 0.3 + 0.3*rng.Float64()}
	// At rest: hands where the middle is; on the floor nothing is bent, else
	// everything hangs.
	sag := r.m2 * gravity / r.kl
	bend := r.m2 * gravity / r.k
	h0 := 0.0
	x1, x2, v1, v2 := 0.0, 0.0, 0.0, 0.0
	if !floor {
		x1, x2 = -sag, -sag-bend
	}
	hPrev := math.NaN()
	leaves := make([]float64, len(legs))
	i, every, next := 0, 1/r.hz, 0.0
	nextMs := 0.0
	path := 0.0
	for n := 0; n < steps; n++ {
		now := float64(n) * dt
		for i < len(legs)-1 && now >= begin[i]+legs[i].seconds {
			path += legs[i].way
			i++
		}
		l := legs[i]
		share := (now - begin[i]) / l.seconds * float64(len(courses[i])-1)
		j := min(int(share), len(courses[i])-2)
		h := h0 + path + l.way*(courses[i][j]+(share-float64(j))*(courses[i][j+1]-courses[i][j]))
		h += 0.0007 * math.Sin(2*math.Pi*sway[2]*now+sway[0])
		hv := 0.0
		if !math.IsNaN(hPrev) {
			hv = (h - hPrev) / dt
		}
		hPrev = h
		spring := r.k*(x1-x2) + r.c*(v1-v2)
		v1 += dt * (r.kl*(h-x1) + r.cl*(hv-v1) - spring) / r.m1
		v2 += dt * (spring/r.m2 - gravity)
		x1 += dt * v1
		x2 += dt * v2
		if floor && x2 < 0 {
			x2 = 0
			if v2 < 0 {
				v2 *= -0.15
				if v2 < 0.02 {
					v2 = 0
				}
			}
		}
		if floor && x2 > 0 && leaves[i] == 0 {
			leaves[i] = now
		}
		if now >= nextMs {
			plates = append(plates, x2)
			nextMs += 1e-3
		}
		if now >= next {
			x := x2
			if r.tether == rep.TetherCentre {
				x = x1
			}
			x += r.noise*rng.NormFloat64() + r.drift*now
			samples = append(samples, math.Round(x/r.step)*r.step)
			next = float64(len(samples)) * every
		}
	}
	height := func(from, to float64) float64 {
		p := slices.Clone(plates[int(from*1000):min(int(to*1000)+1, len(plates))])
		slices.Sort(p)
		return p[len(p)/2]
	}
	for i, l := range legs {
		if l.name == "" {
			continue
		}
		end := begin[i] + l.seconds
		start, low := begin[i], 0.0
		if floor {
			start = leaves[i]
		} else {
			low = slices.Min(plates[int((begin[i]-0.3)*1000):int((begin[i]+0.3)*1000)])
		}
		settled := height(end+0.5*legs[i+1].seconds, end+legs[i+1].seconds)
		if legs[i+1].seconds < 0.3 {
			settled = slices.Max(plates[int(begin[i]*1000):int((end+0.1)*1000)])
		}
		q := trueRep{name: l.name, start: start, end: end, rom: settled - low}
		q.mean = q.rom / (end - start)
		reps = append(reps, q)
	}
	return samples, reps
}

// find runs a trace through a Segmenter.
func (r rig) find(samples []float64, opt Options) ([]Found, Summary) {
	var found []Found
	opt.Lift, opt.Bar, opt.Tether, opt.LoadKg = r.lift, r.bar, r.tether, r.loadKg
	s := New(opt, func(f Found) { found = append(found, f) })
	for i, x := range samples {
		if err := s.Add(int32(i+1), rep.Some(float64(i)/r.hz), rep.Some(x), rep.Null[float64]{}); err != nil {
			panic(err)
		}
	}
	if err := s.Close(); err != nil {
		panic(err)
	}
	return found, s.Summary()
}

// pulls returns the path of a set of deadlifts.
func pulls(rng *rand.Rand, r rig) []leg {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	rom := between(0.38, 0.62)
	sag := r.m2*gravity/r.kl + r.m2*gravity/r.k
	legs := []leg{{seconds: between(3, 5)}}
	n := 1 + rng.IntN(6)
	v := between(0.2, 0.75-0.0015*(r.loadKg-100))
	in, out := between(1, 2), between(0.5, 2)
	for i := range n {
		travel := rom + between(-0.01, 0.01) + sag
		speed := max(0.12, v*(1-0.06*float64(i)))
		l := leg{way: travel, seconds: travel / speed, in: in, out: out, dip: min(0.75, max(0, (0.55-speed)/0.5)), name: "rep"}
		if rng.IntN(3) == 0 { // takes the slack out first
			slack := between(0.5, 0.95) * sag
			legs = append(legs, leg{way: slack, seconds: between(0.3, 0.8), in: 1, out: 1}, leg{seconds: between(0.05, 0.6)})
			l.way -= slack
			l.seconds = l.way / speed
		}
		legs = append(legs, l, leg{seconds: between(1, 1.8)})
		legs = append(legs, leg{way: -travel, seconds: between(0.8, 1.6), in: 2, out: 1}, leg{seconds: between(0.8, 3)})
	}
	return append(legs, leg{seconds: 3})
}

// racked returns the path of a set of squats or bench presses, out of the rack
// and back; the last rep may be missed.
func racked(rng *rand.Rand, r rig) []leg {
	lift := r.lift
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	rom := between(0.45, 0.7)
	if lift == rep.BenchPress {
		rom = between(0.14, 0.42)
	}
	legs := []leg{{seconds: between(3, 5)}}
	legs = append(legs, leg{way: between(0.03, 0.08), seconds: between(0.4, 0.9), in: 2, out: 1}, leg{seconds: between(0.3, 1.5)})
	if lift == rep.Squat {
		for range 1 + rng.IntN(3) {
			step := between(0.005, 0.02)
			legs = append(legs, leg{way: -step, seconds: 0.3, in: 1, out: 1}, leg{way: step, seconds: 0.35, in: 1, out: 1}, leg{seconds: between(0.2, 0.6)})
		}
	} else {
		legs = append(legs, leg{way: -between(0.01, 0.03), seconds: 0.5, in: 1, out: 1})
	}
	legs = append(legs, leg{seconds: between(1, 3)})
	n := 1 + rng.IntN(8)
	v := between(0.25, 0.8)
	if lift == rep.BenchPress {
		v = between(0.2, 0.6)
	}
	in, out := between(1, 2), between(0.5, 2)
	pause := 0.0
	switch rng.IntN(3) {
	case 0:
		pause = between(0.05, 0.2)
	case 1:
		pause = between(0.5, 2)
	}
	decay := between(0.02, 0.12)
	miss := n > 1 && rng.IntN(5) == 0
	for i := range n {
		travel := rom * between(0.97, 1.03)
		speed := max(0.09, v*(1-decay*float64(i)))
		legs = append(legs, leg{way: -travel, seconds: between(0.9, 2.5), in: between(1, 2), out: between(0.7, 2)})
		if pause > 0 {
			legs = append(legs, leg{seconds: pause * between(0.8, 1.2)})
		}
		if miss && i == n-1 {
			up := travel * between(0.25, 0.7)
			legs = append(legs, leg{way: up, seconds: up / max(0.1, speed*0.5), in: in, out: 1, name: "missed"}, leg{seconds: between(0, 0.5)})
			// Comes down onto the safeties, or spotters' hands.
			legs = append(legs, leg{way: -up * between(0.8, 1), seconds: between(0.6, 1.2), in: 1, out: 1}, leg{seconds: 4})
			return legs
		}
		legs = append(legs, leg{way: travel, seconds: travel / speed, in: in, out: out, dip: min(0.85, max(0, (0.6-speed)/0.5)), name: "rep"})
		legs = append(legs, leg{seconds: between(0.15, 3)})
	}
	legs = append(legs, leg{way: -0.01, seconds: 0.4, in: 1, out: 1}, leg{way: between(0.015, 0.05), seconds: 0.5, in: 1, out: 1}, leg{way: -between(0.03, 0.1), seconds: 0.6, in: 1, out: 1})
	return append(legs, leg{seconds: 4})
}
