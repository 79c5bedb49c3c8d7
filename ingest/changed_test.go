package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"
)

// moving is a tree in which one file changes, or goes, when it is opened for
// the nth time.
type moving struct {
	fstest.MapFS
	mu    sync.Mutex
	name  string
	at, n int
	to    *fstest.MapFile // nil: it goes
}

func (m *moving) Open(name string) (fs.File, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
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

// TestLargeChangedWhileRead: the same holds of a source that is hashed while it
// is decoded; and what is read bears the hash of what was read, also where
// another source has its content.
func TestLargeChangedWhileRead(t *testing.T) {
	head := "date,lifter,lift,load (kg),set,velocity (m/s),unit\n"
	row := "2026-01-07,Ines,squat,100,1,0.5,north" + strings.Repeat(" and north", 20) + "\n"
	was := head + strings.Repeat(row, 20_000)
	is := head + strings.Repeat(strings.Replace(row, "0.5", "0.6", 1), 20_000)
	hash := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return hex.EncodeToString(sum[:])
	}
	said := 0
	for at := 1; ; at++ {
		m := &moving{MapFS: fstest.MapFS{"a.csv": {Data: []byte(was), ModTime: time.Unix(1e9, 0)}}, name: "a.csv", at: at, to: &fstest.MapFile{Data: []byte(is), ModTime: time.Unix(2e9, 0)}}
		r, err := Read(context.Background(), m, nil, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if m.n < at {
			break
		}
		if r.Sources[0].Err != nil {
			said++
			continue
		}
		text := map[float64]string{0.5: was, 0.6: is}[r.Reps.MeanVelocity.Get(0)]
		if r.Reps.Len() != 20_000 || r.Reps.MeanVelocity.Get(19_999) != r.Reps.MeanVelocity.Get(0) || r.Sources[0].SHA256 != hash(text) {
			t.Errorf("changed at opening %d: %d reps from %v to %v, hash %s", at, r.Reps.Len(), r.Reps.MeanVelocity.Get(0), r.Reps.MeanVelocity.Get(19_999), r.Sources[0].SHA256)
		}
	}
	if said == 0 {
		t.Error("never told")
	}
	twice := fstest.MapFS{"a.csv": {Data: []byte(was)}, "b.csv": {Data: []byte(was)}}
	r, err := Read(context.Background(), twice, nil, nil, Options{})
	if err != nil || r.Sources[1].SameAs != "a.csv" || r.Reps.Len() != 20_000 {
		t.Errorf("twice: %v, same as %q, %d reps", err, r.Sources[1].SameAs, r.Reps.Len())
	}
}
