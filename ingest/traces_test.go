package ingest

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"repsift/ingest/rep"
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

// rest returns samples of a bar that sways for some seconds.
func rest(seconds int, sway float64) string {
	var b strings.Builder
	for i := range 100 * seconds {
		fmt.Fprintf(&b, "%.2f,%.1f\n", float64(i)/100, sway*math.Sin(float64(i)/40))
	}
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
		{"millimetres without a unit, behind a long rest", "time (s),position\n" + rest(15, 0.4) + squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.1f", t+15, 1000*x) }), ""},
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
			if math.Abs(first.MeanVelocity-0.5) > 0.02 || math.Abs(first.ROM.V-0.6) > 0.005 || first.RepRecorded.V != 1 || math.Abs(float64(first.Row)-712) > 5 && math.Abs(float64(first.Row)-2212) > 5 {
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

// TestTraceClocks: however a file says when each sample was, the same reps come
// out of it; the rep's own time is that of its first sample.
func TestTraceClocks(t *testing.T) {
	start := time.Date(2026, 1, 5, 17, 42, 7, 310e6, time.UTC)
	at := func(t float64) time.Time { return start.Add(time.Duration(t*1000+0.5) * time.Millisecond) }
	n := 0
	for _, c := range []struct {
		name, head string
		row        func(t, x float64) string
		more       string
		timed      bool
	}{
		{"ISO 8601 with zone", "timestamp,position (m)", func(t, x float64) string { return fmt.Sprintf("%s,%.4f", at(t).Format("2006-01-02T15:04:05.000Z"), x) }, "", true},
		{"local, day first", "time,position (m)", func(t, x float64) string { return fmt.Sprintf("%s,%.4f", at(t).Format("02.01.2006 15:04:05.000"), x) }, "date_order = \"day month year\"\n", true},
		{"date and time of day", "date,time,position (m)", func(t, x float64) string { return fmt.Sprintf("%s,%.4f", at(t).Format("2006-01-02,15:04:05.000"), x) }, "", true},
		{"time of day", "time,position (m)", func(t, x float64) string { return fmt.Sprintf("%s,%.4f", at(t).Format("15:04:05.000"), x) }, "", true},
		{"whole seconds", "time,position (m)", func(t, x float64) string { return fmt.Sprintf("%s,%.4f", at(t).Format("15:04:05"), x) }, "", false},
		{"Unix seconds", "ts,position (m)", func(t, x float64) string { return fmt.Sprintf("%.2f,%.4f", 1767634927.31+t, x) }, "", false},
		{"Unix milliseconds", "timestamp,displacement (m)", func(t, x float64) string { return fmt.Sprintf("%d,%.4f", at(t).UnixMilli(), x) }, "", true},
		{"tenths of a second", "time (s),position (m)", func(t, x float64) string { return fmt.Sprintf("%.1f,%.4f", math.Floor(t*10)/10, x) }, "", false},
		{"none, rate declared", "position (m)", func(t, x float64) string { return fmt.Sprintf("%.4f", x) }, "samples = { hz = 100 }\n", false},
		{"none, rate above", "Sampling rate: 100 Hz\n\nposition (m)", func(t, x float64) string { return fmt.Sprintf("%.4f", x) }, "", false},
		{"number of the sample, counts, both above", "Rate,100 Hz\nResolution,0.125 mm/count\n\nsample,counts", func(t, x float64) string { n++; return fmt.Sprintf("%d,%.0f", n, x/0.000125) }, "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, "set.csv", c.head+"\n"+squatTrace(2, c.row), traceSeason+c.more)
			if n := r.Reps.Len(); n != 2 {
				t.Fatalf("%d reps, want 2; %v", n, r.Sources[0].Said)
			}
			first := r.Reps.Rep(0)
			if math.Abs(first.MeanVelocity-0.5) > 0.02 || math.Abs(first.ROM.V-0.6) > 0.005 {
				t.Errorf("%+v", first)
			}
			if want := rep.InstantOf(at(7.1)); c.timed && math.Abs(float64(first.PerformedAt.V-want)) > 50 {
				t.Errorf("at %v, want %v", first.PerformedAt.V.Time(), want.Time())
			}
		})
	}
}

// TestTraceAsks: counts without a scale are asked about, positions without a clock too.
func TestTraceAsks(t *testing.T) {
	a := asked(t, "time (s),counts\n"+squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.2f,%.0f", t, x/0.000125) }), traceSeason)
	if got := a.Error(); !strings.Contains(got, "samples = { metres_per_count = 0.0001 }") {
		t.Error(got)
	}
	a = asked(t, "position (m)\n"+squatTrace(2, func(t, x float64) string { return fmt.Sprintf("%.4f", x) }), traceSeason)
	if got := a.Error(); !strings.Contains(got, "samples = { hz = 100 }") {
		t.Error(got)
	}
}
