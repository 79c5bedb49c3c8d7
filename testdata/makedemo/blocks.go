package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// blocks writes the sessions of the Saturday group, exported a set at a time.
func (d *demo) blocks(records []*record) error {
	t := &text{name: "sessions/Saturday group.txt"}
	t.other(d, "Saturday group", "preamble")
	for i, r := range records {
		s := r.of
		if i == 0 || records[i-1].of != s {
			bar := "stiff"
			if s.lift == deadlift {
				bar = "deadlift"
			}
			t.other(d, "", "blank")
			for _, line := range []string{
				"Lifter: " + s.lifter.name,
				"Date: " + s.date.Format(time.DateOnly),
				"Time: " + s.start.Format("15:04"),
				"Lift: " + s.lift,
				"Bar: " + bar,
				"Load: " + loadText(s.kg) + " kg",
				"Set: " + strconv.Itoa(s.number),
			} {
				t.other(d, line, "preamble")
			}
			if s.role != warmUp {
				t.other(d, "RPE: "+halves(s.rpe), "preamble")
			}
			t.other(d, strings.Join([]string{"Rep", "Mean velocity (m/s)", "Peak velocity (m/s)", "ROM (cm)", "Concentric time (s)"}, "\t"), "heading")
		}
		d.tellRecord(r, t.add(fmt.Sprintf("%d\t%.3f\t%.3f\t%.1f\t%.2f", r.num, r.mean, r.peak, r.travel*100, r.seconds)))
	}
	return t.save(d, "\n", nil)
}

// halves writes an RPE in half points, between 5 and 10.
func halves(rpe float64) string {
	return strconv.FormatFloat(min(10, max(5, round(rpe*2, 0)/2)), 'f', -1, 64)
}
