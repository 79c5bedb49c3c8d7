package report

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// On a disk that really fills up, at many sizes, the old folder stays and the
// message says what is the matter.
func TestFullDisk(t *testing.T) {
	full := 0
	for kb := 20; kb <= 200; kb += 4 {
		disk := t.TempDir()
		if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, fmt.Sprintf("size=%dk", kb)); err != nil {
			t.Skipf("no small file system can be made here: %v", err)
		}
		t.Cleanup(func() { syscall.Unmount(disk, syscall.MNT_DETACH) })
		dir := filepath.Join(disk, "out")
		mustWrite(t, dir, "old")
		err := Write(t.Context(), dir, run("new"))
		if err == nil {
			mustBe(t, dir, "new")
			continue
		}
		full++
		if !strings.Contains(err.Error(), "no space left on device") || !strings.Contains(err.Error(), dir+": writing ") {
			t.Errorf("%d kB: %v", kb, err)
		}
		mustBe(t, dir, "old")
		alone(t, dir)
	}
	if full < 5 {
		t.Errorf("only %d sizes were too small", full)
	}
}

// A folder that is a file system of its own is refused before any work.
func TestMountPoint(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=100k"); err != nil {
		t.Skipf("no file system can be mounted here: %v", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	if err := Check(dir, nil); err == nil || !strings.Contains(err.Error(), "file system of its own") {
		t.Errorf("got %v", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "x"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := Check(filepath.Join(dir, "x"), nil); err != nil {
		t.Errorf("a folder inside it: %v", err)
	}
}
