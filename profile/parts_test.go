package profile_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/profile/simulate"
)

// TestDeclaredBlocks: two blocks of the same lifter between which the 1RM grew
// by 6 %: every change points the right way and holds the truth.
func TestDeclaredBlocks(t *testing.T) {
	l := simulate.Lifter{Max: 160, At1RM: 0.25, PerMax: 1.2, DaySD: 0.02, Scatter: 0.02, DayForm: 0.01, CallSD: 0.3, Misfit: 1, PerRPE: -0.04}
	log := simulate.NewLog("A", rep.Squat)
	r := rand.New(rand.NewPCG(4, 4))
	var day rep.Day
	train := func(from rep.Day, max float64) {
		for i := range 14 {
			day = from + rep.Day(3*i)
			u := l.DaySD * r.NormFloat64()
			for _, kg := range []float64{60, 90, 120} {
				log.Set(day, kg, rep.WarmUp, simulate.Uncalled, l.Speed(kg, max)+u+l.Noise(0, r))
			}
			kg := simulate.Plates(0.94 * max)
			log.Set(day, kg, rep.Top, l.Call(10-l.Left(kg/max), r), l.Speed(kg, max)+u+l.Noise(0, r))
			log.Set(day, 0.8*max, rep.BackOff, 8, 0.45, 0.4, 0.33)
		}
	}
	train(simulate.FirstDay, 160)
	second := day + 4
	train(second, 170)
	s := &season.Season{Blocks: []season.Block{
		{Name: "peak", From: second - 1, To: day},
		{Name: "volume", From: simulate.FirstDay, To: second - 2},
		{Name: "before", From: simulate.FirstDay - 90, To: simulate.FirstDay - 1},
	}}
	p := one(t, &log.Result, s)
	if len(p.Blocks) != 2 || p.Blocks[0].Name != "volume" || p.Blocks[1].Name != "peak" || !p.Blocks[1].Declared || p.Blocks[1].Against != "volume" {
		t.Fatalf("blocks %+v", p.Blocks)
	}
	a, b := p.Blocks[0], p.Blocks[1]
	if a.Sessions != 14 || a.Sets != 28 || a.HardSets < 20 || a.Reps != 14*4 || math.Abs(float64(a.Tonnage)-14*(simulate.Plates(0.94*160)+3*128)) > 1e-9 {
		t.Errorf("counts %+v", a)
	}
	sum := 0
	for _, band := range a.Intensity {
		sum += band.Sets
	}
	if sum != a.Sets {
		t.Errorf("%d sets in bands of %d", sum, a.Sets)
	}
	holds(t, "e1RM change", b.E1RMChange, 10)
	holds(t, "speed change", b.SpeedChange, 1.2*90*(1.0/160-1.0/170))
	if b.E1RMChange.Lo < 2 || b.SpeedChange.Lo <= 0 {
		t.Errorf("changes %v, %v", b.E1RMChange, b.SpeedChange)
	}
	if len(b.AtLoads) != 3 || b.AtLoads[2].LoadKg != 120 || !(b.AtLoads[2].Now > b.AtLoads[2].Before) {
		t.Errorf("at loads %+v", b.AtLoads)
	}
	if a.E1RMChange.Known || a.Against != "" {
		t.Errorf("the first block changed against nothing: %+v", a.E1RMChange)
	}
}

// TestGapsMakeBlocks: without declared blocks, a break of three weeks parts
// training, and the page says that it was guessed.
func TestGapsMakeBlocks(t *testing.T) {
	log := simulate.NewLog("A", rep.Squat)
	for i := range 20 {
		day := simulate.FirstDay + rep.Day(3*i)
		if i >= 10 {
			day += 21
		}
		log.Set(day, 100, rep.Work, 8, 0.5, 0.45)
	}
	p := one(t, &log.Result, nil)
	if len(p.Blocks) != 2 || p.Blocks[0].Declared || len(p.Blocks[0].Cautions) == 0 || p.Blocks[1].Sessions != 10 {
		t.Errorf("blocks %+v", p.Blocks)
	}
}

// TestProgress: a load that gets faster is seen to, bests are found with the
// best before them.
func TestProgress(t *testing.T) {
	log := simulate.NewLog("A", rep.Squat)
	r := rand.New(rand.NewPCG(5, 5))
	for i := range 12 {
		day := simulate.FirstDay + rep.Day(7*i)
		log.Set(day, 100, rep.WarmUp, simulate.Uncalled, 0.5+0.01*float64(i)+0.005*r.NormFloat64())
		log.Set(day, 140, rep.Top, 8, []float64{0.30, 0.31, 0.28}[i%3])
	}
	p := one(t, &log.Result, nil)
	if len(p.Progress) != 2 || p.Progress[0].LoadKg != 100 {
		t.Fatalf("progress %+v", p.Progress)
	}
	holds(t, "100 kg, a week", p.Progress[0].PerWeek, 0.01)
	holds(t, "140 kg, a week", p.Progress[1].PerWeek, 0)
	if p.Progress[0].P > 0.001 || p.Progress[1].P < 0.2 {
		t.Errorf("p %v, %v", p.Progress[0].P, p.Progress[1].P)
	}
	b := p.PersonalBests
	if len(b) != 2 || !b[0].Latest || math.Abs(float64(b[0].Speed-b[0].Before)-0.01) > 0.02 {
		t.Errorf("bests %+v", b)
	}
	if b[1].Speed != 0.31 || b[1].Before != 0.30 || b[1].Date != simulate.FirstDay+7 || b[1].Latest {
		t.Errorf("best at 140 kg %+v", b[1])
	}
}

// TestReadinessVerdicts: a warm-up far off the usual is called so, and the
// odds say the same.
func TestReadinessVerdicts(t *testing.T) {
	for _, c := range []struct {
		today float64
		want  profile.Verdict
	}{{0.50, profile.AsUsual}, {0.35, profile.Slower}, {0.65, profile.Faster}} {
		log := simulate.NewLog("A", rep.Squat)
		r := rand.New(rand.NewPCG(6, 6))
		for i := range 13 {
			day := simulate.FirstDay + rep.Day(3*i)
			v := 0.50 + 0.02*r.NormFloat64()
			if i == 12 {
				v = c.today
			}
			log.Set(day, 60, rep.WarmUp, simulate.Uncalled, v+0.3)
			log.Set(day, 100, rep.WarmUp, simulate.Uncalled, v)
			log.Set(day, 130, rep.Top, 8, 0.25)
		}
		got := one(t, &log.Result, nil).ReadinessNow
		if got.Verdict != c.want || got.LoadKg != 100 {
			t.Errorf("%v m/s at %v kg: %q, usual %v", c.today, got.LoadKg, got.Verdict, got.Usual)
		}
		said := map[profile.Verdict]bool{profile.Slower: got.AsSlow < 0.025, profile.Faster: got.AsSlow > 0.975,
			profile.AsUsual: got.AsSlow >= 0.025 && got.AsSlow <= 0.975}
		if !said[got.Verdict] {
			t.Errorf("%q where %v of usual days are as slow", got.Verdict, got.AsSlow)
		}
		if te := float64(got.TypicalError); math.Abs(float64(got.MDC)-1.96*math.Sqrt2*te) > 1e-12 || te < 0.01 || te > 0.035 {
			t.Errorf("typical error %v, MDC %v", got.TypicalError, got.MDC)
		}
	}
}

// TestDevicePairs: sets set aside as a second unit's are paired with those
// that stand, their fastest reps compared, hand-written speeds left out.
func TestDevicePairs(t *testing.T) {
	log := simulate.NewLog("A", rep.Squat)
	r := rand.New(rand.NewPCG(8, 8))
	second := func(s *rep.Set, device string, lost int) {
		w := clean.Twin{Kept: s.Rows}
		for k, row := range s.Rows[lost:] {
			v := log.Result.Reps.MeanVelocity.Get(row)
			w.Aside = append(w.Aside, log.Result.Reps.Append(&rep.Rep{Lifter: "A", Date: s.Date, Lift: rep.Squat, LoadKg: s.LoadKg.V,
				MeanVelocity: v*1.05 + 0.01, Device: device, Row: int32(k)}))
		}
		log.Result.Twins = append(log.Result.Twins, w)
	}
	for i := range 12 {
		day := simulate.FirstDay + rep.Day(3*i)
		for _, kg := range []float64{60, 100} {
			v := 1.2 - 0.008*kg + 0.05*r.NormFloat64()
			s := log.Set(day, kg, rep.WarmUp, simulate.Uncalled, v-0.03, v, v-0.05)
			second(s, fmt.Sprintf("unit %d", 2+i%2), 0)
			second(s, rep.HandLog, 0)
		}
	}
	// One rep more than the other unit has: its fastest may be another rep.
	second(log.Set(simulate.FirstDay+100, 60, rep.WarmUp, simulate.Uncalled, 0.7, 0.6), "unit 2", 1)
	split := log.Set(simulate.FirstDay+101, 60, rep.WarmUp, simulate.Uncalled, 0.7)
	second(split, "unit 2", 0)
	log.Result.Reps.Flags[split.Rows[0]] = rep.Kinds(0).With(rep.SplitRep)
	p := profile.All(&log.Result, nil)
	if len(p.Agreement) != 2 {
		t.Fatalf("%d pairs of units", len(p.Agreement))
	}
	g := p.Agreement[0]
	if g.Reference != "unit" || g.Other != "unit 2" || g.Pairs != 12 || p.Agreement[1].Other != "unit 3" {
		t.Fatalf("%q, %q, %d pairs", g.Reference, g.Other, g.Pairs)
	}
	// other = 1.05·reference + 0.01 without error.
	if math.Abs(g.Slope.Value-1.05) > 1e-6 || math.Abs(g.Intercept.Value-0.01) > 1e-6 {
		t.Errorf("line %v, %v", g.Slope, g.Intercept)
	}
	holds(t, "proportional", g.Proportional, 0.05/1.025)
	var bias float64
	for _, x := range g.Points {
		bias += float64(x.Other-x.Reference) / 12
	}
	if math.Abs(g.Bias.Value-bias) > 1e-12 || !(g.LowerLimit.Hi < g.UpperLimit.Lo) {
		t.Errorf("bias %v, limits %v, %v", g.Bias, g.LowerLimit, g.UpperLimit)
	}
	// Read as the other unit by a declared correction, the pairs are the same.
	c := g.Correction()
	log.Result.Devices = []season.DeviceCorrection{c}
	for i := range int32(log.Result.Reps.Len()) {
		if log.Result.Reps.Text.Text(log.Result.Reps.Device.At(i)) == "unit 2" {
			log.Result.Reps.MeanVelocity.Set(i, c.Read(log.Result.Reps.MeanVelocity.Get(i)))
		}
	}
	again := profile.All(&log.Result, nil).Agreement[0]
	if !again.Declared || math.Abs(again.Bias.Value-g.Bias.Value) > 1e-4 || math.Abs(again.Correction().Slope-c.Slope) > 1e-3 {
		t.Errorf("with the correction declared: %+v, before %+v", again.Bias, g.Bias)
	}
}
