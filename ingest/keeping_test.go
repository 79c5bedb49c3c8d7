package ingest

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shelf"
)

// readFS counts the bytes that are read of each file.
type readFS struct {
	fs.FS
	mu   sync.Mutex
	read map[string]int64
}

func (c *readFS) Open(name string) (fs.File, error) {
	f, err := c.FS.Open(name)
	if err != nil {
		return nil, err
	}
	if info, err := f.Stat(); err != nil || info.IsDir() {
		return f, err
	}
	return &readFile{f, c, name}, nil
}

type readFile struct {
	fs.File
	to   *readFS
	name string
}

func (f *readFile) Read(p []byte) (int, error) {
	n, err := f.File.Read(p)
	f.to.mu.Lock()
	defer f.to.mu.Unlock()
	f.to.read[f.name] += int64(n)
	return n, err
}

// smallSeason is a season of two units and a log, in which much is settled by sisters
// alone: the order of the dates of a.csv, the decimal mark of its speeds, kg or
// lb of the log's loads and the units' names.
func smallSeason() fstest.MapFS {
	files := fstest.MapFS{}
	put := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text)} }
	rows := func(days ...string) string {
		var b strings.Builder
		b.WriteString("Lifter;Date;Time;Lift;Load (kg);Set;Rep;Mean velocity (m/s);ROM (mm)\n")
		for i, day := range days {
			for n := range 6 {
				fmt.Fprintf(&b, "Ana Holm;%s;18:%02d:00;squat;%d;%d;%d;0,%d;5%d1\n", day, n, 100+5*i, 1+n/3, 1+n%3, 52-n, n)
			}
		}
		return b.String()
	}
	put("north/a.csv", rows("03/04/2026", "05/04/2026"))
	put("north/b.csv", rows("13/04/2026", "15/04/2026"))
	put("north/c.csv", rows("20/04/2026"))
	put("slate/mon.csv", "athlete,day,exercise,weight,rep,speed m/s,peak m/s\nBo Lind,2026-04-03,bench press,80,1,0.41,0.60\nBo Lind,2026-04-03,bench press,80,2,0.38,0.57\n")
	put("slate/tue.csv", "athlete,day,exercise,weight,rep,speed m/s,peak m/s\nBo Lind,2026-04-10,bench press,82.5,1,0.40,0.58\nBo Lind,2026-04-10,bench press,87.5,2,,0.57\n")
	put("log.csv", "date,lifter,lift,sets\n2026-04-03,Ana Holm,squat,100x3 @8\n2026-04-10,Ana Holm,squat,105x3 @9\n")
	return files
}

// allOf is what a reading tells, and its reps, in full.
func allOf(r *Reading) string {
	var b strings.Builder
	for _, s := range r.Sources {
		fmt.Fprintf(&b, "%+v\n", s)
	}
	for i := range int32(r.Reps.Len()) {
		fmt.Fprintf(&b, "%x %+v\n", r.Reps.ID(i), r.Reps.Rep(i))
	}
	fmt.Fprintf(&b, "%+v\n%+v\n%+v\n%q\n%+v\n", r.Notes, r.Unread, r.Ledger, r.Said, r.NotRead)
	return b.String()
}

func readKept(t *testing.T, files fs.FS, s *season.Season, last []byte, key string) (*Reading, []byte) {
	t.Helper()
	r, err := Read(context.Background(), files, nil, s, Options{Last: last, For: key})
	if err != nil {
		t.Fatal(err)
	}
	var next bytes.Buffer
	if err := r.Keep(&next); err != nil {
		t.Fatal(err)
	}
	return r, next.Bytes()
}

func seasonOf(t *testing.T, text string) *season.Season {
	t.Helper()
	s, err := season.Read("season.toml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// However a season changes, a reading that takes what was kept of it is the same
// as one that reads everything, and so is what it keeps.
func TestTakenAsRead(t *testing.T) {
	for name, change := range map[string]struct {
		do    func(files fstest.MapFS)
		taken int // of the sources that are there then
	}{
		"nothing":                        {func(fstest.MapFS) {}, 6},
		"a file more, which is no table": {func(f fstest.MapFS) { f["x.pdf"] = &fstest.MapFile{Data: []byte("x")} }, 6},
		"one more": {func(f fstest.MapFS) {
			f["north/d.csv"] = &fstest.MapFile{Data: bytes.ReplaceAll(f["north/c.csv"].Data, []byte("20/04"), []byte("27/04"))}
		}, 6},
		"one less": {func(f fstest.MapFS) { delete(f, "slate/tue.csv") }, 4},
		"one changed": {func(f fstest.MapFS) {
			f["north/c.csv"].Data = append(f["north/c.csv"].Data, "Ana Holm;20/04/2026;18:09:00;squat;100;3;1;0,48;501\n"...)
		}, 5},
		"one renamed":      {func(f fstest.MapFS) { f["north/z.csv"] = f["north/c.csv"]; delete(f, "north/c.csv") }, 5},
		"contents swapped": {func(f fstest.MapFS) { f["north/b.csv"], f["north/c.csv"] = f["north/c.csv"], f["north/b.csv"] }, 4},
		"a copy in front":  {func(f fstest.MapFS) { f["a/copy.csv"] = f["north/c.csv"] }, 3},
		"a copy behind":    {func(f fstest.MapFS) { f["z/copy.csv"] = f["north/c.csv"] }, 6},
		"no sister tells the order of dates": {func(f fstest.MapFS) {
			delete(f, "north/b.csv")
			delete(f, "north/c.csv")
		}, 3},
		"sisters tell another order of dates": {func(f fstest.MapFS) {
			f["north/b.csv"].Data = bytes.ReplaceAll(bytes.ReplaceAll(f["north/b.csv"].Data, []byte("13/04"), []byte("04/13")), []byte("15/04"), []byte("04/15"))
			f["north/c.csv"].Data = bytes.ReplaceAll(f["north/c.csv"].Data, []byte("20/04"), []byte("04/20"))
		}, 3},
		"loads are in lb elsewhere": {func(f fstest.MapFS) {
			f["north/c.csv"].Data = bytes.Replace(f["north/c.csv"].Data, []byte("(kg)"), []byte("(lb)"), 1)
		}, -1},
		"a unit is called otherwise": {func(f fstest.MapFS) {
			f["south/d.csv"] = &fstest.MapFile{Data: bytes.ReplaceAll(f["north/c.csv"].Data, []byte("20/04"), []byte("27/04"))}
		}, 3},
		"one empty": {func(f fstest.MapFS) { f["north/c.csv"].Data = nil }, 5},
	} {
		before := smallSeason()
		_, last := readKept(t, before, nil, nil, "this")
		files := smallSeason()
		change.do(files)
		whole, all := readKept(t, files, nil, nil, "this")
		counted := &readFS{FS: files, read: map[string]int64{}}
		again, next := readKept(t, counted, nil, last, "this")
		if a, b := allOf(whole), allOf(again); a != b {
			t.Errorf("%s: read at once\n%s\nas kept\n%s", name, a, b)
		}
		if !bytes.Equal(all, next) {
			t.Errorf("%s: what is kept differs", name)
		}
		if change.taken >= 0 && again.Taken != change.taken {
			t.Errorf("%s: %d of %d sources taken, want %d", name, again.Taken, len(again.Sources), change.taken)
		}
		once := 0
		for file, n := range counted.read {
			if n == int64(len(files[file].Data)) {
				once++
			}
		}
		if once < again.Taken {
			t.Errorf("%s: %d sources taken, but only %d read no more than once: %v", name, again.Taken, once, counted.read)
		}
	}
}

// What was kept for another season file, time zone or program is not taken.
func TestKeptForAnother(t *testing.T) {
	files := smallSeason()
	lisbon := seasonOf(t, "timezone = \"Europe/Lisbon\"")
	_, last := readKept(t, files, lisbon, nil, "this")
	for name, c := range map[string]struct {
		season *season.Season
		key    string
		taken  int
	}{
		"the same":        {lisbon, "this", 6},
		"another program": {lisbon, "that", 0},
		"another zone":    {seasonOf(t, "timezone = \"Asia/Tokyo\""), "this", 0},
	} {
		again, next := readKept(t, files, c.season, last, c.key)
		whole, all := readKept(t, files, c.season, nil, c.key)
		if again.Taken != c.taken || allOf(again) != allOf(whole) || !bytes.Equal(next, all) {
			t.Errorf("%s: %d taken, want %d, or read otherwise", name, again.Taken, c.taken)
		}
	}
	if a, b := zoneText(time.UTC), zoneText(lisbon.Zone()); a == b || len(b) > 1<<14 {
		t.Errorf("UTC is %q, Lisbon %q", a, b)
	}
}

// A file that is damaged or cut off is of no use, and does no harm.
func TestKeptDamaged(t *testing.T) {
	files := smallSeason()
	whole, last := readKept(t, files, nil, nil, "this")
	want := allOf(whole)
	rnd := rand.New(rand.NewPCG(1, 1))
	for i := range 100 {
		bad := slices.Clone(last)
		switch {
		case i%4 == 0:
			bad = bad[:rnd.IntN(len(bad))]
		default:
			for range 1 + rnd.IntN(3) {
				bad[rnd.IntN(len(bad))] ^= 1 << rnd.IntN(8)
			}
		}
		again, next := readKept(t, files, nil, bad, "this")
		if allOf(again) != want || !bytes.Equal(next, last) {
			t.Fatalf("damage %d is read", i)
		}
	}
}

// Nothing is kept of sources with errors or questions, of large texts that are
// read in blocks, and where reps are on disk; traces that are to be drawn are
// read.
func TestNotKept(t *testing.T) {
	files := fstest.MapFS{"ask.csv": {Data: []byte("lifter,date,lift,load,rep,speed m/s\nAna,3/4/2026,squat,100,1,0.4\n")},
		"bad.xlsx": {Data: []byte("PK\x03\x04 no workbook")}, "large.csv": {Data: largeRows()}}
	_, last := readKept(t, files, nil, nil, "this")
	if again, _ := readKept(t, files, nil, last, "this"); again.Taken != 0 {
		t.Errorf("%d of %d taken", again.Taken, len(again.Sources))
	}
	r, err := Read(context.Background(), smallSeason(), nil, nil, Options{For: "this", Most: 5,
		Disk: func() (shelf.File, error) { return os.CreateTemp(t.TempDir(), "") }})
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if r.Keeps() {
		t.Error("kept, though reps are on disk")
	}
}

func largeRows() []byte {
	var b bytes.Buffer
	b.WriteString("lifter,date,lift,load (kg),set,rep,mean velocity (m/s)\n")
	for i := 0; b.Len() < 5<<20; i++ {
		fmt.Fprintf(&b, "Ana,2026-04-%02d,squat,%d,%d,%d,0.%02d\n", 1+i/1000%28, 100+i%7*5, 1+i%1000/5, 1+i%5, 30+i%30)
	}
	return b.Bytes()
}

// The demo season, with its workbooks and traces, is taken as it was read but
// for the sources that have questions.
func TestDemoTaken(t *testing.T) {
	files, s := os.DirFS("../testdata/demo"), demoSeason(t)
	whole, last := readKept(t, files, s, nil, "this")
	again, next := readKept(t, files, s, last, "this")
	if allOf(whole) != allOf(again) || !bytes.Equal(last, next) {
		t.Error("the demo season as kept differs")
	}
	sound := 0
	for _, src := range whole.Sources {
		if src.Err == nil && len(src.Asks) == 0 && src.SameAs == "" && src.Bytes > 0 {
			sound++
		}
	}
	if again.Taken != sound || sound < 8 {
		t.Errorf("%d taken of %d sound sources", again.Taken, sound)
	}
}

// All of what is kept is plain: gob leaves out what is not exported, and maps
// have no order.
func TestGivenIsPlain(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(at string, v reflect.Type)
	look = func(at string, v reflect.Type) {
		if seen[v] {
			return
		}
		seen[v] = true
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				f := v.Field(i)
				if !f.IsExported() {
					t.Errorf("%s.%s is not exported", at, f.Name)
				}
				look(path.Join(at, f.Name), f.Type)
			}
		case reflect.Slice, reflect.Array:
			look(at, v.Elem())
		case reflect.Map, reflect.Pointer, reflect.Interface, reflect.Func, reflect.Chan:
			t.Errorf("%s is a %s", at, v.Kind())
		}
	}
	for _, v := range []any{head{}, body{}, shelf.Columns{}, rep.Ledger{}} {
		look("", reflect.TypeOf(v))
	}
	if len(seen) < 20 {
		t.Errorf("only %v looked at", slices.Collect(maps.Keys(seen)))
	}
}
