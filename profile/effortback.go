package profile

import (
	"math"

	"repsift/ingest/rep"
	"repsift/profile/mixed"
)

// The effort line read backwards: what RPE would a lifter call a set whose
// slowest rep had this speed? Turning the line round gives calls of 12 or 4 for
// speeds a little off; so the answer weighs every RPE by how well it explains
// the speed and by how often this lifter calls it. Calls end at 10.

const (
	// Before any set a lifter calls RPE 8 ± 1, worth callsWorth sets: most
	// working sets of the sport lie at 7 to 9 (common practice, no source).
	callsMean, callsSD, callsWorth = 8, 1, 2
	rpeStep                        = 0.5
	rpeSteps                       = (10-lowestCalled)/rpeStep + 1
)

// calls is how often the lifter calls each RPE of the grid: normal with the
// mean and SD of their calls, shrunk to what is usual.
func (e *effortFit) calls() (weight [rpeSteps]float64) {
	n := float64(len(e.rpe))
	mean := float64(callsMean * callsWorth)
	for _, r := range e.rpe {
		mean += r
	}
	mean /= n + callsWorth
	ss := float64(callsSD * callsSD * callsWorth)
	for _, r := range e.rpe {
		ss += (r - mean) * (r - mean)
	}
	sd := math.Max(math.Sqrt(ss/(n+callsWorth)), 0.7)
	for i := range weight {
		z := (lowestCalled + rpeStep*float64(i) - mean) / sd
		weight[i] = math.Exp(-z * z / 2)
	}
	return weight
}

// bySpeed returns the RPE to expect from 0.02 below the slowest to 0.02 above
// the fastest set, in steps of 0.02 m/s.
func (e *effortFit) bySpeed() []ToRPE {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range e.speed {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	weight := e.calls()
	var at [rpeSteps]mixed.Mixture
	for i := range at {
		at[i] = e.fit.At(e.columns(lowestCalled+rpeStep*float64(i)), mixed.OfValue).Coarse(24)
	}
	out := []ToRPE{}
	for k := int(math.Ceil(hi/0.02)) + 1; float64(k)*0.02 > lo-0.04 && k > 0; k-- {
		v := float64(k) * 0.02
		var post [rpeSteps]float64
		for i := range at {
			post[i] = weight[i] * at[i].Density(v)
		}
		m, l, h := middle(post[:])
		out = append(out, ToRPE{Speed: Number(v), RPE: known(m, l, h, len(e.rpe), setsWithRPE)})
	}
	return out
}

// middle returns the median of a density on the called RPE, read between calls
// as if each stood for the half point around it, and the range of calls with
// at most half of 1 − Level beyond either end.
func middle(density []float64) (m, lo, hi float64) {
	var total float64
	for _, d := range density {
		total += d
	}
	call := func(p float64) (i int, within float64) {
		var sum float64
		for i, d := range density {
			if d > 0 && sum+d >= p*total {
				return i, (p*total - sum) / d
			}
			sum += d
		}
		return len(density) - 1, 1
	}
	i, within := call(0.5)
	m = math.Min(lowestCalled+rpeStep*(float64(i)-0.5+within), 10)
	l, _ := call((1 - Level) / 2)
	h, _ := call((1 + Level) / 2)
	return m, lowestCalled + rpeStep*float64(l), lowestCalled + rpeStep*float64(h)
}

// rpeAt1RM is the RPE powerlifters call a 1RM: Helms et al. 2017, J Strength
// Cond Res 31:292–297: squat 9.6 ± 0.5, bench press 9.7 ± 0.4, deadlift
// 9.6 ± 0.5.
func rpeAt1RM(lift string) float64 {
	if lift == rep.BenchPress {
		return 9.7
	}
	return 9.6
}

// callBias compares the RPE at which the line reaches the velocity at 1RM with
// the RPE at which a 1RM is called.
func (e *effortFit) callBias(lift string, v1RM Estimate) Estimate {
	const need = 8
	if e.fit == nil || len(e.rpe) < need {
		return notYet(need, len(e.rpe), setsWithRPE)
	}
	if !v1RM.Known {
		return Estimate{Need: v1RM.Need, Have: v1RM.Have, Of: v1RM.Of}
	}
	// The column of calls of 10 has no part in where the line goes.
	base, per := make([]float64, len(e.data.Columns)), make([]float64, len(e.data.Columns))
	base[0], base[1], per[1] = 1, -8, 1
	sd := (v1RM.Hi - v1RM.Lo) / (2 * 1.96)
	v, lo, hi, ok := e.fit.Crossing(base, per, v1RM.Value, sd, 0, 30, Level, mixed.OfLine)
	if !ok {
		return notYet(2*len(e.rpe), len(e.rpe), setsWithRPE)
	}
	usual := rpeAt1RM(lift)
	return known(v-usual, lo-usual, hi-usual, len(e.rpe), setsWithRPE)
}

// cautions says what a reader of the chart must know.
func (e *effortFit) cautions(drift Estimate) []string {
	var out []string
	if e.fit == nil {
		return nil
	}
	levels := map[float64]bool{}
	for _, r := range e.rpe {
		levels[r] = true
	}
	if len(levels) < 3 {
		out = append(out, "Sets of fewer than three different RPE: how the speed changes with RPE is mostly assumed.")
	}
	if e.days < 3 {
		out = append(out, "Sets of fewer than three days: other days may look different.")
	}
	if e.fit.Coefficient(1).Below(0) < 0.9 {
		out = append(out, "The calls hardly follow the speed: do not read RPE from speed for this lift yet.")
	}
	if drift.Known && (drift.Lo > 0 || drift.Hi < 0) {
		way := "faster"
		if drift.Value < 0 {
			way = "slower"
		}
		out = append(out, "Over these weeks sets called the same RPE became "+way+": calls or form have changed.")
	}
	return out
}
