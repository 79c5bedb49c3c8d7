package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// The files that are checked in are what the program writes, to the byte.
func TestCheckedIn(t *testing.T) {
	d, err := makeDemo()
	if err != nil {
		t.Fatal(err)
	}
	files := d.files()
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(name)))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("testdata/%s is not what makedemo writes (%v); run go run ./testdata/makedemo", name, err)
		}
	}
	err = filepath.WalkDir("../demo", func(path string, e os.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			rel, _ := filepath.Rel("..", path)
			if _, ok := files[filepath.ToSlash(rel)]; !ok {
				t.Errorf("%s is not a file of the demo", rel)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
