package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/encoding/charmap"
)

var slateHeading = []string{"Datum", "Uhrzeit", "Heber", "Übung", "Gewicht (kg)", "Satz", "Wdh.",
	"mittlere Geschw. (cm/s)", "Spitze (cm/s)", "Hubweg (cm)", "Dauer (s)"}

var slateFaults = []fault{
	{kaethe, day(1, 12), squat, noMean},
	{kaethe, day(1, 24), deadlift, timeSlip},
	{kaethe, day(2, 9), squat, meanSlip},
	{kaethe, day(2, 16), squat, noSuchDay},
	{kaethe, day(3, 7), deadlift, word("peak", "Fehler", "Spitze (cm/s)")},
	{kaethe, day(3, 16), benchPress, travelSlip},
	{kaethe, day(3, 23), squat, word("seconds", "n/a", "")},
	{kaethe, day(4, 4), deadlift, peakSlip},
}

// bothUnits returns the slate unit's records of a session that the north unit
// recorded as well: a little faster, without the movements before and after
// the reps, and one rep of one set overlooked.
func bothUnits(north []*record) []*record {
	twins := make(map[*set][]*record)
	var sets []*set
	for _, r := range north {
		if r.of.lifter == tomas && r.of.lift == squat && r.of.date.Equal(day(1, 24)) {
			if twins[r.of] == nil {
				sets = append(sets, r.of)
			}
			twins[r.of] = append(twins[r.of], r)
		}
	}
	var records []*record
	for k, s := range sets {
		num := 0
		for i, r := range s.records(1.025, 0.006, 38*time.Second) {
			if !r.rep() || k == 1 && i == 1 {
				continue
			}
			num++
			r.num = num
			r.travel = round(r.travel+0.004, 3)
			r.seconds = round(r.travel/r.mean, 2)
			r.twin = twins[s][i]
			r.fate, r.filter, r.why = setAside, bySecondDevice, bySecondDevice
			records = append(records, r)
		}
	}
	return records
}

// slate writes the monthly exports of the slate unit.
func (d *demo) slate(records []*record) error {
	if err := spoil(records, slateFaults); err != nil {
		return err
	}
	for m, month := range []string{"Jänner", "Februar", "März", "April"} {
		t := &text{name: fmt.Sprintf("slate/%s 2026.csv", month)}
		t.other(d, "Hantelklub am Kai, Trainingsauszug", "preamble")
		t.other(d, "Monat: "+month+" 2026", "preamble")
		t.other(d, "", "blank")
		t.other(d, strings.Join(slateHeading, ";"), "heading")
		for _, r := range records {
			if int(r.start.Month()) == m+1 {
				d.tellRecord(r, t.add(slateRow(r)))
			}
		}
		if m == 3 {
			t.other(d, "Ende des Auszugs", "footer")
		}
		if err := t.save(d, "\r\n", func(s string) ([]byte, error) { return charmap.Windows1252.NewEncoder().Bytes([]byte(s)) }); err != nil {
			return err
		}
	}
	return nil
}

func slateRow(r *record) string {
	date := r.start.Format("02.01.2006")
	if t, ok := r.cells["date"]; ok {
		date = t
	}
	lift := map[string]string{squat: "Kniebeuge", benchPress: "Bankdrücken", deadlift: "Kreuzheben"}[r.of.lift]
	if r.of.variant == sumo {
		lift = "Kreuzheben sumo"
	}
	comma := func(s string) string { return strings.ReplaceAll(s, ".", ",") }
	return strings.Join([]string{
		date, r.setStart.Format("15:04"), r.of.lifter.name, lift,
		comma(loadText(r.of.kg)), strconv.Itoa(r.of.number), strconv.Itoa(r.num),
		comma(r.text("mean", r.mean*100, 1)), comma(r.text("peak", r.peak*100, 1)), comma(r.text("travel", r.travel*100, 1)),
		comma(r.text("seconds", r.seconds, 2)),
	}, ";")
}
