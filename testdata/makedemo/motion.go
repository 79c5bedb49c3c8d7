package main

import (
	"math"
	"math/rand/v2"
)

// motion is the height of the bar over time, put together piece by piece.
type motion struct {
	pieces []piece
	end    float64 // s
	height float64 // m
}

// piece is one movement or hold; shape maps the share of its time to the share
// of its way.
type piece struct {
	from, seconds float64
	start, way    float64
	shape         func(float64) float64
}

// jerk is the minimum-jerk course of a movement (Flash & Hogan 1985): its peak
// speed is 1.875 times its mean.
func jerk(x float64) float64 { return x * x * x * (10 + x*(-15+6*x)) }

// sticking returns a course that slows down in the middle, by depth from 0
// (minimum jerk) towards 1 (stops), at the share at of its time.
func sticking(at, depth float64) func(float64) float64 {
	const n = 400
	var way [n + 1]float64
	for i := 1; i <= n; i++ {
		x := (float64(i) - 0.5) / n
		dip := (x - at) / 0.13
		way[i] = way[i-1] + x*x*(1-x)*(1-x)*(1-depth*math.Exp(-dip*dip))
	}
	return func(x float64) float64 {
		x = math.Min(1, math.Max(0, x)) * n
		i := min(int(x), n-1)
		return (way[i] + (x-float64(i))*(way[i+1]-way[i])) / way[n]
	}
}

func (m *motion) move(way, seconds float64, shape func(float64) float64) {
	m.pieces = append(m.pieces, piece{m.end, seconds, m.height, way, shape})
	m.end += seconds
	m.height += way
}

func (m *motion) hold(seconds float64) { m.move(0, seconds, jerk) }

// sway is a hold in which the lifter does not stand quite still.
func (m *motion) sway(seconds float64) {
	m.move(0.0015, seconds, func(x float64) float64 { return math.Sin(2*math.Pi*x) * math.Sin(math.Pi*x) })
	m.height -= 0.0015
}

// samples returns the height every 1/hz s, with the noise of a sensor.
func (m *motion) samples(hz float64, rng *rand.Rand) []float64 {
	const noiseSD = 0.0002 // m
	var out []float64
	k := 0
	for i := 0; float64(i)/hz <= m.end; i++ {
		t := float64(i) / hz
		for k < len(m.pieces)-1 && t >= m.pieces[k+1].from {
			k++
		}
		p := m.pieces[k]
		x := math.Min(1, (t-p.from)/p.seconds)
		out = append(out, p.start+p.way*p.shape(x)+noiseSD*rng.NormFloat64())
	}
	return out
}
