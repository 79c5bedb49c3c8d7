//go:build unix

package report

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// lock takes the lock file of an output folder, or returns errBusy where
// another run holds it. The system gives it back when a run ends, however it
// ends.
func lock(name string) (release func(), err error) {
	for {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return nil, err
		}
		if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
			f.Close()
			if errors.Is(err, syscall.EWOULDBLOCK) {
				return nil, errBusy
			}
			return nil, &fs.PathError{Op: "lock", Path: name, Err: err}
		}
		// The run before may have removed the file between our opening it and
		// locking it; then the lock is on a file that has no name any more.
		ours, err1 := f.Stat()
		named, err2 := os.Stat(name)
		if err1 == nil && err2 == nil && os.SameFile(ours, named) {
			return func() { os.Remove(name); f.Close() }, nil
		}
		f.Close()
	}
}

// nameless makes a file and takes its name away: the system frees it when it is
// closed, or the run dies.
func nameless(name string) (*os.File, error) {
	// A run that died between the two leaves a file. One that is between them
	// now does not miss the name.
	if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		f.Close()
		return nil, err
	}
	return f, nil
}

// syncUnknown reports whether a file system does not know how to sync a
// folder.
func syncUnknown(err error) bool {
	return errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP)
}

// sameDevice reports whether two paths lie on one file system, which renaming
// needs.
func sameDevice(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	if err1 != nil || err2 != nil {
		return true // said better when it is used
	}
	s, ok1 := x.Sys().(*syscall.Stat_t)
	t, ok2 := y.Sys().(*syscall.Stat_t)
	return !ok1 || !ok2 || s.Dev == t.Dev
}

// writable returns an error where this user may not change what a folder holds.
func writable(dir string) error {
	if err := unix.Access(dir, unix.W_OK); err != nil {
		return &fs.PathError{Op: "access", Path: dir, Err: err}
	}
	return nil
}
