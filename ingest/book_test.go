package ingest

import (
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// workbook returns a workbook of sheets, each a name and rows.
func workbook(t *testing.T, sheets []string, rows map[string][][]any, merge map[string][2]string) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, name := range sheets {
		if i == 0 {
			check(f.SetSheetName("Sheet1", name))
		} else {
			_, err := f.NewSheet(name)
			check(err)
		}
		for r, row := range rows[name] {
			at, err := excelize.CoordinatesToCellName(1, r+1)
			check(err)
			check(f.SetSheetRow(name, at, &row))
		}
	}
	for sheet, m := range merge {
		check(f.MergeCell(sheet, m[0], m[1]))
	}
	b, err := f.WriteToBuffer()
	check(err)
	return b.String()
}

func TestSheetPerLifter(t *testing.T) {
	day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	head := []any{"Date", "Lift", "Load (kg)", "Rep", "Mean velocity (m/s)"}
	book := workbook(t, []string{"Ines", "Tomás Reis", "About"}, map[string][][]any{
		"Ines":       {head, {day, "squat", 100, 1, 0.51}, {nil, "squat", 100, 2, 0.5}, {day.AddDate(0, 0, 1), "bench", 60.5, 1, 0.4}},
		"Tomás Reis": {head, {day, "deadlift", 180, 1, 0.31}, {day, "deadlift", 180, 2, "0.3o"}},
		"About":      {{"This workbook is kept by the club."}, {"Ask before you change it."}},
	}, map[string][2]string{"Ines": {"A2", "A3"}})
	r := one(t, "club.xlsx", book, "[[lifter]]\nname = \"Ines Duarte\"\nspelled = [\"Ines\"]\n[[lifter]]\nname = \"Käthe Brandl\"\n")
	equal(t, "rep", showAll(r), []string{
		"Ines Duarte 2026-01-05 squat 100 kg rep 1 0.51 m/s", "Ines Duarte 2026-01-05 squat 100 kg rep 2 0.5 m/s",
		"Ines Duarte 2026-01-06 bench press 60.5 kg rep 1 0.4 m/s", "Tomás Reis 2026-01-05 deadlift 180 kg rep 1 0.31 m/s"})
	equal(t, "unread", showUnread(r), []string{
		`row club.xlsx [Tomás Reis]:3: column "Mean velocity (m/s)": "0.3o" is not a number; the row is lost: correct it there, or by a [[correction]] with field = "mean_velocity" in the season file`})
	if said := strings.Join(r.Sources[0].Said, "\n"); !strings.Contains(said, `sheet "Tomás Reis" is taken for the lifter Tomás Reis`) {
		t.Errorf("said %q", said)
	}
	if x := r.Reps.Rep(0); x.MeanStep != 0.01 || x.Sheet != "Ines" || x.Row != 2 {
		t.Errorf("step %g, sheet %q, row %d", x.MeanStep, x.Sheet, x.Row)
	}
}

func TestSheetPerLift(t *testing.T) {
	head := []any{"Date", "Lifter", "Load (kg)", "Reps", "RPE"}
	book := workbook(t, []string{"Kniebeuge", "Bankdrücken"}, map[string][][]any{
		"Kniebeuge":   {head, {"05.01.2026", "Ines", 100, 5, 8}},
		"Bankdrücken": {head, {"13.01.2026", "Ines", 60, 5, "@7,5"}},
	}, nil)
	r := one(t, "log.xlsx", book, "")
	equal(t, "note", showNotes(r), []string{"Ines 2026-01-13 bench press 60 kg 1x5 @7.5", "Ines 2026-01-05 squat 100 kg 1x5 @8"})
}

// TestIncompleteSheet: a sheet that lacks what another has is lost row by row,
// with the question; the rest is read.
func TestIncompleteSheet(t *testing.T) {
	book := workbook(t, []string{"Data", "Best"}, map[string][][]any{
		"Data": {{"Date", "Lifter", "Lift", "Load (kg)", "Rep", "Velocity (m/s)"}, {"2026-01-05", "Ines", "squat", 100, 1, 0.5}},
		"Best": {{"Lift", "Load (kg)", "Velocity (m/s)"}, {"squat", 120, 0.3}, {"bench", 80, 0.2}},
	}, nil)
	r := one(t, "club.xlsx", book, "")
	equal(t, "rep", showAll(r), []string{"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s"})
	if l := r.Ledger[0]; l.Rows != 5 || l.Unread != 2 || len(r.Unread) != 2 || len(r.Sources[0].Warnings) != 1 {
		t.Errorf("ledger %+v, unread %v, warnings %q", l, r.Unread, r.Sources[0].Warnings)
	}
}
