package report

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// lock takes the lock file of an output folder, or returns errBusy where
// another run holds it. The system gives it back when a run ends, however it
// ends.
func lock(name string) (release func(), err error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	err = windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY,
		0, 1, 0, new(windows.Overlapped))
	if err != nil {
		f.Close()
		if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
			return nil, errBusy
		}
		return nil, &fs.PathError{Op: "lock", Path: name, Err: err}
	}
	return func() { f.Close(); os.Remove(name) }, nil
}

// nameless makes a file that the system removes when it is closed, or the run
// dies.
func nameless(name string) (*os.File, error) {
	text, err := windows.UTF16PtrFromString(name)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	h, err := windows.CreateFile(text, windows.GENERIC_READ|windows.GENERIC_WRITE, windows.FILE_SHARE_DELETE, nil,
		windows.CREATE_ALWAYS, windows.FILE_ATTRIBUTE_TEMPORARY|windows.FILE_FLAG_DELETE_ON_CLOSE, 0)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return os.NewFile(uintptr(h), name), nil
}

// syncUnknown: Windows syncs files, not folders.
func syncUnknown(error) bool { return true }

// sameDevice is left to renaming, which says so itself.
func sameDevice(a, b string) bool { return true }

// writable is left to writing, which says so itself.
func writable(string) error { return nil }
