package loadline

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// points draws days of loads from a line that turns with strength.
func points(r *rand.Rand, days int, daySD float64, scatter func(v float64) float64, bend float64) Points {
	var p Points
	for d := range days {
		u := daySD * r.NormFloat64()
		for _, kg := range []float64{60, 90, 120, 140, 150} {
			w := float64(d-days+1) / 2
			v := 1.4 - 0.007*kg*math.Exp(-0.003*w) + bend*(kg-110)*(kg-110) + u
			p.Load, p.Speed = append(p.Load, kg), append(p.Speed, v+scatter(v)*r.NormFloat64())
			p.Day, p.WeeksAgo = append(p.Day, d), append(p.WeeksAgo, w)
		}
	}
	return p
}

func even(float64) float64 { return 0.02 }

func TestLine(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	l, err := New(points(r, 20, 0.03, even, 0))
	if err != nil {
		t.Fatal(err)
	}
	if s := l.Slope(); math.Abs(s.Mean()+0.007) > 3*s.SD() || s.SD() > 0.0005 {
		t.Errorf("slope %v ± %v", s.Mean(), s.SD())
	}
	if math.Abs(l.DaySD-0.03) > 0.015 || math.Abs(l.Scatter-0.02) > 0.004 {
		t.Errorf("days %v, scatter %v", l.DaySD, l.Scatter)
	}
	lo, hi := l.DaySDRange(0.95)
	if !(lo < 0.03 && 0.03 < hi) {
		t.Errorf("days between %v and %v", lo, hi)
	}
	// The same loads became faster by 0.3 % of 0.007·112 kg a week.
	if c := l.Turn(); math.Abs(c.Mean()-0.003*0.007*112) > 3*c.SD() || c.SD() > 0.003 {
		t.Errorf("turn %v ± %v", c.Mean(), c.SD())
	}
	v, lo, hi, ok := l.Crossing(0.25, 0, 0.95)
	if !ok || !(lo < v && v < hi && lo < 164.3 && 164.3 < hi) {
		t.Errorf("0.25 m/s at %v (%v to %v), %v; truth 164.3", v, lo, hi, ok)
	}
	days := l.DayLoads(0.25, 0)
	if len(days) != 20 || days[19].First != 95 || days[19].Points != 5 {
		t.Fatalf("%d days", len(days))
	}
	if days[0].Kg > days[19].Kg+3*days[19].SD {
		t.Errorf("first day %v, last %v: the lifter grew", days[0], days[19])
	}
	if l.Weighted || l.Uneven < 0.001 {
		t.Errorf("even scatter called uneven, p = %v", l.Uneven)
	}
	if c, err := l.Curvature(); err != nil || math.Abs(c.Mean()) > 3*c.SD() {
		t.Errorf("a straight line bends: %v, %v", c.Mean(), err)
	}
}

// TestUneven: a scatter in proportion to speed is found, and then slow points
// count more.
func TestUneven(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	l, err := New(points(r, 20, 0.02, func(v float64) float64 { return 0.06 * v }, 0))
	if err != nil {
		t.Fatal(err)
	}
	if !l.Weighted || l.Uneven > 0.05 {
		t.Fatalf("p = %v", l.Uneven)
	}
	width := func(kg float64) float64 {
		_, lo, hi := l.NextBand(kg, kg, 0.95).At(kg)
		return hi - lo
	}
	if !(width(60) > 1.3*width(150)) {
		t.Errorf("next day at 60 kg within %v, at 150 kg within %v", width(60), width(150))
	}
}

func TestBend(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 3))
	l, err := New(points(r, 20, 0.02, even, 0.00003))
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.Curvature()
	if err != nil || c.Below(0) > 0.001 || math.Abs(c.Mean()-0.00003) > 3*c.SD() {
		t.Errorf("bend %v ± %v, %v", c.Mean(), c.SD(), err)
	}
}

func TestStep(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 4))
	p := points(r, 12, 0.02, even, 0)
	x := make([]float64, len(p.Load))
	for i := range x {
		if p.Day[i]%2 == 1 {
			x[i] = 1
			p.Speed[i] += 0.08
		}
	}
	m, err := Step(p, x, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(m.Mean()-0.08) > 3*m.SD() || m.SD() > 0.03 {
		t.Errorf("step %v ± %v", m.Mean(), m.SD())
	}
}

func TestTooFew(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 5))
	if _, err := New(points(r, 2, 0.02, even, 0)); !errors.Is(err, ErrTooFew) {
		t.Errorf("two days: %v", err)
	}
	p := points(r, 5, 0.02, even, 0)
	for i := range p.Load {
		p.Load[i] = 100 + float64(i%2)
	}
	if _, err := New(p); !errors.Is(err, ErrTooFew) {
		t.Errorf("loads alike: %v", err)
	}
	if _, err := New(Points{}); !errors.Is(err, ErrTooFew) {
		t.Errorf("nothing: %v", err)
	}
}
