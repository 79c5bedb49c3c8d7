package ingest

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"repsift/ingest/season"
)

// demoSeason reads the season file of the demo season.
func demoSeason(t *testing.T) *season.Season {
	t.Helper()
	f, err := os.Open("../testdata/demo/season.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := season.Read("season.toml", f)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// readDemo reads the demo season.
func readDemo(t *testing.T, names []string, opt Options) *Reading {
	t.Helper()
	r, err := Read(context.Background(), os.DirFS("../testdata/demo"), names, demoSeason(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestDemoTruth holds every row of the demo season against the truth that its
// generator wrote beside it.
func TestDemoTruth(t *testing.T) {
	r := readDemo(t, nil, Options{})
	for _, s := range r.Sources {
		if s.Err != nil {
			t.Errorf("%v", s.Err)
		}
	}
	f, err := os.Open("../testdata/demo-truth.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := make(map[string]int)
	for i, name := range records[0] {
		col[name] = i
	}
	type key struct{ place, what string }
	found := make(map[key]string)
	for i := range r.Reps.Len() {
		x := r.Reps.Rep(int32(i))
		found[key{place(x.Source, x.Sheet, x.Row, fmt.Sprint(x.RepRecorded.V)), "rep"}] =
			fmt.Sprintf("%s %s %s/%s %.4f kg %.4f m/s", x.Lifter, x.Date, x.Lift, x.Variant, x.LoadKg, x.MeanVelocity)
	}
	for i := range r.Notes {
		n := &r.Notes[i]
		found[key{place(n.Source, n.Sheet, n.Row, ""), "note"}] = fmt.Sprintf("%s %s %s/%s", n.Lifter, n.Date, n.Lift, n.Variant)
	}
	for _, u := range r.Unread {
		found[key{place(u.Source, u.Sheet, u.Row, ""), "unread " + u.Lost.String()}] = ""
	}
	told := make(map[key]bool)
	rows := make(map[string]map[string]bool) // source → rows told of
	wrong := 0
	for _, rec := range records[1:] {
		get := func(name string) string { return rec[col[name]] }
		if strings.HasPrefix(get("source"), "traces/") {
			continue // samples
		}
		what := get("what")
		k := key{place(get("source"), get("sheet"), 0, ""), what}
		if rows[get("source")] == nil {
			rows[get("source")] = make(map[string]bool)
		}
		rows[get("source")][get("sheet")+":"+get("row")] = true
		if what == "not data" {
			continue
		}
		nth := ""
		want := ""
		switch what {
		case "rep":
			nth = get("rep_recorded")
			want = fmt.Sprintf("%s %s %s/%s %s kg %s m/s", get("lifter"), get("date"), get("lift"), get("variant"), four(get("load_kg")), four(get("mean_velocity_m_s")))
		case "note":
			want = fmt.Sprintf("%s %s %s/%s", get("lifter"), get("date"), get("lift"), get("variant"))
		}
		k.place = fmt.Sprintf("%s|%s|%s|%s", get("source"), get("sheet"), get("row"), nth)
		told[k] = true
		got, ok := found[k]
		if strings.Contains(get("why"), "slip") || get("filter") == "duplicate" { // the truth is right, the source is not
			got, want = "", ""
		}
		if !ok || got != want {
			if wrong++; wrong <= 20 {
				t.Errorf("%s is %s, %q: got %q (%v)", k.place, what, want, got, ok)
			}
		}
	}
	for k := range found {
		if !told[k] && !strings.HasPrefix(k.place, "traces/") {
			if wrong++; wrong <= 20 {
				t.Errorf("%s: read as %s, which the truth does not tell", k.place, k.what)
			}
		}
	}
	for _, l := range r.Ledger {
		l.Kept, l.Alone = l.Reps, l.SetNotes
		if err := l.Balance(); err != nil {
			t.Error(err)
		}
		if n := len(rows[l.Source]); n != l.Rows && !strings.HasPrefix(l.Source, "traces/") {
			t.Errorf("%s: %d rows, the truth tells of %d", l.Source, l.Rows, n)
		}
	}
}

func place(source, sheet string, row int32, nth string) string {
	return fmt.Sprintf("%s|%s|%d|%s", source, sheet, row, nth)
}

func four(number string) string {
	var v float64
	if _, err := fmt.Sscan(number, &v); err != nil {
		return number
	}
	return fmt.Sprintf("%.4f", v)
}
