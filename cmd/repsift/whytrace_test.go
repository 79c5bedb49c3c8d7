package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestWhyFlex: of a rep of a trace, why says what bar flex was taken out: a pull
// whose bar bends by 1.5 cm before the plates leave the floor, and that rings by
// 8 mm at 4 Hz after lockout.
func TestWhyFlex(t *testing.T) {
	smooth := func(x float64) float64 {
		x = min(max(x, 0), 1)
		return x * x * x * (10 + x*(-15+6*x))
	}
	var csv strings.Builder
	csv.WriteString("time (s),position (m)\n")
	for i := range 2400 {
		now := float64(i) / 100
		at := math.Mod(now, 12)
		x := 0.015*smooth((at-3)/0.5) + 0.5*smooth((at-3.8)/1.5) - 0.515*smooth((at-7.5)/1.2)
		if d := at - 5.3; d > 0 && d < 2.2 {
			x += 0.008 * math.Sin(2*math.Pi*4*d) * math.Exp(-1.2*d)
		}
		fmt.Fprintf(&csv, "%.2f,%.4f\n", now, x)
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"pulls.csv": csv.String(), "season.toml": `[[source]]
files = ["*.csv"]
lifter = "Ines Duarte"
lift = "deadlift"
load = 200
date = 2026-03-01
bar = "deadlift"
tether = "centre"
`} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(t.TempDir(), "out")
	runs(t, 0, "tidy", dir, "--out", out, "--csv")
	reps, err := os.ReadFile(filepath.Join(out, "reps.csv"))
	if err != nil {
		t.Fatal(err)
	}
	ids := regexp.MustCompile(`(?m)^[0-9a-f]{16}`).FindAllString(string(reps), -1)
	if len(ids) != 2 {
		t.Fatalf("%d reps, want 2:\n%s", len(ids), reps)
	}
	for _, id := range ids {
		said := strings.Join(strings.Fields(runs(t, 0, "why", dir, id)), " ")
		for _, want := range []string{`slack of the bar taken out, 1\.[2-7] cm in \d\.\d\d s before the plates left the floor`,
			`ringing after lockout taken out, (3\.9|4\.0|4\.1) Hz, first swing 0\.[5-9] cm`, `read as mean 0\.\d+ m/s travel 5\d\.\d cm`} {
			if !regexp.MustCompile(want).MatchString(said) {
				t.Errorf("why says nothing like %q:\n%s", want, said)
			}
		}
	}
}
