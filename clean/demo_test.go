package clean_test

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/season"
)

// TestDemoTruth holds the fate of every rep and logged set of the demo season
// against the truth that its generator wrote beside it.
func TestDemoTruth(t *testing.T) {
	f, err := os.Open("../testdata/demo/season.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := season.Read("season.toml", f)
	if err != nil {
		t.Fatal(err)
	}
	read, err := ingest.Read(context.Background(), os.DirFS("../testdata/demo"), nil, s, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := clean.Run(&read.Batch, s)
	if err != nil {
		t.Fatal(err)
	}
	got := make(map[string]string) // place → fate
	key := func(source, sheet string, row any, rep string) string {
		return fmt.Sprint(source, "|", sheet, "|", row, "|", rep)
	}
	sources := make(map[string]bool)
	enter := func(row int32, fate string) {
		x := res.Reps.Rep(row)
		n := ""
		if x.RepRecorded.OK {
			n = fmt.Sprint(x.RepRecorded.V)
		}
		got[key(x.Source, x.Sheet, x.Row, n)] = fate
		got[key(x.Source, x.Sheet, x.Row, "")] = fate
		sources[x.Source] = true
	}
	for _, row := range res.Kept {
		enter(row, "kept")
	}
	for _, a := range res.Aside {
		enter(a.Row, "set aside by "+a.Filter.String())
	}
	for _, set := range res.Sets.All() {
		if set.Log != nil {
			fate := "alone"
			if len(set.Rows) > 0 {
				fate = "joined"
			}
			got[key(set.Log.Source, set.Log.Sheet, set.Log.Row, "note")] = fate
		}
	}

	truth, err := os.Open("../testdata/demo-truth.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer truth.Close()
	records, err := csv.NewReader(truth).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := make(map[string]int)
	for i, name := range records[0] {
		column[name] = i
	}
	// Raw traces: their reps begin where reading finds them, give or take some
	// samples, so they are told by the set. Days of a trace that was not read
	// (it lacks a declaration) are left out.
	left := make(map[string]bool)
	day := func(get func(string) string) string { return get("lifter") + get("date") + get("lift") }
	for _, record := range records[1:] {
		get := func(name string) string { return record[column[name]] }
		if of := get("belongs_to"); strings.HasPrefix(of, "traces/") && !sources[of[:strings.LastIndex(of, ":")]] {
			left[day(get)] = true
		}
	}
	checked, wrong := 0, 0
	for _, record := range records[1:] {
		get := func(name string) string { return record[column[name]] }
		place, want := "", get("fate")
		switch get("what") {
		case "rep":
			if strings.HasPrefix(get("source"), "traces/") {
				continue
			}
			place = key(get("source"), get("sheet"), get("row"), get("rep_recorded"))
			if get("filter") != "" {
				want += " by " + get("filter")
			}
		case "note":
			if left[day(get)] {
				continue
			}
			place = key(get("source"), get("sheet"), get("row"), "note")
		default:
			continue
		}
		checked++
		if got[place] != want {
			if wrong++; wrong <= 20 {
				t.Errorf("%s (%s, %s): %q, want %q", place, get("what"), get("why"), got[place], want)
			}
		}
	}
	for _, a := range res.Aside {
		if x := res.Reps.Rep(a.Row); strings.HasPrefix(x.Source, "traces/") {
			t.Errorf("a rep of %s was set aside by %s: %s", x.Source, a.Filter, a.Reason)
		}
	}
	if checked < 11000 {
		t.Errorf("only %d rows of truth checked", checked)
	}
	if wrong > 20 {
		t.Errorf("%d rows wrong in all", wrong)
	}
}
