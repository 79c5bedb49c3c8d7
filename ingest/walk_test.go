package ingest

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

const small = "date,lifter,lift,load (kg),rep,velocity (m/s)\n2026-01-05,Ines,squat,100,1,0.5\n"

func zipped(t *testing.T, files ...[2]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		m, err := w.Create(f[0])
		if err == nil {
			_, err = m.Write([]byte(f[1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestArchives(t *testing.T) {
	var gz bytes.Buffer
	w := gzip.NewWriter(&gz)
	w.Write([]byte(strings.Replace(small, "01-05", "01-07", 1)))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	fsys := fstest.MapFS{
		"exports.zip": {Data: zipped(t, [2]string{"north/may.csv", small}, [2]string{"__MACOSX/may.csv", "x"}, [2]string{"season.toml", "x"},
			[2]string{`south\june.csv`, strings.Replace(small, "01-05", "01-06", 1)}, [2]string{"./north/may.csv", small}, [2]string{"inner.zip", "PK"}, [2]string{"../up.csv", small})},
		"june.csv.gz":   {Data: gz.Bytes()},
		"damaged.zip":   {Data: []byte("PK\x03\x04 nothing")},
		"backup.tar.gz": {Data: gz.Bytes()},
	}
	r, err := Read(context.Background(), fsys, nil, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range r.Sources {
		line := s.Name
		if s.Err != nil {
			line += ": " + strings.TrimPrefix(s.Err.Error(), s.Name+": ")
		}
		got = append(got, line)
	}
	equal(t, "source", got, []string{
		"backup.tar.gz: an archive of a kind that is not read; unpack it, or pack the exports as .zip",
		"damaged.zip: the archive is damaged or packed in an unusual way (zip: not a valid zip file); unpack it and read the files",
		"exports.zip/../up.csv: its name leads out of the archive; unpack it by hand if you know where it is from",
		"exports.zip/inner.zip: an archive inside an archive; unpack it",
		"exports.zip/north/may.csv", "exports.zip/north/may.csv (again): the archive holds two files of this name; unpack it",
		"exports.zip/south/june.csv", "june.csv.gz"})
	if r.Reps.Len() != 3 || len(r.NotRead) != 0 {
		t.Errorf("%d reps; not read: %v", r.Reps.Len(), r.NotRead)
	}
	r, err = Read(context.Background(), fsys, []string{"exports.zip/south/june.csv"}, nil, Options{})
	if err != nil || r.Reps.Len() != 1 {
		t.Errorf("a member by its name: %v, %d reps", err, r.Reps.Len())
	}
}

// TestLinks: a link back to a folder above is not followed, one to a folder
// elsewhere is.
func TestLinks(t *testing.T) {
	dir := t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Skip(err)
		}
	}
	must(os.MkdirAll(filepath.Join(dir, "in", "a"), 0o755))
	must(os.MkdirAll(filepath.Join(dir, "elsewhere"), 0o755))
	must(os.WriteFile(filepath.Join(dir, "in", "a", "may.csv"), []byte(small), 0o644))
	must(os.WriteFile(filepath.Join(dir, "elsewhere", "june.csv"), []byte(small+"2026-01-06,Ines,squat,100,1,0.5\n"), 0o644))
	must(os.Symlink("..", filepath.Join(dir, "in", "a", "loop")))
	must(os.Symlink(filepath.Join(dir, "elsewhere"), filepath.Join(dir, "in", "b")))
	must(os.Symlink("nowhere.csv", filepath.Join(dir, "in", "dead.csv")))
	r, err := Read(context.Background(), os.DirFS(filepath.Join(dir, "in")), nil, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range r.Sources {
		line := s.Name
		if s.Err != nil {
			line = s.Err.Error()
		}
		got = append(got, line)
	}
	equal(t, "source", got, []string{"a/may.csv", "b/june.csv", "dead.csv: there is no such file or folder"})
	if len(r.NotRead) != 1 || r.NotRead[0].Name != "a/loop" {
		t.Errorf("not read: %v", r.NotRead)
	}
}

// TestMissing: what is not there is an error of that source alone.
func TestMissing(t *testing.T) {
	r, err := Read(context.Background(), fstest.MapFS{"a.csv": {Data: []byte(small)}}, []string{"b.csv", "a.csv"}, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Reps.Len() != 1 || r.Sources[1].Err == nil || r.Sources[1].Err.Error() != "b.csv: there is no such file or folder" {
		t.Errorf("%d reps, %v", r.Reps.Len(), r.Sources[1].Err)
	}
	if len(r.Unread) != 1 || r.Unread[0].String() != "b.csv: there is no such file or folder" {
		t.Errorf("unread: %v", r.Unread)
	}
}

// TestBombs: an archive that unpacks to what no table holds is refused.
func TestBombs(t *testing.T) {
	bomb := zipped(t, [2]string{"bomb.csv", strings.Repeat("\x00", 80<<20)})
	r, err := Read(context.Background(), fstest.MapFS{"a.zip": {Data: bomb}}, nil, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if e := r.Sources[0].Err; e == nil || !strings.Contains(e.Error(), "which no table does") {
		t.Errorf("error is %v", e)
	}
}

// TestCancel: a reading that is stopped returns the context's error.
func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, fstest.MapFS{"a.csv": {Data: []byte(small)}}, nil, nil, Options{}); err != context.Canceled {
		t.Errorf("error is %v", err)
	}
}

// TestProgress: progress goes forward and ends at the total.
func TestProgress(t *testing.T) {
	var last, total int64
	_, err := Read(context.Background(), fstest.MapFS{"a.csv": {Data: []byte(small)}, "b.csv": {Data: []byte(small + "\n")}}, nil, nil, Options{Progress: func(done, all int64) {
		if done < last || done > all {
			t.Errorf("progress %d of %d after %d", done, all, last)
		}
		last, total = done, all
	}})
	if err != nil || last != total || total == 0 {
		t.Errorf("%v: ended at %d of %d", err, last, total)
	}
}
