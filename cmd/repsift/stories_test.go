package main

import (
	"encoding/hex"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "accept what the stories print as what they should print")

// TestMain lets the stories call the tool as a process of its own: the test
// binary is the tool when it is called by its name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"repsift": main})
}

// TestStories runs each file of testdata/stories: a user's folder, what they
// type, what they see. `go test ./cmd/repsift -run Stories -update` accepts
// new output; read the difference before you commit it.
func TestStories(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join(testdata, "stories"),
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", filepath.Join(testdata, "demo"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":   status,
			"nochange": noChange,
			"unhex":    unhex,
		},
	})
}

// status runs a command line and holds its exit status against the first
// argument: `status 3 repsift tidy in --out out`. The script's own exec tells
// only zero from not zero.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND …")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}

// unhex writes a file whose content is given in hexadecimal digits, for files
// that a story cannot hold as text: `unhex in/old.xls old.hex`.
func unhex(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: unhex FILE HEXFILE")
	}
	content, err := hex.DecodeString(strings.Join(strings.Fields(ts.ReadFile(args[1])), ""))
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), content, 0o644))
}

// noChange compares two folders file by file.
func noChange(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: nochange DIR DIR")
	}
	a, b := contents(ts, ts.MkAbs(args[0])), contents(ts, ts.MkAbs(args[1]))
	for name := range a {
		if b[name] != a[name] {
			ts.Fatalf("%s differs", name)
		}
	}
	if len(a) != len(b) || len(a) == 0 {
		ts.Fatalf("%d files in %s, %d in %s", len(a), args[0], len(b), args[1])
	}
}

func contents(ts *testscript.TestScript, dir string) map[string]string {
	files := map[string]string{}
	ts.Check(filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		files[rel] = string(text)
		return err
	}))
	return files
}
