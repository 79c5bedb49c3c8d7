package report

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return errNoExchange
	}
	return err
}

// toDisk asks the system to begin writing a stretch of a file. It promises
// nothing: what became of it, syncing tells.
func toDisk(f *os.File, from, n int64) {
	if conn, err := f.SyscallConn(); err == nil {
		conn.Control(func(fd uintptr) { unix.SyncFileRange(int(fd), from, n, unix.SYNC_FILE_RANGE_WRITE) })
	}
}
