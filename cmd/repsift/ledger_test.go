package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/report"
)

var randomTables = flag.Int("tables", 2000, "random tables whose ledger is checked")

// TestLedgerOfRandomTables: whatever a table is like, each of its lines is in
// exactly one place, and each rep read is kept or set aside.
func TestLedgerOfRandomTables(t *testing.T) {
	const pieces = 8
	var rows, reps, notes, unread atomic.Int64
	t.Cleanup(func() {
		t.Logf("%d tables: %d rows, %d reps, %d set notes, %d unread", *randomTables, rows.Load(), reps.Load(), notes.Load(), unread.Load())
		if n := int64(*randomTables); reps.Load() < n || notes.Load() < n/10 || unread.Load() < n {
			t.Error("too little of it was read for the test to tell anything")
		}
	})
	for piece := range pieces {
		t.Run(fmt.Sprint("piece=", piece), func(t *testing.T) {
			t.Parallel()
			for i := piece; i < *randomTables; i += pieces {
				content := randomTable(rand.New(rand.NewPCG(uint64(i), 1)))
				l, err := account(content, nil)
				if err != nil {
					t.Errorf("table %d: %v\n%.2000q", i, err, content)
				}
				rows.Add(int64(l.Rows))
				reps.Add(int64(l.Reps))
				notes.Add(int64(l.SetNotes))
				unread.Add(int64(l.Unread))
			}
		})
	}
}

// account reads and cleans one file and returns its ledger, and what is wrong
// with it.
func account(content []byte, s *season.Season) (l rep.Ledger, err error) {
	fsys := fstest.MapFS{"a.csv": {Data: content}}
	reading, err := ingest.Read(context.Background(), fsys, nil, s, ingest.Options{Workers: 2})
	if err != nil {
		return l, err
	}
	read := reading.Reps.Len()
	result, err := clean.Run(&reading.Batch, s)
	if err != nil {
		return l, err
	}
	place := make([]int, read)
	for _, row := range result.Kept {
		place[row]++
	}
	for _, a := range result.Aside {
		place[a.Row]++
	}
	if i := slices.IndexFunc(place, func(n int) bool { return n != 1 }); i >= 0 {
		return l, fmt.Errorf("rep %d of %d is in %d places", i, read, place[i])
	}
	for i := range result.Ledger {
		l = result.Ledger[i]
		if err := l.Balance(); err != nil {
			return l, err
		}
		src := &reading.Sources[i]
		if src.Err != nil || src.Bytes == 0 {
			continue
		}
		if err := accountRows(reading, result, l); err != nil {
			return l, err
		}
		if n, ok := linesOf(content, src); ok {
			extra, err := furtherLines(fsys, src, s)
			if err != nil {
				return l, err
			}
			if n != l.Rows+extra {
				return l, fmt.Errorf("%d lines, but %d rows and %d lines more in rows of several", n, l.Rows, extra)
			}
		}
	}
	return l, nil
}

// accountRows holds the ledger of a source against what there is of its rows.
func accountRows(reading *ingest.Reading, result *clean.Result, l rep.Ledger) error {
	type at struct {
		sheet string
		row   int32
	}
	kind := map[at]string{} // the strongest that a row gave
	for _, u := range reading.Unread {
		if u.Lost == rep.LostRow && u.Row > 0 {
			kind[at{u.Sheet, u.Row}] = "unread"
		}
	}
	for i := range reading.Notes {
		kind[at{reading.Notes[i].Sheet, reading.Notes[i].Row}] = "note"
	}
	trace := false
	for i := range result.Reps.Len() {
		r := result.Reps.Rep(int32(i))
		kind[at{r.Sheet, r.Row}] = "rep"
	}
	for _, src := range reading.Sources {
		trace = trace || strings.Contains(src.Shape, "samples")
	}
	if trace {
		return nil // its rows are samples: no data, of which reps are made
	}
	count := map[string]int{}
	for _, k := range kind {
		count[k]++
	}
	if count["rep"] != l.RepRows || count["note"] != l.SetNotes || count["unread"] != l.Unread {
		return fmt.Errorf("the ledger says %d rep rows, %d notes, %d unread; there are %v", l.RepRows, l.SetNotes, l.Unread, count)
	}
	return nil
}

// linesOf counts the lines of a text in an encoding of single bytes or UTF-8;
// false for others. Lines end as the reader says they do: LF, CRLF, CR, CRCRLF.
// NULs at the end, as a unit that lost power pads its file, are no line.
func linesOf(content []byte, src *ingest.Source) (int, bool) {
	if src.Format != "text" || strings.HasPrefix(src.Encoding, "UTF-16") || strings.HasPrefix(src.Encoding, "UTF-32") || bytes.HasPrefix(content, []byte{0x1f, 0x8b}) {
		return 0, false
	}
	content = bytes.TrimRight(bytes.TrimPrefix(content, []byte("\ufeff")), "\x00")
	for _, end := range []string{"\r\r\n", "\r\n", "\r"} {
		content = bytes.ReplaceAll(content, []byte(end), []byte("\n"))
	}
	n := bytes.Count(content, []byte("\n"))
	if len(content) > 0 && content[len(content)-1] != '\n' {
		n++
	}
	return n, true
}

// furtherLines counts the lines of a text that continue a row.
func furtherLines(fsys fs.FS, src *ingest.Source, s *season.Season) (int, error) {
	f, err := ingest.Open(fsys, src.Name, src.Delimiter, s)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	n := 0
	for _, sheet := range f.Sheets {
		for row, err := range sheet.Rows() {
			if err != nil {
				return 0, err
			}
			n += int(max(row.Lines, 1)) - 1
		}
	}
	return n, nil
}

// pick returns one of several.
func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// awkward is what stands in cells where something else should.
var awkward = append([]string{"", "", "--", "n/a", "1e999", "NaN", "-0", "12O", "0,5", "1.234,5", "\"", "a\"b", "a\nb", "=1+1", "9999-12-31", "0000-00-00", "31/12/26", "180x5 @8", "0.4 / 0.3", "Total",
	"\x00", "\xff\xfe", "\xed\xa0\x80", "\u202e", strings.Repeat("x", 3000)}, payloads...)

// randomColumns are headings with what usually stands below them in the ith
// row: sets of five reps, four sets a day, a day for each lifter in turn. The
// last four columns are what a table of reps need not have.
var randomColumns = []struct {
	heads []string
	cell  func(r *rand.Rand, i int) string
}{
	{[]string{"date", "Datum", "performed at", "jour"}, func(r *rand.Rand, i int) string { return fmt.Sprintf("2026-%02d-%02d", 1+i/400%12, 1+i/20%28) }},
	{[]string{"lifter", "Name", "athlete", "nom"}, func(r *rand.Rand, i int) string {
		return []string{"Ines Duarte", "ines duarte", "Vera Holm", "Zoë"}[i/20%4]
	}},
	{[]string{"lift", "exercise", "Übung"}, func(r *rand.Rand, i int) string {
		return []string{"squat", "bench press", "deadlift", "Kniebeuge"}[i/20%4]
	}},
	{[]string{"load (kg)", "weight", "Gewicht [lb]", "kg"}, func(r *rand.Rand, i int) string { return fmt.Sprint(80 + 20*(i/5%4)) }},
	{[]string{"set", "Satz", "series"}, func(r *rand.Rand, i int) string { return fmt.Sprint(1 + i/5%4) }},
	{[]string{"rep", "Wdh", "reps"}, func(r *rand.Rand, i int) string { return fmt.Sprint(1 + i%5) }},
	{[]string{"mean velocity (m/s)", "v (cm/s)", "speed", "mean concentric velocity"}, func(r *rand.Rand, i int) string {
		return fmt.Sprintf("%.2f", 0.9-0.1*float64(i/5%4)-0.02*float64(i%5)+0.1*r.Float64())
	}},
	{[]string{"peak velocity (m/s)", "top speed"}, func(r *rand.Rand, _ int) string { return fmt.Sprintf("%.2f", 1+r.Float64()) }},
	{[]string{"note", "RPE", "time (s)", "ROM (cm)", "device", "sets x reps"}, func(r *rand.Rand, _ int) string { return pick(r, "0.9", "55", "7", "7.5", "good", "") }},
	{[]string{"rep 1 (m/s)", "rep 2", "rep 3"}, func(r *rand.Rand, _ int) string { return fmt.Sprintf("%.2f", 0.2+r.Float64()) }},
	{[]string{"remark", "", "x", "=1+1"}, func(r *rand.Rand, _ int) string { return pick(r, awkward...) }},
}

// randomTable is a table in which anything may be wrong.
func randomTable(r *rand.Rand) []byte {
	if r.IntN(40) == 0 {
		return []byte(noise(r.IntN(3000)))
	}
	sep, end := pick(r, ",", ";", "\t", "|"), pick(r, "\n", "\r\n", "\r")
	order := r.Perm(len(randomColumns))
	order = order[:1+r.IntN(len(order))]
	plain := r.IntN(3) > 0
	if plain {
		order = r.Perm(7 + r.IntN(3)) // all that a table of reps has, and perhaps more
	}
	var heads []string
	for _, c := range order {
		if head := randomColumns[c].heads; plain {
			heads = append(heads, head[0])
		} else {
			heads = append(heads, pick(r, head...))
		}
	}
	wrong := pick(r, 0, 0, 0.02, 0.2) // share of cells
	var b strings.Builder
	line := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteString(sep)
			}
			if strings.ContainsAny(c, sep+"\"\r\n") && r.IntN(8) > 0 {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteString(end)
	}
	for range r.IntN(4) * r.IntN(2) {
		line([]string{pick(r, "Session", "Lifter: Vera Holm", "2026-03-01", "", "# remark", pick(r, awkward...))})
	}
	if r.IntN(10) > 0 {
		line(heads)
	}
	for i := range r.IntN(60) {
		switch r.IntN(30) {
		case 0:
			line(heads)
		case 1:
			line(nil)
		case 2:
			line([]string{"Total", "", "12"})
		}
		var cells []string
		for _, c := range order {
			cell := randomColumns[c].cell(r, i)
			if r.Float64() < wrong {
				cell = pick(r, awkward...)
			}
			cells = append(cells, cell)
		}
		switch r.IntN(40) {
		case 0:
			cells = append(cells, "beyond")
		case 1:
			cells = cells[:r.IntN(len(cells))]
		}
		line(cells)
	}
	out := []byte(b.String())
	switch r.IntN(12) {
	case 0:
		out = []byte("\xff\xfe" + wide(string(out)))
	case 1:
		out = append([]byte("\ufeff"), out...)
	case 2, 3: // bytes that fell over
		for range 1 + r.IntN(20) {
			if len(out) > 0 {
				out[r.IntN(len(out))] = byte(r.Uint32())
			}
		}
	case 4:
		out = out[:r.IntN(len(out)+1)]
	}
	return out
}

// FuzzTidy takes any bytes as an export, and any text as a season file, through
// the whole program: the books balance, and twice gives the same bytes.
func FuzzTidy(f *testing.F) {
	f.Add([]byte(good), "")
	f.Add([]byte(rowsOf("0.5", "fast", "0.4")), "timezone = \"Europe/Lisbon\"\n[[source]]\nfiles = [\"*\"]\ndate_order = \"day month year\"\n")
	for i := range 60 {
		f.Add(randomTable(rand.New(rand.NewPCG(uint64(i), 2))), "")
	}
	f.Add(packed(part{"xl/workbook.xml", text(`<workbook><sheets><sheet name="Log"/></sheets></workbook>`)}, sheet(`<row><c t="str"><v>rep</v></c></row><row><c><v>1</v></c></row>`)).Bytes(), "")
	f.Add([]byte("t,p\n0,0\n0.01,0.01\n0.02,0.03\n"), "[[source]]\nfiles = [\"*\"]\nlifter = \"a\"\nlift = \"squat\"\nload = 100\ndate = 2026-01-05\nshape = \"samples\"\n")
	f.Fuzz(func(t *testing.T, content []byte, declared string) {
		s, err := season.Read("season.toml", strings.NewReader(declared))
		if err != nil {
			s = nil
		}
		if _, err := account(content, s); err != nil {
			t.Fatal(err)
		}
		sameTwice(t, content, s, true)
	})
}

// sameTwice writes the output of one file twice: the bytes are the same, and
// nothing of it would run.
func sameTwice(t *testing.T, content []byte, s *season.Season, tables bool) {
	t.Helper()
	dir := t.TempDir()
	a, b := tidyInto(t, filepath.Join(dir, "a"), content, s, 1, tables), tidyInto(t, filepath.Join(dir, "b"), content, s, 3, tables)
	for name := range a {
		if a[name] != b[name] {
			t.Errorf("%s differs from one run to the next", name)
		}
	}
	if len(a) != len(b) || len(a) < 8 {
		t.Errorf("%d and %d files", len(a), len(b))
	}
	harmless(t, filepath.Join(dir, "a"))
}

// TestRandomTablesWritten writes all there is, pages and workbook too, of random
// tables.
func TestRandomTablesWritten(t *testing.T) {
	for i := range 20 {
		sameTwice(t, randomTable(rand.New(rand.NewPCG(uint64(i), 3))), nil, false)
	}
}

// tidyInto writes the output folder of one file and returns what is in it.
// With tables, pages and workbook are left out, which take a hundred times as
// long as all else.
func tidyInto(t *testing.T, dir string, content []byte, s *season.Season, workers int, tables bool) map[string]string {
	t.Helper()
	reading, err := ingest.Read(context.Background(), fstest.MapFS{"a.csv": {Data: content}}, nil, s, ingest.Options{Workers: workers})
	must(t, err)
	result, err := clean.Run(&reading.Batch, s)
	must(t, err)
	must(t, report.Write(context.Background(), dir, &report.Run{Version: "v", Season: s, Inferred: inferred(reading), Result: result, Profiles: profile.All(result, s), CSV: true, Tables: tables}))
	files := map[string]string{}
	must(t, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		files[rel] = string(b)
		return err
	}))
	return files
}
