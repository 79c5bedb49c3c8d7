package ingest

import (
	"context"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// moving is a tree in which one file changes, or goes, when it is opened for
// the nth time.
type moving struct {
	fstest.MapFS
	name  string
	at, n int
	to    *fstest.MapFile // nil: it goes
}

func (m *moving) Open(name string) (fs.File, error) {
	if name == m.name {
		if m.n++; m.n == m.at {
			if m.to == nil {
				delete(m.MapFS, name)
			} else {
				m.MapFS[name] = m.to
			}
		}
	}
	return m.MapFS.Open(name)
}

// TestChangedWhileRead: a source that is written to or moved away at any moment
// of a run is read as it was or as it is, or it is not read and that is said;
// never half and half. The others are read.
func TestChangedWhileRead(t *testing.T) {
	old, now := time.Unix(1e9, 0), time.Unix(2e9, 0)
	later := small + strings.Repeat("2026-01-09,Vera,squat,90,1,0.6\n", 3)
	packed := func(text string) *fstest.MapFile {
		return &fstest.MapFile{Data: zipped(t, [2]string{"a.csv", text}), ModTime: now}
	}
	for what, to := range map[string]*fstest.MapFile{"grows": {Data: []byte(later), ModTime: now}, "goes": nil,
		"same size": {Data: []byte(strings.Replace(small, "Ines", "Vera", 1)), ModTime: now}} {
		said := 0
		for at := 1; ; at++ {
			m := &moving{MapFS: fstest.MapFS{"a.csv": {Data: []byte(small), ModTime: old}, "b.csv": {Data: []byte(strings.Replace(small, "0.5", "0.4", 1))}}, name: "a.csv", at: at, to: to}
			r, err := Read(context.Background(), m, []string{"a.csv", "b.csv"}, nil, Options{Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			if m.n < at {
				break
			}
			reps := map[string]int{}
			for i := range r.Reps.Len() {
				reps[r.Reps.Rep(int32(i)).Source]++
			}
			src := r.Sources[0]
			whole := src.Err == nil && (reps["a.csv"] == 1 || reps["a.csv"] == 4 && what == "grows")
			dropped := src.Err != nil && reps["a.csv"] == 0 && (strings.Contains(src.Err.Error(), "changed or moved away while it was read") || strings.Contains(src.Err.Error(), "no such file"))
			if dropped {
				said++
			}
			if !whole && !dropped || reps["b.csv"] != 1 || src.Err != nil && len(r.Unread) == 0 {
				t.Errorf("%s at opening %d: %d reps of it, %d of the other, %v", what, at, reps["a.csv"], reps["b.csv"], src.Err)
			}
		}
		if said < 2 {
			t.Errorf("%s: told only %d times", what, said)
		}
	}
	m := &moving{MapFS: fstest.MapFS{"a.zip": packed(small)}, name: "a.zip", at: 3, to: packed(later)}
	m.MapFS["a.zip"].ModTime = old
	r, err := Read(context.Background(), m, []string{"a.zip"}, nil, Options{})
	if err != nil || len(r.Sources) != 1 || r.Sources[0].Err == nil && r.Reps.Len() != 1 && r.Reps.Len() != 4 {
		t.Errorf("an archive: %v, %+v", err, r.Sources)
	}
}
