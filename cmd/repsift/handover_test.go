package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func runs(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(t.Context(), args, &console{out: &out, err: &errs, width: 80}); status != want {
		t.Fatalf("repsift %s: exit status %d: %s", strings.Join(args, " "), status, &errs)
	}
	return out.String()
}

// The demo is handed on: nothing of a name is left, profiles worked out from
// the copy are those of the original, and a stranger's tools read it.
func TestHandedOn(t *testing.T) {
	dir := t.TempDir()
	season, copied, again := filepath.Join(dir, "season"), filepath.Join(dir, "copy"), filepath.Join(dir, "again")
	runs(t, statusPartly, "tidy", "../../testdata/demo", "--out", season, "--quiet")
	runs(t, statusDone, "handover", season, "--to", copied, "--key", filepath.Join(dir, "season.key"), "--workbook", "--quiet")
	runs(t, statusDone, "handover", "--check", copied, "--names", "../../testdata/demo/season.toml", "--names", season)
	runs(t, statusDone, "tidy", copied, "--out", again, "--quiet")
	for _, name := range []string{"profiles.json", "reps.parquet", "sets.parquet", "set_aside.parquet", "unread.csv"} {
		a, err := os.ReadFile(filepath.Join(copied, name))
		if err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(filepath.Join(again, name)); err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s made anew from the hand-over is another one (%v)", name, err)
		}
	}
	if status := run(t.Context(), []string{"handover", "--check", season, "--names", season}, &console{out: new(bytes.Buffer), err: new(bytes.Buffer), width: 80}); status != statusFailed {
		t.Error("the season itself passes as a hand-over")
	}
	for _, script := range []struct{ program, file, makes string }{{"python3", "start.py", "effort-py.svg"}, {"Rscript", "start.R", "effort-r.pdf"}} {
		t.Run(script.program, func(t *testing.T) {
			path, err := exec.LookPath(script.program)
			if err != nil {
				t.Skipf("no %s here: %s is not tried out", script.program, script.file)
			}
			cmd := exec.Command(path, filepath.Join(copied, script.file))
			cmd.Dir = t.TempDir()
			out, err := cmd.CombinedOutput()
			if err != nil || !strings.Contains(string(out), "7846 reps, 2111 sets") {
				t.Fatalf("%v: %s", err, out)
			}
			made, err := os.ReadFile(filepath.Join(cmd.Dir, script.makes))
			if err != nil || len(made) < 2000 {
				t.Errorf("%s holds %d bytes, %v", script.makes, len(made), err)
			}
		})
	}
}
