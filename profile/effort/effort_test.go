package effort

import (
	"math"
	"math/rand/v2"
	"testing"
)

func drawn(r *rand.Rand, n int) (rpe, speed []float64, day []int) {
	for i := range n {
		c := math.Min(10, math.Round(2*(8+r.NormFloat64()))/2)
		c = math.Max(c, 6)
		rpe, day = append(rpe, c), append(day, i/3)
		speed = append(speed, 0.3-0.05*(c-8)+0.02*r.NormFloat64())
	}
	return
}

// lineOf fits sets of one week.
func lineOf(rpe, speed []float64, day []int) *Line {
	return New(rpe, speed, day, make([]float64, len(rpe)))
}

func TestLine(t *testing.T) {
	l := lineOf(drawn(rand.New(rand.NewPCG(2, 1)), 90))
	if !l.Known() {
		t.Fatal("not known")
	}
	if m := l.Mean(8); math.Abs(m.Mean()-0.3) > 3*m.SD() || m.SD() > 0.01 {
		t.Errorf("at 8: %v ± %v", m.Mean(), m.SD())
	}
	if m := l.PerRPE(); math.Abs(m.Mean()+0.05) > 3*m.SD() || m.SD() > 0.005 {
		t.Errorf("per point: %v ± %v", m.Mean(), m.SD())
	}
	if s, _, ok := l.Spread(); !ok || math.Abs(s-0.02) > 0.005 {
		t.Errorf("scatter %v, %v", s, ok)
	}
	week := make([]float64, 90)
	for i := range week {
		week[i] = float64(i) / 6
	}
	if m, err := l.Step(week); err != nil || math.Abs(m.Mean()) > 3*m.SD() {
		t.Errorf("drift where there is none: %v, %v", m.Mean(), err)
	}
}

// TestFewSets: four sets at one RPE lean on the prior for the slope, and three
// are not enough.
func TestFewSets(t *testing.T) {
	l := New([]float64{8, 8, 8, 8}, []float64{0.30, 0.32, 0.29, 0.31}, []int{0, 0, 1, 1}, make([]float64, 4))
	if !l.Known() {
		t.Fatal("four sets are not known")
	}
	if m := l.PerRPE(); math.Abs(m.Mean()-slopePrior) > 1e-9 || math.Abs(m.SD()-slopePriorSD) > 1e-9 {
		t.Errorf("slope %v ± %v, want the prior", m.Mean(), m.SD())
	}
	if near, far := l.Next(8).SD(), l.Next(6).SD(); !(far > near) {
		t.Errorf("at 6, where there is no set, ± %v, at 8 ± %v", far, near)
	}
	if New([]float64{8, 8, 9}, []float64{0.3, 0.3, 0.26}, []int{0, 0, 1}, make([]float64, 3)).Known() {
		t.Error("three sets are known")
	}
}

// TestBackwards: faster sets are called lower; calls end at 10 and at the
// ends of the scale; intervals are whole calls.
func TestBackwards(t *testing.T) {
	l := lineOf(drawn(rand.New(rand.NewPCG(2, 2)), 60))
	speeds := []float64{0.6, 0.4, 0.35, 0.30, 0.25, 0.20, 0.05}
	v, lo, hi := l.Backwards(speeds, 0.95)
	for i := range speeds {
		if i > 0 && !(v[i] >= v[i-1]) {
			t.Errorf("%v m/s is called %v, %v m/s %v", speeds[i], v[i], speeds[i-1], v[i-1])
		}
		if !(Lowest <= lo[i] && lo[i] <= v[i]+0.25 && v[i]-0.25 <= hi[i] && hi[i] <= 10) {
			t.Errorf("%v m/s: %v (%v to %v)", speeds[i], v[i], lo[i], hi[i])
		}
		if math.Round(2*lo[i]) != 2*lo[i] || math.Round(2*hi[i]) != 2*hi[i] {
			t.Errorf("%v m/s: %v to %v is not in half points", speeds[i], lo[i], hi[i])
		}
	}
	v, lo, hi = l.Backwards([]float64{9, -9}, 0.95)
	if v[0] > 5 || hi[0] != 5 || v[1] < 9.75 || lo[1] != 10 {
		t.Errorf("far off: %v (%v to %v)", v, lo, hi)
	}
	if v, _, _ := l.Backwards([]float64{0.30}, 0.95); math.Abs(v[0]-8) > 0.4 {
		t.Errorf("0.30 m/s is called %v, truth 8", v[0])
	}
}
