package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"
	"testing/fstest"
	"time"

	"repsift/ingest/season"
	"repsift/report/pack"
)

// A program is known by what it was built of, where that is what was committed,
// else by its file.
func TestProgramID(t *testing.T) {
	built := func(sum string, settings ...string) *debug.BuildInfo {
		b := &debug.BuildInfo{Main: debug.Module{Path: "repsift", Version: "v1", Sum: sum}}
		for i := 0; i < len(settings); i += 2 {
			b.Settings = append(b.Settings, debug.BuildSetting{Key: settings[i], Value: settings[i+1]})
		}
		return b
	}
	file := func(size int, at int64) fs.FileInfo {
		tree := fstest.MapFS{"repsift": {Data: make([]byte, size), ModTime: time.Unix(at, 0)}}
		info, err := fs.Stat(tree, "repsift")
		if err != nil {
			t.Fatal(err)
		}
		return info
	}
	for _, c := range []struct {
		name string
		a, b string
		same bool
	}{
		{"two files of one commit", programID(built("", "vcs.revision", "a", "vcs.modified", "false"), file(1, 1)),
			programID(built("", "vcs.revision", "a", "vcs.modified", "false"), file(2, 2)), true},
		{"another commit", programID(built("", "vcs.revision", "a", "vcs.modified", "false"), file(1, 1)),
			programID(built("", "vcs.revision", "b", "vcs.modified", "false"), file(1, 1)), false},
		{"built otherwise", programID(built("", "vcs.revision", "a", "vcs.modified", "false"), nil),
			programID(built("", "vcs.revision", "a", "vcs.modified", "false", "GOAMD64", "v3"), nil), false},
		{"a release", programID(built("h1:x"), file(1, 1)), programID(built("h1:x"), file(2, 2)), true},
		{"sources that were changed", programID(built("", "vcs.revision", "a", "vcs.modified", "true"), file(1, 1)),
			programID(built("", "vcs.revision", "a", "vcs.modified", "true"), file(1, 2)), false},
		{"nothing known of how it was built", programID(nil, file(1, 1)), programID(built(""), file(1, 1)), true},
		{"another size", programID(nil, file(1, 1)), programID(nil, file(2, 1)), false},
	} {
		if c.a == "" || (c.a == c.b) != c.same {
			t.Errorf("%s: %q and %q", c.name, c.a, c.b)
		}
	}
	if id := programID(built(""), nil); id != "" || keptFor(id, &season.Season{}, nil) != "" {
		t.Errorf("an unknown program is called %q", id)
	}
}

// What was kept is left where it is too large for the memory that may be taken,
// or no file.
func TestKeptRoom(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, pack.KeptFile)
	if err := os.WriteFile(name, make([]byte, 1000), 0o600); err != nil {
		t.Fatal(err)
	}
	if n := len(memory(0).kept(dir)); n != 1000 {
		t.Errorf("%d bytes", n)
	}
	if memory(9000).kept(dir) != nil || memory(0).kept(t.TempDir()) != nil {
		t.Error("too large, or not there, and yet read")
	}
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(name, 0o700); err != nil {
		t.Fatal(err)
	}
	if memory(0).kept(dir) != nil {
		t.Error("a folder was read")
	}
}

// The demo season written a second time, what changed of it and what did not, is
// the folder that a first run writes.
func TestSameBytesAgain(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.CopyFS(in, os.DirFS(filepath.Join("..", "..", "testdata", "demo"))); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	made(t, 2, in, "--tables", "--out", out)
	if err := os.Remove(filepath.Join(in, "hand log.xlsx")); err != nil {
		t.Fatal(err)
	}
	made(t, 2, in, "--tables", "--out", out)
	whole := made(t, 1, in, "--tables")
	sameFiles(t, "the demo season without its log", whole, out)
	sameFiles(t, "the demo season without its log", out, whole)
}
