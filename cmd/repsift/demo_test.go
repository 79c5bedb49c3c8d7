package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

const (
	demo      = "../../testdata/demo"
	demoTruth = "../../testdata/demo-truth.csv"
)

// tidied runs the main job in process and returns the output folder.
func tidied(t *testing.T, args ...string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	var said, wrong bytes.Buffer
	status := run(context.Background(), append([]string{"tidy", "--out", out}, args...), &console{out: &said, err: &wrong, width: 80})
	if status != statusDone && status != statusPartly {
		t.Fatalf("exit status %d\n%s%s", status, said.String(), wrong.String())
	}
	return out
}

// records reads a CSV with a heading into one map a row.
func records(t *testing.T, file string) []map[string]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := make([]map[string]string, len(rows)-1)
	for i, row := range rows[1:] {
		out[i] = map[string]string{}
		for j, name := range rows[0] {
			out[i][name] = row[j]
		}
	}
	return out
}

func place(r map[string]string) string {
	return strings.Join([]string{r["source"], r["sheet"], r["row"], r["rep_recorded"]}, "|")
}

// The demo's truth file, written by the generator that made the demo, says of
// every row of every source what it is and where it has to end.
func TestDemoTruth(t *testing.T) {
	out := tidied(t, demo, "--csv")
	kept, aside, unreadRows, cells := map[string]map[string]string{}, map[string]map[string]string{}, map[string]bool{}, map[string]bool{}
	for _, r := range records(t, filepath.Join(out, "reps.csv")) {
		kept[place(r)] = r
	}
	for _, r := range records(t, filepath.Join(out, "set_aside.csv")) {
		aside[place(r)] = r
	}
	for _, r := range records(t, filepath.Join(out, "unread.csv")) {
		key := r["source"] + "|" + r["sheet"] + "|" + r["row"]
		if r["lost"] == "row" {
			unreadRows[key] = true
		} else {
			cells[key+"|"+r["column"]] = true
		}
	}
	notes := map[string]string{} // place of a note → fate
	for _, s := range records(t, filepath.Join(out, "sets.csv")) {
		if s["log_source"] == "" {
			continue
		}
		key := s["log_source"] + "|" + s["log_sheet"] + "|" + s["log_row"]
		if s["source"] != s["log_source"] {
			notes[key] = "joined"
		} else if notes[key] == "" {
			notes[key] = "alone"
		}
	}
	c := checker{t: t, kept: kept, aside: aside}
	rows := 0
	for _, want := range records(t, demoTruth) {
		row := want["source"] + "|" + want["sheet"] + "|" + want["row"]
		switch what := want["what"]; {
		case strings.HasPrefix(want["source"], "traces/"):
			continue // TestDemoTraces
		case what == "rep" && want["fate"] == "kept":
			c.rep(want, kept, "")
		case what == "rep":
			c.rep(want, aside, want["filter"])
		case what == "note":
			if notes[row] != want["fate"] {
				c.wrong("%s: note is %q, want %q", row, notes[row], want["fate"])
			}
		case what == "unread row":
			if !unreadRows[row] {
				c.wrong("%s: not among the unread rows", row)
			}
			delete(unreadRows, row)
		case what == "unread cell":
			if key := row + "|" + want["why"]; !cells[key] {
				c.wrong("%s: not among the unread cells", key)
			} else {
				delete(cells, key)
			}
		}
		rows++
	}
	for key := range unreadRows {
		c.wrong("%s: unread, though the truth has it", key)
	}
	for key := range cells {
		c.wrong("%s: an unread cell, though the truth has it", key)
	}
	if rows < 5000 {
		t.Errorf("the truth has only %d rows", rows)
	}
	if c.faults > 0 {
		t.Errorf("%d rows of %d ended elsewhere", c.faults, rows)
	}
}

type checker struct {
	t           *testing.T
	kept, aside map[string]map[string]string
	faults      int
}

func (c *checker) wrong(format string, args ...any) {
	if c.faults++; c.faults <= 30 {
		c.t.Errorf(format, args...)
	}
}

// rep holds a rep of the truth against the table it has to be in.
func (c *checker) rep(want map[string]string, in map[string]map[string]string, filter string) {
	key := place(want)
	got := in[key]
	if got == nil {
		where := "nowhere"
		if c.kept[key] != nil {
			where = "kept"
		} else if a := c.aside[key]; a != nil {
			where = "set aside by " + a["filter"] + ": " + a["reason"]
		}
		c.wrong("%s (%s, %s %s kg): %s, want %s %s", key, want["why"], want["lift"], want["load_kg"], where, want["fate"], filter)
		return
	}
	if got["filter"] != filter {
		c.wrong("%s (%s): set aside by %q, want %q", key, want["why"], got["filter"], filter)
	}
	for column, as := range map[string]string{"lifter": "lifter", "session_date": "date", "lift": "lift", "variant": "variant"} {
		if got[column] != want[as] {
			c.wrong("%s: %s is %q, want %q", key, column, got[column], want[as])
		}
	}
	if !near(got["load_kg"], want["load_kg"], 1e-6) {
		c.wrong("%s: load is %s kg, want %s", key, got["load_kg"], want["load_kg"])
	}
	slip := strings.Contains(want["why"], "slip") || filter == "duplicate" && near(got["mean_velocity_m_s"], "10", 3) // a copy of one
	if !slip && !near(got["mean_velocity_m_s"], want["mean_velocity_m_s"], 1e-6) {
		c.wrong("%s: mean velocity is %s m/s, want %s", key, got["mean_velocity_m_s"], want["mean_velocity_m_s"])
	}
}

func near(a, b string, within float64) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	return errX == nil && errY == nil && math.Abs(x-y) <= within
}

// A balanced ledger for every source of the demo, none missing.
func TestDemoLedger(t *testing.T) {
	out := tidied(t, demo)
	text, err := os.ReadFile(filepath.Join(out, "run.json"))
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Sources []rep.Ledger `json:"sources"`
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Sources) < 16 {
		t.Fatalf("run.json tells of %d sources", len(doc.Sources))
	}
	for _, l := range doc.Sources {
		if err := l.Balance(); err != nil {
			t.Error(err)
		}
		if l.Rows == 0 {
			t.Errorf("%s has no rows", l.Source)
		}
	}
}

// The same bytes on a second run, and with the files named one by one in
// another order.
func TestDemoSameBytes(t *testing.T) {
	season := filepath.Join(demo, "season.toml")
	first := tree(t, tidied(t, demo, "--csv"))
	second := tree(t, tidied(t, demo, "--csv"))
	same(t, "second run", first, second)

	folders := []string{"traces", "slate", "sessions", "north", "hand log.xlsx", "guest gym.xlsx"}
	var forth, back []string
	for i := range folders {
		forth = append(forth, filepath.Join(demo, folders[i]))
		back = append(back, filepath.Join(demo, folders[len(folders)-1-i]))
	}
	a := tree(t, tidied(t, append(forth, "--season", season)...))
	b := tree(t, tidied(t, append(back, "--season", season)...))
	same(t, "other order", a, b)
	if !bytes.Equal(a["reps.parquet"], first["reps.parquet"]) {
		t.Error("reps.parquet depends on whether the folder or its parts were named")
	}
}

func tree(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, _ := filepath.Rel(dir, p)
		files[rel], err = os.ReadFile(p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func same(t *testing.T, what string, a, b map[string][]byte) {
	t.Helper()
	for name := range a {
		if !bytes.Equal(a[name], b[name]) {
			t.Errorf("%s: %s differs", what, name)
		}
	}
	if len(a) != len(b) {
		t.Errorf("%s: %s", what, fmt.Sprintf("%d files, then %d", len(a), len(b)))
	}
}
