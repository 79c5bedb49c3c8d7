package kept

import (
	"archive/zip"
	"bytes"
	"fmt"
	"testing"
)

type head struct{ Of string }

type body struct{ Rows []int32 }

func written(t testing.TB, key string, n int) []byte {
	next := For[head](key)
	for i := range n {
		b, err := Pack(func(put func(any) error) error { return put(&body{make([]int32, 1000*i)}) })
		if err != nil {
			t.Fatal(err)
		}
		next.Add(Entry[head]{Name: fmt.Sprint("source ", i), Sum: [32]byte{byte(i)}, Bytes: int64(i), Head: head{"head"}}, b)
	}
	return fileOf(t, next)
}

func fileOf(t testing.TB, n *Next[head]) []byte {
	var file bytes.Buffer
	if err := n.Write(&file); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// rows reads the body of a source.
func rows(l *Last[head], name string) (*Body, int, error) {
	var got body
	b, err := l.Read(name, func(get func(any) error) error { return get(&got) })
	return b, len(got.Rows), err
}

// What was kept comes back, goes on unread into the next file, which is the same,
// and is not there for another key, content or name.
func TestKept(t *testing.T) {
	file := written(t, "key", 4)
	l := Open[head](file, "key")
	next := For[head]("key")
	for i := range 4 {
		name := fmt.Sprint("source ", i)
		b, n, err := rows(l, name)
		h := l.Head(name, [32]byte{byte(i)})
		if err != nil || n != 1000*i || h == nil || h.Of != "head" || !l.Has(name, int64(i)) {
			t.Fatalf("source %d: %d rows, %v, %v", i, n, h, err)
		}
		next.Add(Entry[head]{Name: name, Sum: [32]byte{byte(i)}, Bytes: int64(i), Head: *h}, b)
	}
	if !bytes.Equal(fileOf(t, next), file) {
		t.Error("kept again it is another file")
	}
	if l.Head("source 1", [32]byte{2}) != nil || l.Head("source 9", [32]byte{}) != nil || l.Has("source 1", 7) {
		t.Error("another content is there")
	}
	if other := Open[head](file, "other key"); other.Has("source 1", 1) {
		t.Error("kept for another key")
	}
	if _, _, err := rows(l, "source 9"); err == nil {
		t.Error("a source that was not kept is read")
	}
	if _, err := zip.NewReader(bytes.NewReader(file), int64(len(file))); err != nil {
		t.Error(err) // others can look into it
	}
}

// Any file is opened, and of what is read of it nothing is larger than it says.
func FuzzOpen(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("PK\x05\x06 not one"))
	f.Add(written(f, "key", 0))
	f.Add(written(f, "key", 3))
	f.Fuzz(func(t *testing.T, file []byte) {
		l := Open[head](file, "key")
		next := For[head]("key")
		for name, e := range l.entries {
			if b, _, err := rows(l, name); err == nil {
				next.Add(*e, b)
			}
		}
		fileOf(t, next)
	})
}
