package stored

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/report/pack"
	"repsift/report/tidy"
)

func sample() *clean.Result {
	t := new(rep.Table)
	res := &clean.Result{Reps: t}
	for i := range 12 {
		r := rep.Rep{Lifter: "=Zoë, \"Z\"", Date: rep.Day(20000 + i/6), Lift: "squat", Device: "-1;=2", LoadKg: 102.05828325, MeanVelocity: 0.1 + 0.2,
			PerformedAt: rep.Some(rep.Instant(-5000 + int64(i)*86_400_123)), RPE: rep.Some(8.5), RPEFrom: rep.RPEHandLog, Missed: i == 5,
			Source: "ä 'b'.csv", Sheet: "@x", Row: int32(i + 2), Session: int32(i/6 + 1), Set: int32(i/3%2 + 1), Rep: int32(i%3 + 1), Role: rep.Work}
		if i%2 == 0 {
			r.ROM, r.Flags, r.Recorded.ROM = rep.Some(0.0), r.Flags.With(rep.FlexAllowance).With(rep.LoadCheck), rep.Some(0.625)
		}
		if i == 11 {
			r.Session, r.Set, r.Rep, r.Role = 0, 0, 0, 0
			res.Aside = append(res.Aside, clean.Aside{Row: t.Append(&r), Filter: rep.Rebound, Reason: "=1\nshort", Limit: rep.Some(0.2)})
			continue
		}
		res.Kept = append(res.Kept, t.Append(&r))
	}
	for k := range 4 {
		s := rep.Set{Lifter: "=Zoë, \"Z\"", Date: rep.Day(20000 + k/2), Session: int32(k/2 + 1), Lift: "squat", LoadKg: rep.Some(102.05828325),
			Number: rep.Some(int32(k%2 + 1)), Role: rep.Work, Reps: 3, Source: "ä 'b'.csv", Row: int32(3*k + 2)}
		for i := range 3 {
			if row := int32(3*k + i); row < 11 {
				s.Rows = append(s.Rows, row)
			}
		}
		s.Reps = int32(len(s.Rows))
		res.Sets.Add(s)
	}
	res.Sets.Add(rep.Set{Lifter: "Li", Date: 20001, Session: 1, Lift: "squat", Source: "log.txt", Row: 3,
		Log: &rep.Logged{Text: "+5 than last week", Source: "log.txt", Row: 3, RPE: rep.Some(7.0)}})
	res.Unread = []rep.Unread{{Lost: rep.LostCell, Place: rep.Place{Source: "a.csv", Row: 9, Column: "Gewicht"}, Text: "=12O", Problem: "no number"}, {Place: rep.Place{Source: "b.csv"}, Problem: "empty"}}
	res.Ledger = []rep.Ledger{{Source: "ä 'b'.csv", Rows: 12, RepRows: 12, Reps: 12, Kept: 11, SetAside: 1}}
	res.Filters = []clean.InForce{{Kind: rep.Rebound, Where: "everywhere", Sentence: "…", Limits: []clean.Limit{{Name: "most_m", Value: 0.1}}}}
	res.Devices = []season.DeviceCorrection{{Device: "old", As: "new", Slope: 1.02, Intercept: -0.01, Sets: 12, Error: 0.01}}
	res.Doubts = []clean.Doubt{{Topic: clean.FewerReps, Lifter: "Li", Lift: "squat", Date: 20001, Text: "4 or 5?", Places: []rep.Place{{Source: "a.csv", Sheet: "S", Row: 3}}}}
	return res
}

// written returns the files of a season.
func written(t *testing.T, res *clean.Result) map[string]string {
	t.Helper()
	files := map[string]string{}
	put := func(name string, write func(*bytes.Buffer) error) {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		files[name] = b.String()
	}
	put("reps.parquet", func(b *bytes.Buffer) error { return tidy.RepsParquet(b, res.Reps, res.Kept) })
	put("set_aside.parquet", func(b *bytes.Buffer) error { return tidy.AsideParquet(b, res.Reps, res.Aside) })
	put("sets.parquet", func(b *bytes.Buffer) error { return tidy.SetsParquet(b, &res.Sets) })
	put("reps.csv", func(b *bytes.Buffer) error { return tidy.RepsCSV(b, res.Reps, res.Kept) })
	put("set_aside.csv", func(b *bytes.Buffer) error { return tidy.AsideCSV(b, res.Reps, res.Aside) })
	put("sets.csv", func(b *bytes.Buffer) error { return tidy.SetsCSV(b, &res.Sets) })
	put("unread.csv", func(b *bytes.Buffer) error { return tidy.UnreadCSV(b, res.Unread) })
	put("run.json", func(b *bytes.Buffer) error { return pack.WriteRun(b, pack.Of(res)) })
	return files
}

func folder(files map[string]string, leave func(name string) bool) fstest.MapFS {
	fsys := fstest.MapFS{}
	for name, text := range files {
		if leave(name) {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return fsys
}

// What is read back writes the same bytes, ids among them, from either kind of
// file.
func TestReadBack(t *testing.T) {
	want := written(t, sample())
	for _, without := range []string{".csv", ".parquet"} {
		fsys := folder(want, func(name string) bool { return name == "unread.csv" || !strings.HasSuffix(name, without) })
		if !Is(fsys) {
			t.Fatalf("without %s the folder is none of ours", without)
		}
		res, run, err := Read(fsys)
		if err != nil {
			t.Fatalf("without %s: %v", without, err)
		}
		if run.Totals.Kept != len(res.Kept) {
			t.Errorf("%d kept, run.json has %d", len(res.Kept), run.Totals.Kept)
		}
		got := written(t, res)
		for _, name := range slices.Sorted(maps.Keys(want)) {
			if got[name] != want[name] {
				t.Errorf("without %s: %s differs:\n%.600s\n%.600s", without, name, got[name], want[name])
			}
		}
		want := sample().Sets
		for i, s := range res.Sets.All() {
			if s.Number.OK && fmt.Sprint(s.Rows) != fmt.Sprint(want.Rows(i)) {
				t.Errorf("set %d has rows %v", i, s.Rows)
			}
		}
	}
}

// A folder in which something is broken or missing is refused, with the file.
func TestReadBroken(t *testing.T) {
	for name, c := range map[string]struct {
		change func(map[string]string)
		want   string
	}{
		"no table":    {func(f map[string]string) { delete(f, "sets.parquet"); delete(f, "sets.csv") }, "sets.csv: neither"},
		"cut short":   {func(f map[string]string) { f["reps.parquet"] = f["reps.parquet"][:200] }, "reps.parquet: "},
		"other table": {func(f map[string]string) { f["sets.parquet"] = f["reps.parquet"] }, "sets.parquet: column"},
		"two runs": {func(f map[string]string) {
			f["run.json"] = strings.Replace(f["run.json"], `"kept": 11`, `"kept": 12`, 2)
		}, "files of two runs"},
		"not our run": {func(f map[string]string) { f["run.json"] = "{}" }, "not of this program"},
		"short a rep": {func(f map[string]string) { delete(f, "reps.parquet"); f["reps.csv"] = dropLine(f["reps.csv"]) }, "the table of reps"},
		"not a number": {func(f map[string]string) {
			delete(f, "reps.parquet")
			f["reps.csv"] = strings.Replace(f["reps.csv"], "102.05828325", "lots", 1)
		}, "reps.csv: "},
	} {
		files := written(t, sample())
		c.change(files)
		_, _, err := Read(folder(files, func(string) bool { return true }))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func dropLine(csv string) string {
	lines := strings.SplitAfter(csv, "\r\n")
	return strings.Join(append(lines[:1], lines[2:]...), "")
}

// Every text of a file is seen: values, dictionary, and the footer.
func TestTexts(t *testing.T) {
	seen := map[string]bool{}
	if err := Texts([]byte(written(t, sample())["sets.parquet"]), func(where, text string) { seen[where+": "+text] = true }); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"column lifter: Li", "column logged_text: +5 than last week", "footer: lifter", "footer: repsift version 1 (build 1)", "footer: Li"} {
		if !seen[want] {
			t.Errorf("%q is not seen", want)
		}
	}
	if err := Texts([]byte("PAR1 and no more PAR1"), func(string, string) {}); err == nil {
		t.Error("a broken file is taken")
	}
}
