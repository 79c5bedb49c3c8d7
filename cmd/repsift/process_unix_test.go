//go:build unix

package main

import (
	"bytes"
	"errors"
	"flag"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"repsift/report/pack"
)

var kills = flag.Int("kills", 200, "moments of a run at which it is killed")

// process is repsift as a process of its own.
func process(args ...string) *exec.Cmd {
	cmd := exec.Command("repsift", args...) // the test binary: see TestMain
	cmd.Stdout, cmd.Stderr = new(bytes.Buffer), new(bytes.Buffer)
	return cmd
}

// filesOf returns what is in a folder; nil where there is none.
func filesOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		files[rel] = string(b)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	must(t, err)
	return files
}

// TestKilledTidy kills a run at moments spread over all of it: the folder is
// then the old one or the new one, whole, and the next run finds its way.
func TestKilledTidy(t *testing.T) {
	if testing.Short() {
		t.Skip("kills many processes")
	}
	t.Chdir(t.TempDir())
	seasonOf(t, "a/may.csv", []string{"Ines Duarte"}, lift, blank)
	seasonOf(t, "b/june.csv", []string{"Vera Holm", "Mira Holt"}, lift, blank)
	var want []map[string]string
	var took time.Duration
	for _, in := range []string{"b", "a"} {
		begun := time.Now()
		must(t, process("tidy", in, "--out", "out").Run())
		took = max(took, time.Since(begun))
		want = append(want, filesOf(t, "out"))
	}
	is := func(got, want map[string]string) bool {
		if _, ok := got[pack.KeptFile]; !ok { // a run whose reps went to disk keeps nothing
			want = maps.Clone(want)
			delete(want, pack.KeptFile)
		}
		return maps.Equal(got, want)
	}
	killed, replaced, last := 0, 0, 1
	for i := range *kills {
		args := []string{"tidy", []string{"b", "a"}[i%2], "--out", "out"}
		if i%3 == 0 {
			args = append(args, "--memory", "1kB") // reps go to disk too
		}
		cmd := process(args...)
		must(t, cmd.Start())
		time.Sleep(took * time.Duration(i) / time.Duration(*kills))
		cmd.Process.Kill()
		if cmd.Wait() != nil {
			killed++
		}
		switch got := filesOf(t, "out"); {
		case is(got, want[0]) || is(got, want[1]):
			if now := map[bool]int{true: 0, false: 1}[is(got, want[0])]; now != last {
				last = now
				replaced++
			}
		case got == nil && len(filesOf(t, ".out.repsift-old")) == len(want[last]):
			// between two renames, where the system cannot swap folders
		default:
			t.Fatalf("kill %d: neither the old folder nor the new one: %d files", i, len(got))
		}
	}
	t.Logf("%d of %d runs killed, over %s; %d times the folder was the new one", killed, *kills, took, replaced)
	if killed < *kills/4 {
		t.Errorf("only %d of %d runs were killed", killed, *kills)
	}
	must(t, process("tidy", "a", "--out", "out").Run())
	if !maps.Equal(filesOf(t, "out"), want[1]) {
		t.Error("the run after the kills writes something else")
	}
	onlyIn(t, ".", "a", "b", "out")
}

func blank(string) string { return "" }

// TestInterrupt: a run that is called off while it writes says so, leaves what
// was there, and nothing beside it.
func TestInterrupt(t *testing.T) {
	t.Chdir(t.TempDir())
	file("small/may.csv", good)(t, ".")
	must(t, process("tidy", "small", "--out", "out").Run())
	before := filesOf(t, "out")
	many := make([]string, 60)
	for i := range many {
		many[i] = "Vera " + string(rune('A'+i))
	}
	seasonOf(t, "large/may.csv", many, lift, blank)
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		cmd := process("tidy", "large", "--out", "out")
		must(t, cmd.Start())
		for begun := time.Now(); time.Since(begun) < mostTime; time.Sleep(time.Millisecond) {
			if _, err := os.Stat(".out.repsift-new"); err == nil {
				break
			}
		}
		must(t, cmd.Process.Signal(sig))
		err := cmd.Wait()
		said := cmd.Stderr.(*bytes.Buffer).String()
		if cmd.ProcessState.ExitCode() != statusFailed || said != "repsift: stopped; nothing was written, and what stood there before is untouched\n" {
			t.Errorf("%s: %v, %q", sig, err, said)
		}
		if !maps.Equal(filesOf(t, "out"), before) {
			t.Errorf("%s: the folder is not what it was", sig)
		}
		onlyIn(t, ".", "small", "large", "out")
	}
}

// TestSecondRun: while one run writes, another one says so and leaves.
func TestSecondRun(t *testing.T) {
	t.Chdir(t.TempDir())
	file("in/may.csv", good)(t, ".")
	f, err := os.Create(".out.repsift-lock")
	must(t, err)
	defer f.Close()
	must(t, syscall.Flock(int(f.Fd()), syscall.LOCK_EX))
	cmd := process("tidy", "in", "--out", "out")
	cmd.Run()
	if said := cmd.Stderr.(*bytes.Buffer).String(); cmd.ProcessState.ExitCode() != statusFailed || !strings.Contains(said, "out: another repsift is writing there; wait until it is done") {
		t.Errorf("%s, %q", cmd.ProcessState, said)
	}
}

// TestPermissions runs as a user who may not do all: what may not be read is
// named and the rest is done; where nothing may be written, nothing is read.
func TestPermissions(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	binary := mayRun(t, dir)
	for _, name := range []string{"in/good.csv", "in/closed.csv", "in/folder/may.csv", "sealed/may.csv", "here/old/x", "readonly/x"} {
		file(name, good)(t, ".")
	}
	must(t, os.WriteFile("sealed/season.toml", nil, 0o000))
	must(t, os.Chmod("in/closed.csv", 0o000))
	must(t, os.Chmod("in/folder", 0o000))
	must(t, os.Chmod("readonly", 0o555))
	must(t, os.Remove("here/old/x"))
	must(t, os.Chmod("here", 0o777))
	must(t, os.Chmod("here/old", 0o555))
	t.Cleanup(func() { // for whoever clears up
		for _, name := range []string{"in/folder", "readonly", "here/old"} {
			os.Chmod(name, 0o755)
		}
	})
	for _, c := range []struct {
		args   string
		status int
		says   string
	}{
		{"tidy in --out here/out", 3, "closed.csv: this user may not read it; change its permissions or copy it … folder: this user may not read it"},
		{"tidy sealed --out here/out", 1, "sealed/season.toml: this user may not read it"},
		{"tidy in --out readonly/out", 1, "readonly/out: the new folder is made beside the old one, but …readonly cannot be written to: permission denied"},
		{"tidy in --out here/old", 1, "here/old is kept from being changed (permission denied), so it is not replaced"},
		{"peek in/closed.csv", 3, "closed.csv: this user may not read it"},
	} {
		cmd := process(strings.Fields(c.args)...)
		cmd.Path, cmd.Err = binary, nil
		if os.Geteuid() == 0 {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		var said bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &said
		cmd.Run()
		if got := cmd.ProcessState.ExitCode(); got != c.status || !saysAll(said.String(), c.says) {
			t.Errorf("%s: exit status %d, want %d with %q; it said\n%s", c.args, got, c.status, c.says, said.String())
		}
	}
	onlyIn(t, "here", "out", "old")
}

// mayRun returns the program at a place where every user may run it, and opens
// the way to dir.
func mayRun(t *testing.T, dir string) string {
	t.Helper()
	from, err := exec.LookPath("repsift")
	must(t, err)
	binary := filepath.Join(dir, "bin", "repsift")
	must(t, os.Mkdir(filepath.Dir(binary), 0o755))
	if err := os.Link(from, binary); err != nil {
		t.Skip(err)
	}
	for above := dir; above != filepath.Dir(above) && filepath.Clean(above) != filepath.Clean(os.TempDir()); above = filepath.Dir(above) {
		if os.Chmod(above, 0o755) != nil {
			break
		}
	}
	return binary
}
