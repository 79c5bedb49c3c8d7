package main

import (
	"fmt"
	"math"
	"strconv"
	"time"
)

// pass is an upward movement in a trace.
type pass struct {
	what  string
	start float64 // s
	rep   int     // 0: no rep
	mean  float64
}

// trace returns the motion of a set and its upward movements.
func (s *set) trace() (*motion, []pass) {
	m := new(motion)
	var passes []pass
	up := func(what string, rep int, way, seconds float64, shape func(float64) float64) {
		passes = append(passes, pass{what, m.end, rep, way / seconds})
		m.move(way, seconds, shape)
	}
	m.hold(4)
	switch s.lift {
	case squat:
		up("unrack", 0, 0.055, 0.7, jerk)
		m.sway(0.8)
		m.move(-0.015, 0.4, jerk) // steps back
		up("walkout", 0, 0.02, 0.35, jerk)
		m.move(-0.01, 0.4, jerk)
		m.sway(2.2)
	case benchPress:
		up("unrack", 0, 0.045, 0.6, jerk)
		m.move(-0.02, 0.5, jerk)
		m.sway(2.5)
	}
	for i := range s.reps {
		r := &s.reps[i]
		shape := sticking(0.45, math.Min(0.65, math.Max(0, (0.5-r.v)/0.45)))
		if s.lift == deadlift {
			up(r.what, i+1, r.travel, r.seconds(), shape)
			m.sway(0.9)
			m.move(-r.travel, 0.9, jerk)
			up("bounce", 0, 0.012, 0.09, jerk) // off the floor
			m.move(-0.012, 0.09, jerk)
			m.hold(1.3)
			continue
		}
		m.move(-r.travel, 1.3+0.1*float64(i), jerk)
		m.hold(0.08 + s.pause*0.8)
		up(r.what, i+1, r.travel, r.seconds(), shape)
		m.sway(1.2 + 0.3*float64(i))
	}
	switch s.lift {
	case squat:
		m.move(-0.01, 0.4, jerk)
		up("re-rack", 0, 0.03, 0.5, jerk)
		m.move(-m.height, 0.6, jerk)
	case benchPress:
		up("re-rack", 0, 0.025, 0.4, jerk)
		m.move(-m.height, 0.5, jerk)
	}
	m.hold(5)
	return m, passes
}

// traces writes the sets that were exported as samples. Two carry their facts
// in the file name, two in lines above the samples.
func (d *demo) traces(sets []*set) error {
	for _, s := range sets {
		if s.to != toTrace {
			continue
		}
		if err := d.traceFile(s); err != nil {
			return err
		}
	}
	return nil
}

func (d *demo) traceFile(s *set) error {
	m, passes := s.trace()
	date := s.date.Format(time.DateOnly)
	var t *text
	var hz float64
	var line func(t, p float64) string
	switch s.lifter {
	case ines:
		t = &text{name: fmt.Sprintf("traces/%s_%s_%s_%skg_set%d.csv", date, s.lifter.name, s.lift, loadText(s.kg), s.number)}
		hz = 100
		t.other(d, "Time (s),Position (m)", "heading")
		line = func(t, p float64) string { return fmt.Sprintf("%.2f,%.4f", t, round(p*2, 3)/2+0) } // steps of 0.5 mm
	case kaethe:
		t = &text{name: "traces/Käthe, Saturday pulls.txt"}
		hz = 200
		for _, l := range []string{"Lifter: " + s.lifter.name, "Date: " + date, "Time: " + s.start.Format("15:04:05"), "Lift: sumo deadlift",
			"Load: " + loadText(s.kg) + " kg", "Set: " + strconv.Itoa(s.number)} {
			t.other(d, l, "preamble")
		}
		t.other(d, "", "blank")
		t.other(d, "Time (s)\tPosition (mm)", "heading")
		line = func(t, p float64) string { return fmt.Sprintf("%.3f\t%.0f", t, round(p*1000, 0)+0) }
	default:
		t = &text{name: "traces/paused bench " + date + ".csv"}
		hz = 50
		for _, l := range []string{"Lifter," + s.lifter.name, "Date," + date, "Time," + s.start.Format("15:04:05"), "Lift,paused bench",
			"Load (kg)," + loadText(s.kg), "Set," + strconv.Itoa(s.number)} {
			t.other(d, l, "preamble")
		}
		t.other(d, "Time (s),Position (mm)", "heading")
		line = func(t, p float64) string { return fmt.Sprintf("%.2f,%.1f", t, round(p*1000, 1)+0) }
	}
	first := len(t.lines) + 1
	for i, p := range m.samples(hz, random("trace", t.name)) {
		t.add(line(float64(i)/hz, p))
	}
	for _, p := range passes {
		r := truth{place: place{source: t.name, row: first + int(math.Ceil(p.start*hz))}, rep: p.rep, what: isRep, fate: kept, of: s, mean: round(p.mean, 4), why: p.what}
		if p.rep == 0 {
			r.what, r.fate = movement, ""
		} else if s.at.row == 0 {
			s.at = r.place
		}
		d.tell(r)
	}
	return t.save(d, "\n", nil)
}
