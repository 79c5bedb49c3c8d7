package main

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"time"
)

var northHeading = []string{"Date and time", "Lifter", "Lift", "Load (kg)", "Set", "Rep",
	"Mean velocity (m/s)", "Peak velocity (m/s)", "ROM (m)", "Concentric time (s)", "Missed"}

var northFaults = []fault{
	{tomas, day(1, 12), squat, meanSlip},
	{tomas, day(1, 19), squat, letterO},
	{ines, day(1, 14), benchPress, word("travel", "check", "ROM (m)")},
	{ines, day(1, 17), deadlift, peakSlip},
	{tomas, day(2, 11), deadlift, word("peak", "lost", "Peak velocity (m/s)")},
	{ines, day(2, 14), squat, meanSlip},
	{ines, day(2, 23), squat, letterO}, // the re-export has it
	{tomas, day(3, 18), deadlift, travelSlip},
	{tomas, day(4, 4), squat, word("peak", "n/a", "")},
	{ines, day(4, 6), squat, word("travel", "--", "")},
	{tomas, day(4, 8), deadlift, timeSlip},
}

// north writes the monthly exports of the north unit and the re-export.
func (d *demo) north(records []*record) error {
	if err := spoil(records, northFaults); err != nil {
		return err
	}
	for m := time.January; m <= time.April; m++ {
		t := &text{name: fmt.Sprintf("north/2026-%02d.csv", m)}
		t.other(d, strings.Join(northHeading, ","), "heading")
		again := false
		for _, r := range records {
			if r.start.Month() != m {
				continue
			}
			if m == time.March && r.start.Day() >= 16 && !again {
				again = true // two exports, pasted together
				t.other(d, strings.Join(northHeading, ","), "heading")
			}
			d.tellRecord(r, t.add(northRow(r)))
		}
		if m == time.April { // the export broke off
			last := records[len(records)-1]
			whole := northRow(last)
			p := t.add(whole[:strings.Index(whole, ","+last.of.lift)+3])
			d.tell(truth{place: p, what: unreadRow, why: "cut off"})
		}
		if err := t.save(d, "\n", nil); err != nil {
			return err
		}
	}
	return d.reexport(records)
}

// northLift returns the lift as the club writes it on the north unit.
func northLift(s *set) string {
	switch {
	case s.variant == paused:
		return "paused bench"
	case s.lift == squat && s.lifter == tomas:
		return "comp squat"
	}
	return s.lift
}

func northRow(r *record) string {
	load := loadText(r.of.kg)
	if t, ok := r.cells["load"]; ok {
		load = t
	}
	missed := ""
	if r.what == missedRep {
		missed = "yes"
	}
	return strings.Join([]string{
		r.start.Format("2006-01-02T15:04:05"), r.of.lifter.name, northLift(r.of), load,
		strconv.Itoa(r.of.number), strconv.Itoa(r.num),
		r.text("mean", r.mean, 3), r.text("peak", r.peak, 3), r.text("travel", r.travel, 3), r.text("seconds", r.seconds, 2), missed,
	}, ",")
}

// reexport writes February and March once more: by lifter and lift, newest day
// first, two digits, without durations.
func (d *demo) reexport(records []*record) error {
	var again []*record
	for _, r := range records {
		if m := r.start.Month(); m == time.February || m == time.March {
			again = append(again, r)
		}
	}
	sort.SliceStable(again, func(i, j int) bool {
		a, b := again[i].of, again[j].of
		switch {
		case a.lifter != b.lifter:
			return a.lifter.name < b.lifter.name
		case a.lift != b.lift:
			return a.lift < b.lift
		}
		return a.date.After(b.date)
	})
	t := &text{name: "north/reexport-feb-mar.csv"}
	t.other(d, "Lifter,Exercise,Date,Time,Load (kg),Set,Rep,Mean velocity (m/s),Peak velocity (m/s),ROM (m)", "heading")
	var before *lifter
	for _, r := range again {
		if before != nil && r.of.lifter != before {
			t.other(d, "", "blank")
		}
		before = r.of.lifter
		name := r.of.lifter.name
		if r.of.lifter == ines {
			name = "I. Duarte"
		}
		p := t.add(strings.Join([]string{`"` + name + `"`, `"` + northLift(r.of) + `"`,
			r.start.Format(time.DateOnly), r.start.Format("15:04"), loadText(r.of.kg), strconv.Itoa(r.of.number), strconv.Itoa(r.num),
			coarse(r.mean), coarse(r.peak), coarse(r.travel)}, ","))
		right := round(r.mean, 2)
		if r.right != r.mean {
			right = round(r.right, 2)
		}
		copied := truth{place: p, rep: r.num, what: isRep, fate: setAside, filter: byDuplicate, of: r.of, mean: right,
			why: "re-export", belongs: r.at}
		if r.lost {
			copied.fate, copied.filter, copied.why, copied.belongs = kept, "", r.what, place{}
		}
		d.tell(copied)
	}
	return t.save(d, "\n", nil)
}

func coarse(x float64) string { return strconv.FormatFloat(round(x, 2), 'f', 2, 64) }
