package report

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// faulty is a disk on which one operation goes wrong: the one with the number
// at, counted from 0. It then either works again or, where dead, does nothing
// any more, as for a process that was killed.
type faulty struct {
	osDisk
	at, count  int
	dead       bool
	noExchange bool
}

var errFault = syscall.ENOSPC

func (d *faulty) fails() bool {
	d.count++
	return d.count-1 == d.at || d.dead && d.count-1 > d.at
}

func (d *faulty) Mkdir(name string) error {
	if d.fails() {
		return &os.PathError{Op: "mkdir", Path: name, Err: errFault}
	}
	return d.osDisk.Mkdir(name)
}

func (d *faulty) Create(name string) (file, error) {
	if d.fails() {
		return nil, &os.PathError{Op: "open", Path: name, Err: errFault}
	}
	f, err := d.osDisk.Create(name)
	return &faultyFile{f, d}, err
}

func (d *faulty) Rename(from, to string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.Rename(from, to)
}

func (d *faulty) Exchange(a, b string) error {
	if d.fails() {
		return errFault
	}
	if d.noExchange {
		return errNoExchange
	}
	return d.osDisk.Exchange(a, b)
}

func (d *faulty) RemoveAll(name string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.RemoveAll(name)
}

func (d *faulty) SyncDir(name string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.SyncDir(name)
}

type faultyFile struct {
	file
	disk *faulty
}

func (f *faultyFile) Write(p []byte) (int, error) {
	if f.disk.fails() {
		n, _ := f.file.Write(p[:len(p)/2])
		return n, errFault
	}
	return f.file.Write(p)
}

func (f *faultyFile) Sync() error {
	if f.disk.fails() {
		return errFault
	}
	return f.file.Sync()
}

func (f *faultyFile) Close() error {
	err := f.file.Close()
	if f.disk.fails() {
		return errFault
	}
	return err
}

// Whatever operation fails, the folder is the old one or the new one, whole;
// the new one where Write says so. After a run that only failed nothing is
// left beside it; after one that died, the next run finds its way.
func TestEveryFault(t *testing.T) {
	for _, dead := range []bool{false, true} {
		for _, noExchange := range []bool{false, true} {
			for at := 0; ; at++ {
				dir := filepath.Join(t.TempDir(), "out")
				mustWrite(t, dir, "old")
				d := &faulty{at: at, dead: dead, noExchange: noExchange}
				err := write(t.Context(), d, dir, run("new"), files)
				if d.count <= at {
					if err != nil {
						t.Fatal(err)
					}
					t.Logf("dead %v, exchange %v: %d operations", dead, !noExchange, at)
					break
				}
				if err == nil {
					t.Errorf("operation %d failed and nothing was said", at)
				} else if !errors.Is(err, errFault) {
					t.Errorf("operation %d: %v", at, err)
				}
				between := dead && noExchange && !there(dir) // the one moment without a folder: put back by the next run
				if !between {
					if _, err := whole(dir); err != nil {
						t.Fatalf("dead %v, exchange %v, operation %d: %v", dead, !noExchange, at, err)
					}
				}
				mustWrite(t, dir, "next")
				mustBe(t, dir, "next")
				alone(t, dir)
			}
		}
	}
}

// A first run that fails leaves nothing at all.
func TestFirstRunFails(t *testing.T) {
	for at := 0; ; at++ {
		dir := filepath.Join(t.TempDir(), "out")
		d := &faulty{at: at}
		err := write(t.Context(), d, dir, run("new"), files)
		if d.count <= at {
			break
		}
		if err == nil {
			t.Errorf("operation %d failed and nothing was said", at)
		}
		if there(dir) {
			mustBe(t, dir, "new")
		}
	}
}

// A process that is killed, at moments spread over its run, leaves the old
// folder or the new one, whole.
func TestKilled(t *testing.T) {
	const kills = 200
	if dir := os.Getenv("REPSIFT_TEST_WRITE"); dir != "" {
		fmt.Println("writing")
		for {
			if err := Write(t.Context(), dir, run("killed")); err != nil {
				t.Fatal(err)
			}
		}
	}
	if testing.Short() {
		t.Skip("kills 200 processes")
	}
	dir := filepath.Join(t.TempDir(), "out")
	if err := Write(t.Context(), dir, run("old")); err != nil {
		t.Fatal(err)
	}
	during := 0
	for i := range kills {
		cmd := exec.Command(os.Args[0], "-test.run", "^TestKilled$")
		cmd.Env = append(os.Environ(), "REPSIFT_TEST_WRITE="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := bufio.NewReader(out).ReadString('\n'); err != nil { // a busy machine starts it late
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i) * 350 * time.Microsecond)
		cmd.Process.Kill()
		cmd.Wait()
		if there(target{path: dir}.beside("lock")) {
			during++
		}
		if !there(dir) {
			t.Logf("kill %d: between the two renames", i)
			if d, err := os.ReadDir(target{path: dir}.beside("old")); err != nil || len(d) == 0 {
				t.Fatalf("kill %d: neither the old folder nor the new one: %v", i, err)
			}
			continue
		}
		if _, err := whole(dir); err != nil {
			t.Fatalf("kill %d: %v", i, err)
		}
	}
	if during < kills/4 {
		t.Errorf("only %d of %d kills fell into a run", during, kills)
	}
	if err := Write(t.Context(), dir, run("after")); err != nil {
		t.Fatal(err)
	}
	mustBe(t, dir, "after")
	alone(t, dir)
}

// deadly is a disk on which the process is killed at one operation, before it
// is done.
type deadly struct{ faulty }

func (d *deadly) die() {
	if d.fails() {
		p, _ := os.FindProcess(os.Getpid())
		p.Kill()
		select {}
	}
}

func (d *deadly) Mkdir(name string) error { d.die(); return d.osDisk.Mkdir(name) }

func (d *deadly) Create(name string) (file, error) {
	d.die()
	f, err := d.osDisk.Create(name)
	return &deadlyFile{f, d}, err
}

func (d *deadly) Rename(from, to string) error { d.die(); return d.osDisk.Rename(from, to) }

func (d *deadly) Exchange(a, b string) error {
	d.die()
	if d.noExchange {
		return errNoExchange
	}
	return d.osDisk.Exchange(a, b)
}

func (d *deadly) RemoveAll(name string) error { d.die(); return d.osDisk.RemoveAll(name) }

func (d *deadly) SyncDir(name string) error { d.die(); return d.osDisk.SyncDir(name) }

type deadlyFile struct {
	file
	disk *deadly
}

func (f *deadlyFile) Write(p []byte) (int, error) { f.disk.die(); return f.file.Write(p) }

func (f *deadlyFile) Sync() error { f.disk.die(); return f.file.Sync() }

func (f *deadlyFile) Close() error { f.disk.die(); return f.file.Close() }

// TestKilledAtEveryOperation kills a process at each operation on the disk, each
// rename among them, with and without a system that swaps folders: the folder
// is the old one or the new one, whole, or stands beside its place between two
// renames and is put back by the next run.
func TestKilledAtEveryOperation(t *testing.T) {
	if dir := os.Getenv("REPSIFT_TEST_DIE"); dir != "" {
		d := &deadly{}
		fmt.Sscan(os.Getenv("REPSIFT_TEST_DIE_AT"), &d.at, &d.noExchange)
		if err := write(t.Context(), d, dir, run("new"), files); err != nil {
			t.Fatal(err)
		}
		return
	}
	if testing.Short() {
		t.Skip("kills a hundred processes")
	}
	for _, noExchange := range []bool{false, true} {
		moved := 0
		for at := 0; ; at++ {
			dir := filepath.Join(t.TempDir(), "out")
			mustWrite(t, dir, "old")
			cmd := exec.Command(os.Args[0], "-test.run", "^TestKilledAtEveryOperation$")
			cmd.Env = append(os.Environ(), "REPSIFT_TEST_DIE="+dir, fmt.Sprint("REPSIFT_TEST_DIE_AT=", at, " ", noExchange))
			if out, err := cmd.CombinedOutput(); err == nil {
				t.Logf("exchange %v: %d operations, %d of them between two renames", !noExchange, at, moved)
				break
			} else if cmd.ProcessState.Exited() {
				t.Fatalf("operation %d: %s", at, out)
			}
			if !there(dir) && noExchange {
				moved++
				dir := target{path: dir}.beside("old")
				mustBe(t, dir, "old")
			} else if got, err := whole(dir); err != nil || got != "old" && got != "new" {
				t.Fatalf("exchange %v, operation %d: %q, %v", !noExchange, at, got, err)
			}
			mustWrite(t, dir, "next")
			mustBe(t, dir, "next")
			alone(t, dir)
		}
		if moved > 1 || noExchange && moved == 0 {
			t.Errorf("%d moments without a folder", moved)
		}
	}
}
