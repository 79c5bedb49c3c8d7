package ingest

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// squatTrace returns the lines of a trace of squats: time, position, each as
// format writes it.
func squatTrace(reps int, format func(t, height float64) string) string {
	jerk := func(x float64) float64 { return x * x * x * (10 + x*(-15+6*x)) }
	var b strings.Builder
	at, height := 0.0, 0.0
	move := func(way, seconds float64) {
		for end := at + seconds; at < end-1e-9; at += 0.01 {
			b.WriteString(format(at, height+way*jerk(1-(end-at)/seconds)) + "\n")
		}
		height += way
	}
	move(0, 3)
	move(0.05, 0.7) // out of the rack
	move(0, 2)
	for range reps {
		move(-0.6, 1.4)
		move(0.6, 1.2)
		move(0, 1.5)
	}
	move(0, 3)
	return b.String()
}

const traceSeason = `
[[source]]
files  = ["*.csv"]
lifter = "Ines"
lift   = "squat"
date   = 2026-01-05
load   = 100
`

// TestTraces: what a trace leaves unsaid in its file is said in the season file,
// or told by the samples.
func TestTraces(t *testing.T) {
	for _, c := range []struct{ name, text, more string }{
		{"metres", "time (s),position (m)\n" + squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.4f", t, x) }), ""},
		{"no units", "time,position\n" + squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.0f,%.4f", 1000*t, x) }), ""},
		{"millimetres", "time (ms);position (mm)\n" + squatTrace(2, func(t, x float64) string {
			return strings.ReplaceAll(fmt.Sprintf("%.0f;%.1f", 1000*t, 1000*x), ".", ",")
		}), ""},
		{"counts, downwards", "time (s),counts\n" + squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.0f", t, 70000-x/0.000125) }),
			"samples = { position = \"counts\", metres_per_count = 0.000125, up = \"negative\" }\n"},
		{"other headings", "a,b\n" + squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.4f", t, x) }),
			"samples = { time = \"a\", position = \"b\" }\nunits = { sample_time = \"s\", position = \"m\" }\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, "set.csv", c.text, traceSeason+c.more)
			if n := r.Reps.Len(); n != 2 {
				t.Fatalf("%d reps, want 2; %v %v", n, r.Sources[0].Err, r.Sources[0].Said)
			}
			first := r.Reps.Rep(0)
			if math.Abs(first.MeanVelocity-0.5) > 0.02 || math.Abs(first.ROM.V-0.6) > 0.005 || first.RepRecorded.V != 1 || math.Abs(float64(first.Row)-712) > 5 {
				t.Errorf("%+v", first)
			}
			l := r.Ledger[0]
			if l.RepRows != 0 || l.NotData != l.Rows || l.Reps != 2 {
				t.Errorf("ledger %+v", l)
			}
			said := strings.Join(r.Sources[0].Said, "\n")
			if !strings.Contains(said, "2 reps") || !strings.Contains(said, "other movements left out: 1 rack") {
				t.Errorf("said %s", said)
			}
		})
	}
}

// TestTraceAsks: counts without a scale are asked about.
func TestTraceAsks(t *testing.T) {
	a := asked(t, "time (s),counts\n"+squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.0f", t, x/0.000125) }), traceSeason)
	if got := a.Error(); !strings.Contains(got, "samples = { metres_per_count = 0.0001 }") {
		t.Error(got)
	}
}
