package main

import (
	"math"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// Samples a second of the demo's traces, from their clocks.
var traceRates = map[string]float64{
	"traces/2026-03-14_Ines Duarte_squat_107.5kg_set7.csv":      100,
	"traces/2026-04-01_Ines Duarte_bench press_67.5kg_set8.csv": 50,
	"traces/Käthe, Saturday pulls.txt":                          200,
	"traces/paused bench 2026-03-18.csv":                        50,
}

// The reps of the demo's raw traces: each of the truth is kept, none other is,
// and it starts and moves as the truth says. The truth's row is right within
// 0.25 s. Its speed is travel over the whole time of the motion: a reading that
// starts the clock at a threshold of speed finds up to a tenth more (see the
// generator's package comment), one that smooths the turning points less; here
// it is held to -8 and +12 %.
func TestDemoTraces(t *testing.T) {
	out := tidied(t, demo, "--csv")
	got := map[string][]map[string]string{}
	for _, r := range records(t, filepath.Join(out, "reps.csv")) {
		if strings.HasPrefix(r["source"], "traces/") {
			got[r["source"]] = append(got[r["source"]], r)
		}
	}
	want := map[string][]map[string]string{}
	for _, r := range records(t, demoTruth) {
		if strings.HasPrefix(r["source"], "traces/") && r["fate"] == "kept" {
			want[r["source"]] = append(want[r["source"]], r)
		}
	}
	if len(want) != len(traceRates) {
		t.Fatalf("the truth has %d traces", len(want))
	}
	num := func(r map[string]string, column string) float64 {
		v, err := strconv.ParseFloat(r[column], 64)
		if err != nil {
			t.Fatalf("%s: %s is %q", place(r), column, r[column])
		}
		return v
	}
	for source, reps := range want {
		found := got[source]
		if len(found) != len(reps) {
			t.Errorf("%s: %d reps, want %d", source, len(found), len(reps))
			continue
		}
		sort.Slice(found, func(i, j int) bool { return num(found[i], "row") < num(found[j], "row") })
		for i, w := range reps {
			g := found[i]
			if d := math.Abs(num(g, "row") - num(w, "row")); d > 0.25*traceRates[source] {
				t.Errorf("%s: rep %d begins at line %s, want %s", source, i+1, g["row"], w["row"])
			}
			if v, truth := num(g, "mean_velocity_m_s"), num(w, "mean_velocity_m_s"); v < 0.93*truth || v > 1.05*truth {
				t.Errorf("%s: rep %d moves at %.3f m/s, want %.3f", source, i+1, v, truth)
			}
			for _, column := range []string{"lifter", "lift", "variant"} {
				if g[column] != w[column] {
					t.Errorf("%s: %s is %q, want %q", source, column, g[column], w[column])
				}
			}
			if g["session_date"] != w["date"] || !near(g["load_kg"], w["load_kg"], 1e-9) {
				t.Errorf("%s: %s kg on %s, want %s kg on %s", source, g["load_kg"], g["session_date"], w["load_kg"], w["date"])
			}
		}
	}
}
