package profile_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/profile/simulate"
)

// season14 is a lifter of known truth after fourteen weeks.
func season14() (simulate.Lifter, *simulate.Log) {
	l := simulate.Lifter{Max: 180, At1RM: 0.25, PerMax: 1.2, DaySD: 0.02, Scatter: 0.025, Growth: 0.002,
		DayForm: 0.01, CallSD: 0.3, Misfit: 1, PerRPE: -0.04}
	log := simulate.NewLog("Ines Duarte", rep.Squat)
	l.Train(log, 14, true, rand.New(rand.NewPCG(7, 7)))
	return l, log
}

func one(t *testing.T, res *clean.Result, s *season.Season) profile.Lift {
	t.Helper()
	p := profile.All(res, s)
	if len(p.Lifters) != 1 || len(p.Lifters[0].Lifts) != 1 {
		t.Fatalf("%d lifters", len(p.Lifters))
	}
	return p.Lifters[0].Lifts[0]
}

func holds(t *testing.T, what string, e profile.Estimate, truth float64) {
	t.Helper()
	if !e.Known || !(e.Lo <= truth && truth <= e.Hi) {
		t.Errorf("%s: %v does not hold %v", what, e, truth)
	}
}

// TestTruth: a season from a lifter of known truth gives it back, every part.
func TestTruth(t *testing.T) {
	l, log := season14()
	p := one(t, &log.Result, nil)
	holds(t, "e1RM now", p.E1RMNow, l.Max)
	if math.Abs(p.E1RMNow.Value-l.Max) > 0.03*l.Max {
		t.Errorf("e1RM now %v, truth %v", p.E1RMNow, l.Max)
	}
	holds(t, "velocity at 1RM", p.LoadVelocity.V1RM, l.At1RM)
	holds(t, "slope", p.LoadVelocity.Slope, -l.PerMax/l.Max)
	holds(t, "intercept", p.LoadVelocity.Intercept, l.At1RM+l.PerMax)
	// Calls off by chance make the line over called RPE flatter than the one
	// over true RPE; it is the called one that a lifter reads.
	if e := p.Effort.PerRPE; !(e.Hi < 0 && e.Value > 1.5*l.PerRPE) {
		t.Errorf("per RPE %v", e)
	}
	holds(t, "loss per rep", p.VelocityLoss.LossPerRep, p.VelocityLoss.Mean.Value/3)
	var weight float64
	for _, e := range p.E1RMFrom {
		weight += float64(e.Weight)
	}
	if math.Abs(weight-1) > 1e-9 {
		t.Errorf("weights add up to %v", weight)
	}
	if n := len(p.LoadVelocity.Table); n != 11 || p.LoadVelocity.Table[0].Percent != 100 || p.LoadVelocity.Table[10].Percent != 50 {
		t.Errorf("%d rows of the %%1RM table", n)
	}
	for i, r := range p.LoadVelocity.Table[1:] {
		if !(r.Fastest > p.LoadVelocity.Table[i].Fastest && r.Lo < r.Fastest && r.Fastest < r.Hi) {
			t.Errorf("row %+v after %+v", r, p.LoadVelocity.Table[i])
		}
	}
	for _, r := range p.Effort.ByRPE {
		if !(r.Speed.Lo < float64(r.MeanLo) && float64(r.MeanLo) < r.Speed.Value && r.Speed.Value < float64(r.MeanHi) && float64(r.MeanHi) < r.Speed.Hi) {
			t.Errorf("at RPE %v: %+v", r.RPE, r)
		}
	}
	for _, r := range p.Effort.BySpeed {
		if !(r.RPE.Lo >= 5 && r.RPE.Hi <= 10 && r.RPE.Lo <= r.RPE.Hi) {
			t.Errorf("RPE of %v m/s: %v", r.Speed, r.RPE)
		}
	}
	if len(p.Blocks) != 1 || p.Blocks[0].Declared || p.Blocks[0].Sessions != 28 || p.Blocks[0].Sets != 4*28 {
		t.Errorf("blocks %+v", p.Blocks)
	}
}

// TestJSON: the shape promised for profiles.json, and no number that JSON
// cannot hold.
func TestJSON(t *testing.T) {
	_, log := season14()
	b, err := json.Marshal(profile.All(&log.Result, nil))
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	lift := got["lifters"].([]any)[0].(map[string]any)["lifts"].([]any)[0].(map[string]any)
	for _, path := range []string{"lift", "sets", "reps", "effort_chart.levels.0.rpe", "effort_chart.levels.0.sets",
		"effort_chart.levels.0.slowest_m_s", "effort_chart.levels.0.sd_m_s", "effort_chart.at_rpe8_m_s.value", "effort_chart.per_rpe_m_s.lo",
		"effort_chart.scatter_m_s", "load_velocity.intercept_m_s.hi", "load_velocity.slope_m_s_per_kg.level", "load_velocity.day_sd_m_s",
		"load_velocity.scatter_m_s", "load_velocity.velocity_at_1rm_m_s.n", "load_velocity.table.0.percent_1rm", "load_velocity.table.0.load_kg",
		"load_velocity.table.0.fastest_m_s", "e1rm.0.date", "e1rm.0.from", "e1rm.0.kg.value", "e1rm_now_kg.value", "readiness.0.date",
		"progress.0.load_kg", "blocks.0.name", "velocity_loss.mean.value"} {
		var at any = lift
		for _, key := range strings.Split(path, ".") {
			switch v := at.(type) {
			case map[string]any:
				at = v[key]
			case []any:
				at = v[0]
			}
		}
		if at == nil {
			t.Errorf("no %s", path)
		}
	}
	var back profile.Profiles
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	c, err := json.Marshal(back)
	if err != nil {
		t.Fatal(err)
	}
	if string(b) != string(c) {
		t.Error("profiles read back are written differently")
	}
}

// TestSameBytes: neither the number of cores nor a second run changes a byte.
func TestSameBytes(t *testing.T) {
	_, log := season14()
	want, err := json.Marshal(profile.All(&log.Result, nil))
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	got, err := json.Marshal(profile.All(&log.Result, nil))
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("one core writes other bytes")
	}
}

// TestNotEnough: a newcomer's first sets give needs, not numbers.
func TestNotEnough(t *testing.T) {
	log := simulate.NewLog("New", rep.BenchPress)
	log.Set(simulate.FirstDay, 40, rep.WarmUp, simulate.Uncalled, 0.7, 0.72)
	log.Set(simulate.FirstDay, 60, rep.Top, 8, 0.4, 0.38, 0.3)
	p := one(t, &log.Result, nil)
	for what, e := range map[string]profile.Estimate{"at RPE 8": p.Effort.AtRPE8, "slope": p.LoadVelocity.Slope, "drift": p.Effort.DriftPerWeek,
		"usual": p.ReadinessNow.Usual, "loss": p.VelocityLoss.Mean, "trend": p.E1RMTrend.PerWeek, "change": p.Blocks[0].E1RMChange,
		"progress": p.Progress[0].PerWeek, "curvature": p.LoadVelocity.Curvature} {
		if e.Known || e.Have >= e.Need || e.Of == "" {
			t.Errorf("%s: %+v", what, e)
		}
	}
	if len(p.Effort.Levels) != 1 || p.Effort.Levels[0].SD.OK() || math.Abs(float64(p.Effort.Levels[0].Slowest)-0.30) > 1e-12 {
		t.Errorf("levels %+v", p.Effort.Levels)
	}
	if p.ReadinessNow.Verdict != profile.NotEnough {
		t.Errorf("verdict %q", p.ReadinessNow.Verdict)
	}
	// 60 kg × 3 at RPE 8 is five reps: 60/0.87. One set is enough to say so,
	// with the interval it deserves.
	if e := p.E1RMNow; !e.Known || math.Abs(e.Value-60/0.87) > 0.1 || e.Hi-e.Lo < 0.15*e.Value {
		t.Errorf("e1RM %v", e)
	}
	if v := p.LoadVelocity.V1RM; !v.Known || v.Value != 0.10 || v.N != 0 {
		t.Errorf("velocity at 1RM of nobody's own: %v, want the published 0.10 with n 0", v)
	}
	if got := profile.All(&clean.Result{Reps: &rep.Table{}}, nil); len(got.Lifters) != 0 {
		t.Errorf("nothing gives %d lifters", len(got.Lifters))
	}
}

// TestKeptOut: missed reps and reps of split rep, fused rep and load check
// change no number.
func TestKeptOut(t *testing.T) {
	_, log := season14()
	want := one(t, &log.Result, nil)
	for _, flag := range []rep.Kind{rep.SplitRep, rep.FusedRep, rep.LoadCheck} {
		_, log := season14()
		s := log.Set(simulate.FirstDay+14*7, 100, rep.WarmUp, simulate.Uncalled, 1.9)
		log.Result.Reps.Flags[s.Rows[0]] = rep.Kinds(0).With(flag)
		got := one(t, &log.Result, nil)
		if got.LoadVelocity.Points != want.LoadVelocity.Points || !reflect.DeepEqual(got.LoadVelocity.Slope.Value, want.LoadVelocity.Slope.Value) {
			t.Errorf("a rep flagged %v moved the line: %v, want %v", flag, got.LoadVelocity.Slope, want.LoadVelocity.Slope)
		}
	}
	_, log = season14()
	s := log.Set(simulate.FirstDay+14*7, 190, rep.Work, 10, 0.05)
	s.Missed = 1
	log.Result.Reps.SetMissed(s.Rows[0], true)
	got := one(t, &log.Result, nil)
	if got.LoadVelocity.Points != want.LoadVelocity.Points || len(got.Effort.Points) != len(want.Effort.Points) || got.E1RMNow.Lo >= 190 {
		t.Error("a missed rep counts")
	}
}

// TestNoLookAhead: what comes after a day does not change what was said of it.
func TestNoLookAhead(t *testing.T) {
	_, log := season14()
	all := one(t, &log.Result, nil)
	cut := simulate.FirstDay + 7*7
	part := log.Result
	part.Sets = rep.Sets{}
	for _, s := range log.Result.Sets.All() {
		if s.Date < cut {
			part.Sets.Add(s)
		}
	}
	early := one(t, &part, nil)
	for i, r := range early.Readiness {
		a, _ := json.Marshal(r)
		b, _ := json.Marshal(all.Readiness[i])
		if string(a) != string(b) {
			t.Errorf("on %v: %s, later %s", r.Date, a, b)
		}
	}
}

// TestDeclaredMaximum: a meet stands as it was, and the 1RM of soon after is
// not below it.
func TestDeclaredMaximum(t *testing.T) {
	_, log := season14()
	last := log.Result.Sets.Date(log.Result.Sets.Len() - 1)
	s := &season.Season{Maxima: []season.Maximum{
		{Lifter: "Ines Duarte", Lift: rep.Squat, LoadKg: 192.5, Date: last - 3},
		{Lifter: "Ines Duarte", Lift: rep.Deadlift, LoadKg: 300, Date: last},
		{Lifter: "Another", Lift: rep.Squat, LoadKg: 300, Date: last},
	}}
	p := one(t, &log.Result, s)
	i := slices.IndexFunc(p.E1RM, func(e profile.E1RM) bool { return e.From == profile.FromDeclared })
	if i < 0 || p.E1RM[i].Kg.Value != 192.5 || p.E1RM[i].Kg.Lo != 192.5 || p.E1RM[i].Date != last-3 {
		t.Fatalf("history has no maximum of 192.5 kg: %+v", p.E1RM)
	}
	if b := p.Blocks[len(p.Blocks)-1].E1RM; b.Value < 192.5 || b.Lo < 192.5 {
		t.Errorf("e1RM of the block %v after a meet of 192.5 kg", b)
	}
	if p.E1RMNow.Value < 192.5 || p.E1RMNow.Lo < 192.5 || p.E1RMNow.Value > 205 {
		t.Errorf("e1RM now %v after a meet of 192.5 kg", p.E1RMNow)
	}
}

// TestGroupsApart: another unit's speeds stand in a split with their offset,
// never in the line.
func TestGroupsApart(t *testing.T) {
	_, log := season14()
	want := one(t, &log.Result, nil)
	r := rand.New(rand.NewPCG(1, 2))
	log.Device = "second unit"
	end := log.Result.Sets.Date(log.Result.Sets.Len() - 1)
	for i := range 8 {
		for _, kg := range []float64{60, 90, 120} {
			v := 0.25 + 1.2*(1-kg/180) + 0.10 + 0.01*r.NormFloat64()
			log.Set(end-rep.Day(7*i)-1, kg, rep.WarmUp, simulate.Uncalled, v)
		}
	}
	var sets []rep.Set
	for _, s := range log.Result.Sets.All() {
		sets = append(sets, s)
	}
	slices.SortStableFunc(sets, func(a, b rep.Set) int { return int(a.Date - b.Date) })
	log.Result.Sets = rep.NewSets(sets...)
	got := one(t, &log.Result, nil)
	if got.Main.Device != "unit" || len(got.Splits) != 1 || got.Splits[0].Device != "second unit" || got.Splits[0].Sets != 24 {
		t.Fatalf("main %+v, splits %+v", got.Main, got.Splits)
	}
	if got.LoadVelocity.Slope != want.LoadVelocity.Slope {
		t.Errorf("the second unit moved the line: %v, %v", got.LoadVelocity.Slope, want.LoadVelocity.Slope)
	}
	holds(t, "offset", got.Splits[0].Offset, 0.10)
	if got.Splits[0].Offset.Lo < 0.03 {
		t.Errorf("offset %v", got.Splits[0].Offset)
	}
}

// TestHandLog: sets that only a hand log knows count for the 1RM, by their
// range of RPE for the effort line, and their speeds are another unit's.
func TestHandLog(t *testing.T) {
	log := simulate.NewLog("Ines Duarte", rep.Deadlift)
	for i := range 6 {
		s := log.Set(simulate.FirstDay+rep.Day(3*i), 200, rep.RoleUnknown, 8)
		s.Reps, s.Number, s.Device = 0, rep.Null[int32]{}, ""
		s.Log = &rep.Logged{LoadKg: rep.Some(200.0), Reps: rep.Some[int32](1), RPE: rep.Some(8.0), RPEHigh: rep.Some(9.0), Last: rep.Some(0.22)}
	}
	p := one(t, &log.Result, nil)
	if p.Main.Device != rep.HandLog || len(p.Effort.Points) != 6 || p.Effort.Points[0].RPE != 8.5 || p.Effort.Points[0].RPEHigh != 9 {
		t.Errorf("main %+v, points %+v", p.Main, p.Effort.Points)
	}
	if len(p.Effort.Levels) != 0 || p.Effort.Sets != 6 {
		t.Errorf("a range is no level: %+v, %d sets in the line", p.Effort.Levels, p.Effort.Sets)
	}
	// A single at 8.5 is half way from 95 to 93 %.
	if math.Abs(p.E1RMNow.Value-200/0.94) > 0.2 {
		t.Errorf("e1RM %v, want %v", p.E1RMNow, 200/0.94)
	}
}
